"""A plate as key, and hand-ins of it as pictures of marking show them, drawn by hand."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.marking.marked_view import MarkedView
from sketcher.marking.marking_rule import Mistake
from sketcher.marking.marks import Deduction, Marks
from sketcher.part.value import frozen

WIDE, TALL, ROUND = 100.0, 60.0, 8.0
HOLE = Circle((30.0, 30.0), 6.0)
OUTLINE: tuple[Curve, ...] = (
    Line((0.0, 0.0), (WIDE, 0.0)), Line((WIDE, 0.0), (WIDE, TALL - ROUND)),
    Arc((WIDE - ROUND, TALL - ROUND), (WIDE, TALL - ROUND), (WIDE - ROUND, TALL)),
    Line((WIDE - ROUND, TALL), (0.0, TALL)), Line((0.0, TALL), (0.0, 0.0)), HOLE)
CENTERS: tuple[Curve, ...] = (
    Line((21.0, 30.0), (39.0, 30.0)), Line((30.0, 21.0), (30.0, 39.0)))


def plate_view(outline: Sequence[Curve] = OUTLINE, **fields: object) -> MarkedView:
    """Return a hand-in of the plate beside the plate."""
    shown = MarkedView(
        "Corner plate", "ISO", "mm", OUTLINE,
        frozen({"outline": tuple(outline), "center": CENTERS}),
        tuple(range(1, len(outline) + 1)))
    return replace(shown, **fields)


def given(
    places: Sequence[XY], text: str = "the hole is drawn with 13, not 12",
    rule: str = "wrong-value", points: float = 1.0, **fields: object,
) -> Marks:
    """Return marks with a deduction at each of some places."""
    found = tuple(
        Deduction(k, rule, points, Mistake(at, f"{k}.5", f"{k}", f"{text} ({k})"))
        for k, at in enumerate(places, 1))
    marks = Marks("0.dxf", 100.0 - points * len(found), 100.0, found, unit="mm")
    return replace(marks, **fields)
