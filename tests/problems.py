"""Two drawing problems, each drawn from an empty sheet with presses and keys alone.

Both are invented. `paper` is what the problem's drawing prints; a script holds those values, and no
others, in the order in which a person would; places that are pressed are about where they lie.
"""

from __future__ import annotations

from collections.abc import Callable
from math import acos, atan2, cos, dist, pi, radians, sin, sqrt, tau
from typing import TypeAlias

from sketcher.part.value import ArcCurve
from tests.hands import BindingHands

XY = tuple[float, float]
Piece: TypeAlias = tuple[XY, XY] | tuple[XY, XY, XY, bool]
Stage = Callable[[str], None]


def clamp_plate(hands: BindingHands, stage: Stage) -> None:
    """Half of a clamp plate of 14 curves, and its mirror.

    Base 40, edge 20, slope at 45 degrees with a run of 10, a plumb edge up to the big round of
    radius 40, which is 62 high on the axis and has its center there; corners rounded with 6 and 5,
    the shoulder inside the big round with 8; a hole of diameter 9 at 22, 36; a window 12 by 14,
    10 above the base, its corners rounded with 3.
    """
    hands.tool("outline")
    hands.click((0.0, 0.0))
    hands.point((40.0, 0.2))
    hands.type("40\n")
    hands.point((40.2, 20.0))
    hands.type("20\n")
    hands.point((30.5, 30.0))
    hands.type("\t45\t10\n")
    hands.click((30.0, 46.0))
    hands.press("space")
    hands.press("space")
    hands.type("\t\t\t0\t62\n")
    hands.point((28.0, 50.0))
    hands.type("40\n")
    hands.press("enter")
    stage("outline")
    hands.type("0\t10\n")
    hands.point((12.0, 10.2))
    hands.type("12\n")
    hands.point((12.2, 24.0))
    hands.type("14\n")
    hands.point((0.0, 10.0))
    hands.click((0.0, 24.0))
    hands.press("enter")
    stage("window")
    hands.tool("circle")
    hands.type("22\t36\n9\n")
    hands.tool("fillet")
    hands.type("6")
    hands.click((40.0, 0.0))
    hands.type("5")
    hands.click((40.0, 20.0))
    hands.type("3")
    hands.click((12.0, 10.0), (12.0, 24.0))
    stage("rounded")
    hands.tool("mirror")
    hands.press("enter")
    stage("mirrored")
    arc = hands.board.part.curves["a1"]
    assert isinstance(arc, ArcCurve)
    hands.click(hands.board.part.points[arc.center])  # its mark is on the sheet
    hands.click((0.0, 45.0), keys=("shift",))
    hands.bind("on")
    hands.tool("fillet")
    hands.type("8")
    hands.click((30.0, 22.0 + sqrt(700.0)))
    hands.press("escape")
    stage("bound")


def pivot_arm(hands: BindingHands, stage: Stage) -> None:
    """A pivot arm: a slot in a slot, a curved slot in its rim, a common tangent, two blends.

    Hub of diameter 40, bore 16; a slot 12 wide from 30 to 80 on the level of the hub, in a rim 24
    wide; a curved slot 10 wide about the hub, 50 away, from 60 to 100 degrees, in a rim 22 wide; a
    common tangent of hub and rim; blends of radius 45 below and 15 above the arm.
    """
    hands.tool("circle")
    hands.click((0.0, 0.0))
    hands.type("40\n")
    hands.click((0.0, 0.0))
    hands.type("16\n")
    stage("hub")
    hands.tool("slot")
    hands.type("30\t0\n")
    hands.point((80.0, 0.2))
    hands.type("50\n")
    hands.type("12\n")
    hands.click((30.0, 0.0), (80.0, 0.0))
    hands.type("24\n")
    stage("slot in slot")
    hands.tool("curved slot")
    hands.click((0.0, 0.0))
    hands.type("50\t60\n")
    hands.point((-10.0, 50.0))
    hands.type("100\n")
    hands.type("10\n")
    hands.click((0.0, 0.0), (25.0, 43.3), (-8.7, 49.2))
    hands.type("22\n")
    stage("curved slot in its rim")
    hands.tool("tangent line")
    hands.click((-18.0, 9.0), (-19.5, 51.0))
    hands.tool("tangent circle")
    hands.click((9.6, -17.5), (40.0, -12.0))
    hands.type("45\n")
    hands.click((33.5, 36.4), (45.2, 12.0))
    hands.type("15\n")
    stage("tangent and blends")
    hands.tool("trace")
    hands.sweep((-40.0, -30.0), (110.0, 80.0))
    hands.click((45.0, 27.0), keys=("shift",))
    hands.press("escape")
    stage("traced")


def area_within(pieces: list[Piece]) -> float:
    """Return the area that lines and arcs go round, by Green's theorem."""
    total = 0.0
    for a, b, *arc in pieces:
        total += a[0] * b[1] - b[0] * a[1]
        if arc:
            center, ccw = arc
            start, end = (atan2(at[1] - center[1], at[0] - center[0]) for at in (a, b))
            sweep = (end - start) % tau if ccw else -((start - end) % tau)
            total += dist(a, center) ** 2 * (sweep - sin(sweep))
    return 0.5 * total


def polar(radius: float, degrees: float, about: XY = (0.0, 0.0)) -> XY:
    """Return a place at an angle from a center."""
    return (about[0] + radius * cos(radians(degrees)), about[1] + radius * sin(radians(degrees)))


def toward(a: XY, b: XY, length: float) -> XY:
    """Return the place so far from `a` toward `b`."""
    share = length / dist(a, b)
    return (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]))


def rounded(before: XY, corner: XY, after: XY, radius: float) -> tuple[XY, XY, XY, bool]:
    """Return the arc that rounds a corner of two lines."""
    ux, uy = toward((0.0, 0.0), (corner[0] - before[0], corner[1] - before[1]), 1.0)
    vx, vy = toward((0.0, 0.0), (after[0] - corner[0], after[1] - corner[1]), 1.0)
    turn = atan2(ux * vy - uy * vx, ux * vx + uy * vy)
    away = radius * abs(sin(turn / 2.0) / cos(turn / 2.0))
    a, b = toward(corner, before, away), toward(corner, after, away)
    side = radius if turn > 0.0 else -radius
    return a, b, (a[0] - side * uy, a[1] + side * ux), turn > 0.0


def lines_between(arcs: list[Piece], closing: bool = True) -> list[Piece]:
    """Return pieces with the lines that join each to the next."""
    joined: list[Piece] = []
    for one, other in zip(arcs, arcs[1:] + arcs[:1] if closing else arcs[1:], strict=False):
        joined += [one, (one[1], other[0])]
    return joined


def clamp_plate_area() -> float:
    """Return the area of the whole clamp plate, from its paper by trigonometry."""
    center = (0.0, 22.0)
    inner = (22.0, 22.0 + sqrt(32.0**2 - 22.0**2))  # 40 - 8 from the center, 8 inside x = 30
    half = lines_between([
        ((0.0, 0.0), (0.0, 0.0)),
        rounded((0.0, 0.0), (40.0, 0.0), (40.0, 20.0), 6.0),
        rounded((40.0, 0.0), (40.0, 20.0), (30.0, 30.0), 5.0),
        ((30.0, 30.0), (30.0, 30.0)),
        ((30.0, inner[1]), toward(center, inner, 40.0), inner, True),
        (toward(center, inner, 40.0), (0.0, 62.0), center, True),
    ])
    window = lines_between([
        ((0.0, 10.0), (0.0, 10.0)),
        rounded((0.0, 10.0), (12.0, 10.0), (12.0, 24.0), 3.0),
        rounded((12.0, 10.0), (12.0, 24.0), (0.0, 24.0), 3.0),
        ((0.0, 24.0), (0.0, 24.0)),
    ])
    return 2.0 * (area_within(half) - area_within(window) - pi * 4.5**2)


def pivot_arm_area() -> float:
    """Return the area of the pivot arm, from its paper by trigonometry."""
    hub, first, last = (0.0, 0.0), polar(50.0, 60.0), polar(50.0, 100.0)
    below = (sqrt(65.0**2 - 57.0**2), -57.0)  # 20 + 45 from the hub, 45 below y = -12
    above = (first[0] + sqrt(26.0**2 - (27.0 - first[1]) ** 2), 27.0)  # 11 + 15 from the rim's end
    turn = 100.0 + acos((20.0 - 11.0) / 50.0) * 180.0 / pi  # where the common tangent touches
    outline: list[Piece] = [
        (polar(20.0, turn), toward(hub, below, 20.0), hub, True),
        (toward(hub, below, 20.0), (below[0], -12.0), below, False),
        ((below[0], -12.0), (80.0, -12.0)),
        ((80.0, -12.0), (80.0, 12.0), (80.0, 0.0), True),
        ((80.0, 12.0), (above[0], 12.0)),
        ((above[0], 12.0), toward(first, above, 11.0), above, False),
        (toward(first, above, 11.0), polar(61.0, 60.0), first, True),
        (polar(61.0, 60.0), polar(61.0, 100.0), hub, True),
        (polar(61.0, 100.0), polar(11.0, turn, last), last, True),
        (polar(11.0, turn, last), polar(20.0, turn)),
    ]
    slot, curved = 12.0 * 50.0 + pi * 36.0, radians(40.0) * 10.0 * 50.0 + pi * 25.0
    return area_within(outline) - pi * 64.0 - slot - curved
