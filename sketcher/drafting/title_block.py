"""The title block: data fields after ISO 7200:2004 and common inch practice, projection sign.

Rows of cells with a label above each value. ISO: 180 mm wide, so that it fits an upright A4 inside
its margins. ASME: beside the rows a box says what holds unless otherwise specified; pages behind
the drawing have what names them alone (Y14.1). Where lettering is too wide for its row, the row is
parted. The fields are from a listing of ISO 7200, widths and ASME's block from memory.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from sketcher.drafting.lettering import lettered, shortened, text_width, wrapped
from sketcher.drafting.paper_sizes import BLOCK, LEAST_LETTERING, Sheet
from sketcher.drafting.primitives import Item, Stroke, Text, line, polyline
from sketcher.geometry.curves import XY, Circle
from sketcher.part.general_tolerances import general
from sketcher.part.printed import thickness_text
from sketcher.part.value import Part

FIELDS = ("drawn by", "date", "checked by", "approved by", "number", "revision", "owner")
"""Entries of `Drawing.fields` that the title block shows."""

SOURCE = "sheet:title"
PAD = 1.2  # mm beside lettering
TOP, BETWEEN, FOOT = 0.35, 0.55, 0.45  # above label, value and line, by the height of lettering
LEAD = 1.5  # of the lines in ASME's box: space of half a height (Y14.2-2008, 4.5)
BOX = 0.37  # share of ASME's block that the box takes, by trial
ASME_WIDTH = 165.0  # of the block for lettering of 3 mm, by trial
SPARE = 40.0  # mm beside the block that are too narrow for notes: it takes them
BOLD = 1.05  # of bold lettering's width by that of other, as `Text.width` has it
UNITS = {("ISO", "mm"): "millimetres", ("ISO", "in"): "inches",
         ("ASME", "mm"): "millimeters", ("ASME", "in"): "inches"}


@dataclass(frozen=True, slots=True)
class Facts:
    """What a title block says besides the part: scale, page and count of pages, what is shown."""

    scale: str
    page: int
    pages: int
    what: str


@dataclass(frozen=True, slots=True)
class Cell:
    """A label above a value, with its share of the row; there is room for the `longest` value."""

    label: str
    value: str
    share: float
    longest: str = ""
    large: bool = False
    sign: str = ""

    def heights(self, sheet: Sheet) -> tuple[float, float]:
        """Height of the value's lettering and of the cell, in mm."""
        value = sheet.large if self.large else sheet.height
        return value, (TOP + 1.0 + BETWEEN) * sheet.height + (1.0 + FOOT) * value

    def need(self, sheet: Sheet) -> float:
        """Width in mm that label and value take."""
        value, _ = self.heights(sheet)
        widest = max(text_width(text, value) for text in (self.value, self.longest))
        return 2.0 * PAD + max(text_width(self.label, sheet.height),
                               widest * (BOLD if self.large else 1.0))


Row = list[Cell]
LONGEST = "Construction order"
"""Of the words for what a page shows; a block is as large on all pages."""


def with_block(part: Part, sheet: Sheet, further: bool = False) -> Sheet:
    """Return a sheet with room for the title block of a part.

    Parameters
    ----------
    part : Part
    sheet : Sheet
    further : bool
        For a page behind the drawing.
    """
    wide = _width(sheet)
    box = _box_width(sheet, wide, further)
    rows = _laid(part, sheet, Facts("", 1, 1, ""), further, wide - box)
    tall = sum(_tall(row, sheet) for row in rows)
    if box:
        tall = max(tall, (len(_box_lines(part, sheet, box)) * LEAD + 0.8) * sheet.height)
    return replace(sheet, block_size=(wide, tall))


def draw_title_block(part: Part, sheet: Sheet, facts: Facts, further: bool = False) -> list[Item]:
    """Return the title block of one page, on a sheet that has room for it."""
    left, bottom, right, top = sheet.block
    items: list[Item] = [line((left, top), (right, top), "visible", SOURCE),
                         line((left, bottom), (left, top), "visible", SOURCE)]
    box = _box_width(sheet, right - left, further)
    if box:
        for number, text in enumerate(_box_lines(part, sheet, box)):
            base = top - (number * LEAD + 1.5) * sheet.height
            items.append(Text(text, (left + PAD, base), sheet.height, SOURCE))
        left += box
        items.append(line((left, bottom), (left, top), "section", SOURCE))
    rows = _laid(part, sheet, facts, further, right - left)
    spare = (top - bottom - sum(_tall(row, sheet) for row in rows)) / len(rows)
    y = top
    for number, row in enumerate(rows, 1):
        tall = _tall(row, sheet) + spare
        y -= tall
        if number < len(rows):
            items.append(line((left, y), (right, y), "section", SOURCE))
        x = left
        for cell, width in zip(row, _widths(row, sheet, right - left), strict=True):
            if x > left:
                items.append(line((x, y), (x, y + tall), "section", SOURCE))
            items += _drawn(cell, sheet, (x, y), width, tall)
            x += width
    return items


def _width(sheet: Sheet) -> float:
    left, _, right, _ = sheet.inner
    wide = BLOCK[0] if sheet.practice == "ISO" else ASME_WIDTH * sheet.height / LEAST_LETTERING
    return right - left if right - left < wide + SPARE else wide


def _box_width(sheet: Sheet, width: float, further: bool) -> float:
    return 0.0 if sheet.practice == "ISO" or further else BOX * width


def _box_lines(part: Part, sheet: Sheet, width: float) -> list[str]:
    """Return what holds unless otherwise specified, broken into lines."""
    rules = general(part)
    said = ["Unless otherwise specified:", f"dimensions are in {UNITS[sheet.practice, part.unit]}"]
    if rules.grade or not rules.entries:
        said.append(f"tolerances {rules.note}")
    else:
        said += ["tolerances:", *(" ".join(entry) for entry in rules.entries)]
    return [text for one in said
            for text in wrapped(lettered(one, sheet.capitals), sheet.height, width - 2.0 * PAD)]


def _tall(row: Row, sheet: Sheet) -> float:
    return max(cell.heights(sheet)[1] for cell in row)


def _laid(part: Part, sheet: Sheet, facts: Facts, further: bool, width: float) -> list[Row]:
    """Return the rows from the top, none wider than it may be."""
    make = _further_rows if further else _iso_rows if sheet.practice == "ISO" else _asme_rows
    rows = [[_lettered(cell, sheet) for cell in row] for row in make(part, sheet, facts)]
    return [piece for row in rows for piece in _parted(row, sheet, width)]


def _lettered(cell: Cell, sheet: Sheet) -> Cell:
    label, value, longest = (lettered(text, sheet.capitals)
                             for text in (cell.label, cell.value, cell.longest))
    return replace(cell, label=label, value=value, longest=longest)


def _parted(row: Row, sheet: Sheet, width: float) -> list[Row]:
    """Part a row that is too wide: each piece holds as many cells as fit."""
    rows: list[Row] = [[]]
    for cell in row:
        if rows[-1] and sum(one.need(sheet) for one in (*rows[-1], cell)) > width:
            rows.append([])
        rows[-1].append(cell)
    return rows


def _widths(row: Row, sheet: Sheet, width: float) -> list[float]:
    """Return the width of each cell: its share, or what it needs where shares are too narrow."""
    shares = [cell.share * width / sum(c.share for c in row) for cell in row]
    needs = [cell.need(sheet) for cell in row]
    if all(need <= share for need, share in zip(needs, shares, strict=True)):
        return shares
    return [need * width / sum(needs) for need in needs]


def _drawn(cell: Cell, sheet: Sheet, at: XY, width: float, tall: float) -> list[Item]:
    x, y = at
    items: list[Item] = [Text(cell.label, (x + PAD, y + tall - (TOP + 1.0) * sheet.height),
                              sheet.height, SOURCE)]
    base = y + FOOT * cell.heights(sheet)[0]
    if cell.sign:
        return items + _projection((x + 0.5 * width, base + 0.5 * sheet.height), cell.sign,
                                   0.6 * sheet.height)
    height, room = cell.heights(sheet)[0], (width - 2.0 * PAD) / (BOLD if cell.large else 1.0)
    while height > LEAST_LETTERING and text_width(cell.value, height) > room:
        height = max(LEAST_LETTERING, height - 0.1)
    if cell.value:
        items.append(Text(shortened(cell.value, height, room), (x + PAD, base), height, SOURCE,
                          bold=cell.large))
    return items


def _page(facts: Facts, share: float) -> Cell:
    return Cell("Sheet", f"{facts.page} of {facts.pages}", share, "88 of 88")


def _further_rows(part: Part, sheet: Sheet, facts: Facts) -> list[Row]:
    fields = part.drawing.fields
    return [[Cell("Title", part.name, 62, large=True), Cell("Shows", facts.what, 52, LONGEST),
             Cell("Number", fields.get("number", ""), 30),
             Cell("Rev.", fields.get("revision", ""), 14), _page(facts, 22)]]


def _iso_rows(part: Part, sheet: Sheet, facts: Facts) -> list[Row]:
    fields = part.drawing.fields
    rules, unit = general(part), UNITS["ISO", part.unit]
    heading, note = "Unless otherwise specified", f"Dimensions in {unit}, tolerances {rules.note}"
    if rules.entries:  # a block of tolerances takes a line of its own
        heading, note = f"{heading}, in {unit}", rules.note
    return [
        [Cell(heading, note, 118), Cell("Projection", "", 28, sign="first"),
         Cell("Scale", facts.scale, 18, "1:100"), Cell("Size", sheet.format, 16)],
        [Cell("Material", part.material.name, 66), Cell("Thickness", thickness_text(part), 48),
         Cell("Document type", facts.what, 66)],
        [Cell("Drawn by", fields.get("drawn by", ""), 50),
         Cell("Checked by", fields.get("checked by", ""), 50),
         Cell("Approved by", fields.get("approved by", ""), 46),
         Cell("Date of issue", fields.get("date", ""), 34)],
        [Cell("Owner", fields.get("owner", ""), 50), Cell("Title", part.name, 66, large=True),
         Cell("Number", fields.get("number", ""), 30),
         Cell("Rev.", fields.get("revision", ""), 13), _page(facts, 21)],
    ]


def _asme_rows(part: Part, sheet: Sheet, facts: Facts) -> list[Row]:
    fields = part.drawing.fields
    return [
        [Cell("Title", part.name, 70, large=True), Cell("Projection", "", 30, sign="third")],
        [Cell("Material", part.material.name, 52), Cell("Thickness", thickness_text(part), 48)],
        [Cell("Drawn", fields.get("drawn by", ""), 34),
         Cell("Checked", fields.get("checked by", ""), 33),
         Cell("Approved", fields.get("approved by", ""), 33)],
        [Cell("Owner", fields.get("owner", ""), 66), Cell("Date", fields.get("date", ""), 34)],
        [Cell("Size", sheet.format, 12), Cell("Number", fields.get("number", ""), 32),
         Cell("Rev", fields.get("revision", ""), 14), Cell("Scale", facts.scale, 19, "1:100"),
         _page(facts, 23)],
    ]


def _projection(middle: XY, angle: str, big: float) -> list[Item]:
    """Return the sign of first or third angle projection: a cut cone and its small end."""
    x, y = middle
    small, side = 0.5 * big, -1.0 if angle == "first" else 1.0
    cone_x, rings_x, half = x + 1.8 * side * big, x - 1.8 * side * big, 1.36 * big
    corners = [(cone_x - half, y - small), (cone_x + half, y - big), (cone_x + half, y + big),
               (cone_x - half, y + small), (cone_x - half, y - small)]
    items: list[Item] = [*polyline(corners, "section", SOURCE)]
    items += [Stroke(Circle((rings_x, y), r), "section", SOURCE) for r in (small, big)]
    return items
