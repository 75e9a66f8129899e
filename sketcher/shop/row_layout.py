"""Ways of laying copies out in rows, and the one that needs the least of the plate.

A row repeats one copy, or a pair of which the second is turned by half and pushed into the first;
the next row may be turned by half too, and may stand half a step further. Of all these ways, and
with the part turned by quarters where the grain allows it, the one is taken that needs the least of
the plate.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from sketcher.geometry.bounds import Box
from sketcher.geometry.curves import XY
from sketcher.interrupt import check
from sketcher.shop.footprint import Footprint, Stand, edges_of, slack

NEARLY = 1e-9
"""Share of a size within which two lengths are one."""

SHORT_SIDE = 1e-3
"""How much the plate's short side counts beside its long one: of ways that are as long, the
narrower is taken."""

SHARES = (-0.5, -0.25, 0.0, 0.25, 0.5)
"""By how much of its height the second of a pair is moved across."""

RIGHT, UP = (1.0, 0.0), (0.0, 1.0)


class RowLayout:
    """Copies in rows on one plate.

    Parameters
    ----------
    footprint : Footprint
        Of one copy.
    plate : (width, height)
        From the lower left corner at zero.
    between : float
        Least distance of two copies, and of a copy from the plate's edges.
    grain : bool
        No copy may be turned by a quarter.
    """

    def __init__(
        self, footprint: Footprint, plate: tuple[float, float], between: float, grain: bool
    ) -> None:
        self.footprint = footprint
        self.plate = plate
        self.between = between
        self.grain = grain

    def best(self, most: int) -> list[Stand]:
        """Return the stands of the way that fits the most, and of those needs the least room.

        Parameters
        ----------
        most : int
            So many copies are enough.
        """
        found: list[tuple[int, float, list[Stand]]] = []
        for stands in self._ways(most):
            check()
            found.append((-len(stands), self._needed(stands), stands))
        found.sort(key=lambda way: way[:2])
        return next((stands for _, _, stands in found if self._apart(stands)), [])

    def _apart(self, stands: Sequence[Stand]) -> bool:
        """Tell whether no copy comes too near to another, whichever rows they are in."""
        from shapely import Polygon, STRtree

        copies = [Polygon(one.placed(self.footprint.exact)) for one in stands]
        if not copies:
            return True
        one, other = STRtree(copies).query(copies, "dwithin", self.between * (1.0 - NEARLY))
        return bool((one == other).all())

    def _needed(self, stands: Sequence[Stand]) -> float:
        """Return how much of the plate's long side is used up, then a little of the other."""
        if not stands:
            return 0.0
        boxes = np.array([self._box(stand) for stand in stands])
        far = boxes[:, 2].max() / self.plate[0], boxes[:, 3].max() / self.plate[1]
        long, short = far if self.plate[0] >= self.plate[1] else far[::-1]
        return float(long + SHORT_SIDE * short)

    def _box(self, stand: Stand) -> Box:
        x0, y0, x1, y1 = self.footprint.box
        (ax, ay), (bx, by) = stand.at((x0, y0)), stand.at((x1, y1))
        return min(ax, bx), min(ay, by), max(ax, bx), max(ay, by)

    def _ways(self, most: int) -> Iterator[list[Stand]]:
        for turn in (0,) if self.grain else (0, 1):  # the others are these, upside down
            for unit in self._units(turn):
                for next_turned in (False, True):
                    for ahead, up in ((RIGHT, UP), (UP, RIGHT)):
                        yield self._laid_out(unit, next_turned, ahead, up, most)

    def _units(self, turn: int) -> Iterator[tuple[Stand, ...]]:
        """Yield what a row repeats: one copy, or two with the second turned and pushed in."""
        one = Stand(turn, 0.0, 0.0)
        yield (one,)
        _, y0, x1, y1 = self._box(one)
        other = Stand(turn + 2, 0.0, 0.0)
        ox0, oy0, _, oy1 = self._box(other)
        for share in SHARES:
            across = 0.5 * (y0 + y1) - 0.5 * (oy0 + oy1) + share * (y1 - y0)
            beyond = other.by(x1 - ox0 + self._reach, across)
            yield (one, beyond.by(-self._slack((one,), (beyond,), RIGHT), 0.0))

    def _laid_out(
        self, unit: tuple[Stand, ...], next_turned: bool, ahead: XY, up: XY, most: int
    ) -> list[Stand]:
        """Return the stands of one way, whose rows run ahead and follow each other upward."""
        step = self._step(unit, ahead)
        rows = (unit, _half_turned(unit) if next_turned else unit)
        corners = (self._corner(rows[0]), self._corner(rows[1]))
        lifts = [self._lift(rows[k], rows[1 - k], ahead, step, up) for k in (0, 1)]
        stands: list[Stand] = []
        base, k = corners[0], 0
        while len(stands) < most:
            check()
            row = self._row(rows[k], base, (step * ahead[0], step * ahead[1]), most - len(stands))
            if not row:
                break
            stands += row
            raised = (base[0] - corners[k][0] + lifts[k] * up[0],
                      base[1] - corners[k][1] + lifts[k] * up[1])
            k = 1 - k
            base = (corners[k][0] + raised[0], corners[k][1] + raised[1])
        return stands

    def _corner(self, unit: Sequence[Stand]) -> XY:
        """Return by how much a unit is moved so that it stands in the plate's lower left."""
        boxes = [self._box(stand) for stand in unit]
        return (self.between - min(box[0] for box in boxes),
                self.between - min(box[1] for box in boxes))

    def _row(self, unit: Sequence[Stand], base: XY, step: XY, most: int) -> list[Stand]:
        """Return the stands of one row that lie on the plate, from the lower left on."""
        found: list[Stand] = []
        k = 0
        while len(found) < most:
            put = [stand.by(*base).by(k * step[0], k * step[1]) for stand in unit]
            there = [stand for stand in put if self._fits(stand)]
            if not there:
                break
            found += there
            k += 1
        return found[:most]

    def _fits(self, stand: Stand) -> bool:
        x0, y0, x1, y1 = self._box(stand)
        least = self.between - NEARLY * self.footprint.size
        return (x0 >= least and y0 >= least
                and x1 <= self.plate[0] - least and y1 <= self.plate[1] - least)

    def _step(self, unit: Sequence[Stand], ahead: XY) -> float:
        """Return the step along a row at which a unit is clear of the one before."""
        far = self._reach
        beyond = [stand.by(far * ahead[0], far * ahead[1]) for stand in unit]
        return far - self._slack(unit, beyond, ahead)

    def _lift(
        self, row: Sequence[Stand], above: Sequence[Stand], ahead: XY, step: float, up: XY
    ) -> float:
        """Return how far the row above is moved across, so that it is clear of a whole row."""
        wide = int(2.0 * (self.footprint.size + self.between) / step) + 1
        below = [stand.by(k * step * ahead[0], k * step * ahead[1])
                 for stand in row for k in range(-wide, wide + 1)]
        now, then, far = self._corner(row), self._corner(above), self._reach
        beyond = [stand.by(*then).by(-now[0], -now[1]).by(far * up[0], far * up[1])
                  for stand in above]
        return far - self._slack(below, beyond, up)

    @property
    def _reach(self) -> float:
        """Far enough to be beyond any unit of two copies."""
        return 4.0 * (self.footprint.size + self.between)

    def _slack(self, those: Sequence[Stand], moving: Sequence[Stand], way: XY) -> float:
        """Return how far stands beyond those can go back against `way` until they are as near."""
        return slack(edges_of(stand.placed(self.footprint.around) for stand in those),
                     edges_of(stand.placed(self.footprint.slim) for stand in moving), way)


def _half_turned(unit: Sequence[Stand]) -> tuple[Stand, ...]:
    return tuple(Stand(stand.turn + 2, -stand.x, -stand.y) for stand in reversed(unit))
