"""The order of a cut: inside before outside, little rapid travel, heat spread where that is cheap.

Marks come first, then the paths; nothing is cut loose before what lies inside it is cut. Within
that the way of the torch is shortened: exactly for a few paths, else from the nearest next by
reversing and moving runs of paths until neither helps (2-opt and Or-opt; Croes 1958 and Or 1976,
from memory) with some kicks, always the same ones. Two neighbors within three plate thicknesses
are not cut one after the other where another order costs under 5 % (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from sketcher.geometry.curves import XY
from sketcher.inspect.words import length, way_length
from sketcher.shop.cooled_way import cooled
from sketcher.shop.cut_plan import CutMark, CutPath, way_between
from sketcher.shop.hot_neighbors import hot_pairs
from sketcher.shop.shortest_way import shortest
from sketcher.shop.stops import Stops

THICKNESSES = 3.0
"""Contours nearer than this many plate thicknesses heat each other: common practice, no source."""

HEAT_COSTS = 1.05
"""What an order that spreads the heat may cost: common practice, no source."""


@dataclass(frozen=True, slots=True)
class OrderedCut:
    """Marks and paths in the order of the cut.

    `travel` and `as_drawn` are rapid moves between them, in this order and in the one that came;
    `hot` counts neighbors that are cut one right after the other all the same.
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
        lines = [f"rapid travel {way_length(self.travel, unit)}, in the order of the drawing "
                 f"{way_length(self.as_drawn, unit)}"]
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
    found = [OrderedCut(tuple(marks), tuple(paths), drawn, drawn, _hot(range(len(paths)), pairs))]
    forward = _marked_way(marks)
    for way in (forward, forward[::-1]) if len(forward) > 1 else (forward,):
        stops = Stops([p.pierce for p in paths], [p.end for p in paths], levels,
                      way[-1].at if way else None)
        so_far = way_between([(mark.at, mark.at) for mark in way])
        row = shortest(stops)
        travel = so_far + stops.way(row)
        row = cooled(stops, row, pairs, min(HEAT_COSTS * travel, max(drawn, travel)) - so_far)
        found.append(OrderedCut(tuple(way), tuple(paths[k] for k in row),
                                so_far + stops.way(row), drawn, _hot(row, pairs)))
    within = min(HEAT_COSTS * min(each.travel for each in found), drawn)
    return min((each for each in found if each.travel <= within),
               key=lambda each: (each.hot, each.travel))


def _marked_way(marks: Sequence[CutMark]) -> list[CutMark]:
    places: list[XY] = [mark.at for mark in marks]
    return [marks[k] for k in shortest(Stops(places, places, [(0, 0)] * len(places)))]


def _hot(row: Sequence[int], pairs: frozenset[tuple[int, int]]) -> int:
    return sum(pair in pairs for pair in pairwise(row))
