"""Names by place: finds what lies at a place without looking at all there is."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import product
from math import atan2, floor, pi

from sketcher.geometry.curves import XY

REACH = 1e-3
"""Of a cell: what is found lies at least so near; far more than places differ that are one."""


@dataclass(slots=True)
class SlateGrid:
    """Names in square cells of the plane.

    Parameters
    ----------
    cell : float
        Width of a cell; positive.
    """

    cell: float
    _names: defaultdict[tuple[int, int], list[str]] = field(
        default_factory=lambda: defaultdict(list))

    def put(self, name: str, at: XY) -> None:
        """Keep a name at a place."""
        self._names[floor(at[0] / self.cell), floor(at[1] / self.cell)].append(name)

    def around(self, at: XY) -> Iterator[str]:
        """Yield all names within the reach of a place, and some that lie a little farther."""
        columns, rows = ({floor(each / self.cell - REACH), floor(each / self.cell + REACH)}
                         for each in at)
        for key in product(sorted(columns), sorted(rows)):
            yield from self._names.get(key, ())


def place_of_line(along: XY, offset: float, size: float) -> tuple[XY, XY]:
    """Return where a line is kept in a grid, and where one of nearly its direction may be.

    Parameters
    ----------
    along : (float, float)
        Direction, of length 1; its sense does not matter.
    offset : float
        Distance of a fixed place from the line, positive to the left of the direction.
    size : float
        What a turn of half a circle counts for.
    """
    turn = atan2(along[1], along[0])
    if turn < 0.0 or turn >= pi:
        turn, offset = turn - pi if turn > 0.0 else turn + pi, -offset
    other = turn + pi if turn < 0.5 * pi else turn - pi
    return (turn / pi * size, offset), (other / pi * size, -offset)
