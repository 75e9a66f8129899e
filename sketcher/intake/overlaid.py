"""Curves that lie on each other become one: doubles, and partial overlaps."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import dist, tau

import numpy as np

from sketcher.geometry.chain import Nodes, goes_round, nodes
from sketcher.geometry.cluster import components
from sketcher.geometry.curve_table import Bools, CurveTable, Floats, Ints, pairs
from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.geometry.evaluate import end_of, midpoint, point_at, start_of
from sketcher.geometry.project import distance, parameter_at
from sketcher.intake.linework import Repair, TakenCurve, repair_name
from sketcher.intake.wishes import Wishes
from sketcher.interrupt import check

SHARED = 4.0
"""Curves lie on each other along more than so many times as far as they may leave each other: two
that only meet end to end, each end off by that, share two at most."""


def laid_over(
    curves: Sequence[TakenCurve], wishes: Wishes, one: float, off: float, gap: float = 0.0
) -> tuple[list[TakenCurve], list[Repair]]:
    """Return curves of which none lies on another, and what was taken out.

    What is left covers all that was there. It is cut where a curve ends that lies on none of them,
    so that no contour loses its corner.

    Parameters
    ----------
    curves : sequence of TakenCurve
        Each longer than `one`.
    wishes : Wishes
    one : float
        Places within this length are one.
    off : float
        Curves lie on each other when they leave each other by no more.
    gap : float
        Ends that run past each other by no more are ends that were to meet, and no overlap: chords
        drawn a little too long lie on each other there.
    """
    table = CurveTable([each.curve for each in curves])
    i, j = pairs(table.boxes, off)
    same = _same(table, i, j, one, off)
    over = ~same & _on_one_carrier(table, i, j, off)
    over[over] = [_share(curves[a].curve, curves[b].curve, off, gap)
                  for a, b in zip(i[over].tolist(), j[over].tolist(), strict=True)]
    group = components(len(curves), *(side[same | over] for side in (i, j)))
    members: dict[int, list[int]] = {}
    for number, first in enumerate(group.tolist()):
        members.setdefault(first, []).append(number)
    doubled = np.ones(len(curves), bool)
    doubled[group[i[over]]] = False
    net = nodes([each.curve for each in curves], one) if over.any() else None
    instead: dict[int, list[TakenCurve]] = {}
    told: list[Repair] = []
    for first, numbers in members.items():
        check()
        if len(numbers) == 1:
            continue
        ones = sorted((curves[n] for n in numbers), key=_rank)
        twice = bool(doubled[first])
        left = (ones[0].curve,) if twice else _union(
            [each.curve for each in ones], _corners(numbers, net), one, off)
        repair = _told(ones, left, twice, wishes)
        told.append(repair)
        if repair.taken:
            instead.update({n: [] for n in numbers})
            instead[first] = [TakenCurve(curve, repair.entities) for curve in left]
    return [new for n, each in enumerate(curves) for new in instead.get(n, [each])], told


def _told(ones: list[TakenCurve], left: tuple[Curve, ...], doubled: bool, wishes: Wishes) -> Repair:
    kind = "double" if doubled else "overlap"
    entities = tuple(sorted({entity for each in ones for entity in each.entities}))
    before = tuple(each.curve for each in ones)
    size = max(min(distance(c, place) for c in left) for curve in before
               for place in (start_of(curve), midpoint(curve), end_of(curve)))
    text = (("is drawn twice" if len(ones) == 2 else f"is drawn {len(ones)} times") + "; kept once"
            if doubled else f"{len(ones)} curves lie on each other in part; kept once")
    return Repair(kind, midpoint(before[0]), size, entities, text,
                  wishes.makes(kind, repair_name(kind, entities)), before, left)


def _rank(each: TakenCurve) -> tuple[float, ...]:
    """Order that depends on geometry alone: the longest first, whichever way it runs."""
    curve = each.curve
    return (-curve.length, *sorted((start_of(curve), end_of(curve)))[0], *midpoint(curve))


def _same(table: CurveTable, i: Ints, j: Ints, one: float, off: float) -> Bools:
    """Which pairs run between the same places by the same way."""
    half = np.full(len(i), 0.5)
    middles = _apart(table.points(i, half), table.points(j, half))
    forth, back = (
        np.maximum(_apart(table.start[i], first[j]), _apart(table.end[i], last[j]))
        for first, last in ((table.start, table.end), (table.end, table.start)))
    open_ends = (np.minimum(forth, back) <= one) & (middles <= off)
    rings = (_apart(table.center[i], table.center[j])
             + np.abs(table.radius[i] - table.radius[j]) <= off)
    out: Bools = (table.full[i] == table.full[j]) & np.where(table.full[i], rings, open_ends)
    return out


def _on_one_carrier(table: CurveTable, i: Ints, j: Ints, most: float) -> Bools:
    """Which pairs run along each other: where either ends beside the other it lies on it.

    Only there: two short pieces, drawn on beyond each other, part by more than they are off.
    """
    off = np.zeros(len(i))
    half = np.full(len(i), 0.5)
    for a, b in ((i, j), (j, i)):
        for points in (table.start[a], table.points(a, half), table.end[a]):
            t = table.parameters(b, points)
            rim = np.abs(_apart(points, table.center[b]) - table.radius[b])
            dx, dy = (points - table.start[b]).T
            ux, uy = table.direction[b].T
            beside = table.full[b] | ((t >= 0.0) & (t <= 1.0))
            distance = np.where(table.round[b], rim, np.abs(dy * ux - dx * uy))
            off = np.maximum(off, np.where(beside & ~table.full[a], distance, 0.0))
    alike = (table.round[i] == table.round[j]) & ~(table.full[i] & table.full[j])
    out: Bools = alike & (off <= most)
    return out


def _apart(a: Floats, b: Floats) -> Floats:
    out: Floats = np.hypot(*(a - b).T)
    return out


def _share(a: Curve, b: Curve, off: float, gap: float) -> bool:
    """Whether two curves run along each other for more than a place, and there all along.

    Which part of the one lies beside the other says the direction alone round a center, so where
    the part begins, ends and has its middle is looked at.
    """
    if a.length < b.length:
        a, b = b, a
    if isinstance(a, Circle):
        a, b = b, a  # beside a whole circle lies all of an arc
    spans = [(0.0, 1.0)] if isinstance(b, Circle) else _spans(a, b)
    least = max(SHARED * off, min(gap, 0.5 * b.length))
    for first, last in spans:
        low, high = max(0.0, first), min(1.0, last)
        if (high - low) * a.length > least and all(
                distance(b, point_at(a, t)) <= 2.0 * off for t in (low, 0.5 * (low + high), high)):
            return True
    return False


def _spans(base: Curve, curve: Curve) -> list[tuple[float, float]]:
    """Where a curve lies along another on the same carrier, in the other's parameter.

    Round a circle it comes once in each turn: those that can reach the base are given.
    """
    if isinstance(base, Line):
        assert isinstance(curve, Line)
        return [tuple(sorted((parameter_at(base, curve.start),  # type: ignore[list-item]
                              parameter_at(base, curve.end))))]
    if isinstance(base, Circle):
        return [(0.0, 1.0)]
    assert isinstance(curve, Arc)
    along = (curve.sweep > 0.0) == (base.sweep > 0.0)
    turn = tau / abs(base.sweep)
    first = parameter_at(base, curve.start if along else curve.end) % turn
    width = abs(curve.sweep / base.sweep)
    return [(first - turn, first - turn + width), (first, first + width)]


def _corners(numbers: list[int], net: Nodes | None) -> list[XY]:
    """Ends of the curves where curves end that are not among them."""
    assert net is not None
    inside = set(numbers)
    own = {node for n in numbers for node in net.ends[n] if node >= 0}
    return [net.points[node] for node in own if not inside.issuperset(net.at[node])]


def _union(curves: list[Curve], corners: list[XY], one: float, off: float) -> tuple[Curve, ...]:
    """Return what covers all of some curves on one carrier, cut at corners."""
    base = next((c for c in curves if goes_round(c)), curves[0])
    if isinstance(base, Circle):
        return _cut(base, corners, one, off)
    low, high, ends = 0.0, 1.0, [start_of(base), end_of(base)]
    grown = True
    while grown and high - low < _turn(base) - one / base.length:
        grown = False
        for curve in curves:
            flipped = not _along(base, curve)
            for shift in (-1, 0, 1):
                for first, last in _spans(base, curve)[-1:]:
                    first, last = (x + shift * _turn(base) if shift else x for x in (first, last))
                    if not (first <= high and last >= low):
                        continue
                    if first < low:
                        low, ends[0], grown = first, (end_of if flipped else start_of)(curve), True
                    if last > high:
                        high, ends[1], grown = last, (start_of if flipped else end_of)(curve), True
    if isinstance(base, Line):
        return _cut(Line(*ends), corners, one, off)
    if high - low >= _turn(base) - one / base.length:
        return _cut(Circle(base.center, base.radius), corners, one, off)
    return _cut(Arc(base.center, ends[0], ends[1], base.ccw), corners, one, off)


def _turn(base: Curve) -> float:
    """A full turn in the parameter of a curve."""
    return tau / abs(base.sweep) if isinstance(base, Arc) else float("inf")


def _along(base: Curve, curve: Curve) -> bool:
    if isinstance(base, Line) and isinstance(curve, Line):
        (ax, ay), (bx, by) = base.direction, curve.direction
        return ax * bx + ay * by > 0.0
    return isinstance(base, Arc) and isinstance(curve, Arc) and base.ccw == curve.ccw


def _cut(curve: Curve, corners: list[XY], one: float, off: float) -> tuple[Curve, ...]:
    """Return a curve in pieces that end at the corners on it."""
    inner = sorted({parameter_at(curve, at): at for at in corners}.items())
    ends = () if isinstance(curve, Circle) else (start_of(curve), end_of(curve))
    places = [(t, at) for t, at in inner
              if all(dist(at, end) > one for end in ends) and dist(point_at(curve, t), at) <= off]
    if isinstance(curve, Circle):
        if len(places) < 2:
            return (curve,)
        round_trip = [at for _, at in places]
        return tuple(Arc(curve.center, p, q)
                     for p, q in zip(round_trip, [*round_trip[1:], round_trip[0]], strict=True))
    stops = [start_of(curve), *(at for t, at in places if 0.0 < t < 1.0), end_of(curve)]
    if isinstance(curve, Line):
        return tuple(Line(p, q) for p, q in pairwise(stops))
    return tuple(Arc(curve.center, p, q, curve.ccw) for p, q in pairwise(stops))
