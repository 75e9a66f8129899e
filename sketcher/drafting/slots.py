"""Slots of a part: two round ends of one width, joined by straight sides or by concentric arcs."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import dist, pi

from sketcher.drafting.features import components
from sketcher.geometry.bounds import tolerance
from sketcher.geometry.curves import XY, Arc, Line
from sketcher.part.whole import Piece

TURN = 1e-4
"""Radians within which round ends make up half a turn."""


@dataclass(frozen=True, slots=True)
class Slot:
    """One slot of the whole part, in the part's unit.

    Parameters
    ----------
    caps : tuple of Piece
        Its round ends.
    sides : tuple of tuple of Piece
        The two sides; each of one or more pieces. Of a curved slot the inner one first.
    radius : float
        Half of its width.
    ends : tuple of XY
        The two centers of its round ends.
    middle : XY or None
        Center of a curved slot; None for a straight one.
    """

    caps: tuple[Piece, ...]
    sides: tuple[tuple[Piece, ...], tuple[Piece, ...]]
    radius: float
    ends: tuple[XY, XY]
    middle: XY | None = None


def slots_among(pieces: Iterable[Piece]) -> tuple[Slot, ...]:
    """Return the slots among the outline pieces of a part.

    Parameters
    ----------
    pieces : iterable of Piece
        The whole part's.
    """
    outline = [piece for piece in pieces if piece.role == "outline"]
    return slots_in(components(outline)) if outline else ()


def slots_in(groups: Sequence[Sequence[Piece]]) -> tuple[Slot, ...]:
    """Return the slots among outline pieces that hang together, in groups (`components`)."""
    near = 1e2 * tolerance(piece.curve for group in groups for piece in group)
    found = (_slot(group, near) for group in groups if 4 <= len(group) <= 8)
    return tuple(slot for slot in found if slot is not None)


def _slot(group: Sequence[Piece], near: float) -> Slot | None:
    """Return the slot that a contour is, or None."""
    arcs = _by_center([p for p in group if isinstance(p.curve, Arc)], near)
    lines = [p for p in group if isinstance(p.curve, Line)]
    caps = [some for some in arcs if _is_half_turn(some, near)]
    if lines and len(arcs) == len(caps) == 2:
        return _straight(caps, lines, near)
    if not lines and len(caps) == 2 and len(arcs) == 3:
        (body,) = (some for some in arcs if not any(some is cap for cap in caps))
        return _curved(caps, body, near)
    return None


def _by_center(pieces: Sequence[Piece], near: float) -> list[list[Piece]]:
    found: list[list[Piece]] = []
    for piece in pieces:
        for some in found:
            if dist(_arc(some[0]).center, _arc(piece).center) <= near:
                some.append(piece)
                break
        else:
            found.append([piece])
    return found


def _arc(piece: Piece) -> Arc:
    assert isinstance(piece.curve, Arc)
    return piece.curve


def _is_half_turn(arcs: Sequence[Piece], near: float) -> bool:
    radius = _arc(arcs[0]).radius
    return (all(abs(_arc(p).radius - radius) <= near for p in arcs)
            and abs(sum(abs(_arc(p).sweep) for p in arcs) - pi) <= TURN)


def _straight(caps: Sequence[Sequence[Piece]], lines: Sequence[Piece], near: float) -> Slot | None:
    one, other = (_arc(some[0]) for some in caps)
    axis = Line(one.center, other.center)
    if abs(one.radius - other.radius) > near or axis.length <= near:
        return None
    (x, y), (dx, dy) = axis.start, axis.direction
    sides: dict[int, list[Piece]] = {1: [], -1: []}
    for piece in lines:
        assert isinstance(piece.curve, Line)
        off = [dx * (p[1] - y) - dy * (p[0] - x) for p in (piece.curve.start, piece.curve.end)]
        if any(abs(abs(v) - one.radius) > near for v in off) or off[0] * off[1] < 0.0:
            return None
        sides[1 if off[0] > 0.0 else -1].append(piece)
    if not (sides[1] and sides[-1]):
        return None
    return Slot(tuple(p for some in caps for p in some), (tuple(sides[1]), tuple(sides[-1])),
                one.radius, (one.center, other.center))


def _curved(caps: Sequence[Sequence[Piece]], body: Sequence[Piece], near: float) -> Slot | None:
    one, other = (_arc(some[0]) for some in caps)
    middle, half = _arc(body[0]).center, one.radius
    path = dist(middle, one.center)
    if abs(half - other.radius) > near or abs(dist(middle, other.center) - path) > near:
        return None
    inner, outer = (tuple(p for p in body if abs(_arc(p).radius - r) <= near)
                    for r in (path - half, path + half))
    if not inner or not outer or len(inner) + len(outer) < len(body):
        return None
    return Slot(tuple(p for some in caps for p in some), (inner, outer), half,
                (one.center, other.center), middle)
