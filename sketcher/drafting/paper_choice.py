"""Which sheet and which scale a drawing gets: the smallest paper that holds it well."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from sketcher.drafting.features import shown_pieces
from sketcher.drafting.layout.choose import FULL, QUICK
from sketcher.drafting.paper_room import by_size, free_area, sheets_for
from sketcher.drafting.paper_scale import scale_text, scale_value, scales
from sketcher.drafting.paper_sizes import Sheet
from sketcher.drafting.paper_trial import SheetTrial, SheetTrials
from sketcher.drafting.paper_view import MM_PER
from sketcher.drafting.view_contents import Contents, contents_of
from sketcher.drafting.views.arranged_views import arranged
from sketcher.drafting.views.broken_view import breaks_of
from sketcher.errors import SketcherError
from sketcher.geometry.bounds import bounds_of
from sketcher.part.value import Part, frozen
from sketcher.part.whole import Piece

SHARE = 0.75  # of the free area that a part takes beside its dimensions, a guess
BESIDE = 40.0  # mm on paper that dimensions take beside a part, a guess as well
HANDY = 3  # sizes of paper that are taken by themselves: up to A2 and C
BROKEN_SHARE = 0.9  # the same of a broken part, whose dimensions stand beside its long edges
STEPS_WON = 2  # standard scales by which a long part has to grow to be broken
LARGEST_ENLARGED = 150.0  # a part with breaks is enlarged up to this size on paper, in mm
FILLED, SPARSE = 0.3, 0.25
"""Shares of the free area: a part at full size that fills less than the first is enlarged, and one
that fills less than the second of a larger paper is reduced onto a smaller one. By trial on 20
parts: at 0.2 a plate of 60 x 40 mm stands lost on an A4, at 0.5 one of 100 x 60 mm is enlarged."""


def chosen(part: Part, pieces: tuple[Piece, ...]) -> tuple[Sheet, float, Contents]:
    """Choose sheet and scale.

    The smallest paper that holds the part at full size, larger where it would be lost there; else
    the largest scale on paper up to A2 or C, and the smallest that holds that.

    Raises
    ------
    SketcherError
        When the part does not fit on the sheet or at the scale that is asked for.
    """
    trials = SheetTrials(part, pieces)
    sizes = by_size(sheets_for(part))
    common, factors = sizes[:HANDY], sorted(_factors(part))
    whole = _full(trials, common, factors)
    found = whole or _reduced(trials, common, factors)
    if found is None:
        every = [sheet for same in sizes for sheet in same]
        broken = _broken(part, pieces, every, None)
        if broken is not None:
            return broken
        found = _reduced(trials, sizes, factors)
    if found is None and any("side" in entry for entry in part.drawing.details.values()):
        return chosen(_without_sides(part), pieces)  # no sheet has room on that side
    if found is None:
        raise _no_fit(trials)
    settled = trials.settled(found)
    if part.drawing.scale == "auto":
        some = [sheet for same in common for sheet in same]
        smaller = some[:some.index(found.sheet) + 1] if found.sheet in some else some
        # A part that some sheet holds at full size needs no breaks.
        broken = _broken(part, pieces, smaller, found.factor) if whole is None else None
        if broken is not None:
            return broken
    best = (found.sheet, found.factor, settled.contents)
    every = [sheet for same in sizes for sheet in same]
    if settled.contents.badly and part.drawing.sheet == part.drawing.scale == "auto":
        best = _roomier(trials, every, best)
    return _relieved(part, pieces, every, best) if best[2].badly else best


def _full(
    trials: SheetTrials, sizes: Sequence[Sequence[Sheet]], factors: Sequence[float]
) -> SheetTrial | None:
    """Return the part at full size or larger on the smallest paper that holds it."""
    enlarged = [factor for factor in factors if factor >= 1.0]
    by_hand = bool(trials.part.drawing.details)  # a person wants them, so nothing is enlarged
    for number, same in enumerate(sizes):
        found: SheetTrial | None = None
        for factor in enlarged:
            if found is not None and (by_hand or (
                    found.filled >= FILLED and not found.contents.details)):
                break
            larger = trials.best_on(same, factor)
            if larger is None or (found is not None and not _is_better(larger, found)):
                break
            found = larger
        if found is not None:
            sparse = found.share < SPARSE and found.factor <= 1.0
            fuller = _reduced(trials, sizes[:number], factors) if sparse else None
            is_better = (fuller is not None and not fuller.contents.badly
                         and fuller.share > found.share)
            return fuller if is_better else found
    return None


def _is_better(larger: SheetTrial, found: SheetTrial) -> bool:
    """Tell whether a larger scale wins: it fills the sheet, or needs fewer details."""
    if len(larger.contents.badly) > len(found.contents.badly):
        return False
    return found.filled < FILLED or len(larger.contents.details) < len(found.contents.details)


def _reduced(
    trials: SheetTrials, sizes: Sequence[Sequence[Sheet]], factors: Sequence[float]
) -> SheetTrial | None:
    """Return the part at the largest scale that fits, on the smallest paper that holds that."""
    for factor in sorted((f for f in factors if f < 1.0 or len(factors) == 1), reverse=True):
        for same in sizes:
            found = trials.best_on(same, factor)
            if found is not None:
                return found
    return None


def _no_fit(trials: SheetTrials) -> SketcherError:
    """Return the error for a sheet or a scale that does not hold the part, with what would."""
    drawing = trials.part.drawing
    free = trials.part.having(drawing=replace(drawing, sheet="auto", scale="auto"))
    remedies = []
    if drawing.scale != "auto":
        asked = scale_value(drawing.scale)
        holding = next((trial for same in by_size(sheets_for(free))
                        if (trial := trials.best_on(same, asked)) is not None), None)
        if holding is not None:
            remedies.append(f"take {holding.sheet.name} at {drawing.scale}")
    if drawing.sheet != "auto":
        (sheet,) = sheets_for(trials.part)
        every = sorted(_factors(free), reverse=True)
        fitting = next((f for f in every if trials.on(sheet, f) is not None), None)
        if fitting is not None:
            remedies.append(f"take {scale_text(fitting)} on {sheet.name}")
    where = f"on {drawing.sheet}" if drawing.sheet != "auto" else "on any sheet"
    said = "at any standard scale" if drawing.scale == "auto" else f"at {drawing.scale}"
    return SketcherError("drawing", f"the part does not fit {where} {said}",
                         ", or ".join(remedies) or "leave sheet and scale to fit")


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
    unit, larger = MM_PER[part.unit], [*_factors(part)]
    if whole is not None:
        larger = [f for f in larger if f > whole][:-STEPS_WON + 1]
    tried: dict[tuple[float, float], Contents] = {}
    for sheet in some:
        area = free_area(part, sheet)
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
    trials: SheetTrials, some: Sequence[Sheet], found: tuple[Sheet, float, Contents]
) -> tuple[Sheet, float, Contents]:
    """Return the drawing at a larger scale where its dimensions have found no room at this one.

    Lettering stays as large, so there is more room between the features. The next two scales are
    tried on the smallest sheet that holds them; the first with fewer badly standing ones is taken.
    """
    larger = sorted(f for f in scales()[trials.part.drawing.practice] if f > found[1])[:2]
    for factor in map(float, larger):
        trial = next((t for sheet in some if (t := trials.on(sheet, factor)) is not None), None)
        if trial is None:
            continue
        full = trial.contents.laid_out(FULL)
        if fits(full, trial.area) and len(full.badly) < len(found[2].badly):
            return trial.sheet, factor, full
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
        area = free_area(part, sheet)
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
    some = [sheet for same in by_size(sheets_for(part))[:HANDY] for sheet in same]
    areas = [(a[2] - a[0], a[3] - a[1])
             for a in (free_area(part, sheet) for sheet in some)]
    every = sorted(_factors(part))

    def fitting(wide: float, high: float, factor: float) -> bool:
        return width * factor <= SHARE * wide and height * factor <= SHARE * high

    for wide, high in areas:
        larger = [f for f in every if f >= 1.0 and fitting(wide, high, f)]
        filled = (f for f in larger if (width * f + BESIDE) * (height * f + BESIDE)
                  >= FILLED * wide * high)
        if larger:
            return next(filled, larger[-1])
    reduced = next((f for f in reversed(every)
                    if f < 1.0 and any(fitting(*a, f) for a in areas)), every[0])
    return _likely_broken(part, pieces, some, reduced)


def _likely_broken(
    part: Part, pieces: tuple[Piece, ...], some: Sequence[Sheet], whole: float
) -> float:
    """Return the scale of a long part with breaks, or the given one that it has whole."""
    breaks = breaks_of(part, pieces, ())
    if breaks is None:
        return whole
    larger = [f for f in _factors(part) if f > whole][:-STEPS_WON + 1]
    for sheet in some:
        left, bottom, right, top = free_area(part, sheet)
        for factor in larger:
            wide, high = breaks.size(factor * MM_PER[part.unit])
            if ((factor <= 1.0 or max(wide, high) <= LARGEST_ENLARGED)
                    and wide <= BROKEN_SHARE * (right - left)
                    and high <= BROKEN_SHARE * (top - bottom)):
                return factor
    return whole


def _factors(part: Part) -> Iterator[float]:
    if part.drawing.scale != "auto":
        yield scale_value(part.drawing.scale)
        return
    yield from map(float, scales()[part.drawing.practice])


def fits(contents: Contents, area: tuple[float, float, float, float]) -> bool:
    """Tell whether all views fit into a box."""
    return arranged(contents, area) is not None
