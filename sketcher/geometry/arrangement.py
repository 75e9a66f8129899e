"""The regions that crossing curves cut the plane into: which one is under a point, what bounds it.

Crossings are exact, pieces that lie on each other count once, stubs are walked round but are no
boundary. Each piece of a boundary knows the curves that it lies on.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from math import tau

import numpy as np

from sketcher.geometry.bounds import tolerance
from sketcher.geometry.curve_table import CurveTable, Floats, Ints
from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.geometry.planar import Net, build, edge_rises
from sketcher.geometry.project import distance, signed_distance
from sketcher.geometry.winding import Rises

OUTSIDE = 0
"""Number of the unbounded face."""


@dataclass(frozen=True, slots=True)
class Span:
    """A piece of boundary in the direction of travel, and the ids of the curves that it lies on.

    Neighbouring spans share their ends bit by bit. A whole circle comes as a circle.
    """

    curve: Curve
    sources: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Boundary:
    """A closed run of spans with the region on the left: counter-clockwise, or clockwise (a hole).

    `area` is what it goes round: negative for a hole. A hole of one circle comes as a circle, which
    has no direction.
    """

    spans: tuple[Span, ...]
    area: float

    @property
    def hole(self) -> bool:
        """True when the region lies outside of the run."""
        return self.area <= 0.0

    @property
    def curves(self) -> tuple[Curve, ...]:
        """The spans' curves."""
        return tuple(span.curve for span in self.spans)


@dataclass(frozen=True, slots=True)
class Face:
    """A region: its number, its area (infinite for the unbounded one) and its boundary cycles."""

    number: int
    area: float
    outer: int | None
    holes: tuple[int, ...]


class Arrangement:
    """An arrangement of lines, arcs and circles.

    Parameters
    ----------
    items : iterable of (id, curve)
        The curves; those without length are passed over.
    tol : float, optional
        Places within this length are one; 1e-9 of the size by default.

    Notes
    -----
    Half-edge ``2 e`` runs along edge ``e``, ``2 e + 1`` back; a face lies on the left of each.
    Curves that miss each other by a few times the tolerance leave slivers as faces.
    """

    def __init__(self, items: Iterable[tuple[str, Curve]], tol: float | None = None) -> None:
        pairs = tuple(items)
        self.tol = tolerance(c for _, c in pairs) if tol is None else tol
        pairs = tuple((i, c) for i, c in pairs if c.length > self.tol)
        self.ids: tuple[str, ...] = tuple(i for i, _ in pairs)
        self._curves = [c for _, c in pairs]
        self.net: Net = build(self._curves, self.tol)
        self._bounded = np.flatnonzero(~self.net.outer)
        self._face_of_cycle = np.zeros(len(self.net.area), np.intp)
        self._face_of_cycle[self._bounded] = np.arange(1, len(self._bounded) + 1)
        self._place_parts()
        self._face = self._face_of_cycle[self.net.cycle]

    @cached_property
    def faces(self) -> tuple[Face, ...]:
        """All faces by number; the first is the unbounded one."""
        net = self.net
        holes: list[list[int]] = [[] for _ in range(len(self._bounded) + 1)]
        for cycle in np.flatnonzero(net.outer).tolist():
            holes[self._face_of_cycle[cycle]].append(cycle)
        taken = np.zeros(len(holes))
        np.add.at(taken, self._face_of_cycle[net.outer], net.area[net.outer])
        bounded = zip(self._bounded.tolist(), net.area[self._bounded] + taken[1:], strict=True)
        return (
            Face(OUTSIDE, np.inf, None, tuple(holes[0])),
            *(Face(k, float(a), c, tuple(holes[k])) for k, (c, a) in enumerate(bounded, 1)),
        )

    def face_at(self, point: XY) -> int:
        """Return the number of the face at a point; on an edge that of either side."""
        piece = self._rises.crossed(point)
        edge, sense = self._rises.owner[piece], self._rises.sense[piece]
        found = self._around(edge, sense)
        return int(self._face_of_cycle[found]) if found is not None else OUTSIDE

    def boundary(self, face: int, stubs: bool = False) -> tuple[Boundary, ...]:
        """Return the boundaries of a face: the outer one counter-clockwise, then holes clockwise.

        With `stubs`, edges that have the face on both sides are walked there and back.
        """
        if not stubs:
            return self.outline([face])
        entry = self.faces[face]
        cycles = ([] if entry.outer is None else [entry.outer]) + list(entry.holes)
        first = {int(c): h for h, c in reversed(list(enumerate(self.net.cycle.tolist())))}
        return tuple(self._boundary(self._cycle(first[c])) for c in cycles)

    def outline(self, faces: Collection[int]) -> tuple[Boundary, ...]:
        """Return the boundaries of faces taken together, with the region on the left.

        Outer boundaries come first, the largest before the others. What lies between two of the
        faces vanishes, and so do stubs and stray curves inside. A boundary that touches itself
        comes as several.
        """
        chosen = np.isin(self._face, np.fromiter(faces, np.intp))
        edge = chosen & ~chosen[np.arange(len(chosen)) ^ 1]
        left = dict.fromkeys(np.flatnonzero(edge).tolist())
        following = self.net.following
        loops: list[Boundary] = []
        while left:
            half = next(iter(left))
            run = []
            while half in left:
                del left[half]
                run.append(half)
                half = int(following[half])
                while not edge[half]:
                    half = int(following[half ^ 1])
            loops += (self._boundary(part) for part in self._simple(run))
        return tuple(sorted(loops, key=lambda loop: -loop.area))

    def neighbours(self, face: int) -> frozenset[int]:
        """Return the faces that share an edge with a face."""
        mine = np.flatnonzero(self._face == face)
        return frozenset(np.unique(self._face[mine ^ 1]).tolist()) - {face}

    def between(self, faces: Collection[int]) -> frozenset[str]:
        """Return the ids of the curves of which a piece lies between two faces of the set.

        A curve with the same face on both of its sides all along lies in it, not between.
        """
        chosen = np.isin(self._face, np.fromiter(faces, np.intp))
        parted = self._face[0::2] != self._face[1::2]
        edges = np.flatnonzero(chosen[0::2] & chosen[1::2] & parted)
        return frozenset(name for edge in edges.tolist() for name in self._sources(2 * edge))

    def overhanging(self, faces: Collection[int]) -> frozenset[str]:
        """Return the ids of the curves of which a part of the length alone bounds the set."""
        chosen = np.isin(self._face, np.fromiter(faces, np.intp))
        bounds = chosen[0::2] != chosen[1::2]
        of: dict[bool, set[str]] = {True: set(), False: set()}
        for edge, bound in enumerate(bounds.tolist()):
            of[bound].update(self._sources(2 * edge))
        return frozenset(of[True] & of[False])

    def covered(self, name: str, by: Collection[str]) -> bool:
        """Tell whether some of the curves `by` lie on a curve all along."""
        index = self.ids.index(name)
        others = frozenset(by) - {name}
        edges = np.flatnonzero(self.net.edges.curve == index)
        over = np.searchsorted(self.net.edges.first, edges, side="right") - 1
        return all(not others.isdisjoint(self._sources(2 * int(e))) for e in over)

    def stubs(self) -> tuple[Span, ...]:
        """Return the spans that bound nothing: the same face lies on both of their sides."""
        same = np.flatnonzero(self._face[0::2] == self._face[1::2])
        return tuple(self.span(2 * int(e)) for e in same)

    def span(self, half: int) -> Span:
        """Return one half-edge as a span in its direction of travel."""
        return self._spans([half], closed=False)[0]

    def nearest(self, point: XY) -> tuple[int, float] | None:
        """Return the half-edge nearest to a point, with the point on its left, and the distance."""
        if not len(self.net.edges):
            return None
        edges, at = self.net.edges, np.array([point], dtype=float)
        curve = int(np.argmin(self._table.distances_to_all(at)[0]))
        over = np.searchsorted(edges.first, np.flatnonzero(edges.curve == curve), side="right") - 1
        spans = [self.span(2 * int(e)).curve for e in over]
        apart = [distance(span, point) for span in spans]
        k = int(np.argmin(apart))
        left = signed_distance(spans[k], point) >= 0.0
        return 2 * int(over[k]) + int(not left), apart[k]

    def onward(self, half: int) -> tuple[int, ...]:
        """Return the half-edges that leave where `half` arrives, from the rightmost turn on."""
        ways, following = [], self.net.following
        way = int(following[half])
        while way != half ^ 1:
            ways.append(way)
            way = int(following[way ^ 1])
        return tuple(reversed(ways))

    def walk(self, halves: Sequence[int]) -> tuple[Span, ...]:
        """Return a walk along half-edges as spans, those along one curve put together."""
        for h, g in pairwise(halves):
            if self._head(h) != self._head(g ^ 1):
                raise ValueError("each half-edge must begin where the one before it ends")
        closed = bool(halves) and self._head(halves[-1]) == self._head(halves[0] ^ 1)
        return self._spans(list(halves), closed)

    def same_way(self, half: int, other: int) -> bool:
        """Return whether `other` goes on along the line or circle of `half`, in its sense."""
        edges = self.net.edges
        a, b = half >> 1, other >> 1
        if edges.carrier[a] != edges.carrier[b]:
            return False
        if edges.sweep[a] > 0.0:
            return (half ^ other) & 1 == 0
        (ax, ay), (bx, by) = self._direction(half), self._direction(other)
        return ax * bx + ay * by > 0.0

    def _direction(self, half: int) -> XY:
        start, end = self._tail(half), self._tail(half ^ 1)
        (x0, y0), (x1, y1) = self.net.nodes[[start, end]].tolist()
        return (x1 - x0, y1 - y0)

    def _tail(self, half: int) -> int:
        edges = self.net.edges
        return int((edges.head if half & 1 else edges.tail)[half >> 1])

    def _head(self, half: int) -> int:
        return self._tail(half ^ 1)

    def _cycle(self, first: int) -> list[int]:
        run, half = [first], int(self.net.following[first])
        while half != first:
            run.append(half)
            half = int(self.net.following[half])
        return run

    @cached_property
    def _rises(self) -> Rises:
        return edge_rises(self.net)

    @cached_property
    def _table(self) -> CurveTable:
        return CurveTable(self._curves)

    def _around(self, edge: Ints, sense: Floats) -> int | None:
        """Return the least bounded cycle round a point whose ray crosses these edges."""
        cycle = self.net.cycle
        wind = np.bincount(
            np.concatenate((cycle[2 * edge], cycle[2 * edge + 1])),
            weights=np.concatenate((sense, -sense)),
            minlength=len(self.net.area),
        )
        inside = np.flatnonzero((wind > 0.5) & ~self.net.outer)
        if not len(inside):
            return None
        return int(inside[np.argmin(self.net.area[inside])])

    def _place_parts(self) -> None:
        """Find for each connected part the face that it lies in."""
        net = self.net
        outer = np.flatnonzero(net.outer)
        if len(outer) < 2:
            return
        half = np.full(len(net.area), -1)
        half[net.cycle[::-1]] = np.arange(len(net.cycle))[::-1]
        tails = np.stack((net.edges.tail, net.edges.head), axis=1).ravel()
        probes = net.nodes[tails[half[outer]]]
        owner_part = net.part[net.cycle[0::2]]
        for first in range(0, len(outer), 64):
            group = outer[first : first + 64]
            at, piece = self._rises.crossed_by(probes[first : first + 64])
            edge, sense = self._rises.owner[piece], self._rises.sense[piece]
            other = owner_part[edge] != net.part[group[at]]
            at, edge, sense = at[other], edge[other], sense[other]
            for k, cycle in enumerate(group.tolist()):
                mine = at == k
                found = self._around(edge[mine], sense[mine])
                if found is not None:
                    self._face_of_cycle[cycle] = self._face_of_cycle[found]

    def _area(self, run: Sequence[int]) -> float:
        net = self.net
        total = 0.0
        for half in run:
            e = half >> 1
            (xa, ya), (xb, yb) = net.nodes[net.edges.tail[e]], net.nodes[net.edges.head[e]]
            sweep = float(net.edges.sweep[e])
            part = xa * yb - xb * ya + net.edges.radius[e] ** 2 * (sweep - np.sin(sweep))
            total += -part if half & 1 else part
        return 0.5 * float(total)

    def _sources(self, half: int) -> tuple[str, ...]:
        edges = self.net.edges
        e = half >> 1
        return tuple(self.ids[k] for k in edges.curve[edges.first[e] : edges.first[e + 1]])

    def _simple(self, run: Sequence[int]) -> list[list[int]]:
        """Cut a closed run where it passes a node twice."""
        parts: list[list[int]] = []
        walk: list[int] = []
        place: dict[int, int] = {}
        for half in run:
            place[self._tail(half)] = len(walk)
            walk.append(half)
            since = place.get(self._head(half))
            if since is not None:
                parts.append(walk[since:])
                for done in walk[since + 1 :]:
                    del place[self._tail(done)]
                del walk[since:]
        return parts

    def _boundary(self, run: Sequence[int]) -> Boundary:
        return Boundary(self._spans(run), self._area(run))

    def _spans(self, run: Sequence[int], closed: bool = True) -> tuple[Span, ...]:
        """Put half-edges that follow one curve together."""
        groups: list[tuple[list[int], tuple[str, ...]]] = []
        for half in run:
            sources = self._sources(half)
            if groups and self.same_way(groups[-1][0][-1], half):
                common = tuple(s for s in groups[-1][1] if s in sources)
                if common:
                    groups[-1] = ([*groups[-1][0], half], common)
                    continue
            groups.append(([half], sources))
        if closed and len(groups) > 1 and self.same_way(groups[-1][0][-1], groups[0][0][0]):
            common = tuple(s for s in groups[-1][1] if s in groups[0][1])
            if common:
                halves = groups.pop()[0]
                groups[0] = ([*halves, *groups[0][0]], common)
        return tuple(Span(self._curve(halves), sources) for halves, sources in groups)

    def _curve(self, halves: Sequence[int]) -> Curve:
        """One curve along half-edges of one carrier."""
        edges, e = self.net.edges, halves[0] >> 1
        start, end = self._tail(halves[0]), self._head(halves[-1])
        p, q = (tuple(self.net.nodes[n].tolist()) for n in (start, end))
        if edges.sweep[e] == 0.0:
            return Line(p, q)
        center = tuple(edges.center[e].tolist())
        if start == end:
            turned = sum(float(edges.sweep[h >> 1]) for h in halves)
            if turned > 0.5 * tau:
                return Circle(center, float(edges.radius[e]))
        return Arc(center, p, q, ccw=not halves[0] & 1)
