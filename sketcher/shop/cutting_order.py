"""The order of a cut: inside before outside, little rapid travel, heat spread where that is cheap.

Marks come first, then the paths; nothing is cut loose before what lies inside it is cut. Within
that the way of the torch is shortened: exactly for a few paths, else from the nearest next by
reversing and moving runs of paths until neither helps (2-opt and Or-opt; Croes 1958 and Or 1976,
from memory) with some kicks, always the same ones. Two neighbours within three plate thicknesses
are not cut one after the other where another order costs under 5 % (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from sketcher.geometry.curves import XY
from sketcher.inspect.words import length
from sketcher.shop.cut_plan import CutMark, CutPath, way_between
from sketcher.shop.hot_neighbors import hot_pairs
from sketcher.shop.shortest_way import Stops, cooled, shortest

THICKNESSES = 3.0
"""Contours nearer than this many plate thicknesses heat each other: common practice, no source."""

HEAT_COSTS = 1.05
"""What an order that spreads the heat may cost: common practice, no source."""


@dataclass(frozen=True, slots=True)
class OrderedCut:
    """Marks and paths in the order of the cut.

    `travel` and `as_drawn` are rapid moves between them, in this order and in the one that came;
    `hot` counts neighbours that are cut one right after the other all the same.
    """

    marks: tuple[CutMark, ...]
    paths: tuple[CutPath, ...]
    travel: float
    as_drawn: float
    hot: int

    def words(self, unit: str, thickness: float) -> tuple[str, ...]:
        """Return what is told of the order, a line each; nothing where there is none to choose."""
        if len(self.marks) + len(self.paths) < 2:
            return ()
        lines = [f"rapid travel {length(self.travel, unit)}, in the order of the drawing "
                 f"{length(self.as_drawn, unit)}"]
        if self.hot:
            times = "once" if self.hot == 1 else f"{self.hot} times"
            lines.append(f"{times} a contour is cut right after one nearer than "
                         f"{length(THICKNESSES * thickness, unit)}: let the plate cool there")
        return tuple(lines)


def in_order(
    marks: Sequence[CutMark], paths: Sequence[CutPath], thickness: float
) -> OrderedCut:
    """Return marks and paths in a good order; never a longer one than that in which they come.

    Parameters
    ----------
    marks : sequence of CutMark
    paths : sequence of CutPath
        Those deeper inside a copy before those around them, as the part's contours come.
    thickness : float
        Of the plate, for the heat.
    """
    drawn = way_between([*((m.at, m.at) for m in marks), *((p.pierce, p.end) for p in paths)])
    pairs = hot_pairs([path.contour for path in paths], THICKNESSES * thickness)
    levels = [(path.copy, -path.contour.depth) for path in paths]
    found = [(marks, paths, drawn, _hot(range(len(paths)), pairs))]
    forward = _marked_way(marks)
    for way in (forward, forward[::-1])[:max(1, min(2, len(forward)))]:
        begin = way[-1].at if way else None
        stops = Stops([p.pierce for p in paths], [p.end for p in paths], levels, begin)
        row = shortest(stops)
        so_far = way_between([(mark.at, mark.at) for mark in way])
        most = min(HEAT_COSTS * (so_far + stops.way(row)), max(drawn, so_far + stops.way(row)))
        row = cooled(stops, row, pairs, most - so_far)
        found.append((way, [paths[k] for k in row], so_far + stops.way(row), _hot(row, pairs)))
    within = HEAT_COSTS * min(each[2] for each in found)
    best = min(found, key=lambda each: (each[2] > within, each[3] if each[2] <= within else 0,
                                        each[2]))
    return OrderedCut(tuple(best[0]), tuple(best[1]), best[2], drawn, best[3])


def _marked_way(marks: Sequence[CutMark]) -> list[CutMark]:
    places: list[XY] = [mark.at for mark in marks]
    return [marks[k] for k in shortest(Stops(places, places, [(0, 0)] * len(places), None))]


def _hot(row: Sequence[int], pairs: frozenset[tuple[int, int]]) -> int:
    return sum((min(a, b), max(a, b)) in pairs for a, b in pairwise(row))

