"""The places of an angle: in which wedge, and how far from its vertex."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from sketcher.drafting.draw_angle import draw_angle, opposite, wedge_at, wedges
from sketcher.drafting.drawn_dimension import Drawn
from sketcher.drafting.layout.dimension_places import Place, Places
from sketcher.drafting.layout.ink import NEVER, Array, Batch
from sketcher.drafting.layout.shapes import MOST_CHORDS, ink_of, on_itself
from sketcher.drafting.measured import MeasuredAngle, Wedge
from sketcher.geometry.curves import XY


@dataclass
class AnglePlaces(Places):
    """Places of an angle: (wedge, radius of its arc)."""

    width = 2
    one: MeasuredAngle = field(kw_only=True)

    @cached_property
    def wedges(self) -> tuple[Wedge, ...]:
        """The wedges of the two sides, then the opposite ones of those that slide."""
        runouts = self.ground.runouts
        return (*self.one.options,
                *(opposite(wedge, runouts) for wedge in self.one.options if wedge.slides))

    @cached_property
    def _usual(self) -> tuple[Array, Array]:
        rows = np.array(sorted(wedges(self.wedges))).reshape(-1, 3)
        return rows[:, 1:], rows[:, 0]

    def of_stage(self, number: int) -> Array | None:
        """Return the places, a dozen at a time, the cheapest first."""
        some = self._usual[0][12 * number:12 * number + 12]
        return some if len(some) else None

    def bound(self, number: int) -> float:
        """Return what a place of a stage costs at least by itself."""
        cost = self._usual[1]
        return float(cost[12 * number]) if 12 * number < len(cost) else np.inf

    def ink(self, places: Array) -> tuple[Array, Batch]:
        """Return what places cost by themselves, and what they would draw."""
        drawn = [self.draw(tuple(place)) for place in places.tolist()]
        batch = ink_of(drawn, [self.sizes.lettering(self.one.wording)] * len(drawn))
        usual, cost = self._usual
        known = {(int(w), r): c for (w, r), c in zip(usual.tolist(), cost.tolist(), strict=True)}
        own = np.array([known.get((int(w), r), 0.03 * r) for w, r in places.tolist()])
        own += NEVER * on_itself(batch)
        return own, batch

    def draw(self, place: Place) -> Drawn:
        """Draw the angle at a place."""
        wedge = self.wedges[min(int(place[0]), len(self.wedges) - 1)]
        return draw_angle(self.one, wedge, place[1], self.sizes, self.ground.runouts)

    def draw_at(self, at: XY) -> Drawn:
        """Draw it with the middle of its lettering near a place on paper."""
        return draw_angle(self.one, *wedge_at(self.one, self.wedges, at, self.sizes), self.sizes,
                          self.ground.runouts)

    @property
    def most(self) -> int:
        """Two extension lines, and an arc, in two where its lettering stands between them."""
        return 2 + MOST_CHORDS * (2 if self.sizes.practice == "ASME" else 1)
