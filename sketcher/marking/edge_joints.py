"""Where features of the key meet, and whether a hand-in's edges end there."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import dist, radians

import numpy as np

from sketcher.geometry.chain import nodes
from sketcher.geometry.cluster import components, groups_of
from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.geometry.evaluate import joint_angle, tangent_at
from sketcher.geometry.meet import meet
from sketcher.geometry.project import nearest
from sketcher.marking.carrier_spans import position
from sketcher.marking.drawn_edges import DrawnEdge, Opening
from sketcher.marking.outline_features import Feature
from sketcher.marking.slip import Slip

SMOOTH = radians(0.1)
"""Edges of a solved key that break by less go on smoothly (they agree to 1e-9; corners that an
author means are wider: common practice, no source)."""


@dataclass(frozen=True, slots=True)
class EdgeJoint:
    """Where two features of the key meet: their numbers, which end of each, whether smoothly."""

    a: int
    a_end: int
    b: int
    b_end: int
    at: XY
    smooth: bool

    def other(self, key: int) -> int:
        """Return the feature on the other side."""
        return self.b if key == self.a else self.a


def edge_joints(key: Sequence[Feature], within: float) -> tuple[EdgeJoint, ...]:
    """Return where just two features meet end to end."""
    curves = [each.curve for each in key]
    net = nodes(curves, within)
    found = []
    for node, at in enumerate(net.at):
        if len(at) != 2 or at[0] == at[1]:
            continue
        a, b = at
        place = net.points[node]
        found.append(EdgeJoint(a, net.ends[a].index(node), b, net.ends[b].index(node), place,
                               joint_angle(curves[a], curves[b], place) < SMOOTH))
    return tuple(found)


def joint_loops(count: int, joints: Iterable[EdgeJoint]) -> list[list[int]]:
    """Return which of so many features joints tie together: loops, and what stands alone."""
    ties = np.array([(each.a, each.b) for each in joints], int).reshape(-1, 2)
    return groups_of(components(count, *ties.T))


@dataclass(frozen=True, slots=True)
class _DrawnEnd:
    """One side of a joint as it was drawn: how much it is short of it, or long where negative."""

    edge: DrawnEdge
    at: XY
    out: XY
    short: float
    kept: bool
    number: int


def joint_faults(
    joints: Sequence[EdgeJoint], edges: Mapping[int, DrawnEdge], within: float
) -> tuple[list[Opening], list[Slip]]:
    """Return where edges that should meet are open, and where they run past each other.

    An edge off its place, whose neighbour ends where the key has it, opens their joint; that is the
    edge's own mistake and not told again.
    """
    gaps: list[Opening] = []
    slips: list[Slip] = []
    for joint in joints:
        if joint.a not in edges or joint.b not in edges:
            continue
        one, other = edges[joint.a], edges[joint.b]
        at, by = one.ends[joint.a_end], other.ends[joint.b_end]
        if at is None or by is None or dist(at, by) <= within:
            continue
        where = _met(joint, one, other)
        a = _end(one, joint.a_end, at, where, joint, within)
        b = _end(other, joint.b_end, by, where, joint, within)
        if (one.off and b.kept) or (other.off and a.kept):
            continue
        numbers = tuple(n for n in (a.number, b.number) if n >= 0)
        if joint.smooth:
            apart = (by[0] - at[0]) * a.out[0] + (by[1] - at[1]) * a.out[1]
            if apart > within:
                gaps.append(Opening(where, apart, (at, by), numbers, (joint.a, joint.b)))
            elif apart < -within:
                long = min((a, b), key=lambda end: end.short)
                slips.append(Slip("overrun", long.at, (long.edge.key,), (), (long.number,),
                                  -apart))
            continue
        if max(a.short, b.short) > within:
            gaps.append(Opening(where, dist(at, by), (at, by), numbers, (joint.a, joint.b)))
        over = sorted((end for end in (a, b) if end.short < -within), key=lambda end: end.short)
        if over:
            slips.append(Slip("overrun", over[0].at, tuple(end.edge.key for end in over), (),
                              tuple(end.number for end in over), -over[0].short))
    return gaps, slips


def _met(joint: EdgeJoint, one: DrawnEdge, other: DrawnEdge) -> XY:
    """Return where the carriers of two edges meet as they were drawn."""
    if not one.off and not other.off:
        return joint.at
    if joint.smooth:
        a, b = (one.curve, other.curve) if isinstance(one.curve, Line) else (
            other.curve, one.curve)
        if not isinstance(b, Line):
            return nearest(a, b.center if isinstance(a, Line) else joint.at, bounded=False).point
        return joint.at
    found = meet(one.curve, other.curve, bounded=False)
    return min((each.point for each in found), key=lambda p: dist(p, joint.at), default=joint.at)


def _end(
    edge: DrawnEdge, end: int, at: XY, where: XY, joint: EdgeJoint, within: float
) -> _DrawnEnd:
    x, y = tangent_at(_reaching(edge.curve), float(end))
    out = (x, y) if end else (-x, -y)
    step = position(edge.curve, where) - position(edge.curve, at)
    short = step if end else -step
    return _DrawnEnd(edge, at, out, short, not edge.off and dist(at, joint.at) <= within,
                edge.numbers[end])


def _reaching(curve: Curve) -> Curve:
    assert not isinstance(curve, Circle)
    return curve


def broken_tangency(joint: EdgeJoint, edges: Mapping[int, DrawnEdge]) -> float:
    """Return the break of direction in radians where a smooth joint was drawn; 0 where none is."""
    one, other = edges[joint.a], edges[joint.b]
    at, by = one.ends[joint.a_end], other.ends[joint.b_end]
    if at is None or by is None:
        return 0.0
    a, b = one.curve, other.curve
    middle = (0.5 * (at[0] + by[0]), 0.5 * (at[1] + by[1]))
    return joint_angle(_cut(a, joint.a_end, at), _cut(b, joint.b_end, by), middle)


def _cut(curve: Curve, end: int, at: XY) -> Curve:
    """Return an edge so that the given end is where it was drawn to end."""
    if isinstance(curve, Circle):
        return curve
    start, stop = (curve.start, at) if end else (at, curve.end)
    return Line(start, stop) if isinstance(curve, Line) else Arc(
        curve.center, start, stop, curve.ccw)
