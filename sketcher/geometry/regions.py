"""What a region of an arrangement is like: its box, how wide it is, a place in it."""

from __future__ import annotations

from sketcher.geometry.arrangement import OUTSIDE, Arrangement
from sketcher.geometry.bounds import Box, bounds_of
from sketcher.geometry.curves import XY
from sketcher.geometry.evaluate import direction_at, midpoint

HALVINGS = 40
"""A place in a region is sought at a half, a quarter and so on of its width beside its edge."""


def box_of(net: Arrangement, face: int) -> Box:
    """Return the exact box (x0, y0, x1, y1) round a bounded region."""
    return bounds_of(net.boundary(face)[0].curves)


def width_of(net: Arrangement, face: int) -> float:
    """Return how wide a bounded region is: twice its area over its perimeter.

    That is the width of a long strip, and half the width of a square or of a disc.
    """
    perimeter = sum(curve.length for loop in net.boundary(face) for curve in loop.curves)
    return 2.0 * net.faces[face].area / perimeter


def is_island(net: Arrangement, face: int) -> bool:
    """Tell whether one other bounded region lies all round a region: it is a hole in that one."""
    if face == OUTSIDE:
        return False
    round_it = net.neighbours(face)
    if len(round_it) != 1:
        return False
    return OUTSIDE not in round_it


def place_in(net: Arrangement, face: int) -> XY | None:
    """Return a place in a bounded region: beside the middle of its edge.

    None where the region is so thin that no place in it can be told from its edge.
    """
    curve = max(net.boundary(face)[0].curves, key=lambda each: each.length)
    (x, y), inward = midpoint(curve), width_of(net, face)
    ux, uy = direction_at(curve, (x, y))
    for _ in range(HALVINGS):
        inward *= 0.5
        at = (x - inward * uy, y + inward * ux)
        if net.face_at(at) == face:
            return at
    return None
