"""Where outline curves meet, over the whole part: tangent, corner, near-tangent, gap, overrun.

Two ends are one place when they lie within a billionth of the part's size of each other. What is
left over, an end that meets nothing, is paired with the nearest other open end, or with the curve
that it nearly reaches, up to `REACH` of the part's size.

The direction at an end is known only as well as the points: a place that is off by ``tol`` turns
a line of length ``l`` by ``tol / l`` and the tangent of an arc of radius ``r`` by ``tol / r``. The
sum of both, with ``tol`` a billionth of the size, is the numerical floor: a smaller break of
direction counts as none.

Above that floor and below `NEAR` an unbound joint is near-tangent, however it came about: a joint
that is meant to be tangent should be bound so.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations
from math import atan2, dist, pi, radians

from sketcher.geometry.chain import nodes
from sketcher.geometry.curves import Circle, Curve, Line
from sketcher.geometry.evaluate import tangent_at
from sketcher.inspect import tangency
from sketcher.inspect.joint_value import Joint, JointState, OutlineEnd, turn_between
from sketcher.inspect.open_ends import nearly
from sketcher.interrupt import check
from sketcher.part.kinds import KINDS
from sketcher.part.value import Part
from sketcher.part.whole import Piece

__all__ = ["NEAR", "REACH", "Joint", "JointState", "OutlineEnd", "joints_of", "paired", "places",
           "tangent_pairs"]

NEAR = radians(2.0)
"""Below this break of direction an unbound joint looks as if it were meant to be tangent."""

REACH = 0.05
"""An open end and its neighbour belong together up to this part of the part's size."""

CROWD = 32
"""Ends at one place beyond which it is not worth while to look for the smoothest passages.

Half a dozen curves meet where contours touch; a pattern that does not move has thousands. That the
place is one too many curves run into is a finding of its own.
"""


def joints_of(part: Part, pieces: Sequence[Piece], tol: float, size: float) -> tuple[Joint, ...]:
    """Return every joint of the outline, in the order of its curves.

    Parameters
    ----------
    part : Part
        Tells which pairs of curves are bound tangent.
    pieces : sequence of Piece
        The whole part; only its outline counts.
    tol : float
        Distance below which two ends are one place.
    size : float
        Size of the part.
    """
    outline = [piece for piece in pieces if piece.role == "outline"]
    bound = tangent_pairs(part)
    joints, open_ends = [], []
    for group in places(outline, tol):
        check()
        pairs, single = paired(group)
        joints += [_closed(outline, a, b, tol, bound) for a, b in pairs]
        if len(group) == 1:  # one left over where others meet does meet something
            open_ends += single
    joints += nearly(outline, open_ends, (tol, REACH * size), bound)
    return tuple(joints)


def tangent_pairs(part: Part) -> frozenset[frozenset[str]]:
    """Return the pairs of drawn curves that a binding makes tangent."""
    return frozenset(
        frozenset(binding.of) for binding in part.bindings.values()
        if KINDS[binding.kind].joins
    )


def bound_tangent(a: Piece, b: Piece, bound: frozenset[frozenset[str]]) -> bool:
    """Tell whether two pieces are bound tangent: drawn so, or the same image of two that are."""
    return a.image.same_image(b.image) and frozenset((a.source, b.source)) in bound


def places(outline: Sequence[Piece], tol: float) -> Iterator[list[OutlineEnd]]:
    """Yield the ends of each place, those within `tol` of each other together."""
    curves = [piece.curve for piece in outline]
    net = nodes(curves, tol)
    for node, at in enumerate(net.at):
        ends = []
        for number in dict.fromkeys(at):
            curve, (first, last) = curves[number], net.ends[number]
            assert not isinstance(curve, Circle)
            if first == node:
                ends.append(OutlineEnd(number, curve.start, tangent_at(curve, 0.0)))
            if last == node:
                x, y = tangent_at(curve, 1.0)
                ends.append(OutlineEnd(number, curve.end, (-x, -y)))
        yield ends


def paired(group: list[OutlineEnd]) -> tuple[list[tuple[OutlineEnd, OutlineEnd]], list[OutlineEnd]]:
    """Return the ends of one place as pairs, the smoothest passage first, and the one left over."""
    if len(group) == 2:
        return [(group[0], group[1])], []
    if len(group) > CROWD:
        return _opposites(group)
    gone: set[int] = set()
    pairs = []
    for one, other in sorted(combinations(range(len(group)), 2),
                             key=lambda pair: turn_between(group[pair[0]], group[pair[1]])):
        if one not in gone and other not in gone:
            gone |= {one, other}
            pairs.append((group[one], group[other]))
    return pairs, [end for number, end in enumerate(group) if number not in gone]


def _opposites(
    group: list[OutlineEnd],
) -> tuple[list[tuple[OutlineEnd, OutlineEnd]], list[OutlineEnd]]:
    """Pair the ends by the order of their directions, each with the one half of them further on."""
    turned = sorted(group, key=lambda end: atan2(end.inward[1], end.inward[0]))
    half = len(turned) // 2
    return list(zip(turned[:half], turned[half:2 * half], strict=True)), turned[2 * half:]


def _closed(
    outline: Sequence[Piece], a: OutlineEnd, b: OutlineEnd, tol: float,
    bound: frozenset[frozenset[str]],
) -> Joint:
    first, second = outline[a.piece], outline[b.piece]
    angle = turn_between(a, b)
    is_bound = bound_tangent(first, second, bound)
    least = tol * (1.0 / _stiffness(first.curve) + 1.0 / _stiffness(second.curve))
    state = _state(angle, least, is_bound)
    meant = state != "corner" or is_bound
    residual = tangency.residual(first.curve, second.curve) if meant else None
    return Joint(
        a.at, (first.id, second.id), state, dist(a.at, b.at), angle,
        residual, is_bound, least,
    )


def _state(angle: float, least: float, bound: bool) -> JointState:
    if angle <= least:
        return "tangent"
    if bound and pi - angle <= least:
        return "tangent"  # a horn: both carriers are tangent and the edge folds back
    return "near-tangent" if angle < NEAR else "corner"


def _stiffness(curve: Curve) -> float:
    """Length on which a misplaced point turns the direction at an end."""
    return (curve.length if isinstance(curve, Line) else curve.radius) or 1e-300
