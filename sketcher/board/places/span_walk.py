"""The way along spans from where a walk stands to the span under the pointer."""

from __future__ import annotations

from heapq import heappop, heappush
from itertools import pairwise
from math import dist, hypot

import numpy as np

from sketcher.geometry.arrangement import Arrangement
from sketcher.geometry.curves import XY, Line
from sketcher.geometry.evaluate import end_of, start_of
from sketcher.part.tracing import SMOOTH

JOINT = 0.4
"""What a tangent joint counts beside a corner: two of them are preferred to one corner."""

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
        nodes, edges = net.net.nodes, net.net.edges
        low, high = nodes.min(axis=0), nodes.max(axis=0)
        self._trees: dict[int, dict[int, tuple[float, int]]] = {}
        # A corner outweighs every detour on the sheet.
        self._corner = 2.0 * hypot(*(high - low).tolist())
        way = nodes[edges.head] - nodes[edges.tail]
        chord = np.hypot(way[:, 0], way[:, 1])
        line = edges.sweep == 0.0
        length = np.where(line, chord, edges.radius * edges.sweep)
        self._length: list[float] = length.tolist()
        self._carrier: list[int] = edges.carrier.tolist()
        self._following: list[int] = net.net.following.tolist()
        straight = way / np.where(chord, chord, 1.0)[:, None]
        ends = [straight, -straight]
        for node, sign, k in ((edges.tail, 1.0, 0), (edges.head, -1.0, 1)):
            spoke = (nodes[node] - edges.center) / np.where(line, 1.0, edges.radius)[:, None]
            round_ = sign * np.stack((-spoke[:, 1], spoke[:, 0]), axis=1)
            ends[k] = np.where(line[:, None], ends[k], round_)
        # The direction in which each half-edge leaves its node.
        self._leaves: list[list[float]] = np.stack(ends, axis=1).reshape(-1, 2).tolist()

    def _step(self, half: int, onward: int) -> float:
        """Return what it costs to go on: the length, and more for leaving the curve."""
        length = self._length[onward >> 1]
        (ax, ay), (bx, by) = self._leaves[half ^ 1], self._leaves[onward]
        smooth = abs(ax * by - ay * bx) <= SMOOTH and ax * bx + ay * by < 0.0
        if smooth and self._carrier[half >> 1] == self._carrier[onward >> 1]:
            return length
        return length + self._corner * (JOINT if smooth else 1.0)

    def _onward(self, half: int) -> list[int]:
        """Return the half-edges that leave where one arrives, but for the way back."""
        ways, following = [], self._following
        way = following[half]
        while way != half ^ 1:
            ways.append(way)
            way = following[way ^ 1]
        return ways

    def cost(self, walk: Walk) -> float:
        """Return what a walk costs after its first span."""
        return sum(self._step(half, onward) for half, onward in pairwise(walk))

    def onward(self, last: int, toward: int) -> Walk:
        """Return the half-edges that lead on from `last` to the edge of `toward`, itself included.

        The way with the fewest corners, of those the shortest; a tangent joint counts less than a
        corner, so that a fillet is taken rather than the corner that it rounds. Empty where there
        is no way. It never turns back on the spot.
        """
        if last >> 1 == toward >> 1:
            return ()
        tree = self._tree(last)
        found = [half for half in (toward, toward ^ 1) if half in tree]
        if not found:
            return ()
        way = [min(found, key=lambda half: tree[half][0])]
        while tree[way[-1]][1] != last:
            way.append(tree[way[-1]][1])
        return tuple(reversed(way))

    def _tree(self, last: int) -> dict[int, tuple[float, int]]:
        """Return for every half-edge that can be reached its cost and the one before it.

        Kept for the last two starts, so that a pointer that moves costs nothing more.
        """
        if last in self._trees:
            return self._trees[last]
        tree: dict[int, tuple[float, int]] = {}
        queue: list[tuple[float, int, int]] = [(0.0, last, last)]
        while queue:
            cost, half, before = heappop(queue)
            if half in tree:
                continue
            tree[half] = (cost, before)
            for onward in self._onward(half):
                if onward not in tree:
                    heappush(queue, (cost + self._step(half, onward), onward, half))
        for old in list(self._trees)[:-1]:
            del self._trees[old]
        self._trees[last] = tree
        return tree

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
        return dist(start_of(first), end_of(last)) <= self.net.tol

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
