"""The shift arm: three bosses joined by tangents, a straight slot and a curved one."""

from __future__ import annotations

from tests.hand_ins.strokes import Bow, Loop, Plate, Ring, Straight
from tests.hand_ins.trigonometry import common_heading, corner, crossing, heading, touching
from tests.hand_ins.written_paper import Paper, PaperParameter, PaperValue, Values


def construct(v: Values) -> Plate:
    end, foot = complex(v["b2"], v["b3"]), complex(-v["b4"], -v["b5"])
    hub_radius, end_radius = v["b6"] / 2.0 + v["b7"], v["b9"]
    foot_radius = v["b24"] + v["b21"]
    top = common_heading(end, end_radius, 0j, hub_radius)
    back = common_heading(0j, hub_radius, foot, foot_radius)
    lean, rise = v["b22"], v["b18"]
    from_foot, to_end = touching(foot, foot_radius, lean), touching(end, end_radius, rise)
    crotch = corner("crotch", crossing(from_foot, lean, to_end, rise), lean, rise, v["b20"])
    tops = touching(end, end_radius, top), touching(0j, hub_radius, top)
    backs = touching(0j, hub_radius, back), touching(foot, foot_radius, back)
    outer = (
        Bow("end", end, to_end, tops[0]), Straight("top", *tops), Bow("hub", 0j, tops[1], backs[0]),
        Straight("back", *backs), Bow("foot", foot, backs[1], from_foot),
        Straight("shin", from_foot, crotch.start), crotch,
        Straight("belly", crotch.end, to_end))
    return Plate((outer, _slot(foot, v["b23"], lean, v["b24"]),
                  _curved(v["b32"], v["b33"], v["b30"], v["b31"]),
                  (Ring("bore", 0j, v["b6"] / 2.0),), (Ring("end hole", end, v["b8"] / 2.0),)))


def _slot(low: complex, length: float, lean: float, radius: float) -> Loop:
    high = low + length * heading(lean)
    aside = -1j * heading(lean) * radius
    return (Straight("slot right", low + aside, high + aside),
            Bow("slot top", high, high + aside, high - aside),
            Straight("slot left", high - aside, low - aside),
            Bow("slot bottom", low, low - aside, low + aside))


def _curved(path: float, half: float, first: float, last: float) -> Loop:
    a, b = heading(first), heading(last)
    return (Bow("curved inside", 0j, (path - half) * a, (path - half) * b),
            Bow("curved end", path * b, (path - half) * b, (path + half) * b, ccw=False),
            Bow("curved outside", 0j, (path + half) * b, (path + half) * a, ccw=False),
            Bow("curved start", path * a, (path + half) * a, (path - half) * a, ccw=False))


PAPER = Paper("shift-arm", "mm", (*(PaperValue(name, amount) for name, amount in {
    "b2": 110.0, "b3": 30.0, "b4": 10.0, "b5": 75.0, "b6": 24.0, "b7": 18.0, "b8": 12.0,
    "b9": 15.0, "b20": 25.0, "b21": 9.0, "b23": 31.0, "b24": 5.0, "b32": 52.0,
    "b33": 4.0}.items()), *(PaperValue(name, amount, "angle") for name, amount in {
        "b18": 20.0, "b22": 75.0, "b30": 6.0, "b31": 26.0}.items())), construct,
    (PaperParameter("reach", 110.0, {"b2": (1.0, 0.0)}),))
