"""Which sheet and which scale a drawing gets, and where on the sheet its view may lie."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sketcher.drafting.features import shown_pieces
from sketcher.drafting.holes import hole_table
from sketcher.drafting.layout.choose import FULL, QUICK
from sketcher.drafting.paper_scale import scale_value, scales
from sketcher.drafting.paper_view import MM_PER
from sketcher.drafting.sheet_frame import Sheet, sheet_named, sheets
from sketcher.drafting.sheet_notes import NOTE_HEIGHT, notes_above, notes_of
from sketcher.drafting.sheet_tables import draw_table
from sketcher.drafting.view_contents import Contents, contents_of
from sketcher.drafting.views.arranged_views import arranged
from sketcher.errors import SketcherError
from sketcher.geometry.bounds import bounds_of
from sketcher.part.value import Part
from sketcher.part.whole import Piece
from sketcher.progress import stage

SHARE = 0.75  # of the free area that a part takes beside its dimensions, a guess
ROOM = 6.0  # clear space between view and frame, in mm
LARGEST_ENLARGED = 150.0  # a part is enlarged up to this size on paper, in mm


def chosen(part: Part, pieces: tuple[Piece, ...]) -> tuple[Sheet, float, Contents]:
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
            area = free_area(part, sheet, pieces)
            for factor in factors:
                if width * factor > area[2] - area[0] or height * factor > area[3] - area[1]:
                    continue
                if best is not None and factor <= best[0]:
                    break
                key = (factor, sheet.height)
                if key not in known:
                    with stage(0.0, 0.6):
                        known[key] = contents_of(part, pieces, *key, effort=QUICK)
                if fits(known[key], area):
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
        settled = tried.laid_out(FULL)
    if not fits(settled, free_area(part, sheet, pieces)):
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
    larger = sorted(f for f in scales()[part.drawing.practice] if f > found[1])[:2]
    tried: dict[tuple[float, float], Contents] = {}
    for factor in map(float, larger):
        for sheet in some:
            key = (factor, sheet.height)
            if key not in tried:
                tried[key] = contents_of(part, pieces, *key, effort=QUICK)
            if not fits(tried[key], free_area(part, sheet, pieces)):
                continue
            full = tried[key].laid_out(FULL)
            if fits(full, free_area(part, sheet, pieces)) and len(full.badly) < len(found[2].badly):
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
            left, bottom, right, top = free_area(part, sheet, pieces)
            for factor in factors:
                if (width * factor <= SHARE * (right - left)
                        and height * factor <= SHARE * (top - bottom)):
                    return factor
    return every[-1]


def _factors(part: Part, size: float) -> Iterator[float]:
    if part.drawing.scale != "auto":
        yield scale_value(part.drawing.scale)
        return
    for factor in scales()[part.drawing.practice]:
        if factor <= 1.0 or size * factor <= LARGEST_ENLARGED:
            yield float(factor)


def free_area(
    part: Part, sheet: Sheet, pieces: tuple[Piece, ...]
) -> tuple[float, float, float, float]:
    """Box that is free for the view: above title block and notes, beside the table of holes."""
    left, bottom, right, top = sheet.inner
    bottom = max(sheet.block[3], bottom + notes_of(part, sheet)[1])
    if notes_above(sheet):
        bottom = sheet.block[3] + notes_of(part, sheet)[1]
    if part.drawing.hole_table:
        _, (wide, _) = draw_table(hole_table(part, pieces), (0.0, 0.0), NOTE_HEIGHT, "")
        right -= wide + ROOM
    return (left + ROOM, bottom + ROOM, right - ROOM, top - ROOM)


def fits(contents: Contents, area: tuple[float, float, float, float]) -> bool:
    """Tell whether all views fit into a box."""
    return arranged(contents, area) is not None
