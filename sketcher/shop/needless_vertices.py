"""Vertices that are none: lines that run on in line, arcs that run on round their circle.

Where a contour crosses the axis of its mirror, two pieces meet that are one. A cutter slows down at
every vertex, so that one is not written.
"""

from __future__ import annotations

from dataclasses import replace
from math import dist, tau

from sketcher.geometry.curves import XY, Arc, Curve, Line
from sketcher.geometry.evaluate import end_of, midpoint, tangent_at, turn
from sketcher.inspect.profile import BREAK
from sketcher.shop.cut_plan import CutContour

LEAST_OPENING = 1e-3
"""An arc stays so much short of a full turn, in radians: its chord would say nothing more."""


def without_needless_vertices(contour: CutContour, tol: float) -> CutContour:
    """Return the contour with runs of one line, and of one circle, as one curve each.

    Parameters
    ----------
    contour : CutContour
    tol : float
        How far a place of the old curves may lie off the new ones, in the part's unit.

    Returns
    -------
    CutContour
        As many ids as curves: those of the curves that became one are joined with a plus. A contour
        without any is returned as it is. It may begin one run of curves earlier.
    """
    count = len(contour.curves)
    if contour.circle is not None or len(contour.ids) != count or count < 3:
        return contour
    first = next((k for k in range(count)
                  if _one([contour.curves[k - 1], contour.curves[k]], tol) is None), 0)
    runs: list[list[int]] = []
    merged: list[Curve] = []
    for k in (*range(first, count), *range(first)):
        curve = contour.curves[k]
        longer = _one([*(contour.curves[j] for j in runs[-1]), curve], tol) if runs else None
        if longer is None:
            runs.append([k])
            merged.append(curve)
        else:
            runs[-1].append(k)
            merged[-1] = longer
    if len(merged) == count:
        return contour
    # It goes on beginning where it began, or with the run in which that place lies.
    start = next(k for k, run in enumerate(runs) if 0 in run)
    ids = ["+".join(contour.ids[k] for k in run) for run in runs]
    return replace(contour, ids=(*ids[start:], *ids[:start]),
                   curves=(*merged[start:], *merged[:start]))


def _one(run: list[Curve], tol: float) -> Line | Arc | None:
    """The one curve that a run of them is, or None."""
    first, last = run[0], run[-1]
    if isinstance(first, Line) and isinstance(last, Line):
        whole: Line | Arc = Line(first.start, last.end)
    elif isinstance(first, Arc) and isinstance(last, Arc):
        sweep = sum(curve.sweep for curve in run if isinstance(curve, Arc))
        if (first.ccw != last.ccw or dist(first.center, last.center) > tol
                or abs(sweep) > tau - LEAST_OPENING):
            return None
        whole = Arc(first.center, first.start, last.end, first.ccw)
    else:
        return None
    before = run[-2]
    if abs(turn(tangent_at(before, 1.0), tangent_at(last, 0.0))) > BREAK:
        return None
    places = [place for curve in run for place in (midpoint(curve), end_of(curve))]
    return whole if all(_off(place, whole) <= tol for place in places) else None


def _off(place: XY, whole: Line | Arc) -> float:
    """How far a place lies off the unbounded line or the circle of a curve."""
    if isinstance(whole, Arc):
        return abs(dist(place, whole.center) - whole.radius)
    ux, uy = whole.direction
    return abs(ux * (place[1] - whole.start[1]) - uy * (place[0] - whole.start[0]))
