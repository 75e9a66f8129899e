"""Demo parts built by scribing and tracing only, as scripts for `tests.hands`."""

from __future__ import annotations

from collections.abc import Callable
from math import dist

from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.part.value import Part
from sketcher.part.whole import whole
from tests.hands import Hands


def axis(hands: Hands, length: str, angle: str) -> None:
    """An axis from the sheet's zero."""
    hands.tool("axis")
    hands.click((0.0, 0.0))
    hands.type(f"{length}\t{angle}\n")


def gate_strap(hands: Hands) -> None:
    """The gate strap by walking along spans."""
    axis(hands, "130", "90")
    hands.tool("line at angle")
    hands.click((0.0, 0.0))
    hands.point((30.0, 4.0))
    hands.type("0\t70\n")
    hands.tool("offset ladder")
    hands.click((0.0, 70.0))
    hands.point((30.0, 70.0))
    hands.type("20, 46, 60\n")
    hands.click((30.0, 0.0))
    hands.point((30.0, 40.0))
    hands.type("12, 14, 24, 26, 100\n")
    hands.click((0.0, 100.0))
    hands.type("10, 22\n")
    hands.click((0.0, 26.0))
    hands.type("36\n")
    hands.click((46.0, 12.0))
    hands.type("4.5\n")
    hands.tool("line at angle")
    hands.click((60.0, 24.0))
    hands.point((40.0, 36.0))
    hands.type("30\t24\n")
    hands.tool("tangent line")
    hands.click((36.0, 37.8564), (21.0, 106.5))
    hands.click((28.5, 71.0))
    hands.tool("tangent circle")
    hands.click((30.0, 0.0), (60.0, 40.0))
    hands.type("8\n")
    hands.click((52.0, 8.0))
    hands.click((50.0, 29.77), (30.5, 62.2))
    hands.type("12\n")
    hands.click((45.5, 46.2))
    hands.click((20.0, 80.0), (31.177, 44.0))
    hands.type("8\n")
    hands.click((12.0, 51.3))
    hands.tool("trace")
    hands.press("w")
    hands.click((6.0, 0.0), (60.0, 18.0), (53.0, 28.04), (36.907, 38.519), (26.2, 83.0),
                (6.0, 121.17))
    hands.press("enter")
    hands.double((-8.0, 94.0))
    hands.double((41.9, 10.2))
    hands.click((5.0, 61.65), (20.0, 20.0), (9.0, 14.0))
    hands.press("enter")
    hands.tool("mirror")
    hands.click((0.0, 50.0))
    hands.press("enter")


def roof_gusset(hands: Hands) -> None:
    """The roof gusset by regions."""
    axis(hands, "90", "27.5")
    hands.tool("line at angle")
    hands.click((0.0, 0.0))
    hands.point((26.61, 13.85))
    hands.press("w")
    hands.press("e")
    hands.press("e")
    hands.point((-9.0, 18.0))
    hands.type("90\t40\n")
    hands.click((-18.47, 35.48))
    hands.point((26.61, 13.85))
    hands.press("w")
    hands.point((0.0, 46.0))
    hands.type("0\t25\n")
    hands.click((3.705, 47.024))
    hands.point((26.61, 13.85))
    hands.press("w")
    hands.point((60.0, 44.0))
    hands.type("30\t75\n")
    hands.tool("offset ladder")
    hands.click((20.0, 46.3))
    hands.point((30.0, 30.0))
    hands.type("14\n")
    hands.click((58.793, 30.606))
    hands.type("6, 14\n")
    hands.tool("tangent circle")
    hands.click((-8.0, 40.93), (30.0, 45.876))
    hands.type("20\n")
    hands.click((8.187, 26.809))
    hands.tool("trace")
    hands.sweep((1.4, 4.5), (8.3, 26.9), (-14.0, 34.1), (8.0, 30.0), (34.6, 25.2), (47.9, 28.2),
                (54.2, 29.6), (58.1, 33.6), (64.7, 38.7), (39.3, 38.5))
    hands.press("enter")
    hands.tool("trace")
    hands.sweep((54.5, 29.7), (58.1, 33.6))
    hands.tool("offset ladder")
    hands.click((-3.0, 5.763))
    hands.point((20.0, 20.0))
    hands.type("7, 14\n")
    hands.click((-10.0, 39.89))
    hands.point((0.0, 30.0))
    hands.type("10\n")
    hands.click((30.0, 45.876))
    hands.point((30.0, 30.0))
    hands.type("20, 24\n")
    hands.click((41.053, 21.371))
    hands.type("4\n")
    hands.click((-7.643, 29.843))
    hands.type("3\n")
    hands.tool("tangent circle")
    hands.click((8.0, 14.951), (25.0, 26.076))
    hands.type("5\n")
    hands.click((10.1, 21.7))
    hands.tool("trace")
    hands.sweep((12.6, 6.9), (10.1, 21.7), (19.2, 17.0), (29.8, 18.9), (38.0, 20.7),
                (40.6, 23.3), (33.8, 23.7), (16.6, 24.4))
    hands.sweep((-7.1, 31.5), (-6.0, 29.3), (-8.2, 28.2), (-9.3, 30.4))
    hands.tool("mirror")
    hands.click((26.61, 13.852))
    hands.press("enter")


SCRIPTS: dict[str, Callable[[Hands], None]] = {"gate-strap": gate_strap, "roof-gusset": roof_gusset}


def missing(built: Part, wanted: Part, tol: float) -> list[str]:
    """Return the outline curves of the whole wanted part that the built one does not have.

    A circle may be there as two arcs; everything else end for end.
    """
    there = [piece.curve for piece in whole(built) if piece.role == "outline"]
    return [piece.id for piece in whole(wanted)
            if piece.role == "outline" and not _is_there(piece.curve, there, tol)]


def _is_there(curve: Curve, there: list[Curve], tol: float) -> bool:
    if isinstance(curve, Line):
        return any(isinstance(c, Line) and _same_ends(c, curve, tol) for c in there)
    same = [c for c in there if not isinstance(c, Line)
            and dist(c.center, curve.center) <= tol and abs(c.radius - curve.radius) <= tol]
    if isinstance(curve, Circle):
        return abs(sum(c.length for c in same) - curve.length) <= 10.0 * tol
    return any(isinstance(c, Arc) and _same_ends(c, curve, tol)
               and abs(c.length - curve.length) <= 10.0 * tol for c in same)


def _same_ends(a: Line | Arc, b: Line | Arc, tol: float) -> bool:
    pairs: tuple[tuple[XY, XY], ...] = ((a.start, a.end), (a.end, a.start))
    return any(dist(p, b.start) <= tol and dist(q, b.end) <= tol for p, q in pairs)
