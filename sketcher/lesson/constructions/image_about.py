"""The image of a point: about a line, beyond a middle."""

from __future__ import annotations

from math import dist

from sketcher.geometry.curves import XY
from sketcher.lesson.constructions.square_at import square_through
from sketcher.lesson.slate import Slate


def image(slate: Slate, point: str, axis: str, name: str = "") -> str:
    """Return the reflection of a point about a line, by two arcs about points of the line."""
    line, at = slate.lines[axis], slate.points[point]
    foot = line.foot(at)
    over = (2.0 * foot[0] - at[0], 2.0 * foot[1] - at[1])
    if dist(at, over) <= slate.near:
        return point
    known = "" if name else slate.point_at(over)
    if known:
        return known
    one, other = _well_apart(slate, axis, point)
    if not one:
        return _stepped_over(slate, point, axis, over, name)
    arcs = [slate.swing(p, slate.span(p, point), over) for p in (one, other)]
    found = slate.cross(arcs[0], arcs[1], over, name)
    slate.say(f"Reflect {point} about {axis}: about {one} and {other} strike arcs through "
              f"{point}; beyond {axis} they cross at {found}.")
    return found


def _stepped_over(slate: Slate, point: str, axis: str, over: XY, name: str) -> str:
    """Square to the line, and as far beyond it: where no two points of it are well apart."""
    upright = square_through(slate, axis, point)
    foot = slate.cross(upright, axis, slate.lines[axis].foot(slate.points[point]))
    found = slate.cross(upright, slate.swing(foot, slate.span(foot, point), over), over, name)
    slate.say(f"Reflect {point} about {axis}: {upright} cuts it square at {foot}; about {foot} "
              f"swing the distance {foot}-{point} beyond it: {found}.")
    return found


def _well_apart(slate: Slate, axis: str, point: str) -> tuple[str, str]:
    """Two points of a line from which a point is seen at a good angle, empty where none are."""
    at, known = slate.points[point], slate.on[axis]
    best, pair = 0.0, ("", "")
    for k, one in enumerate(known[:12]):
        for other in known[k + 1:12]:
            (ax, ay), (bx, by) = slate.points[one], slate.points[other]
            ux, uy, vx, vy = at[0] - ax, at[1] - ay, at[0] - bx, at[1] - by
            size = dist(at, (ax, ay)) * dist(at, (bx, by))
            sine = abs(ux * vy - uy * vx) / size if size else 0.0
            if sine > best:
                best, pair = sine, (one, other)
    return pair if best > 0.1 else ("", "")


def beyond(slate: Slate, middle: str, start: str, name: str = "") -> str:
    """Return the point as far beyond a middle as another lies before it."""
    (mx, my), (sx, sy) = slate.points[middle], slate.points[start]
    there = (2.0 * mx - sx, 2.0 * my - sy)
    line = slate.rule(start, middle)
    slate.say(f"Draw {line} through {start} and {middle}.")
    found = slate.cross(line, slate.swing(middle, slate.span(middle, start), there), there, name)
    slate.say(f"About {middle} swing the distance {middle}-{start} on {line} beyond it: {found}.")
    return found
