"""Drawings of a part on trial: what a sheet and a scale would make of it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import inf

from sketcher.drafting.layout.choose import FULL, QUICK
from sketcher.drafting.paper_room import free_area
from sketcher.drafting.paper_sizes import Sheet
from sketcher.drafting.paper_view import MM_PER
from sketcher.drafting.primitives import items_box
from sketcher.drafting.view_contents import Contents, contents_of
from sketcher.drafting.views.arranged_views import arranged
from sketcher.geometry.bounds import Box, bounds_of
from sketcher.part.value import Part
from sketcher.part.whole import Piece
from sketcher.progress import stage

NEAR = 0.2
"""Share of the free area by which a drawing may be too large and is laid out again, kept within it:
rows of dimensions move from one side to another. More was won on none of 20 parts."""


SMALLEST = ("A4 lying", "A upright")

DEARER = 5.0
"""What a layout may cost more when it is kept within a sheet. By trial on 12 sheets: those that
cost 0 to 4 more look as before, at 9 a row of dimensions has moved into the part."""
HOPELESS = 30.0
"""What it costs more where the sheet is given up: another split was never that much better."""


@dataclass(frozen=True, slots=True)
class Trial:
    """A drawing on a sheet.

    Parameters
    ----------
    sheet : Sheet
    factor : float
        The scale, paper by part.
    contents : Contents
    area : tuple of float
        Box of the sheet that is free for views.
    within : bool
        Whether its dimensions had to be kept within that box.
    """

    sheet: Sheet
    factor: float
    contents: Contents
    area: Box
    within: bool = False

    @property
    def size(self) -> tuple[float, float]:
        """Width and height of all views by those of the free area."""
        found = arranged(self.contents, self.area)
        x0, y0, x1, y1 = self.contents.box if found is None else found.box
        left, bottom, right, top = self.area
        return ((x1 - x0) / (right - left), (y1 - y0) / (top - bottom))

    @property
    def share(self) -> float:
        """Share of the free area that the views take."""
        return self.size[0] * self.size[1]

    @property
    def filled(self) -> float:
        """Share of the free area that the part takes, its details left out."""
        (x0, y0, x1, y1), (left, bottom, right, top) = self.contents.box, self.area
        return (x1 - x0) * (y1 - y0) / ((right - left) * (top - bottom))

    @property
    def badness(self) -> tuple[int, bool, bool, float]:
        """What is worse comes later: without room, kept within, turned, near the frame.

        An A4 and an A sheet may lie or stand, others are not turned without need.
        """
        turned = self.sheet.name not in (self.sheet.format, *SMALLEST)
        return (len(self.contents.badly), self.within, turned, max(self.size))


class Trials:
    """The drawings of one part; at each scale its dimensions are laid out once."""

    def __init__(self, part: Part, pieces: tuple[Piece, ...]) -> None:
        self.part, self.pieces = part, pieces
        x0, y0, x1, y1 = bounds_of(p.curve for p in pieces if p.role == "outline")
        unit = MM_PER[part.unit]
        self.width, self.height = (x1 - x0) * unit, (y1 - y0) * unit
        self._drawn: dict[tuple[float, float], Contents] = {}
        self._settled: dict[tuple[float, float], tuple[Contents, float]] = {}
        self._areas: dict[str, Box] = {}

    def area(self, sheet: Sheet) -> Box:
        """Return the box of a sheet that is free for views."""
        if sheet.name not in self._areas:
            self._areas[sheet.name] = free_area(self.part, sheet, self.pieces)
        return self._areas[sheet.name]

    def on(self, sheet: Sheet, factor: float) -> Trial | None:
        """Return the drawing at a scale on a sheet, or None where it does not fit."""
        drawn, area = self._quick(sheet, factor), self.area(sheet)
        if drawn is None or arranged(drawn, area) is None:
            return None
        return Trial(sheet, factor, drawn, area)

    def best_on(self, some: Sequence[Sheet], factor: float) -> Trial | None:
        """Return the best drawing at a scale on one of some sheets.

        Where it is a little too large for all of them its dimensions are kept within one.
        """
        found = [trial for sheet in some if (trial := self.on(sheet, factor)) is not None]
        if found:
            return min(found, key=lambda trial: trial.badness)
        near = [(much, number) for number, sheet in enumerate(some)
                if (much := self._much(sheet, factor)) <= NEAR]
        return self._kept_on(some[min(near)[1]], factor) if near else None

    def settled(self, trial: Trial) -> Trial:
        """Return a drawing with its dimensions laid out as well as can be within the sheet."""
        if trial.within:
            return trial
        with stage(0.6, 1.0):
            full, _ = self._full(trial.sheet, trial.factor)
        fits = arranged(full, trial.area) is not None
        return replace(trial, contents=full) if fits else trial

    def _quick(self, sheet: Sheet, factor: float) -> Contents | None:
        """Return the drawing as it is laid out at first; None where the bare part does not fit."""
        left, bottom, right, top = self.area(sheet)
        if self.width * factor > right - left or self.height * factor > top - bottom:
            return None
        key = (factor, sheet.height)
        if key not in self._drawn:
            with stage(0.0, 0.6):
                self._drawn[key] = contents_of(self.part, self.pieces, *key, effort=QUICK)
        return self._drawn[key]

    def _full(self, sheet: Sheet, factor: float) -> tuple[Contents, float]:
        """Return the drawing as it is laid out best, and what that costs without its details."""
        key = (factor, sheet.height)
        if key not in self._settled:
            drawn = self._drawn[key]
            asked = drawn.main.dimensioning
            if asked is None or drawn.details:
                self._settled[key] = (drawn.laid_out(FULL), inf)
            else:
                layout = asked.laid_out(FULL)
                main = replace(drawn.main, dimensions=layout.drawn, badly=layout.badly)
                self._settled[key] = (Contents(main), layout.cost)
        return self._settled[key]

    def _much(self, sheet: Sheet, factor: float) -> float:
        """Return by what share of the free area a drawing is too large; infinite with details."""
        drawn, area = self._quick(sheet, factor), self.area(sheet)
        if drawn is None or drawn.details or drawn.main.dimensioning is None:
            return inf
        box = drawn.box
        return max((box[k + 2] - box[k]) / (area[k + 2] - area[k]) for k in (0, 1)) - 1.0

    def _kept_on(self, sheet: Sheet, factor: float) -> Trial | None:
        """Return a drawing that is a little too large with its dimensions kept within a sheet.

        None where that costs more than `DEARER`: some find no room then, or stand inside the part.
        """
        drawn, area = self._drawn[factor, sheet.height], self.area(sheet)
        asked = drawn.main.dimensioning
        assert asked is not None, "a drawing without dimensions is not kept within anything"
        least, best = self._full(sheet, factor)[1] + DEARER, None
        for box in _boxes(drawn.box, items_box(drawn.main.items), area, asked.sizes.past):
            kept = replace(asked, ground=replace(asked.ground, within=box))
            layout = kept.laid_out(FULL)
            made = Contents(replace(drawn.main, dimensioning=kept, dimensions=layout.drawn,
                                    badly=layout.badly))
            if layout.cost < least and not layout.badly and arranged(made, area) is not None:
                best, least = made, layout.cost
            elif layout.cost > least + HOPELESS:
                break
        return None if best is None else Trial(sheet, factor, best, area, within=True)


def _boxes(box: Box, bare: Box, area: Box, past: float) -> Iterator[Box]:
    """Give boxes around a view as large as an area, less what lines run past lettering.

    `box` holds the view with its dimensions, `bare` without. What is too much is taken from both
    sides, from the first, or from the second.
    """
    ways: list[list[tuple[float, float]]] = []
    for k in (0, 1):
        room = area[k + 2] - area[k]
        first, second = bare[k] - box[k], box[k + 2] - bare[k + 2]
        much = box[k + 2] - box[k] - room
        if bare[k + 2] - bare[k] > room:
            return
        if much <= 0.0:
            ways.append([(first - 0.5 * much, second - 0.5 * much)])
            continue
        share = much / (first + second)
        cuts = ((share * first, share * second), (much, 0.0), (0.0, much))
        ways.append([(first - a, second - b) for a, b in cuts if first >= a and second >= b])
    if len(ways[0]) > 1:
        ways[1] = ways[1][:1]
    for left, right in ways[0]:
        for below, above in ways[1]:
            yield (bare[0] - left + past, bare[1] - below + past,
                   bare[2] + right - past, bare[3] + above - past)
