"""The list of holes of a plate, for who drills or mills it from an axis readout, or scribes it.

Names are those of the table on the sheet; places are measured as there, from the zero and along the
direction that the drawing names (`Drawing.table_zero`, `table_along`). Every hole of the whole
plate is in it, reflected and repeated ones too, and on a sheet that shows the half alone. Holes of
one size follow each other, as they are drilled with one drill, each size in a short way from where
the one before ended.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal, TypeAlias

from sketcher.drafting.features import shown_pieces
from sketcher.drafting.hole_list import (
    CurvedSlot,
    curved_slots_of,
    holes_of,
    table_axes,
)
from sketcher.drafting.holes import TableHole, letters, named_holes, said
from sketcher.drafting.table_axes import TableAxes
from sketcher.errors import SketcherError
from sketcher.geometry.curves import XY
from sketcher.part.value import Part
from sketcher.quantity.format import angle
from sketcher.shop.bolt_circles import BoltCircle, bolt_circles_of
from sketcher.shop.drill_way import short_way, way_length

HoleKind: TypeAlias = Literal["hole", "slot", "curved slot"]


@dataclass(frozen=True, slots=True)
class HoleRow:
    """One hole, in the part's unit and in degrees, from the list's zero and against its X.

    Parameters
    ----------
    name : str
        Letter of its size and its number, as on the sheet.
    kind : str
        ``hole``, ``slot`` or ``curved slot``.
    at : (x, y)
        Its center; of a curved slot the center that it runs around.
    size : str
        As the sheet says it, with its tolerance.
    width : float
        Diameter of a hole, width of a slot.
    ends : tuple of (x, y)
        Centers of a slot's round ends.
    radius : float
        Of the middle of a curved slot, else 0.
    angles : (first, last) or None
        Of a curved slot's ends, counter-clockwise from one to the other.
    circle : str
        Name of the bolt circle that it lies on, or empty.
    ids : tuple of str
        Curves of its contour, as the inspection names them.
    place : (x, y)
        Where it lies on the part: its center, or that of a curved slot's first end.
    """

    name: str
    kind: HoleKind
    at: XY
    size: str
    width: float
    ends: tuple[XY, ...]
    radius: float
    angles: tuple[float, float] | None
    circle: str
    ids: tuple[str, ...]
    place: XY

    def as_dict(self) -> dict[str, object]:
        """Return the entry of the inspection file."""
        return {
            "name": self.name, "kind": self.kind, "at": list(self.at), "size": self.size,
            "width": self.width, "ends": [list(end) for end in self.ends],
            "radius": self.radius or None, "angles": list(self.angles) if self.angles else None,
            "circle": self.circle or None, "ids": list(self.ids),
        }


@dataclass(frozen=True, slots=True)
class HoleList:
    """All holes of a plate in the order in which they are drilled, and their bolt circles.

    `travel` is the way from the zero over all of them, in the part's unit.
    """

    unit: str
    axes: TableAxes
    rows: tuple[HoleRow, ...]
    circles: tuple[BoltCircle, ...]
    travel: float

    def as_dict(self) -> dict[str, object]:
        """Return the entry of the inspection file; `zero` and `turn` are those of the axes."""
        return {
            "zero": list(self.axes.zero), "turn": self.axes.turn,
            "rows": [row.as_dict() for row in self.rows],
            "bolt_circles": [circle.as_dict() for circle in self.circles],
            "travel": self.travel,
        }


def hole_rows(part: Part) -> HoleList:
    """Return the list of holes of a solved part.

    Raises
    ------
    SketcherError
        When the drawing names a zero or a direction that there is not.
    """
    shown = shown_pieces(part, alone=True)
    first = holes_of(shown)
    axes = table_axes(part, shown, first)
    half = part.drawing.show_half and bool(part.mirrors)
    pieces = shown_pieces(part.having(drawing=replace(part.drawing, show_half=False)),
                          alone=True) if half else shown
    there = {hole.at for hole in first}
    rest = [hole for hole in holes_of(pieces) if hole.at not in there] if half else []
    named = list(named_holes(part, [first, rest], axes))
    circles = tuple(bolt_circles_of(part, pieces, named, axes))
    on = {name: circle.name for circle in reversed(circles) for name in circle.holes}
    rows = [_row(one, axes, on.get(one.name, "")) for one in named]
    count = len({row.size for row in rows})
    rows += _curved_rows(part, curved_slots_of(pieces), axes, count)
    ordered = list(_in_order(rows, axes.zero))
    travel = way_length([row.place for row in ordered], axes.zero)
    return HoleList(part.unit, axes, tuple(ordered), circles, travel)


def holes_entry(part: Part) -> dict[str, object]:
    """Return the list of holes as the inspection file has it, or what keeps it from being made.

    ``zero`` and ``turn`` say from where on the part and against level the places of ``rows`` are
    measured, in the order in which the holes are drilled: ``name, kind, at, size, width, ends,
    radius, angles, circle, ids``. ``bolt_circles`` have ``name, center, diameter, count, size,
    first, step, chord, holes, angles``. Lengths are in the part's unit, angles in degrees.
    """
    try:
        return hole_rows(part).as_dict()
    except SketcherError as error:  # of the drawing's zero: no reason to keep the rest untold
        return {"problem": str(error)}


def _row(one: TableHole, axes: TableAxes, circle: str) -> HoleRow:
    hole = one.hole
    ends = tuple(axes.place(end) for end in hole.ends)
    return HoleRow(one.name, "slot" if hole.length else "hole", one.at, one.size, hole.width, ends,
                   0.0, None, circle, hole.ids, hole.at)


def _curved_rows(
    part: Part, slots: Sequence[CurvedSlot], axes: TableAxes, number: int
) -> Iterator[HoleRow]:
    """Give the curved slots, with the letters behind those of the sheet's table."""
    alike: dict[tuple[float, float, float], list[CurvedSlot]] = {}
    for slot in sorted(slots, key=lambda s: (-s.width, -s.radius, s.first)):
        key = (round(slot.width, 6), round(slot.radius, 6), round(slot.last - slot.first, 6))
        alike.setdefault(key, []).append(slot)
    for k, same in enumerate(alike.values(), number):
        for count, slot in enumerate(same, 1):
            first = axes.angle(slot.first) % 360.0
            turns = (first, first + slot.last - slot.first)
            size = (f"{said(part, slot.width)} on R{said(part, slot.radius)}, "
                    f"{angle(turns[0])} to {angle(turns[1])}")
            yield HoleRow(f"{letters(k)}{count}", "curved slot", axes.place(slot.center), size,
                          slot.width, tuple(axes.place(end) for end in slot.ends), slot.radius,
                          turns, "", slot.ids, slot.ends[0])


def _in_order(rows: Sequence[HoleRow], start: XY) -> Iterator[HoleRow]:
    """Give the rows letter by letter, each letter's in a short way from where the last ended."""
    groups: dict[str, list[HoleRow]] = {}
    for row in rows:
        groups.setdefault(row.name.rstrip("0123456789"), []).append(row)
    for same in groups.values():
        order = [same[k] for k in short_way([row.place for row in same], start)]
        yield from order
        start = order[-1].place


__all__ = ["HoleKind", "HoleList", "HoleRow", "hole_rows", "holes_entry"]
