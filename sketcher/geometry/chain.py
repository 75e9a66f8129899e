"""Curves joined end to end: runs and their direction."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

import numpy as np

from sketcher.geometry.bounds import tolerance
from sketcher.geometry.cluster import clusters
from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.geometry.evaluate import reversed_curve


class Chain(NamedTuple):
    """Curves head to tail, turned round where needed; `closed` when the end meets the start."""

    ids: tuple[str, ...]
    curves: tuple[Curve, ...]
    closed: bool


class Nodes(NamedTuple):
    """Which ends of curves are one place.

    `ends` holds for each curve the numbers of its two nodes, (-1, -1) for a circle and for an arc
    of a full turn; `points` holds the place of each node, the first end that was found there.
    """

    ends: tuple[tuple[int, int], ...]
    points: tuple[XY, ...]
    at: tuple[tuple[int, ...], ...]
    """For each node the curves that end there; a curve that returns to its start stands twice."""


def nodes(curves: Sequence[Curve], tol: float) -> Nodes:
    """Join the ends of curves that are within `tol` of each other."""
    open_curves = [k for k, c in enumerate(curves) if not goes_round(c)]
    ends = [p for k in open_curves for p in (curves[k].start, curves[k].end)]  # type: ignore[union-attr]
    labels = clusters(np.array(ends, dtype=float).reshape(len(ends), 2), tol)
    first, number = np.unique(labels, return_inverse=True)
    pairs = [(-1, -1)] * len(curves)
    at: list[list[int]] = [[] for _ in first]
    for k, (u, v) in zip(open_curves, number.reshape(-1, 2).tolist(), strict=True):
        pairs[k] = (u, v)
        at[u].append(k)
        at[v].append(k)
    return Nodes(tuple(pairs), tuple(ends[k] for k in first), tuple(tuple(a) for a in at))


def goes_round(curve: Curve) -> bool:
    """Return whether the curve closes by itself: a circle, or an arc of a full turn."""
    return isinstance(curve, Circle) or (isinstance(curve, Arc) and curve.start == curve.end)


def chains(items: Iterable[tuple[str, Curve]], tol: float | None = None) -> tuple[Chain, ...]:
    """Return the longest runs of curves that meet end to end.

    A run ends where more than two curves meet and where nothing follows. Neighbours share their
    ends bit by bit afterwards. The first curve of an open run keeps its direction.
    """
    pairs = tuple(items)
    ids, curves = [i for i, _ in pairs], [c for _, c in pairs]
    net = nodes(curves, tolerance(curves) if tol is None else tol)
    left = dict.fromkeys(range(len(curves)))
    found = []
    while left:
        first = next(iter(left))
        del left[first]
        if goes_round(curves[first]):
            found.append(Chain((ids[first],), (curves[first],), True))
            continue
        ahead = _follow(net, left, net.ends[first][1])
        behind = _follow(net, left, net.ends[first][0])
        run = [*((k, not turned) for k, turned in reversed(behind)), (first, False), *ahead]
        found.append(_chain(ids, curves, net, run))
    return tuple(found)


def oriented(curve: Curve, ends: tuple[int, int], turned: bool, points: Sequence[XY]) -> Curve:
    """Return the curve between the places of its nodes, turned round when `turned`."""
    if not isinstance(curve, Circle) and ends[0] != ends[1]:
        start, end = points[ends[0]], points[ends[1]]
        if isinstance(curve, Line):
            curve = Line(start, end)
        else:
            curve = Arc(curve.center, start, end, curve.ccw)
    return reversed_curve(curve) if turned else curve


def _follow(net: Nodes, left: dict[int, None], node: int) -> list[tuple[int, bool]]:
    """Curves that follow from a node on, with whether they are travelled backwards."""
    run = []
    while len(net.at[node]) == 2:
        following = [k for k in net.at[node] if k in left]
        if not following:
            break
        k = following[0]
        del left[k]
        u, v = net.ends[k]
        turned = v == node and u != node
        run.append((k, turned))
        node = u if turned else v
    return run


def _chain(
    ids: list[str], curves: list[Curve], net: Nodes, run: list[tuple[int, bool]]
) -> Chain:
    parts = tuple(oriented(curves[k], net.ends[k], turned, net.points) for k, turned in run)
    (first, first_turned), (last, last_turned) = run[0], run[-1]
    closed = net.ends[first][int(first_turned)] == net.ends[last][int(not last_turned)]
    return Chain(tuple(ids[k] for k, _ in run), parts, closed)
