"""The frame of the sheet with its zones: letters and numbers by which a place is named.

ISO 5457:1999 (from memory): fields of 50 mm from the centring marks, what is left over in those at
the corners; letters from the top, numbers from the left, without I and O; a border of 5 mm outside
the frame; an A4 has them at the top and at the right alone. ASME Y14.1 (from memory): numbers from
the right, letters from the bottom, in the margin.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from string import ascii_uppercase

from sketcher.drafting.paper_sizes import Sheet
from sketcher.drafting.primitives import Item, Text, line, polyline
from sketcher.geometry.bounds import Box

FIELD = 50.0
BORDER = 5.0
"""Width of the border of an ISO sheet, and the length of its centring marks, in mm."""
TICK = 6.0
"""Length of the strokes between the zones of an ASME sheet, in mm (common practice, no source)."""
LETTERS = [letter for letter in ascii_uppercase if letter not in "IO"]
SOURCE = "sheet:frame"


def draw_frame(sheet: Sheet) -> list[Item]:
    """Return the frame with its zones, and on ISO sheets the centring marks."""
    items: list[Item] = [*_box(sheet.inner, "frame")]
    if sheet.practice == "ISO":
        items += _iso_zones(sheet)
        items += _centring_marks(sheet)
    else:
        items += _asme_zones(sheet)
    return items


def zone_edges(sheet: Sheet) -> tuple[list[float], list[float]]:
    """Return where the fields begin and end: across from the left, up from the bottom, in mm."""
    left, bottom, right, top = sheet.inner
    if sheet.practice == "ISO":
        width, height = sheet.size
        return _fields(left, right, width), _fields(bottom, top, height)
    across, up = sheet.zones
    return ([left + k * (right - left) / across for k in range(across + 1)] if across else [],
            [bottom + k * (top - bottom) / up for k in range(up + 1)] if up else [])


def _fields(low: float, high: float, size: float) -> list[float]:
    """Edges of fields of 50 mm from the middle of the sheet on; those at the ends take the rest."""
    half = round(0.5 * size / FIELD)
    inside = [0.5 * size + k * FIELD for k in range(1 - half, half)]
    return [low, *inside, high]


def _iso_zones(sheet: Sheet) -> Iterator[Item]:
    left, bottom, right, top = sheet.inner
    a4 = sheet.format == "A4"
    outer = (left if a4 else left - BORDER, bottom if a4 else bottom - BORDER,
             right + BORDER, top + BORDER)
    if a4:
        corners = [(outer[0], outer[3]), (outer[2], outer[3]), (outer[2], outer[1])]
        yield from polyline([(left, top), *corners, (right, bottom)], "section", SOURCE)
    else:
        yield from _box(outer, "section")
    across, up = zone_edges(sheet)
    high = 0.5 * (BORDER - sheet_letter(sheet))
    for at, depth in ((top, BORDER), *(() if a4 else ((bottom, -BORDER),))):
        base = at + high if depth > 0.0 else at - BORDER + high
        yield from _ticks([(x, at) for x in _off_middle(across, sheet.size[0])], (0.0, depth))
        for k, x in enumerate(_middles(across), 1):
            yield _letter(sheet, str(k), x, base)
    for at, depth in ((right, BORDER), *(() if a4 else ((left, -BORDER),))):
        middle = at + 0.5 * depth
        yield from _ticks([(at, y) for y in _off_middle(up, sheet.size[1])], (depth, 0.0))
        for letter, y in zip(LETTERS, reversed(_middles(up)), strict=False):
            yield _letter(sheet, letter, middle, y - 0.5 * sheet_letter(sheet))


def _asme_zones(sheet: Sheet) -> Iterator[Item]:
    left, bottom, right, top = sheet.inner
    across, up = zone_edges(sheet)
    tall = sheet_letter(sheet)
    for at, depth in ((top, TICK), (bottom, -TICK)):
        yield from _ticks([(x, at) for x in across[1:-1]], (0.0, depth))
        for k, x in enumerate(reversed(_middles(across)), 1):
            yield _letter(sheet, str(k), x, at + 0.5 * depth - 0.5 * tall)
    for at, depth in ((right, TICK), (left, -TICK)):
        yield from _ticks([(at, y) for y in up[1:-1]], (depth, 0.0))
        for letter, y in zip(LETTERS, _middles(up), strict=False):
            yield _letter(sheet, letter, at + 0.5 * depth, y - 0.5 * tall)


def sheet_letter(sheet: Sheet) -> float:
    """Return the height of the letters of zones in mm: it stays within the border."""
    return min(sheet.height, 3.5)


def _letter(sheet: Sheet, text: str, x: float, base: float) -> Text:
    return Text(text, (x, base), sheet_letter(sheet), SOURCE, "center")


def _ticks(places: Sequence[tuple[float, float]], way: tuple[float, float]) -> Iterator[Item]:
    for x, y in places:
        yield line((x, y), (x + way[0], y + way[1]), "section", SOURCE)


def _off_middle(edges: Sequence[float], size: float) -> list[float]:
    """Return the inner edges of the fields but the one at a centring mark, which is drawn there."""
    return [edge for edge in edges[1:-1] if abs(edge - 0.5 * size) > 1e-6]


def _middles(edges: Sequence[float]) -> list[float]:
    return [0.5 * (a + b) for a, b in pairwise(edges)]


def _box(box: Box, kind: str) -> list[Item]:
    left, bottom, right, top = box
    return [*polyline([(left, bottom), (right, bottom), (right, top), (left, top), (left, bottom)],
                      kind, SOURCE)]


def _centring_marks(sheet: Sheet) -> Iterator[Item]:
    """Marks at the middles of the sheet, outside the frame so that they cross no lettering."""
    left, bottom, right, top = sheet.inner
    x, y = 0.5 * sheet.size[0], 0.5 * sheet.size[1]
    for a, b in (((x, bottom), (x, bottom - BORDER)), ((x, top), (x, top + BORDER)),
                 ((left, y), (left - BORDER, y)), ((right, y), (right + BORDER, y))):
        yield line(a, b, "frame", SOURCE)
