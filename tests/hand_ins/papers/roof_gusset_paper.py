"""The roof gusset: a half about a leaning axis, constructed along it and turned at the end."""

from __future__ import annotations

from math import cos, radians, sin

from tests.hand_ins.strokes import Bow, Loop, Plate, Ring, Straight, across_x, moved, reflected
from tests.hand_ins.trigonometry import corner, crossing, heading, touching
from tests.hand_ins.written_paper import Paper, PaperParameter, PaperValue, Values


def construct(v: Values) -> Plate:
    fall, foot = v["b9"], complex(0.0, v["b4"])
    sharp = foot + v["b8"]
    radius = v["b15"] / 2.0 + v["b16"]
    eye = complex(_on_axis(sharp, fall, radius), 0.0)
    bend = corner("bend", sharp, 0.0, -fall, v["b10"])
    # the edge runs to the eye with the round on its right
    touch = touching(eye, -radius, -fall)
    upper = (Straight("shoulder", foot, bend.start), bend, Straight("rafter", bend.end, touch))
    lower = reflected(upper, across_x)
    outer = (Straight("heel", foot.conjugate(), foot), *upper,
             Bow("nose", eye, touch, lower[0].start, ccw=False), *lower)
    hole = complex(v["b27"], v["b4"] - v["b28"])
    nail = Ring("nail", hole, v["b29"] / 2.0)
    loops = (outer, _window(v, sharp, fall), (Ring("eye", eye, v["b15"] / 2.0),), (nail,),
             reflected((nail,), across_x))
    pitch = heading(v["b2"])
    return Plate(tuple(tuple(moved(stroke, lambda z: pitch * z) for stroke in loop)
                       for loop in loops))


def _on_axis(sharp: complex, fall: float, below: float) -> float:
    """Where the axis is so far below the line that falls from the sharp corner."""
    return sharp.real + (sharp.imag * cos(radians(fall)) - below) / sin(radians(fall))


def _window(v: Values, sharp: complex, fall: float) -> Loop:
    end = complex(_on_axis(sharp, fall, v["b19"] + v["b21"]), 0.0)
    along = sharp + v["b19"] * -1j * heading(-fall)
    inner = crossing(complex(v["b18"], 0.0), 90.0, along, -fall)
    bend = corner("window corner", inner, 90.0, -fall, v["b20"])
    touch = touching(end, -v["b21"], -fall)
    upper = (bend, Straight("window rafter", bend.end, touch))
    lower = reflected(upper, across_x)
    return (Straight("window heel", lower[-1].end, bend.start), *upper,
            Bow("window nose", end, touch, lower[0].start, ccw=False), *lower)


PAPER = Paper("roof-gusset", "mm", (*(PaperValue(name, amount) for name, amount in {
    "b4": 40.0, "b8": 25.0, "b10": 20.0, "b15": 12.0, "b16": 8.0, "b18": 14.0, "b19": 20.0,
    "b20": 5.0, "b21": 4.0, "b27": 7.0, "b28": 10.0, "b29": 6.0}.items()),
    PaperValue("b2", 27.5, "angle"), PaperValue("b9", 30.0, "angle")), construct,
    (PaperParameter("pitch", 27.5, {"b2": (1.0, 0.0)}),))
