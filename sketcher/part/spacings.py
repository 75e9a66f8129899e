"""What a pattern says in numbers: its steps, counts and angles, one row each."""

from __future__ import annotations

from dataclasses import replace
from typing import NamedTuple

from sketcher.errors import EditError
from sketcher.geometry.curves import XY
from sketcher.part.value import GridPattern, Part, PartCurve, Pattern

GRID = (
    ("step1", "step", "length"), ("step2", "row step", "length"),
    ("columns", "columns", "number"), ("rows", "rows", "number"),
    ("angle", "turn", "angle"),
)
POLAR = (("count", "places", "number"), ("span", "span", "angle"))


class Spacing(NamedTuple):
    """One number of a pattern.

    `id` is the pattern's id, a point and the field's name (``g1.step1``), as the sheet's dimensions
    are named; `text` is the expression as typed, a whole number for a count.
    """

    id: str
    pattern: str
    field: str
    label: str
    quantity: str
    text: str


def seat(part: Part, curve: PartCurve) -> XY:
    """Return the place of a curve that its pattern's dimensions count from."""
    return part.points[curve.points[0] if curve.kind == "line" else curve.points[-1]]


def spacings(part: Part) -> tuple[Spacing, ...]:
    """Return the numbers of every pattern, in the part's order."""
    return tuple(
        Spacing(f"{name}.{field}", name, field, label, quantity, text_of(pattern, field))
        for name, pattern in part.patterns.items()
        for field, label, quantity in (GRID if isinstance(pattern, GridPattern) else POLAR)
    )


def text_of(pattern: Pattern, field: str) -> str:
    """Return a pattern's number as text."""
    if isinstance(pattern, GridPattern):
        return {
            "step1": pattern.step[0], "step2": pattern.step[1], "columns": str(pattern.count[0]),
            "rows": str(pattern.count[1]), "angle": pattern.angle,
        }[field]
    return {"count": str(pattern.count), "span": pattern.span}[field]


def respaced(pattern: Pattern, field: str, text: str) -> Pattern:
    """Return a pattern with another number.

    Raises
    ------
    EditError
        When a count is not a whole number.
    """
    text = text.strip()
    if isinstance(pattern, GridPattern):
        across, up = pattern.step
        columns, rows = pattern.count
        match field:
            case "step1":
                return replace(pattern, step=(text, up))
            case "step2":
                return replace(pattern, step=(across, text))
            case "columns":
                return replace(pattern, count=(whole_number(text, field), rows))
            case "rows":
                return replace(pattern, count=(columns, whole_number(text, field)))
        return replace(pattern, angle=text)
    if field == "count":
        return replace(pattern, count=whole_number(text, field))
    return replace(pattern, span=text)


def whole_number(text: str, field: str) -> int:
    """Return text as a whole number from 1 to 10,000.

    Raises
    ------
    EditError
        When it is none.
    """
    text = text.strip()
    if not (text.isascii() and text.isdecimal() and len(text) < 6 and 1 <= int(text) <= 10_000):
        raise EditError(field, f"'{text}' is not a whole number", "type a number from 1 to 10000")
    return int(text)
