"""Pitch circles: what holes of one size stand on, around a center."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import dist, tau

import numpy as np

from sketcher.drafting.center_places import SAME, Away, Center, Pitch
from sketcher.drafting.paper_view import View
from sketcher.geometry.curves import XY, Circle
from sketcher.part.image_id import marks
from sketcher.part.value import Part, PolarPattern
from sketcher.part.whole import Piece
from sketcher.quantity.parameters import evaluate_all
from sketcher.quantity.parse import evaluate

MOST_IN_RINGS = 200
"""Holes above which nobody looks for rings: they are grids, and looking takes their square."""


def pitches_of(
    part: Part, placed: Sequence[Piece], centers: Sequence[Center], view: View
) -> list[Pitch]:
    """Return the pitch circles: of patterns, laid out, and of holes that stand evenly in a ring.

    The centers on them are told what they stand around.
    """
    found: list[Pitch] = []
    for name, pattern in part.patterns.items():
        if not isinstance(pattern, PolarPattern):
            continue
        span = evaluate(pattern.span, "angle", part.unit, evaluate_all(part.parameters, part.unit))
        groups: dict[tuple[int, int], list[Piece]] = {}
        abouts: dict[int, XY] = {}
        for piece in placed:
            if piece.source in pattern.curves and isinstance(piece.curve, Circle):
                about = piece.image.mirrors
                if about not in abouts:
                    abouts[about] = view.point(_image_center(part, pattern, about))
                radius = dist(piece.curve.center, abouts[about])
                if radius > SAME:
                    groups.setdefault((about, round(radius / SAME)), []).append(piece)
        for (about, _), holes in groups.items():
            found.append(_pitch(f"{name}/pitch{marks(about)}", holes, abouts[about],
                                abs(span) >= 360.0, (about, False)))
    for piece in placed:
        if piece.role == "layout" and isinstance(piece.curve, Circle):
            found += _laid_out(piece, piece.curve, centers)
    _mark_polar(found, centers)
    rings = list(_rings(centers))
    _mark_polar(rings, centers)
    return [*found, *rings]


def _image_center(part: Part, pattern: PolarPattern, mirrors: int) -> XY:
    """Center of a pattern's reflection: about each axis that the bits of `mirrors` name."""
    from sketcher.part.mirror import reflector

    at = part.points[pattern.center]
    for number, mirror in enumerate(part.mirrors):
        if mirrors >> number & 1:
            at = reflector(part, mirror).point(at)
    return at


def _pitch(
    name: str, holes: Sequence[Piece], center: XY, closed: bool, away: Away
) -> Pitch:
    circles = [piece.curve for piece in holes if isinstance(piece.curve, Circle)]
    places = tuple(circle.center for circle in circles)
    return Pitch(name, center, dist(places[0], center), places, closed,
                 max(circle.radius for circle in circles), away)


def _laid_out(piece: Piece, circle: Circle, centers: Sequence[Center]) -> Iterator[Pitch]:
    """A layout circle with three or more holes on it is their pitch circle."""
    on = [c for c in centers if c.rounds and abs(dist(c.at, circle.center) - circle.radius)
          < SAME]
    if len(on) >= 3:
        yield Pitch(f"{piece.id}/pitch", circle.center, circle.radius,
                    tuple(c.at for c in on), True, max(c.least_radius for c in on),
                    piece.image.away)


def _rings(centers: Sequence[Center]) -> Iterator[Pitch]:
    """Yield the circles of holes of one size that stand evenly about another center.

    Four are left to their rows: they may as well be a square.
    """
    holes = [c for c in centers if c.polar is None
             and any(isinstance(curve, Circle) for _, curve in c.rounds)]
    if not 3 <= len(holes) <= MOST_IN_RINGS:
        return
    at = np.array([c.at for c in holes])
    radii = np.array([c.least_radius for c in holes])
    for hub in centers:
        away = np.hypot(*(at - np.array(hub.at)).T)
        taken = np.full(len(holes), False)
        for k in np.flatnonzero(away > SAME):
            ring = np.flatnonzero(~taken & (np.abs(away - away[k]) < SAME)
                                  & (np.abs(radii - radii[k]) < SAME))
            if taken[k] or len(ring) < 3 or len(ring) == 4:
                continue
            turns = np.sort(np.arctan2(*(at[ring] - np.array(hub.at)).T[::-1]))
            steps = np.diff(np.append(turns, turns[0] + tau))
            if np.abs(steps - tau / len(ring)).max() < SAME / away[k]:
                taken[ring] = True
                yield Pitch(f"{hub.id}/pitch", hub.at, float(away[k]),
                            tuple(holes[n].at for n in ring), True, float(radii[k]), hub.away)


def _mark_polar(pitches: Sequence[Pitch], centers: Sequence[Center]) -> None:
    for pitch in pitches:
        for at in pitch.holes:
            for center in centers:
                if dist(center.at, at) < SAME:
                    center.polar = pitch.center


