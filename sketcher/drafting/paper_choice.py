"""Which sheet and which scale a drawing gets, and where on the sheet its view may lie."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import groupby

from sketcher.drafting.features import shown_pieces
from sketcher.drafting.holes import hole_table
from sketcher.drafting.layout.choose import FULL, QUICK
from sketcher.drafting.paper_scale import scale_value, scales
from sketcher.drafting.paper_sizes import (
    Sheet,
    checked_lettering,
    sheet_named,
    sheet_names,
    sheets,
)
from sketcher.drafting.paper_view import MM_PER
from sketcher.drafting.sheet_notes import notes_above, notes_of
from sketcher.drafting.sheet_tables import draw_table
from sketcher.drafting.title_block import with_block
from sketcher.drafting.view_contents import Contents, contents_of
from sketcher.drafting.views.arranged_views import arranged
from sketcher.drafting.views.broken_view import breaks_of
from sketcher.errors import SketcherError
from sketcher.geometry.bounds import bounds_of
from sketcher.part.value import Part, frozen
from sketcher.part.whole import Piece
from sketcher.progress import stage

SHARE = 0.75  # of the free area that a part takes beside its dimensions, a guess
HANDY = 3  # sizes of paper that are taken by themselves: up to A2 and C
BROKEN_SHARE = 0.9  # the same of a broken part, whose dimensions stand beside its long edges
STEPS_WON = 2  # standard scales by which a long part has to grow to be broken
ROOM = 6.0  # clear space between view and frame, in mm
LARGEST_ENLARGED = 150.0  # a part is enlarged up to this size on paper, in mm


def sheets_for(part: Part) -> list[Sheet]:
    """Return the sheets that a drawing may be put on, smallest first, with its title block.

    Raises
    ------
    SketcherError
        For a sheet that the standard has not, and for lettering out of its range.
    """
    wanted = part.drawing
    names = (sheet_names(wanted.practice) if wanted.sheet == "auto"
             else [sheet_named(wanted.sheet, wanted.practice).name])
    return [with_block(part, _lettered(part, name)) for name in names]


def _handy(some: Sequence[Sheet]) -> list[Sheet]:
    """Return the sheets that lie on a desk: a part at full size is not put on larger ones."""
    return [sheet for same in by_size(some)[:HANDY] for sheet in same]


def further_sheets(part: Part) -> list[list[Sheet]]:
    """Return the sheets for pages behind the drawing, the smallest first, those as large together.

    Upright ones come first: pages of text stand.
    """
    every = [with_block(part, _lettered(part, name), further=True)
             for name in sheet_names(part.drawing.practice)]
    return [sorted(same, key=lambda sheet: sheet.size[0]) for same in by_size(every)]


def by_size(some: Iterable[Sheet]) -> list[list[Sheet]]:
    """Return sheets, smallest first, those of one size together."""
    return [list(same) for _, same in groupby(some, key=lambda sheet: sheet.format)]


def _lettered(part: Part, name: str) -> Sheet:
    """Return a sheet with the height of lettering that the drawing wants."""
    height = part.drawing.lettering
    if height is None:
        return sheets()[name]
    return replace(sheets()[name], height=checked_lettering(height))


def chosen(part: Part, pieces: tuple[Piece, ...]) -> tuple[Sheet, float, Contents]:
    """Choose sheet and scale: the smallest sheet that holds the part at full size, or the best."""
    wanted = part.drawing
    some = sheets_for(part)
    x0, y0, x1, y1 = bounds_of(p.curve for p in pieces if p.role == "outline")
    unit = MM_PER[part.unit]
    width, height = (x1 - x0) * unit, (y1 - y0) * unit
    known: dict[tuple[float, float], Contents] = {}
    best: tuple[float, Sheet] | None = None
    full = [f for f in _factors(part, max(width, height)) if f >= 1.0]
    reduced = [f for f in _factors(part, max(width, height)) if f < 1.0]
    for factors in (full, reduced):
        for sheet in _handy(some):
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
        broken = _broken(part, pieces, some, None)
        if broken is not None:
            return broken
        if any("side" in entry for entry in wanted.details.values()):
            return chosen(_without_sides(part), pieces)  # no sheet has room on that side
        said = "at any standard scale" if wanted.scale == "auto" else f"at {wanted.scale}"
        raise SketcherError("drawing", f"the part does not fit on the sheet {said}",
                            "choose a larger sheet or a smaller scale")
    factor, sheet = best
    tried = known[factor, sheet.height]
    with stage(0.6, 1.0):
        settled = tried.laid_out(FULL)
    if not fits(settled, free_area(part, sheet, pieces)):
        settled = tried
    smaller = some[:some.index(sheet) + 1]
    broken = _broken(part, pieces, smaller, factor) if wanted.scale == "auto" else None
    if broken is not None:
        return broken
    found = (sheet, factor, settled)
    if settled.badly and wanted.sheet == wanted.scale == "auto":
        found = _roomier(part, pieces, some, found)
    return _relieved(part, pieces, some, found) if found[2].badly else found


def _without_sides(part: Part) -> Part:
    details = {name: frozen({key: value for key, value in entry.items() if key != "side"})
               for name, entry in part.drawing.details.items()}
    return part.having(drawing=replace(part.drawing, details=frozen(details)))


def _broken(
    part: Part, pieces: tuple[Piece, ...], some: Sequence[Sheet], whole: float | None
) -> tuple[Sheet, float, Contents] | None:
    """Return the drawing of a long part with breaks, if that makes it much larger.

    It is put on the smallest sheet that holds it broken, at the largest scale there; `whole` is the
    scale of the part in one piece, None where no sheet holds that. A part that is not reduced is
    not broken.
    """
    breaks = breaks_of(part, pieces) if whole is None or whole < 1.0 else None
    if breaks is None:
        return None
    unit, larger = MM_PER[part.unit], [*_factors(part, 0.0)]
    if whole is not None:
        larger = [f for f in larger if f > whole][:-STEPS_WON + 1]
    tried: dict[tuple[float, float], Contents] = {}
    for sheet in some:
        area = free_area(part, sheet, pieces)
        for factor in larger:
            wide, high = breaks.size(factor * unit)
            if ((factor > 1.0 and max(wide, high) > LARGEST_ENLARGED)
                    or wide > area[2] - area[0] or high > area[3] - area[1]):
                continue
            cuts, key = breaks.cuts(factor * unit), (factor, sheet.height)
            if cuts and key not in tried:
                tried[key] = contents_of(part, pieces, *key, effort=QUICK, cuts=cuts)
            if cuts and fits(tried[key], area):
                full = tried[key].laid_out(FULL)
                return sheet, factor, full if fits(full, area) else tried[key]
    return None


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


def _relieved(
    part: Part, pieces: tuple[Piece, ...], some: Sequence[Sheet],
    found: tuple[Sheet, float, Contents],
) -> tuple[Sheet, float, Contents]:
    """Return the drawing with details for dimensions that found no room, if more of them stand."""
    first, factor, settled = found
    for sheet in some[some.index(first):]:
        tried = contents_of(part, pieces, factor, sheet.height, QUICK, settled.view.cuts,
                            settled.badly)
        if len(tried.details) == len(settled.details):
            return found
        area = free_area(part, sheet, pieces)
        if fits(tried, area):
            full = tried.laid_out(FULL)
            better = fits(full, area) and len(full.badly) < len(settled.badly)
            return (sheet, factor, full) if better else found
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
    some = _handy(sheets_for(part))
    every = sorted(_factors(part, max(width, height)), reverse=True)
    for factors in ([f for f in every if f >= 1.0], [f for f in every if f < 1.0]):
        for sheet in some:
            left, bottom, right, top = free_area(part, sheet, pieces)
            for factor in factors:
                if (width * factor <= SHARE * (right - left)
                        and height * factor <= SHARE * (top - bottom)):
                    return factor if factor >= 1.0 else _likely_broken(part, pieces, some, factor)
    return every[-1]


def _likely_broken(
    part: Part, pieces: tuple[Piece, ...], some: Sequence[Sheet], whole: float
) -> float:
    """Return the scale of a long part with breaks, or the given one that it has whole."""
    breaks = breaks_of(part, pieces, ())
    if breaks is None:
        return whole
    larger = [f for f in _factors(part, 0.0) if f > whole][:-STEPS_WON + 1]
    for sheet in some:
        left, bottom, right, top = free_area(part, sheet, pieces)
        for factor in larger:
            wide, high = breaks.size(factor * MM_PER[part.unit])
            if ((factor <= 1.0 or max(wide, high) <= LARGEST_ENLARGED)
                    and wide <= BROKEN_SHARE * (right - left)
                    and high <= BROKEN_SHARE * (top - bottom)):
                return factor
    return whole


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
        table = hole_table(part).lettered(sheet.capitals)
        _, (wide, _) = draw_table(table, (0.0, 0.0), sheet.height, "")
        right -= wide + ROOM
    return (left + ROOM, bottom + ROOM, right - ROOM, top - ROOM)


def fits(contents: Contents, area: tuple[float, float, float, float]) -> bool:
    """Tell whether all views fit into a box."""
    return arranged(contents, area) is not None
