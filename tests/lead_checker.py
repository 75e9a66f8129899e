"""Judges leads and tabs of a plan of a cut: by shapely on fine chords, and by its own angles.

Nothing of the program is used but the numbers in lines, arcs and circles. An arc in chords of a
fifth of a degree strays from itself by 3.8e-7 of its radius (1 - cos 0.05 degrees, halved on both
sides); a chord of the part stands in a hole by as much.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import atan2, cos, dist, hypot, pi, radians, sin, tau
from typing import Any

import numpy as np
import shapely

XY = tuple[float, float]
STEP = radians(0.2)
CHORD = 1.6e-6  # sagitta of such a chord by the radius: (0.2 degrees in radians)^2 / 8


def places(curve: Any) -> list[XY]:
    """Places along a curve, ends included."""
    if hasattr(curve, "direction"):
        return [curve.start, curve.end]
    (x, y), r = curve.center, curve.radius
    if not hasattr(curve, "start"):
        first, turn = 0.0, tau
    else:
        first = atan2(curve.start[1] - y, curve.start[0] - x)
        turn = (atan2(curve.end[1] - y, curve.end[0] - x) - first) % tau or tau
        if not curve.ccw:
            turn -= tau
            turn = turn or -tau
    steps = max(2, int(abs(turn) / STEP) + 1)
    bent = [(x + r * cos(first + turn * k / steps), y + r * sin(first + turn * k / steps))
            for k in range(steps + 1)]
    if hasattr(curve, "start"):
        bent[0], bent[-1] = curve.start, curve.end
    return bent


def heading(curve: Any, at_end: bool) -> float:
    """Direction of travel at one end, in radians."""
    if hasattr(curve, "direction"):
        return atan2(curve.end[1] - curve.start[1], curve.end[0] - curve.start[0])
    x, y = curve.center
    if not hasattr(curve, "start"):
        return 0.5 * pi
    at = curve.end if at_end else curve.start
    return atan2(at[1] - y, at[0] - x) + (0.5 * pi if curve.ccw else -0.5 * pi)


def ends(curve: Any) -> tuple[XY, XY]:
    """Where a curve begins and ends; a circle at its right."""
    if hasattr(curve, "start"):
        return curve.start, curve.end
    at = (curve.center[0] + curve.radius, curve.center[1])
    return at, at


def ring(curves: Sequence[Any]) -> list[XY]:
    """Places of a run of curves, head to tail."""
    return [at for curve in curves for at in places(curve)]


def part_of(finished: Sequence[Any]) -> Any:
    """The finished part: outside contours less holes, by how many lie around each."""
    solid = shapely.Polygon()
    for contour in sorted(finished, key=lambda one: (one.depth, one.hole)):
        face = shapely.Polygon(ring(contour.curves))
        solid = solid.difference(face) if contour.hole else solid.union(face)
    return solid


def lead_faults(
    path: Any, solid: Any, kerf: float, width: float, before: Any = None
) -> Iterator[str]:
    """What is wrong with the leads of one path.

    Parameters
    ----------
    path : CutPath
    solid : shapely geometry
        The finished part.
    kerf : float
        By which the contour is offset.
    width : float
        Radius of the disc around a pierce that must be clear of the part.
    before : CutContour
        The contour as it was without a lead, of which the same must be cut.
    """
    contour, name = path.contour, ",".join(path.contour.ids[:3])
    size = max(hypot(*at) for at in ring(contour.curves)) + 1.0
    tol = 4.0 * CHORD * max([size, *(getattr(curve, "radius", 0.0) for curve in contour.curves)])
    curves = [*path.lead_in, *contour.curves, *path.lead_out]
    for one, other in pairwise(curves):
        if dist(ends(one)[1], ends(other)[0]) > 1e-9 * size:
            yield f"{name}: a gap of {dist(ends(one)[1], ends(other)[0]):.2e}"
    if dist(ends(contour.curves[-1])[1], ends(contour.curves[0])[0]) > 1e-9 * size:
        yield f"{name}: not closed"
    yield from _headings(path, name)
    yield from _same(contour, before, name)
    way = shapely.MultiLineString([ring(some) for some in (path.lead_in, path.lead_out) if some])
    # The kerf beside a lead touches the part where the lead touches the contour, so a little less.
    if way.distance(solid) < 0.5 * kerf - tol:
        yield f"{name}: the kerf of a lead cuts into the part"
    if way.distance(solid) == 0.0 and deepest(way, solid) > tol:
        yield f"{name}: a lead cuts into the part"
    pierce = shapely.Point(ends(path.lead_in[0])[0])
    if solid.distance(pierce) < width - tol:
        yield f"{name}: pierced {solid.distance(pierce):.4f} off the part"
    if shapely.Polygon(ring(contour.curves)).contains(pierce) != contour.hole:
        yield f"{name}: pierced on the other side of the contour"


def deepest(way: Any, solid: Any) -> float:
    """How deep a way lies in the part, at places a hundredth of it apart and at all its corners."""
    fine = way.segmentize(way.length / 100.0)
    dots = shapely.points(shapely.get_coordinates(fine))
    inner = dots[shapely.contains(solid, dots)]
    return float(shapely.distance(solid.boundary, inner).max(initial=0.0))


def _headings(path: Any, name: str) -> Iterator[str]:
    """A lead bends onto the contour and off it without a corner, or comes square from a center."""
    first, last = path.contour.curves[0], path.contour.curves[-1]
    joints = [(path.lead_in[-1], first, 0.0)]
    joints += [(a, b, 0.0) for a, b in pairwise(path.lead_in)]
    joints += [(last, path.lead_out[0], 0.0)] if path.lead_out else []
    if hasattr(path.lead_in[-1], "direction") and hasattr(first, "center"):
        joints[0] = (path.lead_in[-1], first, 0.5 * pi)
        if dist(ends(path.lead_in[0])[0], first.center) > 1e-9 * first.radius:
            yield f"{name}: a straight lead that does not come from the center"
        if path.lead_out:
            yield f"{name}: a lead-out behind a straight lead"
    for one, other, wanted in joints:
        broken = (heading(other, False) - heading(one, True) - wanted + pi) % tau - pi
        if abs(broken) > 1e-6:
            yield f"{name}: a lead meets it at {broken:.2e}"


def _same(contour: Any, before: Any, name: str) -> Iterator[str]:
    """The same is cut, the part on its right."""
    face = shapely.Polygon(ring(contour.curves))
    if face.exterior.is_ccw != contour.hole:
        yield f"{name}: cut the wrong way"
    if before is not None:
        other = shapely.Polygon(ring(before.curves))
        # Chords begin elsewhere: each leaves a segment of area r^2 step^3 / 12 at most.
        if face.symmetric_difference(other).area > 4.0 * CHORD * other.length**2:
            yield f"{name}: another contour"


def tab_faults(path: Any, count: int, gap: float, lead: float) -> Iterator[str]:
    """What is wrong with the tabs of a path: number, width, distance from corners and lead."""
    curves, name = path.contour.curves, path.contour.ids[0]
    lengths = [length_of(curve) for curve in curves]
    total = sum(lengths)
    if len(path.tabs) != count:
        yield f"{name}: {len(path.tabs)} tabs, not {count}"
    stops = [0.0, *(float(x) for x in np.cumsum(lengths))]
    corners = [stop for stop, one, other in
               zip(stops[1:], curves, [*curves[1:], curves[0]], strict=True)
               if abs((heading(other, False) - heading(one, True) + pi) % tau - pi) > 1e-3]
    end = 0.0
    for first, last in path.tabs:
        if abs(last - first - gap) > 1e-9 * total or first < end:
            yield f"{name}: tabs overlap or have another width"
        if first < lead or last > total - lead:
            yield f"{name}: a tab beside the lead"
        if any(first - 0.999 * gap < corner < last + 0.999 * gap for corner in corners):
            yield f"{name}: a tab at a corner"
        end = last


def length_of(curve: Any) -> float:
    """Length of a curve, by its own angles."""
    if hasattr(curve, "direction"):
        return dist(curve.start, curve.end)
    if not hasattr(curve, "start"):
        return float(tau * curve.radius)
    (x, y), (ax, ay), (bx, by) = curve.center, curve.start, curve.end
    turn = (atan2(by - y, bx - x) - atan2(ay - y, ax - x)) % tau
    return float(curve.radius * ((turn if curve.ccw else tau - turn) or tau))


def found_place(
    contour: Any, solid: Any, kerf: float, width: float, lengths: Sequence[float]
) -> XY | None:
    """A pierce from which an arc and a line lead onto a contour, by a fine search; None for none.

    Every place in 240, every turn by 7.5 degrees, an arc a third of the lead long in radius; three
    tenths more room for the pierce than must be, so that only a clear case counts.
    """
    edge = shapely.LineString(ring(contour.curves))
    ways, pierces = [], []
    for share in np.linspace(0.0, 1.0, 240, endpoint=False):
        at, along = _ray(edge, float(share))
        for length in lengths:
            for turn in np.radians(np.arange(15.0, 121.0, 7.5)):
                way = _lead(at, along, length, float(turn))
                if way is not None:
                    ways.append(way)
                    pierces.append(way[0])
    if not ways:
        return None
    roomy = np.flatnonzero(shapely.distance(solid, shapely.points(pierces)) > 1.3 * width)
    for k in roomy.tolist():
        way = ways[k]
        middle = (0.5 * (way[0][0] + way[1][0]), 0.5 * (way[0][1] + way[1][1]))
        # A controller that still offsets the contour offsets the lead with it.
        beside = 0.55 * width if kerf else 1.05 * width
        if solid.distance(shapely.LineString([way[0], middle])) > beside and \
                solid.distance(shapely.LineString(way[:-2])) > 0.5 * kerf:
            return pierces[k]
    return None


def _ray(edge: Any, share: float) -> tuple[XY, XY]:
    """A place along an edge, and the unit direction there."""
    at = edge.interpolate(share, normalized=True)
    ahead = edge.interpolate(min(share + 1e-6, 1.0), normalized=True)
    back = edge.interpolate(max(share - 1e-6, 0.0), normalized=True)
    way = (ahead.x - back.x, ahead.y - back.y)
    return (at.x, at.y), (way[0] / hypot(*way), way[1] / hypot(*way))


def _lead(at: XY, along: XY, length: float, turn: float) -> list[XY] | None:
    """Places of an arc and a line that end at a place in its direction, from the left."""
    r, (ux, uy) = length / 3.0, along
    straight = length - r * turn
    if straight < 0.0:
        return None
    bend = [(-r * sin(turn * k / 8.0), r * (1.0 - cos(turn * k / 8.0))) for k in range(8, -1, -1)]
    begin = (bend[0][0] - straight * cos(turn), bend[0][1] + straight * sin(turn))
    return [(at[0] + a * ux - b * uy, at[1] + a * uy + b * ux) for a, b in (begin, *bend)]
