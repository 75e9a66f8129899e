"""The last place of a round: how large it is, and what it touches."""

from __future__ import annotations

from math import dist, hypot

from sketcher.board.places.pending_bindings import Tie
from sketcher.board.places.point_place import Around, Spot
from sketcher.board.places.snap_choice import free
from sketcher.geometry.curves import XY, Line
from sketcher.geometry.project import nearest
from sketcher.part.curve_questions import center_of

LEAST = 1e-6  # of the reach: a smaller circle is no circle


def rim_spot(around: Around, center: XY) -> Spot:
    """Return a place on the rim: through an end, touching a curve, as large as another, or free.

    The ties name the new circle as ``@curve``. Nothing is proposed for a circle that would be
    smaller than the reach: that is the hand which has not left the center yet.
    """
    pointer = around.pointer
    if dist(pointer.at, center) < pointer.reach:
        return free(pointer.at)
    found = _proposed(around, center)
    return free(pointer.at) if found is None or dist(found.at, center) < pointer.reach else found


def _proposed(around: Around, center: XY) -> Spot | None:
    pointer = around.pointer
    point = around.picker.nearest_point(pointer.at, pointer.reach)
    if point is not None and dist(point.at, center) > LEAST * pointer.reach:
        return Spot(point.at, f"through {point.id}", (Tie("on", (point.id, "@curve")),), None,
                    "end")
    return _touching(around, center) or _equal(around, center)


def _touching(around: Around, center: XY) -> Spot | None:
    pointer = around.pointer
    for pick in around.picker.curves_near(pointer.at, pointer.reach, drawn_only=True):
        curve = around.picker.by_id[pick.id].curve
        if not isinstance(curve, Line) and dist(curve.center, center) <= LEAST * pointer.reach:
            continue
        for foot in _feet(around, pick.id, center):
            if dist(foot, pointer.at) <= pointer.reach and dist(foot, center) > 0.0:
                return Spot(foot, f"tangent to {pick.id}", (Tie("tangent", (pick.id, "@curve")),),
                            None, "tangent")
    return None


def _feet(around: Around, name: str, center: XY) -> tuple[XY, ...]:
    curve = around.picker.by_id[name].curve
    foot = nearest(curve, center, bounded=isinstance(curve, Line)).point
    if isinstance(curve, Line):
        return (foot,)
    return foot, (2.0 * curve.center[0] - foot[0], 2.0 * curve.center[1] - foot[1])


def _equal(around: Around, center: XY) -> Spot | None:
    """Return the place at which the circle is as large as one that was touched lately."""
    pointer = around.pointer
    x, y = pointer.x - center[0], pointer.y - center[1]
    size = hypot(x, y)
    for name in around.touched:
        piece = around.picker.by_id.get(name)
        if piece is None or isinstance(piece.curve, Line) or size == 0.0:
            continue
        radius = piece.curve.radius
        if abs(size - radius) <= 0.5 * pointer.reach and center_of(around.part.curves[name]):
            at = (center[0] + x * radius / size, center[1] + y * radius / size)
            return Spot(at, f"as large as {name}", (Tie("equal", (name, "@curve")),), None, "on")
    return None
