"""Where outline curves meet, over the whole part: tangent, corner, near-tangent, gap, overrun.

Two ends are one place when they lie within a billionth of the part's size of each other. What is
left over, an end that meets nothing, is paired with the nearest other open end, or with the curve
that it nearly reaches, up to `REACH` of the part's size.

The direction at an end is known only as well as the points: a place that is off by ``tol`` turns
a line of length ``l`` by ``tol / l`` and the tangent of an arc of radius ``r`` by ``tol / r``. The
sum of both, with ``tol`` a billionth of the size, is the numerical floor: a smaller break of
direction counts as none.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from math import atan2, degrees, hypot, pi, radians
from typing import Literal, NamedTuple, TypeAlias

import numpy as np

from sketcher.geometry.chain import nodes
from sketcher.geometry.curves import XY, Circle, Curve, Line
from sketcher.geometry.evaluate import tangent_at
from sketcher.geometry.meet import meet
from sketcher.geometry.project import nearest
from sketcher.inspect import tangency
from sketcher.part.value import Part
from sketcher.part.whole import Piece

JointState: TypeAlias = Literal["tangent", "corner", "near-tangent", "gap", "overrun"]

NEAR = radians(2.0)
"""Below this break of direction an unbound joint looks as if it were meant to be tangent."""

REACH = 0.05
"""An open end and its neighbour belong together up to this part of the part's size."""


@dataclass(frozen=True, slots=True)
class Joint:
    """The place where two outline curves meet, or should.

    Parameters
    ----------
    at : (x, y)
        The place; for a gap the middle of it.
    between : (str, str)
        Ids of the two pieces, those of images included.
    state : str
        ``tangent``, ``corner``, ``near-tangent``, ``gap`` or ``overrun``.
    gap : float
        Distance between the two ends; for an overrun, the length that runs past.
    angle : float
        Break of direction in radians: 0 goes on smoothly, pi folds straight back.
    residual : float or None
        By what length the curves miss tangency; None where tangency is not meant.
    bound : bool
        A binding says that the two are tangent.
    floor : float
        The break of direction, in radians, that counts as none here.
    """

    at: XY
    between: tuple[str, str]
    state: JointState
    gap: float
    angle: float
    residual: float | None
    bound: bool
    floor: float

    @property
    def holds(self) -> bool:
        """False for a joint that is bound tangent and is not."""
        return not self.bound or self.state == "tangent"

    def as_dict(self) -> dict[str, object]:
        """Return the entry of the inspection file."""
        return {
            "at": list(self.at),
            "between": list(self.between),
            "state": self.state,
            "gap": self.gap,
            "angle_deg": degrees(self.angle),
            "residual": self.residual,
            "bound": self.bound,
        }


class End(NamedTuple):
    """One end of a piece: number of the piece, place, and unit direction into the curve."""

    piece: int
    at: XY
    inward: XY


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
        pairs, single = paired(group)
        joints += [_closed(outline, a, b, tol, bound) for a, b in pairs]
        open_ends += single
    joints += _nearly(outline, open_ends, (tol, REACH * size), bound)
    return tuple(joints)


def tangent_pairs(part: Part) -> frozenset[frozenset[str]]:
    """Return the pairs of drawn curves that a binding makes tangent."""
    return frozenset(
        frozenset(binding.of) for binding in part.bindings.values() if binding.kind == "tangent"
    )


def places(outline: Sequence[Piece], tol: float) -> Iterator[list[End]]:
    """Yield the ends of each place, those within `tol` of each other together."""
    curves = [piece.curve for piece in outline]
    net = nodes(curves, tol)
    for node, at in enumerate(net.at):
        ends = []
        for number in dict.fromkeys(at):
            curve, (first, last) = curves[number], net.ends[number]
            assert not isinstance(curve, Circle)
            if first == node:
                ends.append(End(number, curve.start, tangent_at(curve, 0.0)))
            if last == node:
                x, y = tangent_at(curve, 1.0)
                ends.append(End(number, curve.end, (-x, -y)))
        yield ends


def paired(group: list[End]) -> tuple[list[tuple[End, End]], list[End]]:
    """Return the ends of one place as pairs, the smoothest passage first, and the one left over."""
    if len(group) == 2:
        return [(group[0], group[1])], []
    left, pairs = list(group), []
    while len(left) > 1:
        a, b = min(
            ((a, b) for i, a in enumerate(left) for b in left[i + 1 :]), key=lambda p: _break(*p)
        )
        pairs.append((a, b))
        left.remove(a)
        left.remove(b)
    return pairs, left


def _break(a: End, b: End) -> float:
    """Break of direction between two ends, in [0, pi]."""
    (ax, ay), (bx, by) = a.inward, b.inward
    return abs(atan2(ax * by - ay * bx, -(ax * bx + ay * by)))


def _closed(
    outline: Sequence[Piece], a: End, b: End, tol: float, bound: frozenset[frozenset[str]]
) -> Joint:
    first, second = outline[a.piece], outline[b.piece]
    angle = _break(a, b)
    is_bound = frozenset((first.source, second.source)) in bound
    least = tol * (1.0 / _stiffness(first.curve) + 1.0 / _stiffness(second.curve))
    state = _state(angle, least, is_bound)
    meant = state != "corner" or is_bound
    residual = tangency.residual(first.curve, second.curve) if meant else None
    return Joint(
        a.at, (first.id, second.id), state, hypot(a.at[0] - b.at[0], a.at[1] - b.at[1]), angle,
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


def _nearly(
    outline: Sequence[Piece], ends: list[End], limits: tuple[float, float],
    bound: frozenset[frozenset[str]],
) -> list[Joint]:
    """Pair the open ends that are each other's nearest; the rest goes to the nearest curve."""
    partner = _partners(ends, limits[1])
    joints = [
        _apart(outline, ends[i], ends[j], bound) for i, j in enumerate(partner) if i < j
    ]
    for i, j in enumerate(partner):
        if j < 0:
            joint = _to_curve(outline, ends[i], limits, bound)
            joints += [joint] if joint else []
    return joints


def _partners(ends: list[End], reach: float) -> list[int]:
    """Number of the mutually nearest other end within `reach`, or -1."""
    if len(ends) < 2:
        return [-1] * len(ends)
    at = np.array([end.at for end in ends])
    owner = np.array([end.piece for end in ends])
    apart = np.hypot(*(at[:, None, :] - at[None, :, :]).transpose(2, 0, 1))
    apart[owner[:, None] == owner[None, :]] = np.inf
    best = apart.argmin(axis=1)
    close = apart[np.arange(len(ends)), best] <= reach
    mutual = best[best] == np.arange(len(ends))
    return [int(other) for other in np.where(close & mutual, best, -1)]


def _apart(
    outline: Sequence[Piece], a: End, b: End, bound: frozenset[frozenset[str]]
) -> Joint:
    first, second = outline[a.piece], outline[b.piece]
    gap = hypot(a.at[0] - b.at[0], a.at[1] - b.at[1])
    past = _crossing_near(first.curve, second.curve, a.at, 2.0 * gap)
    at = past or (0.5 * (a.at[0] + b.at[0]), 0.5 * (a.at[1] + b.at[1]))
    if past:
        gap = max(hypot(end.at[0] - at[0], end.at[1] - at[1]) for end in (a, b))
    return _open_joint(first, second, at, gap, _break(a, b), bool(past), bound)


def _to_curve(
    outline: Sequence[Piece], end: End, limits: tuple[float, float],
    bound: frozenset[frozenset[str]],
) -> Joint | None:
    """The joint of an open end with the nearest curve within reach that it is not joined to.

    An end that lies on the other curve already leaves no gap; the profile tells that place.
    """
    tol, reach = limits
    own = outline[end.piece]
    others = [piece for piece in outline if piece is not own and not _joined(piece, own, tol)]
    if not others:
        return None
    feet = ((piece, nearest(piece.curve, end.at)) for piece in others)
    other, foot = min(feet, key=lambda pair: pair[1].distance)
    if not tol < foot.distance <= reach:
        return None
    past = _crossing_near(own.curve, other.curve, end.at, 2.0 * reach)
    at = past or foot.point
    gap = hypot(end.at[0] - at[0], end.at[1] - at[1])
    angle = tangency.angle(own.curve, other.curve)
    return _open_joint(own, other, at, gap, angle, past is not None, bound)


def _joined(a: Piece, b: Piece, tol: float) -> bool:
    """Tell whether two pieces share an end."""
    if isinstance(a.curve, Circle) or isinstance(b.curve, Circle):
        return False
    return any(
        hypot(p[0] - q[0], p[1] - q[1]) <= tol
        for p in (a.curve.start, a.curve.end)
        for q in (b.curve.start, b.curve.end)
    )


def _open_joint(
    first: Piece, second: Piece, at: XY, gap: float, angle: float, past: bool,
    bound: frozenset[frozenset[str]],
) -> Joint:
    return Joint(
        at, (first.id, second.id), "overrun" if past else "gap", gap, angle, None,
        frozenset((first.source, second.source)) in bound, 0.0,
    )


def _crossing_near(a: Curve, b: Curve, near: XY, reach: float) -> XY | None:
    """The crossing of two curves nearest to a place, or None when they have none within reach."""
    found = [(hypot(p[0] - near[0], p[1] - near[1]), p) for p in _crossings(a, b)]
    if not found:
        return None
    distance, at = min(found)
    return at if distance <= reach else None


def _crossings(a: Curve, b: Curve) -> Iterable[XY]:
    return [meeting.point for meeting in meet(a, b)]
