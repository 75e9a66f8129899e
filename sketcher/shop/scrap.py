"""The room beside a contour, in which the torch may pierce: how far the part's edges are."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from sketcher.geometry.bounds import Box, bounds, bounds_of, tolerance
from sketcher.geometry.curve_table import CurveTable, Floats, portions
from sketcher.geometry.curves import XY, Curve
from sketcher.geometry.project import distance
from sketcher.inspect.clearance import narrowest
from sketcher.shop.cut_plan import CutContour


class Scrap:
    """Edges of the finished part, asked how near a place or a curve comes to them.

    Parameters
    ----------
    contours : sequence of CutContour
        Nominal, one at least.
    beyond : float
        How far behind these contours the part begins; above 0 where they are drawn offset already.
    """

    def __init__(self, contours: Sequence[CutContour], beyond: float = 0.0) -> None:
        self.beyond = beyond
        self.edges: tuple[Curve, ...] = tuple(
            curve for contour in contours for curve in contour.curves)
        self.ids: tuple[str, ...] = tuple(
            name for contour in contours for name in contour.id_of_each)
        self.tol = tolerance(self.edges)
        self._table = CurveTable(self.edges)

    def room(self, places: Floats) -> Floats:
        """Return the distance of each of k places, shape (k, 2), from the nearest edge."""
        out = np.empty(len(places))
        for rows in portions(np.full(len(places), len(self.edges))):
            out[rows] = self._table.distances_to_all(places[rows]).min(axis=1)
        return out + self.beyond

    def nearest_id(self, at: XY) -> str:
        """Return the id of the edge nearest to a place."""
        return self.ids[int(np.argmin(self._table.distances_to_all(np.array([at]))))]

    def within(self, at: XY, reach: float) -> frozenset[int]:
        """Return the numbers of the edges within reach of a place."""
        return frozenset(k for k in self._beside((*at, *at), reach)
                         if distance(self.edges[k], at) + self.beyond <= reach)

    def nearer(
        self, curve: Curve, least: float, near: frozenset[int], least_near: float,
        own: frozenset[int] = frozenset(),
    ) -> int | None:
        """Return the number of an edge that a curve comes too near, or None.

        Parameters
        ----------
        curve : Curve
        least, least_near : float
            Least distance from all edges, and from those in `near`.
        near : frozenset of int
            Edges for which the other distance holds.
        own : frozenset of int
            Edges that do not count.
        """
        for k in self._beside(bounds(curve), max(least, least_near)):
            wanted = least_near if k in near else least
            if self.beyond > 0.0:
                wanted = max(wanted - self.beyond, self.tol)
            if k not in own and narrowest(curve, self.edges[k]).width < wanted:
                return k
        return None

    def _beside(self, box: Box, reach: float) -> Iterator[int]:
        """Yield the edges whose boxes come within reach of a box, in order."""
        x0, y0, x1, y1 = self._table.boxes.T
        near = ((x0 <= box[2] + reach) & (box[0] - reach <= x1)
                & (y0 <= box[3] + reach) & (box[1] - reach <= y1))
        yield from np.flatnonzero(near).tolist()


def scraps(
    contours: Sequence[CutContour], finished: Sequence[CutContour], beyond: float = 0.0
) -> Iterator[Scrap]:
    """Yield for each contour that is cut the scrap on its left.

    What lies beyond the material on its other side cannot be reached without crossing it. So the
    scrap inside a hole is bounded by this one and by what lies in it, the scrap around an outside
    contour by this one, others beside it and the hole in which it lies.

    Parameters
    ----------
    contours : sequence of CutContour
        As the torch goes, on the scrap's side of the nominal ones.
    finished : sequence of CutContour
        All nominal contours.
    beyond : float
        How far behind them the part begins.
    """
    boxes = np.array([bounds_of(contour.curves) for contour in finished])
    holes = np.array([contour.hole for contour in finished])
    depths = np.array([contour.depth for contour in finished])
    for contour in contours:
        inner = contour.depth if contour.hole else contour.depth - 1
        bounding = np.where(holes, depths == inner, depths == inner + 1)
        if contour.hole:
            x0, y0, x1, y1 = bounds_of(contour.curves)
            bounding &= ((boxes[:, 0] <= x1) & (x0 <= boxes[:, 2])
                         & (boxes[:, 1] <= y1) & (y0 <= boxes[:, 3]))
        yield Scrap([finished[k] for k in np.flatnonzero(bounding).tolist()], beyond)
