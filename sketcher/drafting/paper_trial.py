"""Drawings of a part on trial: what a sheet and a scale would make of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from sketcher.drafting.layout.choose import FULL, QUICK
from sketcher.drafting.paper_room import free_area
from sketcher.drafting.paper_sizes import Sheet
from sketcher.drafting.paper_view import MM_PER
from sketcher.drafting.view_contents import Contents, contents_of
from sketcher.drafting.views.arranged_views import arranged
from sketcher.geometry.bounds import Box, bounds_of
from sketcher.part.value import Part
from sketcher.part.whole import Piece
from sketcher.progress import stage

CLOSER = 2.5
"""By how many mm a drawing comes nearer to the frame before it takes a larger paper; 3.5 are left.
A strap of 120 mm stays on an A4 by it. To lay dimensions out again within the smaller sheet won
none of 20 parts: a row of them moves into the part."""
SMALLEST = ("A4 lying", "A upright")


@dataclass(frozen=True, slots=True)
class SheetTrial:
    """A drawing on a sheet.

    Parameters
    ----------
    sheet : Sheet
    factor : float
        The scale, paper by part.
    contents : Contents
    area : tuple of float
        Box of the sheet that is free for views.
    """

    sheet: Sheet
    factor: float
    contents: Contents
    area: Box

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
    def badness(self) -> tuple[int, bool, float]:
        """What is worse comes later: without room, turned, near the frame.

        An A4 and an A sheet may lie or stand, others are not turned without need.
        """
        turned = self.sheet.name not in (self.sheet.format, *SMALLEST)
        return (len(self.contents.badly), turned, max(self.size))


class SheetTrials:
    """The drawings of one part; at each scale its dimensions are laid out once."""

    def __init__(self, part: Part, pieces: tuple[Piece, ...]) -> None:
        self.part, self.pieces = part, pieces
        x0, y0, x1, y1 = bounds_of(p.curve for p in pieces if p.role == "outline")
        unit = MM_PER[part.unit]
        self.width, self.height = (x1 - x0) * unit, (y1 - y0) * unit
        self._drawn: dict[tuple[float, float], Contents] = {}
        self._areas: dict[str, Box] = {}

    def area(self, sheet: Sheet) -> Box:
        """Return the box of a sheet that is free for views."""
        if sheet.name not in self._areas:
            self._areas[sheet.name] = free_area(self.part, sheet)
        return self._areas[sheet.name]

    def on(self, sheet: Sheet, factor: float) -> SheetTrial | None:
        """Return the drawing at a scale on a sheet, or None where it does not fit."""
        drawn, area = self._quick(sheet, factor), self.area(sheet)
        if drawn is None or arranged(drawn, area) is None:
            return None
        return SheetTrial(sheet, factor, drawn, area)

    def best_on(self, some: Sequence[Sheet], factor: float) -> SheetTrial | None:
        """Return the best drawing at a scale on one of some sheets.

        Where it is a little too large for all of them it comes nearer to the frame.
        """
        found = [trial for sheet in some if (trial := self.on(sheet, factor)) is not None]
        found = found or [SheetTrial(sheet, factor, drawn, self.area(sheet)) for sheet in some
                          if (drawn := self._quick(sheet, factor)) is not None
                          and self._closely(drawn, sheet)]
        return min(found, key=lambda trial: trial.badness, default=None)

    def settled(self, trial: SheetTrial) -> SheetTrial:
        """Return a drawing with its dimensions laid out as well as can be within the sheet."""
        with stage(0.6, 1.0):
            full = trial.contents.laid_out(FULL)
        fits = arranged(full, trial.area) is not None or self._closely(full, trial.sheet)
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

    def _closely(self, drawn: Contents, sheet: Sheet) -> bool:
        """Tell whether a drawing without details fits when it comes nearer to the frame."""
        left, bottom, right, top = self.area(sheet)
        wider = (left - CLOSER, bottom - CLOSER, right + CLOSER, top + CLOSER)
        return not drawn.details and arranged(drawn, wider) is not None
