"""The sheet around the drawing: frame, centring marks, title block, projection sign.

Data fields after ISO 7200:2004 and common inch practice; the block is 180 mm wide so that it fits
an upright A4 inside its margins (from memory).
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from sketcher.drafting.lettering import shortened, text_width
from sketcher.drafting.line_classes import Practice
from sketcher.drafting.primitives import Item, Stroke, Text, line, polyline
from sketcher.errors import SketcherError
from sketcher.geometry.curves import XY, Circle
from sketcher.part.general_tolerances import general
from sketcher.part.value import Part
from sketcher.quantity.format import length
from sketcher.quantity.units import UNIT_NAMES
from sketcher.shipped import shipped

FIELDS = ("drawn by", "date", "checked by", "number", "revision", "owner")
"""Entries of `Drawing.fields` that the title block shows."""

BLOCK_WIDTH, ROW = 180.0, 9.0
LABEL = 1.8
SOURCE = "sheet:title"


@dataclass(frozen=True, slots=True)
class Sheet:
    """A sheet: size and margins (left, bottom, right, top) in mm, height of lettering in mm."""

    name: str
    practice: Practice
    size: tuple[float, float]
    margins: tuple[float, float, float, float]
    height: float

    @property
    def inner(self) -> tuple[float, float, float, float]:
        """Frame: left, bottom, right, top in mm."""
        left, bottom, right, top = self.margins
        return (left, bottom, self.size[0] - right, self.size[1] - top)

    @property
    def block(self) -> tuple[float, float, float, float]:
        """Box of the title block, in the lower right corner."""
        _, bottom, right, _ = self.inner
        left = max(self.inner[0], right - BLOCK_WIDTH)
        return (left, bottom, right, bottom + 4 * ROW)


@cache
def sheets() -> Mapping[str, Sheet]:
    """Return all sheets by name, smallest first."""
    text = shipped("resources", "frames/sheets.toml").read_text(encoding="utf-8")
    return MappingProxyType({
        name: Sheet(name, entry["practice"], tuple(entry["size"]), tuple(entry["margins"]),
                    entry["height"])
        for name, entry in tomllib.loads(text).items()
    })


def sheet_named(name: str) -> Sheet:
    """Return a sheet by its name.

    Raises
    ------
    SketcherError
        For a name that there is not.
    """
    found = sheets().get(name)
    if found is None:
        raise SketcherError("drawing.sheet", f"there is no sheet {name!r}",
                            f"choose auto or one of {', '.join(sheets())}")
    return found


def draw_frame(sheet: Sheet) -> list[Item]:
    """Return the frame, and on ISO sheets the centring marks (ISO 5457:1999, from memory)."""
    left, bottom, right, top = sheet.inner
    corners = [(left, bottom), (right, bottom), (right, top), (left, top), (left, bottom)]
    items: list[Item] = [*polyline(corners, "frame", "sheet:frame")]
    if sheet.practice == "ISO":
        width, height = sheet.size
        middle_x, middle_y = 0.5 * width, 0.5 * height
        marks = [((middle_x, bottom), (middle_x, bottom - 5.0)),
                 ((middle_x, top), (middle_x, top + 5.0)),
                 ((left, middle_y), (left - 5.0, middle_y)),
                 ((right, middle_y), (right + 5.0, middle_y))]
        items += [line(a, b, "frame", "sheet:frame") for a, b in marks]
    return items


def draw_title_block(
    part: Part, sheet: Sheet, scale: str, page: int, pages: int, what: str
) -> list[Item]:
    """Return the title block of one page."""
    left, bottom, right, top = sheet.block
    items: list[Item] = [line((left, top), (right, top), "visible", SOURCE),
                         line((left, bottom), (left, top), "visible", SOURCE)]
    for number, row in enumerate(_rows(part, sheet, scale, page, pages, what)):
        y = bottom + number * ROW
        if number:
            items.append(line((left, y), (right, y), "section", SOURCE))
        x, unit = left, (right - left) / BLOCK_WIDTH
        for title, value, width in row:
            if x > left:
                items.append(line((x, y), (x, y + ROW), "section", SOURCE))
            items += _cell(title, value, (x, y), width * unit, number == 0 and x == left)
            x += width * unit
    return items


def _cell(title: str, value: str, at: XY, width: float, large: bool) -> list[Item]:
    x, y = at
    items: list[Item] = [Text(title, (x + 1.2, y + ROW - LABEL - 1.0), LABEL, SOURCE)]
    if title == "Projection":
        return items + _projection((x + 0.5 * width + 4.0, y + 0.4 * ROW), value)
    height = 3.5 if large else 2.5
    while height > 1.8 and text_width(value, height) > width - 2.4:
        height -= 0.1
    if value:
        items.append(Text(shortened(value, height, width - 2.4), (x + 1.2, y + 1.6), height,
                          SOURCE, bold=large))
    return items


def _rows(
    part: Part, sheet: Sheet, scale: str, page: int, pages: int, what: str
) -> list[list[tuple[str, str, float]]]:
    """Rows from below: (title, value, width in parts of 180)."""
    fields = part.drawing.fields
    unit = UNIT_NAMES[part.unit]
    note = f"Dimensions in {unit}; general tolerances {general(part).note}"
    thickness = f"{length(part.material.thickness, part.unit)} {part.unit}"
    angle = "first" if sheet.practice == "ISO" else "third"
    return [
        [("Part", part.name, 76), ("Shows", what, 40), ("Number", fields.get("number", ""), 36),
         ("Page", f"{page} of {pages}", 16), ("Rev.", fields.get("revision", ""), 12)],
        [("Drawn by", fields.get("drawn by", ""), 42), ("Date", fields.get("date", ""), 28),
         ("Checked by", fields.get("checked by", ""), 40), ("Scale", scale, 22),
         ("Sheet", sheet.name, 16), ("Projection", angle, 32)],
        [("Material", part.material.name, 70), ("Thickness", thickness, 40),
         ("Owner", fields.get("owner", ""), 70)],
        [("Unless otherwise specified", note, 180)],
    ]


def _projection(middle: XY, angle: str) -> list[Item]:
    """Return the sign of first or third angle projection: a cut cone and its small end."""
    x, y = middle
    big, small = 2.2, 1.1
    cone_x, rings_x = (x - 4.0, x + 4.0) if angle == "first" else (x + 4.0, x - 4.0)
    corners = [(cone_x - 3.0, y - small), (cone_x + 3.0, y - big), (cone_x + 3.0, y + big),
               (cone_x - 3.0, y + small), (cone_x - 3.0, y - small)]
    items: list[Item] = [*polyline(corners, "section", SOURCE)]
    items += [Stroke(Circle((rings_x, y), r), "section", SOURCE) for r in (small, big)]
    return items
