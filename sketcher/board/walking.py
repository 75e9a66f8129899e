"""The way along spans from where a walk stands to the span under the pointer."""

from __future__ import annotations

from heapq import heappop, heappush
from itertools import pairwise
from math import hypot

from sketcher.board.snap import gap
from sketcher.geometry.arrangement import Arrangement
from sketcher.geometry.curves import XY, Line
from sketcher.geometry.evaluate import end_of, start_of, tangent_at
from sketcher.part.tracing import SMOOTH

JOINT = 0.4
"""What a tangent joint counts beside a corner: two of them are preferred to one corner."""

MOST = 20_000
"""Most spans that are looked at for a way."""

Walk = tuple[int, ...]


class Ways:
    """Ways along the spans of an arrangement.

    Parameters
    ----------
    net : Arrangement
        The spans, as half-edges.
    """

    def __init__(self, net: Arrangement) -> None:
        self.net = net
        low, high = net.net.nodes.min(axis=0), net.net.nodes.max(axis=0)
        # A corner outweighs every detour on the sheet.
        self._corner = 2.0 * hypot(*(high - low).tolist())

    def _step(self, half: int, onward: int) -> float:
        """Return what it costs to go on: the length, and more for leaving the curve."""
        a, b = self.net.span(half).curve, self.net.span(onward).curve
        if self.net.same_way(half, onward):
            return b.length
        (ax, ay), (bx, by) = tangent_at(a, 1.0), tangent_at(b, 0.0)
        smooth = abs(ax * by - ay * bx) <= SMOOTH and ax * bx + ay * by > 0.0
        return b.length + self._corner * (JOINT if smooth else 1.0)

    def cost(self, walk: Walk) -> float:
        """Return what a walk costs after its first span."""
        return sum(self._step(half, onward) for half, onward in pairwise(walk))

    def onward(self, last: int, toward: int) -> Walk:
        """Return the half-edges that lead on from `last` to the edge of `toward`, itself included.

        The way with the fewest corners, of those the shortest; a tangent joint counts less than a
        corner, so that a fillet is taken rather than the corner that it rounds. Empty where there
        is no way. It never turns back on the spot.
        """
        goal = toward >> 1
        if last >> 1 == goal:
            return ()
        came: dict[int, int] = {}
        queue: list[tuple[float, int, int]] = [(0.0, last, -1)]
        while queue and len(came) < MOST:
            cost, half, before = heappop(queue)
            if half in came:
                continue
            came[half] = before
            if half >> 1 == goal:
                way = [half]
                while came[way[-1]] != -1:
                    way.append(came[way[-1]])
                return tuple(reversed(way[:-1]))
            for onward in self.net.onward(half):
                if onward not in came:
                    heappush(queue, (cost + self._step(half, onward), onward, half))
        return ()

    def extended(self, walk: Walk, toward: int) -> Walk:
        """Return a walk that goes on to a span; a single first span may be turned round for it."""
        if not walk:
            return (toward,)
        begun = [walk, (walk[0] ^ 1,)] if len(walk) == 1 else [walk]
        found = [(*each, *way) for each in begun if (way := self.onward(each[-1], toward))]
        return min(found, key=self.cost, default=walk)

    def is_closed(self, walk: Walk) -> bool:
        """Tell whether a walk ends where it began."""
        if not walk:
            return False
        first, last = self.net.span(walk[0]).curve, self.net.span(walk[-1]).curve
        return gap(start_of(first), end_of(last)) <= self.net.tol

    def whole_ring(self, half: int) -> Walk:
        """Return the half-edges of the whole circle on which one lies; empty where it is none."""
        if isinstance(self.net.span(half).curve, Line):
            return ()
        ring = [half]
        while not self.is_closed(tuple(ring)):
            last = ring[-1]
            onward = next((h for h in self.net.onward(last) if self.net.same_way(last, h)), None)
            if onward is None or onward in ring:
                return ()
            ring.append(onward)
        return tuple(ring)


def nearest_half(net: Arrangement, at: XY, reach: float) -> int | None:
    """Return the half-edge under the pointer, or None where none is within reach."""
    found = net.nearest(at)
    return found[0] if found is not None and found[1] <= reach else None
