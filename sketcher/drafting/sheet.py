"""The finished drawing: pages with frame, title block, view, dimensions, notes and tables."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache
from typing import Any

from sketcher.drafting.center_marks import center_marks, symmetry_signs
from sketcher.drafting.dimensioning import Dimensioning, dimensioning_of, whole_lines
from sketcher.drafting.drawn_dimension import Drawn
from sketcher.drafting.features import shown_pieces
from sketcher.drafting.further_pages import page_kinds
from sketcher.drafting.holes import hole_labels, hole_table
from sketcher.drafting.layout.choose import FULL, QUICK, Effort
from sketcher.drafting.layout.paper_ground import Ground
from sketcher.drafting.page import Page
from sketcher.drafting.page_kind import Asked
from sketcher.drafting.paper_view import MM_PER, View
from sketcher.drafting.primitives import Item, Stroke, Text, items_box, shifted
from sketcher.drafting.sheet_frame import (
    Sheet,
    draw_frame,
    draw_title_block,
    sheet_named,
    sheets,
)
from sketcher.drafting.sheet_tables import draw_paragraphs, draw_table
from sketcher.drafting.sizes import Sizes
from sketcher.errors import SketcherError
from sketcher.geometry.bounds import bounds_of
from sketcher.part.value import Part
from sketcher.part.whole import Piece
from sketcher.progress import stage
from sketcher.shipped import shipped

CAUTIONS = (
    "Remove burrs and sharp edges. Cut edges can be hot and sharp: wear gloves and eye protection,"
    " and follow the cutter's instructions.",
    "If the part carries a load, have its strength checked by a licensed engineer against the local"
    " codes.",
)
NOTE_HEIGHT = 2.5
SHARE = 0.75  # of the free area that a part takes beside its dimensions, a guess
ROOM = 6.0  # clear space between view and frame, in mm
LARGEST_ENLARGED = 150.0  # a part is enlarged up to this size on paper, in mm


@dataclass(frozen=True, slots=True)
class Contents:
    """A view with everything on it, around the origin of its own."""

    view: View
    items: tuple[Item, ...]
    dimensions: tuple[Drawn, ...]
    box: tuple[float, float, float, float]
    dimensioning: Dimensioning | None
    badly: tuple[str, ...] = ()


def pages(part: Part, measured: Mapping[str, float] | None = None) -> tuple[Page, ...]:
    """Return the pages of the finished drawing of a solved part: of the plate alone.

    Parameters
    ----------
    part : Part
        With its `drawing` settings.
    measured : mapping of str to float, optional
        Measured values by binding id, for the inspection page.

    Raises
    ------
    SketcherError
        For an unknown sheet or scale, a part without outline, or one that does not fit.
    """
    pieces = shown_pieces(part, alone=True)
    if not any(piece.role == "outline" for piece in pieces):
        raise SketcherError("curves", "there is no outline to draw", "draw the part first")
    sheet, factor, contents = _chosen(part, pieces)
    scale = scale_text(factor)
    asked = Asked(part, sheet, measured)
    bodies = [(kind.name, body) for kind in page_kinds().values() if kind.wanted(part)
              for body in kind.bodies(asked)]
    count = 1 + len(bodies)
    first = _drawing_page(part, pieces, sheet, scale, contents, count)
    return (first, *(_further(part, sheet, name, scale, (number, count), body)
                     for number, (name, body) in enumerate(bodies, 2)))


def pages_alone(
    name: str, part: Part, measured: Mapping[str, float] | None = None
) -> tuple[Page, ...]:
    """Return the pages of one kind without the drawing, on the smallest sheet of the practice.

    Parameters
    ----------
    name : str
        One of `further_pages.page_kinds`.
    part : Part
        The solved part.
    measured : mapping of str to float, optional
        Measured values by binding id, in the part's unit or in degrees.
    """
    sheet = next(s for s in sheets().values() if s.practice == part.drawing.practice)
    bodies = tuple(page_kinds()[name].bodies(Asked(part, sheet, measured)))
    return tuple(_further(part, sheet, name, "", (number, len(bodies)), body)
                 for number, body in enumerate(bodies, 1))


def _further(
    part: Part, sheet: Sheet, name: str, scale: str, of: tuple[int, int], body: list[Item]
) -> Page:
    """Put frame and title block around the body of a page; `of` is its number and their count."""
    return _page(part, sheet, name, [*draw_frame(sheet), *body,
                                     *draw_title_block(part, sheet, scale, *of, name)])


def scale_text(factor: float) -> str:
    """Return a scale as ISO 5455 writes it: ``1:2``, ``5:1``."""
    return f"{factor:g}:1" if factor >= 1.0 else f"1:{1.0 / factor:g}"


def scale_value(text: str) -> float:
    """Return the factor of a scale such as ``1:2``.

    Raises
    ------
    SketcherError
        When it is no scale.
    """
    try:
        paper, part = (float(side) for side in text.split(":"))
        factor = paper / part
    except (ValueError, ZeroDivisionError):
        factor = 0.0
    if not 1e-4 <= factor <= 1e4:
        raise SketcherError("drawing.scale", f"{text!r} is no scale", "write auto, 1:2 or 5:1")
    return factor


@cache
def _scales() -> Mapping[str, Any]:
    text = shipped("resources", "standards/scales.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


def contents_of(
    part: Part, pieces: tuple[Piece, ...], factor: float, height: float, effort: Effort = FULL
) -> Contents:
    """Draw the view with its center lines and dimensions at a scale, wherever it comes to lie."""
    view = View(factor * MM_PER[part.unit])
    outline = [Stroke(view.curve(p.curve), "visible", f"curve:{p.id}")
               for p in pieces if p.role == "outline"]
    with stage(0.0, 0.5):
        marks = center_marks(part, view, pieces)
    centers: list[Item] = [stroke for mark in marks for stroke in mark.strokes]
    centers += symmetry_signs(part, marks)
    labels: list[Text] = []
    if part.drawing.hole_table:
        bare = Ground([s.curve for s in outline], list(whole_lines(marks)))
        labels = hole_labels(part, view, pieces, height, bare)
    wanted = None
    if part.drawing.dimensions and outline:
        sizes = Sizes(part.drawing.practice, height)
        wanted = dimensioning_of(part, view, outline, marks, labels, sizes)
    with stage(0.5, 1.0):
        return _with_dimensions(view, (*outline, *centers, *labels), wanted, effort)


def _with_dimensions(
    view: View, items: tuple[Item, ...], wanted: Dimensioning | None, effort: Effort
) -> Contents:
    layout = None if wanted is None else wanted.laid_out(effort)
    dimensions = () if layout is None else layout.drawn
    every = [*items, *(item for d in dimensions for item in d.items)]
    return Contents(view, items, dimensions, items_box(every), wanted,
                    () if layout is None else layout.badly)


def _chosen(part: Part, pieces: tuple[Piece, ...]) -> tuple[Sheet, float, Contents]:
    """Choose sheet and scale: the smallest sheet that holds the part at full size, or the best."""
    wanted = part.drawing
    some = ([s for s in sheets().values() if s.practice == wanted.practice]
            if wanted.sheet == "auto" else [sheet_named(wanted.sheet)])
    x0, y0, x1, y1 = bounds_of(p.curve for p in pieces if p.role == "outline")
    unit = MM_PER[part.unit]
    width, height = (x1 - x0) * unit, (y1 - y0) * unit
    known: dict[tuple[float, float], Contents] = {}
    best: tuple[float, Sheet] | None = None
    full = [f for f in _factors(part, max(width, height)) if f >= 1.0]
    reduced = [f for f in _factors(part, max(width, height)) if f < 1.0]
    for factors in (full, reduced):
        for sheet in some:
            area = _area(part, sheet, pieces)
            for factor in factors:
                if width * factor > area[2] - area[0] or height * factor > area[3] - area[1]:
                    continue
                if best is not None and factor <= best[0]:
                    break
                key = (factor, sheet.height)
                if key not in known:
                    with stage(0.0, 0.6):
                        known[key] = contents_of(part, pieces, *key, effort=QUICK)
                if _fits(known[key], area):
                    best = (factor, sheet)
                    break
            if best is not None and best[0] >= 1.0:
                break
        if best is not None:
            break
    if best is None:
        said = "at any standard scale" if wanted.scale == "auto" else f"at {wanted.scale}"
        raise SketcherError("drawing", f"the part does not fit on the sheet {said}",
                            "choose a larger sheet or a smaller scale")
    factor, sheet = best
    tried = known[factor, sheet.height]
    with stage(0.6, 1.0):
        settled = _with_dimensions(tried.view, tried.items, tried.dimensioning, FULL)
    if not _fits(settled, _area(part, sheet, pieces)):
        settled = tried
    if settled.badly and wanted.sheet == wanted.scale == "auto":
        return _roomier(part, pieces, some, (sheet, factor, settled))
    return sheet, factor, settled


def _roomier(
    part: Part, pieces: tuple[Piece, ...], some: Sequence[Sheet],
    found: tuple[Sheet, float, Contents],
) -> tuple[Sheet, float, Contents]:
    """Return the drawing at a larger scale where its dimensions have found no room at this one.

    Lettering stays as large, so there is more room between the features. The next two scales are
    tried on the smallest sheet that holds them; the first with fewer badly standing ones is taken.
    """
    larger = sorted(f for f in _scales()[part.drawing.practice] if f > found[1])[:2]
    tried: dict[tuple[float, float], Contents] = {}
    for factor in map(float, larger):
        for sheet in some:
            key = (factor, sheet.height)
            if key not in tried:
                tried[key] = contents_of(part, pieces, *key, effort=QUICK)
            if not _fits(tried[key], _area(part, sheet, pieces)):
                continue
            bare = tried[key]
            full = _with_dimensions(bare.view, bare.items, bare.dimensioning, FULL)
            if _fits(full, _area(part, sheet, pieces)) and len(full.badly) < len(found[2].badly):
                return sheet, factor, full
            break
    return found


def likely_scale(part: Part, pieces: tuple[Piece, ...] | None = None) -> float:
    """Return the scale that the sheet will most likely have, without laying out its dimensions.

    The part takes at most `SHARE` of the free area either way; the rest is left to dimensions.
    """
    if part.drawing.scale != "auto":
        return scale_value(part.drawing.scale)
    pieces = shown_pieces(part) if pieces is None else pieces
    outline = [p.curve for p in pieces if p.role == "outline"]
    if not outline:
        return 1.0
    x0, y0, x1, y1 = bounds_of(outline)
    unit = MM_PER[part.unit]
    width, height = (x1 - x0) * unit, (y1 - y0) * unit
    wanted = part.drawing
    some = ([s for s in sheets().values() if s.practice == wanted.practice]
            if wanted.sheet == "auto" else [sheet_named(wanted.sheet)])
    every = sorted(_factors(part, max(width, height)), reverse=True)
    for factors in ([f for f in every if f >= 1.0], [f for f in every if f < 1.0]):
        for sheet in some:
            left, bottom, right, top = _area(part, sheet, pieces)
            for factor in factors:
                if (width * factor <= SHARE * (right - left)
                        and height * factor <= SHARE * (top - bottom)):
                    return factor
    return every[-1]


def _factors(part: Part, size: float) -> Iterator[float]:
    if part.drawing.scale != "auto":
        yield scale_value(part.drawing.scale)
        return
    for factor in _scales()[part.drawing.practice]:
        if factor <= 1.0 or size * factor <= LARGEST_ENLARGED:
            yield float(factor)


def _area(
    part: Part, sheet: Sheet, pieces: tuple[Piece, ...]
) -> tuple[float, float, float, float]:
    """Box that is free for the view: above title block and notes, beside the table of holes."""
    left, bottom, right, top = sheet.inner
    bottom = max(sheet.block[3], bottom + _notes(part, sheet)[1])
    if _notes_above(sheet):
        bottom = sheet.block[3] + _notes(part, sheet)[1]
    if part.drawing.hole_table:
        _, (wide, _) = draw_table(hole_table(part, pieces), (0.0, 0.0), NOTE_HEIGHT, "")
        right -= wide + ROOM
    return (left + ROOM, bottom + ROOM, right - ROOM, top - ROOM)


def _fits(contents: Contents, area: tuple[float, float, float, float]) -> bool:
    x0, y0, x1, y1 = contents.box
    return x1 - x0 <= area[2] - area[0] and y1 - y0 <= area[3] - area[1]


def _drawing_page(
    part: Part, pieces: tuple[Piece, ...], sheet: Sheet, scale: str, contents: Contents, count: int
) -> Page:
    area = _area(part, sheet, pieces)
    x0, y0, x1, y1 = contents.box
    dx = 0.5 * (area[0] + area[2] - x0 - x1)
    dy = 0.5 * (area[1] + area[3] - y0 - y1)
    items: list[Item] = [shifted(item, dx, dy) for item in contents.items]
    items += draw_frame(sheet)
    items += draw_title_block(part, sheet, scale, 1, count, "drawing")
    notes, height = _notes(part, sheet)
    top = (sheet.block[3] + height if _notes_above(sheet) else sheet.inner[1] + height)
    items += [shifted(item, sheet.inner[0], top) for item in notes]
    if part.drawing.hole_table:
        table = hole_table(part, pieces)
        wide = sum(table.widths(NOTE_HEIGHT))
        drawn, _ = draw_table(table, (sheet.inner[2] - wide, sheet.inner[3]), NOTE_HEIGHT,
                              "sheet:holes")
        items += drawn
    moved = tuple(_moved(d, dx, dy) for d in contents.dimensions)
    page = _page(part, sheet, "drawing", items, moved, contents.view.shifted(dx, dy))
    return replace(page, crowded=contents.badly)


def _moved(drawn: Drawn, dx: float, dy: float) -> Drawn:
    return Drawn(
        drawn.id, drawn.form, tuple((x + dx, y + dy) for x, y in drawn.points), drawn.angle,
        drawn.text, (drawn.place[0] + dx, drawn.place[1] + dy),
        tuple(shifted(item, dx, dy) for item in drawn.items))


def _page(
    part: Part, sheet: Sheet, name: str, items: list[Item],
    dimensions: tuple[Drawn, ...] = (), view: View | None = None,
) -> Page:
    return Page(name, sheet.size, part.drawing.practice, tuple(items), dimensions, view, part.unit,
                f"{part.name}: {name}", sheet.name)


def _notes_above(sheet: Sheet) -> bool:
    """On a narrow sheet the notes stand above the title block, else to its left."""
    return sheet.block[0] - sheet.inner[0] < 70.0


def _notes(part: Part, sheet: Sheet) -> tuple[list[Item], float]:
    """Notes below their upper left corner at the origin, and the height that they take."""
    left = sheet.inner[0]
    width = (sheet.inner[2] if _notes_above(sheet) else sheet.block[0]) - left - 8.0
    items, height = draw_paragraphs((*part.notes, *CAUTIONS), (4.0, -3.0), width, NOTE_HEIGHT,
                                    "sheet:notes", numbered=True)
    return items, height + 4.0


__all__ = ["CAUTIONS", "Contents", "contents_of", "likely_scale", "pages", "pages_alone",
           "scale_text", "scale_value"]
