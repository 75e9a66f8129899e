"""The pump flange: a round with two ears, bolts in a circle."""

from __future__ import annotations

from math import sqrt

from tests.hand_ins.strokes import Bow, Plate, Ring, across_x, across_y, reflected
from tests.hand_ins.trigonometry import heading
from tests.hand_ins.written_paper import Paper, PaperParameter, PaperValue, Values

BOLTS = 6


def construct(v: Values) -> Plate:
    ear = complex(v["b5"], 0.0)
    rim, body, hollow = v["b6"] / 2.0 + v["b7"], v["b8"], v["b9"]
    # the hollow touches both rounds from outside: a triangle of three known sides
    far, near = body + hollow, rim + hollow
    x = (far ** 2 - near ** 2 + ear.real ** 2) / (2.0 * ear.real)
    center = complex(x, sqrt(far ** 2 - x ** 2))
    low, high = ear + (center - ear) * rim / near, center * body / far
    upper = (Bow("hollow", center, low, high, ccw=False),)
    over = reflected(upper, across_y)
    under = reflected((*upper, Bow("body", 0j, high, over[0].start), *over), across_x)
    outer = (
        Bow("ear", ear, under[-1].end, low), *upper, Bow("body", 0j, high, over[0].start), *over,
        Bow("ear'", -ear, over[-1].end, under[0].start), *under)
    bolts = tuple((Ring(f"bolt {n}", heading(90.0 + 360.0 * n / BOLTS) * v["b14"],
                        v["b15"] / 2.0),) for n in range(BOLTS))
    return Plate((outer, (Ring("bore", 0j, v["b12"] / 2.0),), *bolts,
                  (Ring("ear hole", ear, v["b6"] / 2.0),),
                  (Ring("ear hole'", -ear, v["b6"] / 2.0),)))


PAPER = Paper("pump-flange", "mm", tuple(PaperValue(name, amount) for name, amount in {
    "b5": 62.0, "b6": 13.0, "b7": 9.5, "b8": 44.0, "b9": 20.0, "b12": 36.0, "b14": 30.0,
    "b15": 6.6}.items()), construct, (
    PaperParameter("span", 124.0, {"b5": (0.5, 0.0)}),
    PaperParameter("bolt_circle", 60.0, {"b14": (0.5, 0.0)}),
))
