"""Loops out of a net of curves: the outer boundary first, then what is left inside."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Sequence
from math import asin, atan2, copysign, dist, pi, remainder, tau
from typing import TypeAlias

from sketcher.geometry.chain import Nodes, goes_round
from sketcher.geometry.curves import Circle, Curve, Line
from sketcher.geometry.evaluate import midpoint, reversed_curve
from sketcher.geometry.moments import signed_area

Step: TypeAlias = tuple[int, bool]
"""Index of a curve and whether it is travelled backwards."""


def peel(
    curves: Sequence[Curve], net: Nodes, without: Collection[int] = ()
) -> tuple[list[list[Step]], list[int]]:
    """Return the loops, each as steps head to tail, and the curves that belong to none.

    Curves whose index is in `without` are passed over.
    """
    loops: list[list[Step]] = []
    rest: dict[int, None] = {}
    for k, curve in enumerate(curves):
        if k in without:
            continue
        if goes_round(curve):
            loops.append([(k, False)])
        else:
            rest[k] = None
    strays: list[int] = []
    while rest:
        before = len(rest)
        for part in _parts(net, rest):
            boundary = _ring(net, part) or _outer(curves, net, part)
            taken = [k for k, _ in boundary]
            bridges = {k for k, times in Counter(taken).items() if times > 1}
            loops += _simple([s for s in boundary if s[0] not in bridges], net)
            strays += bridges
            for k in taken:
                rest.pop(k, None)
        if len(rest) == before:
            strays += rest
            break
    return loops, sorted(strays)


def _parts(net: Nodes, rest: dict[int, None]) -> list[dict[int, None]]:
    """Connected parts of the curves that are left."""
    parts, seen = [], set()
    for first in rest:
        if first in seen:
            continue
        part: dict[int, None] = {}
        todo = [first]
        seen.add(first)
        while todo:
            k = todo.pop()
            part[k] = None
            for node in net.ends[k]:
                for other in net.at[node]:
                    if other in rest and other not in seen:
                        seen.add(other)
                        todo.append(other)
        parts.append(part)
    return parts


def _ring(net: Nodes, part: dict[int, None]) -> list[Step]:
    """Steps round a part in which every place has two curves; empty when it is not so simple."""
    at = _around(net, part)
    if any(len(ends) != 2 for ends in at.values()):
        return []
    first = next(iter(part))
    steps: list[Step] = [(first, False)]
    node = net.ends[first][1]
    while True:
        k, back = steps[-1]
        following = [s for s in at[node] if s != (k, not back)]
        step = following[0] if following else at[node][0]
        if step[0] == first:
            return steps
        steps.append(step)
        node = net.ends[step[0]][0 if step[1] else 1]


def _around(net: Nodes, part: Iterable[int]) -> dict[int, list[Step]]:
    """For each node the steps that leave it."""
    at: dict[int, list[Step]] = {}
    for k in part:
        u, v = net.ends[k]
        at.setdefault(u, []).append((k, False))
        at.setdefault(v, []).append((k, True))
    return at


def _outer(curves: Sequence[Curve], net: Nodes, part: dict[int, None]) -> list[Step]:
    """Steps of the outer boundary of a part, counter-clockwise."""
    at = _around(net, part)
    following: dict[Step, Step] = {}
    for node, leaving in at.items():
        order = sorted(leaving, key=_bearings(curves, net, node, leaving).__getitem__)
        for step, after in zip(order, [*order[1:], order[0]], strict=True):
            # Arriving against `step`, the sharpest turn to the right is the next leaving one.
            following[(step[0], not step[1])] = after
    best: list[Step] = []
    least = 0.0
    left = dict.fromkeys(following)
    while left:
        first = next(iter(left))
        walk, step = [], first
        while step in left:
            del left[step]
            walk.append(step)
            step = following[step]
        area = _area(curves, walk)
        if not best or area > least:
            best, least = walk, area
    return best


def _area(curves: Sequence[Curve], walk: Sequence[Step]) -> float:
    return signed_area(reversed_curve(curves[k]) if back else curves[k] for k, back in walk)


def _bearings(
    curves: Sequence[Curve], net: Nodes, node: int, leaving: Sequence[Step]
) -> dict[Step, float]:
    """Direction of each curve where it has left the node by one common distance.

    Half the way to the nearest middle: there tangent curves have come apart, and none has met
    another yet.
    """
    at = net.points[node]
    reach = 0.5 * min(dist(midpoint(curves[k]), at) for k, _ in leaving)
    return {step: bearing(curves[step[0]], step[1], reach) for step in leaving}


def bearing(curve: Curve, back: bool, reach: float) -> float:
    """Return the direction in (-pi, pi] from an end to where the curve is `reach` away from it.

    From the start, or with `back` from the end.
    """
    if isinstance(curve, Line):
        start, end = (curve.end, curve.start) if back else (curve.start, curve.end)
        return atan2(end[1] - start[1], end[0] - start[0])
    assert not isinstance(curve, Circle)
    sense = copysign(1.0, -curve.sweep if back else curve.sweep)
    ray = curve.start_angle + (curve.sweep if back else 0.0)
    # A chord stands off its tangent by half the angle that it spans.
    angle = ray + sense * (0.5 * pi + asin(min(1.0, 0.5 * reach / curve.radius)))
    return remainder(angle, tau)


def _simple(boundary: list[Step], net: Nodes) -> list[list[Step]]:
    """Cut a closed walk where it passes a node twice."""
    loops: list[list[Step]] = []
    walk: list[Step] = []
    came: dict[int, int] = {}
    for step in boundary:
        k, back = step
        start, end = net.ends[k] if not back else net.ends[k][::-1]
        came.setdefault(start, len(walk))
        walk.append(step)
        if end in came:
            since = came[end]
            loops.append(walk[since:])
            for n, place in list(came.items()):
                if place > since:
                    del came[n]
            del walk[since:]
        else:
            came[end] = len(walk)
    return loops

