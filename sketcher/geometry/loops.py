"""Closed loops of an outline, their nesting, and whatever keeps it from being sound."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from math import dist
from typing import Literal, NamedTuple, TypeAlias

import numpy as np

from sketcher.geometry.bounds import tolerance
from sketcher.geometry.chain import Nodes, goes_round, nodes, oriented
from sketcher.geometry.cluster import clusters
from sketcher.geometry.curve_table import Bools, CurveTable, Floats
from sketcher.geometry.curves import XY, Curve
from sketcher.geometry.evaluate import midpoint, point_at, reversed_curve
from sketcher.geometry.loop_peeling import Step, peel
from sketcher.geometry.meet import overlap
from sketcher.geometry.meet_many import Meetings, meetings
from sketcher.geometry.moments import Moments, section, signed_area
from sketcher.geometry.winding import Rises

CrossingKind: TypeAlias = Literal["crossing", "touch", "end"]

MOST = 1000
"""Crossings, and overlaps, that are named; a thousand circles on each other have half a million."""

LARGEST = 200
"""Loops that others are looked for in where outlines cross by the thousand.

Which of those lies in which has no meaning; the plate around them is among the largest.
"""

ROWS = 256
"""Loops placed among all others in one go; keeps memory small where many lie in each other."""


@dataclass(frozen=True)
class Loop:
    """A closed run of curves, head to tail: counter-clockwise, or clockwise round a hole.

    `depth` counts the loops around it, `parent` is the index of the next one, None outermost.
    """

    ids: tuple[str, ...]
    curves: tuple[Curve, ...]
    depth: int = 0
    parent: int | None = None

    @property
    def hole(self) -> bool:
        """True where material is taken away: inside an odd number of other loops."""
        return self.depth % 2 == 1

    @cached_property
    def area(self) -> float:
        """Enclosed area, positive."""
        return abs(signed_area(self.curves))

    @cached_property
    def perimeter(self) -> float:
        """Length of the loop."""
        return sum(curve.length for curve in self.curves)

    @cached_property
    def _rises(self) -> Rises:
        return Rises(self.curves)

    def contains(self, point: XY) -> bool:
        """Return whether `point` is inside; on the boundary either may be said."""
        return len(self._rises.crossed(point)) % 2 == 1


class LoopCrossing(NamedTuple):
    """A place where two curves meet other than end to end.

    `kind` is ``"crossing"``, ``"touch"`` (tangent to each other) or ``"end"`` (one ends on the
    other between its ends). `a` and `b` are one id when a loop of one curve meets itself.
    """

    a: str
    b: str
    point: XY
    kind: CrossingKind


class Overlap(NamedTuple):
    """Two curves that run over the same place: the pieces that are there twice."""

    a: str
    b: str
    pieces: tuple[Curve, ...]


class Branch(NamedTuple):
    """A place where more than two curves end."""

    point: XY
    ids: tuple[str, ...]


@dataclass(frozen=True)
class Loops:
    """What the curves form: see the attributes' own classes.

    `strays` are curves that belong to no loop, `specks` those no longer than the tolerance. Of a
    curve that is there several times only the first is looked at further: `copies` names it for
    each of the others, which overlap it. At most `MOST` crossings and as many overlaps of parts of
    curves are named; `more` tells that there are further ones.
    """

    loops: tuple[Loop, ...]
    strays: tuple[str, ...]
    specks: tuple[str, ...]
    crossings: tuple[LoopCrossing, ...]
    overlaps: tuple[Overlap, ...]
    branches: tuple[Branch, ...]
    copies: Mapping[str, str] = field(default_factory=dict)
    more: bool = False

    @property
    def sound(self) -> bool:
        """True when every curve is part of a loop and no loop meets itself or another."""
        faults = (self.strays, self.specks, self.crossings, self.overlaps, self.branches)
        return bool(self.loops) and not any(faults)

    @cached_property
    def moments(self) -> Moments:
        """Area, centroid and second moments of the material, holes taken away."""
        return section((loop.curves, loop.hole) for loop in self.loops)

    def contains(self, point: XY) -> bool:
        """Return whether there is material at `point`."""
        return sum(loop.contains(point) for loop in self.loops) % 2 == 1

def find_loops(items: Iterable[tuple[str, Curve]], tol: float | None = None) -> Loops:
    """Sort curves into closed loops and report what does not fit.

    Parameters
    ----------
    items : iterable of (id, curve)
        The outline, in any order and direction.
    tol : float, optional
        Ends within this length are one place; 1e-9 of the size by default.

    Notes
    -----
    Where more than two curves meet, the outer boundary is taken first and cut where it passes a
    place twice; what then leads nowhere is a stray. So a line across a closed outline is a stray
    and the outline stays a loop. Neighbours in a loop share their ends bit by bit.
    """
    given = tuple(items)
    tol = tolerance(c for _, c in given) if tol is None else tol
    short = [not goes_round(c) and c.length <= tol for _, c in given]
    ids = [i for (i, _), s in zip(given, short, strict=True) if not s]
    curves = [c for (_, c), s in zip(given, short, strict=True) if not s]
    net = nodes(curves, tol)
    twins = _twins(curves, net, tol)
    found, strays = peel(curves, net, twins)
    strays = sorted([*strays, *twins])
    runs = [
        tuple(oriented(curves[k], net.ends[k], back, net.points) for k, back in steps)
        for steps in found
    ]
    crossings, overlaps, more = _meetings(ids, curves, twins, tol)
    return Loops(
        loops=_nested(ids, found, runs, LARGEST if more else len(runs)),
        strays=tuple(ids[k] for k in strays),
        specks=tuple(i for (i, _), s in zip(given, short, strict=True) if s),
        crossings=crossings,
        overlaps=overlaps,
        branches=tuple(
            Branch(point, tuple(ids[k] for k in dict.fromkeys(at)))
            for point, at in zip(net.points, net.at, strict=True)
            if len(at) > 2
        ),
        copies={ids[k]: ids[one] for k, one in twins.items()},
        more=more,
    )


def _twins(curves: Sequence[Curve], net: Nodes, tol: float) -> dict[int, int]:
    """Curves that run from end to end over an earlier one, with that one, which is enough."""
    around = [k for k, c in enumerate(curves) if goes_round(c)]
    table = CurveTable([curves[k] for k in around])
    place = dict(zip(around, clusters(table.center, tol).tolist(), strict=True))
    first: dict[tuple[int, int], list[tuple[int, XY]]] = {}
    twins = {}
    for k, curve in enumerate(curves):
        if k in place:
            key, mine = (-1, place[k]), (curve.radius, 0.0)  # type: ignore[union-attr]
        else:
            key, mine = (min(net.ends[k]), max(net.ends[k])), midpoint(curve)
        earlier = first.setdefault(key, [])
        same = (n for n, at in earlier if dist(at, mine) <= tol)
        if (n := next(same, None)) is not None:
            twins[k] = n
        else:
            earlier.append((k, mine))
    return twins


def _nested(
    ids: list[str], found: Sequence[Sequence[Step]], runs: Sequence[tuple[Curve, ...]], most: int
) -> tuple[Loop, ...]:
    """Count for each loop how many of the `most` largest are around it; turn it the right way."""
    areas = [signed_area(run) for run in runs]
    depths, parents = _inside(runs, np.abs(np.array(areas, dtype=float)), most)
    loops = []
    for k, (steps, run) in enumerate(zip(found, runs, strict=True)):
        names = tuple(ids[i] for i, _ in steps)
        if (areas[k] > 0.0) == (depths[k] % 2 == 1):
            names, run = names[::-1], tuple(reversed_curve(c) for c in reversed(run))
        loops.append(Loop(names, run, depths[k], parents.get(k)))
    return tuple(loops)


def _inside(
    runs: Sequence[tuple[Curve, ...]], size: Floats, most: int
) -> tuple[list[int], dict[int, int]]:
    """Return for each loop how many larger ones are around it, and the smallest of those.

    Only the `most` largest count as being around others.

    Three places on each loop are tried and two must agree, so that none decides by itself that lies
    just where the loops touch.
    """
    count = len(runs)
    largest = np.sort(np.argsort(-size, kind="stable")[:most])
    rises = Rises([curve for k in largest for curve in runs[k]])
    owner = np.repeat(largest, [len(runs[k]) for k in largest])[rises.owner]
    probes = [
        np.array([point_at(run[k * len(run) // 3], t) for run in runs]).reshape(count, 2)
        for k, t in enumerate((0.5, 0.31, 0.83))
    ]
    depths, parents = np.zeros(count, np.intp), dict[int, int]()
    for first in range(0, count, ROWS):
        votes = []
        for places in probes:
            at, piece = rises.crossed_by(places[first : first + ROWS])
            pair, times = np.unique(at * count + owner[piece], return_counts=True)
            votes.append(pair[times % 2 == 1])
        pair, times = np.unique(np.concatenate(votes), return_counts=True)
        inner, outer = np.divmod(pair[times >= 2], max(1, count))
        inner = inner + first
        smaller = size[inner] < size[outer]
        inner, outer = inner[smaller], outer[smaller]
        depths += np.bincount(inner, minlength=count)
        order = np.argsort(-size[outer], kind="stable")
        # Pairs come with the largest loop around first: the last one stays.
        parents.update(zip(inner[order].tolist(), outer[order].tolist(), strict=True))
    return depths.tolist(), parents


def _meetings(
    ids: list[str], curves: list[Curve], twins: Mapping[int, int], tol: float
) -> tuple[tuple[LoopCrossing, ...], tuple[Overlap, ...], bool]:
    """Return the crossings, the overlaps, and whether there are more than were looked for."""
    overlaps = [
        Overlap(ids[one], ids[k], overlap(curves[one], curves[k], tol) or (curves[one],))
        for k, one in twins.items()
    ]
    twice = len(overlaps)
    crossings: list[LoopCrossing] = []
    more = False
    alone = [k for k in range(len(curves)) if k not in twins]
    table = CurveTable([curves[k] for k in alone])
    for met in meetings(table, tol):
        joint = _at_end(met.ta, table.full[met.a]) & _at_end(met.tb, table.full[met.b])
        apart = np.flatnonzero(~joint & ~met.shared)
        shared = dict.fromkeys(zip(met.a[met.shared].tolist(), met.b[met.shared].tolist(),
                                   strict=True))
        for k in apart[:MOST - len(crossings)]:
            crossings.append(_crossing(ids, alone, table, met, int(k)))
        for i, j in shared:
            a, b = alone[i], alone[j]
            pieces = overlap(curves[a], curves[b], tol) if len(overlaps) < twice + MOST else ()
            if pieces:
                overlaps.append(Overlap(ids[a], ids[b], pieces))
        more |= len(crossings) == MOST or len(overlaps) == twice + MOST
        if more:
            break
    return tuple(crossings), tuple(overlaps), more


def _at_end(t: Floats, full: Bools) -> Bools:
    out: Bools = ((t == 0.0) | (t == 1.0)) & ~full
    return out


def _crossing(
    ids: list[str], alone: list[int], table: CurveTable, met: Meetings, k: int
) -> LoopCrossing:
    a, b = int(met.a[k]), int(met.b[k])
    ends = (met.ta[k] in (0.0, 1.0) and not table.full[a]) or (
        met.tb[k] in (0.0, 1.0) and not table.full[b]
    )
    kind: CrossingKind = "end" if ends else "touch" if met.touch[k] else "crossing"
    names = ids[alone[a]], ids[alone[b]]
    return LoopCrossing(*names, (float(met.point[k, 0]), float(met.point[k, 1])), kind)
