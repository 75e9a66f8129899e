"""What lies halfway: square bisector and midpoint of two points, the line halving an angle."""

from __future__ import annotations

from math import sqrt

from sketcher.geometry.curves import XY
from sketcher.lesson.slate import Slate


def square_bisector(slate: Slate, one: str, other: str, name: str = "") -> str:
    """Return the line of all places as far from one point as from the other."""
    (ax, ay), (bx, by) = slate.points[one], slate.points[other]
    x, y = 0.5 * (ax + bx), 0.5 * (ay + by)
    nx, ny = 0.5 * sqrt(3.0) * (ay - by), 0.5 * sqrt(3.0) * (bx - ax)
    tops = (x + nx, y + ny), (x - nx, y - ny)
    both = slate.span(one, other)
    arcs = slate.swing(one, both, *tops), slate.swing(other, both, *tops)
    up, down = (slate.cross(*arcs, top) for top in tops)
    made = slate.rule(up, down, name)
    slate.say(f"Halve {one}-{other}: about {one} and {other}, with the opening {one}-{other}, "
              f"strike arcs that cross at {up} and {down}. Draw {made} through both.")
    return made


def midpoint(slate: Slate, one: str, other: str, name: str = "") -> str:
    """Return the point halfway between two (Elements I.10)."""
    (ax, ay), (bx, by) = slate.points[one], slate.points[other]
    at = (0.5 * (ax + bx), 0.5 * (ay + by))
    known = "" if name else slate.point_at(at)
    if known:
        return known
    over = square_bisector(slate, one, other)
    drawn = set(slate.lines)
    base = slate.rule(one, other)
    found = slate.cross(over, base, at, name)
    through = "" if base in drawn else f", the line through {one} and {other}"
    slate.say(f"{over} cuts {base}{through}, at {found}, the midpoint of {one}-{other}.")
    return found


def halving(slate: Slate, corner: str, one: str, other: str, name: str = "") -> str:
    """Return the line that halves the angle from one point over a corner to another (I.9).

    Both points must lie equally far from the corner; see `halved`.
    """
    (cx, cy), (ax, ay), (bx, by) = (slate.points[p] for p in (corner, one, other))
    # outside of the two, where the arcs cross well however narrow or wide the angle is
    mx, my = 0.5 * (ax + bx), 0.5 * (ay + by)
    nx, ny = -(by - ay), bx - ax
    sense = 1.0 if nx * (mx - cx) + ny * (my - cy) > 0.0 else -1.0
    x, y = mx + sense * 0.5 * sqrt(3.0) * nx, my + sense * 0.5 * sqrt(3.0) * ny
    both = slate.span(one, other)
    far = slate.cross(slate.swing(one, both, (x, y)), slate.swing(other, both, (x, y)), (x, y))
    made = slate.rule(corner, far, name)
    slate.say(f"Halve the angle at {corner}: about {one} and {other}, with the opening "
              f"{one}-{other}, strike arcs that cross at {far}. Draw {made} through {corner} "
              f"and {far}.")
    return made


def halved(
    slate: Slate, lines: tuple[str, str], corner: str, ways: tuple[XY, XY], name: str = ""
) -> str:
    """Return the line that halves the angle between two lines that cross at a point.

    Parameters
    ----------
    slate : Slate
    lines : pair of str
    corner : str
        Where they cross.
    ways : pair of (float, float)
        A place on each, on the rays between which the angle is meant.
    name : str
    """
    at, opening = slate.points[corner], slate.any_opening()
    there = []
    for line, (x, y) in zip(lines, ways, strict=True):
        known = slate.lines[line]
        ahead = (x - at[0]) * known.along[0] + (y - at[1]) * known.along[1]
        there.append(known.beyond(at, opening.amount if ahead > 0.0 else -opening.amount))
    ring = slate.swing(corner, opening, *there)
    one, other = (slate.cross(line, ring, place) for line, place in zip(lines, there, strict=True))
    slate.say(f"About {corner}, with any opening, cut {lines[0]} at {one} and {lines[1]} at "
              f"{other}.")
    return halving(slate, corner, one, other, name)
