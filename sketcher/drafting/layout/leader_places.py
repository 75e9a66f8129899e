"""The places of a radius or diameter: directions and lengths of its leader."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property
from math import radians, tau

import numpy as np

from sketcher.drafting.draw_leader import Leader, draw_leader, leader_at
from sketcher.drafting.drawn_dimension import Drawn
from sketcher.drafting.layout.dimension_places import Place, Places
from sketcher.drafting.layout.ink import Array, Batch
from sketcher.drafting.layout.shapes import leaders
from sketcher.drafting.measured import MeasuredRound
from sketcher.geometry.curves import XY, Arc

LENGTHS = (7.0, 10.0, 14.0, 19.0, 25.0, 32.0, 40.0, 50.0, 62.0, 76.0)
SLOPED = (45, 135, 315, 225, 60, 120, 30, 150, 300, 240, 330, 210, 52.5, 127.5, 37.5, 142.5)
"""Degrees, the usual first: 45 degrees, up to the right."""
STEEP = (20, 70, 110, 160, 200, 340, 250, 290)
CIRCLE_ANGLES = tuple(radians(a) for a in (*SLOPED, *STEEP))
SPARE_ANGLES = tuple(radians(7.5 * k) for k in range(48))
SPARE_LENGTHS, SPARE = (4.5, 8.5, 12.0, 16.5, 22.0, 28.0, 36.0, 45.0, 56.0, 70.0, 90.0, 110.0), 9.0
SPARE_COST = dict.fromkeys(SPARE_LENGTHS, SPARE)
ARC_PLACES = (0.5, 0.38, 0.62, 0.25, 0.75, 0.12, 0.88)
SPARE_ARC_PLACES = (0.05, 0.18, 0.3, 0.44, 0.56, 0.7, 0.82, 0.95)
NEAR_END = 0.05  # share of an arc at its ends at which no leader points: there it is not seen whose
FIRST, SECOND = 30, 150
"""Places of a leader in its first and second stage, of 220 usual ones about a circle: on 10 plates
84 of 108 leaders stand at one of the first."""
IMAGE_COST, INWARD_COST = 0.5, 0.3
LEAST_SLOPE, MOST_SLOPE = 29.5, 60.5
"""Degrees from level within which leaders slope (30, 45 or 60 by the course notes)."""
OFF_SLOPE, PER_DEGREE = 3.0, 0.2
"""What it costs to slope otherwise, and each degree of it: nearly level or plumb a leader is taken
for a line of the part; yet that is better than a leader over an extension line."""
PER_TURN, PER_QUADRANT = 0.012, 0.08
"""What slopes within cost: each degree from 45, and to the left and downwards."""


@dataclass
class LeaderPlaces(Places):
    """Places of a radius or diameter: (curve, angle or share of the arc, length, inwards)."""

    width = 4
    one: MeasuredRound = field(kw_only=True)

    @cached_property
    def curves(self) -> Array:
        """Center and radius of the curve and its images."""
        return np.array([(*c.center, c.radius) for c in (self.one.curve, *self.one.images)])

    def of_stage(self, number: int) -> Array | None:
        """Return the cheapest, the next, all usual ones, and the odd ones."""
        if number > 3:
            return None
        first, end = ((0, FIRST), (FIRST, SECOND), (SECOND, None), (0, None))[number]
        usual = (self._usual if number < 3 else self._spare)[0]
        return usual[first:end]

    def bound(self, number: int) -> float:
        """Return what a place of a stage costs at least by itself."""
        if number > 2:
            return SPARE if number == 3 else np.inf
        cost = self._usual[1]
        first = (0, FIRST, SECOND)[number]
        return float(cost[first]) if first < len(cost) else SPARE

    @cached_property
    def _usual(self) -> tuple[Array, Array]:
        rows = []
        for number, curve in enumerate((self.one.curve, *self.one.images)):
            along = (ARC_PLACES + _shares(curve) if isinstance(curve, Arc)
                     else CIRCLE_ANGLES)
            hollow = not self.one.diameter and isinstance(curve, Arc)
            for at in along:
                for length in LENGTHS:
                    rows.append((number, at, length, 0.0))
                    # From the hollow side; through the center only where the arc is small.
                    if hollow and (length < 0.9 * curve.radius or curve.radius < 8.0):
                        rows.append((number, at, length, 1.0))
        return self._sorted(np.array(rows))

    @cached_property
    def _spare(self) -> tuple[Array, Array]:
        rows = []
        for number, curve in enumerate((self.one.curve, *self.one.images)):
            along = SPARE_ARC_PLACES if isinstance(curve, Arc) else SPARE_ANGLES
            rows += [(number, at, length, 0.0) for at in along for length in SPARE_LENGTHS]
        return self._sorted(np.array(rows))

    def _sorted(self, places: Array) -> tuple[Array, Array]:
        own = self._own(places)
        order = np.argsort(own, kind="stable")
        return places[order], own[order]

    def _angles(self, places: Array) -> Array:
        turn = places[:, 1].copy()
        for number, curve in enumerate((self.one.curve, *self.one.images)):
            if isinstance(curve, Arc):
                some = places[:, 0] == number
                turn[some] = curve.start_angle + turn[some] * curve.sweep
        return turn

    def _own(self, places: Array) -> Array:
        image, _, length, inward = places.T
        cost = 0.12 * length + slope_cost(self._angles(places) + np.pi * inward)
        cost += np.where(image > 0, IMAGE_COST + 0.2 * (image - 1), 0.0) + INWARD_COST * inward
        cost += np.array([SPARE_COST.get(x, 0.0) for x in length.tolist()])
        return np.asarray(cost)

    def ink(self, places: Array) -> tuple[Array, Batch]:
        """Return what places cost by themselves, and what they would draw."""
        image = np.minimum(places[:, 0].astype(int), len(self.curves) - 1)
        batch = leaders(self.one, self.curves[image], self._angles(places), places[:, 2],
                        places[:, 3] > 0.5, self.sizes)
        return self._own(places), batch

    def draw(self, place: Place) -> Drawn:
        """Draw the leader at a place."""
        every = (self.one.curve, *self.one.images)
        curve = every[min(int(place[0]), len(every) - 1)]
        angle = float(self._angles(np.array([place]))[0])
        return draw_leader(self.one, Leader(curve, angle, place[2], place[3] > 0.5), self.sizes)

    def draw_at(self, at: XY) -> Drawn:
        """Draw it with the middle of its lettering at, or near, a place on paper."""
        return draw_leader(self.one, leader_at(self.one, at, self.sizes), self.sizes)

    @property
    def most(self) -> int:
        """The sloped part and the shoulder."""
        return 2


def slope_cost(turn: Array) -> Array:
    """Return what leaders in directions (radians) cost by their slope."""
    across, up = np.cos(turn), np.sin(turn)
    slope = np.degrees(np.arctan2(np.abs(up), np.abs(across)))
    off = np.maximum(np.maximum(LEAST_SLOPE - slope, slope - MOST_SLOPE), 0.0)
    quadrant = np.where(across < -1e-9, 1.0, 0.0) + np.where(up < -1e-9, 2.0, 0.0)
    return np.asarray(PER_QUADRANT * quadrant + PER_TURN * np.abs(slope - 45.0)
                      + np.where(off > 0.0, OFF_SLOPE + PER_DEGREE * off, 0.0))


def _shares(arc: Arc) -> tuple[float, ...]:
    """Return where along an arc its radius slopes as leaders do."""
    found = []
    for degrees_ in SLOPED:
        turn = radians(degrees_) - arc.start_angle
        share = (turn % tau if arc.sweep > 0.0 else -(-turn % tau)) / arc.sweep
        if NEAR_END <= share <= 1.0 - NEAR_END:
            found.append(share)
    return tuple(found)
