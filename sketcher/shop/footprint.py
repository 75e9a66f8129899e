"""What one copy of a cut takes up on a plate, turned by quarters.

Its outside as it is cut, with leads and kerf. Rows are pushed together by rings of few corners,
which are a little larger than it is; that no copy comes too near another is told by all its chords.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import cos, hypot, inf, radians
from typing import TYPE_CHECKING

import numpy as np

from sketcher.geometry.bounds import Box, bounds_of
from sketcher.geometry.cubic import chord_starts
from sketcher.geometry.curve_table import Floats
from sketcher.geometry.curves import XY, Arc, Circle, Curve
from sketcher.geometry.evaluate import end_of
from sketcher.shop.cut_plan import CutPlan

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

CHORD = radians(2.0)
"""Arcs are reckoned by chords, and what those lie off the arc is added to every distance."""

SLIM = 1e-3
"""Copies are reckoned wider by this part of their size, so that few corners do."""

TINY = 1e-9
"""A lead without a kerf has this width, as a line without any has no room."""

QUARTERS = ((1, 0), (0, 1), (-1, 0), (0, -1))
"""Cosine and sine of the quarter turns, exactly."""


@dataclass(frozen=True, slots=True)
class Stand:
    """Where one copy stands: turned about zero by quarters, counter-clockwise, then moved."""

    turn: int
    x: float
    y: float

    def at(self, point: XY) -> XY:
        """Return where a point of the part comes to lie."""
        (x, y), (c, s) = point, QUARTERS[self.turn % 4]
        return c * x - s * y + self.x, s * x + c * y + self.y

    def placed(self, ring: Floats) -> Floats:
        """Return where the corners (n, 2) of a ring come to lie."""
        c, s = QUARTERS[self.turn % 4]
        return np.asarray(ring @ np.array([[c, s], [-s, c]], float) + np.array([self.x, self.y]))

    def by(self, x: float, y: float) -> Stand:
        """Return it moved."""
        return Stand(self.turn, self.x + x, self.y + y)


@dataclass(frozen=True)
class Footprint:
    """What one copy takes up: rings (n, 2), each with its first corner again at the end.

    Parameters
    ----------
    exact : array
        By all its chords.
    slim : array
        By few corners, a little larger.
    around : array
        By few corners, with the least distance of two copies all round.
    box : (x0, y0, x1, y1)
    """

    exact: Floats
    slim: Floats
    around: Floats
    box: Box

    @property
    def size(self) -> float:
        """Diagonal of the box."""
        return hypot(self.box[2] - self.box[0], self.box[3] - self.box[1])


def footprint_of(plan: CutPlan, between: float) -> Footprint:
    """Return what one copy takes up.

    Parameters
    ----------
    plan : CutPlan
        Of one part, with kerf and leads.
    between : float
        Least distance of two copies, in the part's unit.
    """
    from shapely import LineString, Polygon, union_all

    half = 0.5 * plan.settings.kerf
    taken: list[BaseGeometry] = []
    off = 0.0
    for path in plan.paths:
        if path.contour.hole:
            continue
        off = max(off, _off_chords(path.curves))
        taken.append(Polygon(chord_starts(path.contour.curves, CHORD)).buffer(half))
        taken += [LineString([*chord_starts(lead, CHORD), end_of(lead[-1])]).buffer(half + TINY)
                  for lead in (path.lead_in, path.lead_out) if lead]
    whole = union_all(taken)
    x0, y0, x1, y1 = bounds_of(curve for path in plan.paths for curve in path.curves)
    slim = SLIM * hypot(x1 - x0, y1 - y0)
    exact, few, around = (
        np.array(ring.exterior.coords) for ring in (
            whole.buffer(off), whole.buffer(off + slim).simplify(slim),
            whole.buffer(off + slim + between).simplify(slim)))
    return Footprint(exact, few, around, (x0 - half, y0 - half, x1 + half, y1 + half))


def _off_chords(curves: Iterable[Curve]) -> float:
    """Return how far an arc lies outside of its chords at most."""
    return max((curve.radius * (1.0 - cos(0.5 * CHORD)) for curve in curves
                if isinstance(curve, Arc | Circle)), default=0.0)


def slack(fixed: Floats, coming: Floats, way: XY) -> float:
    """Return how far rings can go back against a way until they touch what is there.

    Parameters
    ----------
    fixed, coming : array (n, 2, 2)
        Edges of what is there, and of what lies beyond it; see `edges_of`.
    way : (x, y)
        Along an axis.
    """
    fixed, coming = (edges[:, :, ::-1] if way[0] else edges for edges in (fixed, coming))
    return min(_first_contact(fixed, coming), _first_contact(-coming, -fixed))


def edges_of(rings: Iterable[Floats]) -> Floats:
    """Return the edges (n, 2, 2) of some rings, each by its two ends."""
    return np.concatenate([np.stack((ring[:-1], ring[1:]), axis=1) for ring in rings])


def _first_contact(fixed: Floats, coming: Floats) -> float:
    """Return how far corners of what comes are above the edges of what is there, at least."""
    across, along = coming[:, 0, 0, None], coming[:, 0, 1, None]
    (a, low), (b, high) = fixed[:, 0].T, fixed[:, 1].T
    wide = np.where(a == b, 1.0, b - a)
    share = (across - a) / wide
    met = (share >= 0.0) & (share <= 1.0)
    gaps = np.where(met, along - (low + share * (high - low)), inf)
    level = (a == b) & (across == a)
    gaps = np.where(level, along - np.maximum(low, high), gaps)
    return float(gaps.min(initial=inf))
