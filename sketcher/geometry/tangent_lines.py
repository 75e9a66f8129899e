"""Straight lines that touch circles: from a point, and common to two circles."""

from __future__ import annotations

from math import hypot, sqrt
from typing import Literal, NamedTuple, TypeAlias

from sketcher.errors import GeometryError
from sketcher.geometry.curves import XY, Arc, Circle, Line

Pass: TypeAlias = Literal["outer", "inner"]
Side: TypeAlias = Literal["left", "right"]


class CommonTangent(NamedTuple):
    """A line that touches two circles, from its place on the first to that on the second.

    An ``"outer"`` one has both circles on one side, an ``"inner"`` one passes between them; `side`
    is the side of the line, travelled from first to second, on which the first circle lies.
    """

    line: Line
    kind: Pass
    side: Side


def tangents_from(point: XY, ring: Circle | Arc) -> tuple[Line, ...]:
    """Return the lines from `point` to the places where they touch the circle.

    Two lines, the first with the circle on its left; none for a point on or inside the circle.
    """
    dx, dy = point[0] - ring.center[0], point[1] - ring.center[1]
    apart, r = hypot(dx, dy), ring.radius
    if apart <= r:
        return ()
    along = r * (r / apart)
    height = r * sqrt((apart - r) * (apart + r)) / apart
    ux, uy = dx / apart, dy / apart
    fx, fy = ring.center[0] + along * ux, ring.center[1] + along * uy
    return tuple(
        Line(point, (fx - s * height * uy, fy + s * height * ux)) for s in (1.0, -1.0)
    )


def common_tangents(
    first: Circle | Arc, second: Circle | Arc, tol: float = 0.0
) -> tuple[CommonTangent, ...]:
    """Return the lines that touch both circles: the outer pair, then the inner pair.

    Circles that touch have a common tangent without length at their place of contact, which is
    left out when its length is at most `tol`. A circle of radius zero stands for a point.

    Parameters
    ----------
    first, second : Circle or Arc
        An arc stands for its circle; in one unit.
    tol : float
        Length in that unit.

    Returns
    -------
    tuple of CommonTangent
        Up to two outer ones, then up to two inner ones.

    Raises
    ------
    GeometryError
        When the circles are concentric.
    """
    dx, dy = second.center[0] - first.center[0], second.center[1] - first.center[1]
    apart = hypot(dx, dy)
    if apart == 0.0:
        raise GeometryError(
            "circles", "are concentric and have no common tangent", "take two other circles"
        )
    ux, uy = dx / apart, dy / apart
    found = []
    kinds: tuple[tuple[Pass, float], ...] = (("outer", 1.0), ("inner", -1.0))
    for kind, sense in kinds:
        across = first.radius - sense * second.radius
        if abs(across) >= apart:
            continue
        # The unit normal from the first center to its place of contact: it has the component
        # (r1 -+ r2) / distance along the line of centers.
        c = across / apart
        s = sqrt((apart - across) * (apart + across)) / apart
        sides: tuple[tuple[Side, float], ...] = (("right", 1.0), ("left", -1.0))
        for side, hand in sides:
            nx, ny = c * ux - hand * s * uy, c * uy + hand * s * ux
            line = Line(
                (first.center[0] + first.radius * nx, first.center[1] + first.radius * ny),
                (
                    second.center[0] + sense * second.radius * nx,
                    second.center[1] + sense * second.radius * ny,
                ),
            )
            if line.length > tol:
                found.append(CommonTangent(line, kind, side))
    return tuple(found)
