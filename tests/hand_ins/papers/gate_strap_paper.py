"""The gate strap: a half about a plumb axis, an eye on top, a window in the middle."""

from __future__ import annotations

from math import radians, sqrt, tan

from tests.hand_ins.strokes import Bow, Loop, Plate, Ring, Straight, across_y, reflected
from tests.hand_ins.trigonometry import corner, heading, tangent_heading, tangent_length
from tests.hand_ins.written_paper import Paper, PaperParameter, PaperValue, Values


def construct(v: Values) -> Plate:
    half, foot = v["b5"], v["b7"]
    eye = complex(0.0, v["b19"])
    eye_radius = v["b20"] / 2.0 + v["b21"]
    # the sharp corner on the slope: so far across from the edge's top, and up with the slope
    top = complex(half, v["b6"])
    slope = 180.0 - v["b10"]
    sharp = top + complex(-v["b11"], v["b11"] * tan(radians(v["b10"])))
    neck = tangent_heading(sharp, eye, eye_radius)
    knee = corner("knee", sharp, slope, neck, v["b14"])
    neck_top = sharp + heading(neck) * tangent_length(sharp, eye, eye_radius)
    right = (
        corner("foot", complex(half, 0.0), 0.0, 90.0, foot),
        Straight("side", complex(half, foot), top),
        Straight("slope", top, knee.start),
        knee,
        Straight("neck", knee.end, neck_top),
    )
    left = reflected(right, across_y)
    outer = (
        Straight("base", left[-1].end, right[0].start), *right,
        Bow("eye rim", eye, neck_top, left[0].start), *left)
    return Plate((outer, _window(v), *(
        (Ring("foot hole" + mark, complex(sign * (half - v["b23"]), v["b22"]), v["b24"] / 2.0),)
        for mark, sign in (("", 1.0), ("'", -1.0))),
        (Ring("eye", eye, v["b20"] / 2.0),)))


def _window(v: Values) -> Loop:
    half, sill, crown = v["b34"], v["b36"], v["b28"]
    arch, small = v["b29"], v["b30"]
    center = complex(0.0, crown - arch)
    # the small round touches the jamb, and the arch from within
    x = half - small
    round_center = complex(x, center.imag + sqrt((arch - small) ** 2 - x ** 2))
    joint = center + (round_center - center) * arch / (arch - small)
    right = (
        Straight("jamb", complex(half, sill), complex(half, round_center.imag)),
        Bow("window corner", round_center, complex(half, round_center.imag), joint),
    )
    left = reflected(right, across_y)
    return (Straight("sill", left[-1].end, right[0].start), *right,
            Bow("arch", center, joint, left[0].start), *left)


def _listed() -> tuple[PaperValue, ...]:
    lengths = {
        "b5": 60.0, "b6": 24.0, "b7": 8.0, "b11": 24.0, "b14": 12.0, "b19": 100.0, "b20": 20.0,
        "b21": 12.0, "b22": 12.0, "b23": 14.0, "b24": 9.0, "b28": 62.0, "b29": 36.0, "b30": 8.0,
        "b34": 20.0, "b36": 14.0}
    return (*(PaperValue(name, amount) for name, amount in lengths.items()),
            PaperValue("b10", 30.0, "angle"))


PAPER = Paper("gate-strap", "mm", _listed(), construct, (
    PaperParameter("wall", 12.0, {"b5": (1.0, 48.0), "b21": (1.0, 0.0)}),
    PaperParameter("width", 120.0, {"b5": (0.5, 0.0)}),
))
