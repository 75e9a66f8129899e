"""One curve drawn in pieces becomes one curve."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import dist, radians, remainder, tau
from typing import NamedTuple, TypeAlias

from sketcher.errors import GeometryError
from sketcher.geometry.arcs import arc_through
from sketcher.geometry.bounds import tolerance
from sketcher.geometry.chain import Nodes, nodes, oriented
from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.geometry.evaluate import angle_between, joint_angle, midpoint
from sketcher.geometry.project import distance
from sketcher.intake.linework import Repair, TakenCurve, repair_name
from sketcher.intake.wishes import Wishes
from sketcher.interrupt import check

STRAIGHT = radians(2.0)
"""A joint that breaks by more is a corner, however short the curves beside it. The same limit as
for joints that are made tangent."""

EVEN = 2.0
"""Turns that follow each other the one way and differ by less than this factor are the chords of
an arc and no seams, even where each of them is below what the file's decimals tell."""

STREAK = 3
"""So many such turns at least; rounding alone gives three of one sign and size now and then (one
time in sixteen), and a line that stays in pieces there harms less than an arc that lost a chord."""


Open: TypeAlias = Line | Arc


class _Run(NamedTuple):
    """Curves that follow each other at seams, in order of travel; a ring comes round again."""

    numbers: list[int]
    curves: list[Open]
    ring: bool


def joined(
    curves: Sequence[TakenCurve], wishes: Wishes, one: float, off: float
) -> tuple[list[TakenCurve], list[Repair]]:
    """Return the drawing with one curve for pieces of one line or circle, and what was joined.

    Pieces are joined where just two of them end, go on smoothly, and leave what takes their place
    by at most `off`.

    Parameters
    ----------
    curves : sequence of TakenCurve
    wishes : Wishes
    one : float
        Places within this length are one.
    off : float
        How far a piece may leave the curve that takes its place.
    """
    plain = [each.curve for each in curves]
    net = nodes(plain, one)
    partner = _partners(plain, net, off)
    exact = tolerance(plain)
    instead: dict[int, list[TakenCurve]] = {}
    told: list[Repair] = []
    for run in _runs(plain, net, partner):
        check()
        for numbers, before, whole in _whole(run, off, exact):
            entities = tuple(sorted({e for n in numbers for e in curves[n].entities}))
            taken = wishes.makes("seam", repair_name("seam", entities))
            told.append(Repair(
                "seam", before[0].end, _leaves(before, whole), entities,
                f"{_noun(whole)} in pieces; joined", taken, tuple(before), (whole,)))
            if taken:
                instead.update({n: [] for n in numbers})
                instead[min(numbers)] = [TakenCurve(whole, entities)]
    return [new for n, each in enumerate(curves) for new in instead.get(n, [each])], told


def _noun(curve: Curve) -> str:
    return type(curve).__name__.lower()


def _partners(curves: Sequence[Curve], net: Nodes, off: float) -> dict[tuple[int, int], int]:
    """For a curve and a place where it may go on: the curve that goes on there."""
    found: dict[tuple[int, int], int] = {}
    for node, at in enumerate(net.at):
        if len(at) != 2 or at[0] == at[1]:
            continue
        a, b = (curves[k] for k in at)
        if type(a) is type(b) and _goes_on(a, b, net.points[node], off):
            found[at[0], node], found[at[1], node] = at[1], at[0]
    return found


def _goes_on(a: Curve, b: Curve, at: XY, off: float) -> bool:
    if joint_angle(a, b, at) > STRAIGHT:
        return False
    if isinstance(a, Line) and isinstance(b, Line):
        far = Line(*(max((c.start, c.end), key=lambda p: dist(p, at)) for c in (a, b)))
        return distance(far, at) <= off
    if not (isinstance(a, Arc) and isinstance(b, Arc)):
        return False
    # Travelled away from the joint, one arc of a circle turns left and the other right.
    left = [arc.ccw == (dist(arc.start, at) <= dist(arc.end, at)) for arc in (a, b)]
    return left[0] != left[1]


def _runs(
    curves: Sequence[Curve], net: Nodes, partner: dict[tuple[int, int], int]
) -> Iterator[_Run]:
    seen: set[int] = set()
    firsts = [(k, node) for k, node in partner
              if (k, _other(net, k, node)) not in partner]
    for k, node in [*firsts, *partner]:
        if k in seen:
            continue
        numbers: list[int] = []
        run: list[Open] = []
        here = _other(net, k, node)
        while k not in seen:
            seen.add(k)
            numbers.append(k)
            turned = oriented(curves[k], net.ends[k], net.ends[k][0] != here, net.points)
            assert not isinstance(turned, Circle)
            run.append(turned)
            here = _other(net, k, here)
            if (k, here) not in partner:
                break
            k = partner[k, here]
        yield _Run(numbers, run, (numbers[-1], here) in partner and len(numbers) > 1)


def _other(net: Nodes, k: int, node: int) -> int:
    u, v = net.ends[k]
    return v if u == node else u


def _whole(
    run: _Run, off: float, exact: float
) -> Iterator[tuple[list[int], list[Open], Curve]]:
    """Yield the parts of a run that are one curve, with that curve."""
    arcs = [curve for curve in run.curves if isinstance(curve, Arc)]
    if run.ring and arcs:
        ring = _ring(arcs, off)
        if ring is not None:
            yield run.numbers, run.curves, ring
            return
    for first, last in _without_chords(run.curves, exact):
        yield from _parts(run.numbers[first:last], run.curves[first:last], off)


def _without_chords(curves: Sequence[Open], exact: float) -> list[tuple[int, int]]:
    """Cut a run at joints that belong to the chords of an arc."""
    if not isinstance(curves[0], Line):
        return [(0, len(curves))]
    turns = [angle_between(a, b) for a, b in pairwise(curves)]
    real = [abs(t) * min(a.length, b.length) > exact
            for t, (a, b) in zip(turns, pairwise(curves), strict=True)]
    cuts: set[int] = set()
    first = 0
    for k in range(1, len(turns) + 1):
        alike = k < len(turns) and real[k] and real[k - 1] and (
            turns[k] * turns[k - 1] > 0.0
            and 1.0 / EVEN <= turns[k] / turns[k - 1] <= EVEN)
        if not alike:
            if k - first >= STREAK:
                cuts.update(range(first + 1, k + 1))
            first = k
    stops = [0, *sorted(cuts), len(curves)]
    return [(a, b) for a, b in pairwise(stops) if b > a]


def _parts(
    numbers: list[int], curves: list[Open], off: float
) -> Iterator[tuple[list[int], list[Open], Curve]]:
    """Join all of a run, or what is left on either side of where it leaves one curve most."""
    if len(curves) < 2:
        return
    straight = Line(curves[0].start, curves[-1].end)
    arcs = [curve for curve in curves if isinstance(curve, Arc)]
    whole: Curve | None = _arc(arcs, off) if arcs else straight
    if whole is not None and _leaves(curves, whole) <= off:
        yield numbers, curves, whole
        return
    def breaks(k: int) -> float:
        if arcs:
            return abs(arcs[k].radius - arcs[k - 1].radius)
        return distance(straight, curves[k].start)

    worst = max(range(1, len(curves)), key=breaks)
    yield from _parts(numbers[:worst], curves[:worst], off)
    yield from _parts(numbers[worst:], curves[worst:], off)


def _arc(curves: Sequence[Arc], off: float) -> Arc | None:
    """Return the arc that a run of arcs is: about their mean center, or through their places."""
    first, last = curves[0], curves[-1]
    turn = sum(abs(curve.sweep) for curve in curves)
    if turn > tau or dist(first.start, last.end) <= off:
        return None
    center = _mean_center(curves)
    about = Arc(center, first.start, last.end, first.ccw)
    if abs(remainder(abs(about.sweep) - turn, tau)) < 0.5 and _leaves(curves, about) <= off:
        return about
    middle = min((p for c in curves for p in (midpoint(c), c.end)),
                 key=lambda p: abs(dist(p, first.start) - dist(p, last.end)))
    try:
        return arc_through(first.start, middle, last.end)
    except GeometryError:
        return None


def _ring(curves: Sequence[Arc], off: float) -> Circle | None:
    """Return the circle that a ring of arcs is."""
    length = sum(curve.length for curve in curves)
    radius = sum(curve.length * curve.radius for curve in curves) / length
    circle = Circle(_mean_center(curves), radius)
    return circle if _leaves(curves, circle) <= off else None


def _mean_center(curves: Sequence[Arc]) -> XY:
    length = sum(curve.length for curve in curves)
    x, y = (sum(curve.length * curve.center[k] for curve in curves) / length
            for k in (0, 1))
    return (x, y)


def _leaves(curves: Sequence[Open], whole: Curve) -> float:
    """How far the pieces leave the curve that takes their place, at their ends and middles."""
    return max(distance(whole, p) for curve in curves
               for p in (curve.start, midpoint(curve), curve.end))
