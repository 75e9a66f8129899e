"""Vertices that are none: lines that run on in line, arcs that run on round their circle.

Where a contour crosses the axis of its mirror, two pieces meet that are one. A cutter slows down at
every vertex, so that one is not written.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise
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
                  if _one((contour.curves[k - 1], contour.curves[k]), tol) is None), 0)
    order = (*range(first, count), *range(first))
    runs = tuple(_runs([contour.curves[k] for k in order], tol))
    if len(runs) == count:
        return contour
    ids: list[str] = []
    merged: list[Curve] = []
    start = done = 0
    for many, curve in runs:
        numbers = order[done : done + many]
        # It goes on beginning where it began, or with the run in which that place lies.
        start = len(ids) if 0 in numbers else start
        ids.append("+".join(contour.ids[k] for k in numbers))
        merged.append(curve)
        done += many
    return replace(contour, ids=(*ids[start:], *ids[:start]),
                   curves=(*merged[start:], *merged[:start]))


def _runs(curves: Sequence[Curve], tol: float) -> Iterator[tuple[int, Curve]]:
    """Yield how many curves become one, and that one, from the first curve on.

    Runs are tried twice as long each time and then halved, so that a line in a thousand pieces is
    not looked at a thousand times.
    """
    done = 0
    while done < len(curves):
        many, whole = 1, curves[done]
        step = 1
        while step:
            longer = many + step
            one = _one(curves[done : done + longer], tol) if done + longer <= len(curves) else None
            if one is not None:
                many, whole, step = longer, one, 2 * step
            elif step > 1:
                step //= 2
            else:
                step = 0
        yield many, whole
        done += many


def _one(run: Sequence[Curve], tol: float) -> Line | Arc | None:
    """The one curve that a run of them is, or None."""
    first, last = run[0], run[-1]
    if isinstance(first, Line) and isinstance(last, Line):
        whole: Line | Arc = Line(first.start, last.end)
    elif isinstance(first, Arc) and isinstance(last, Arc):
        whole = Arc(first.center, first.start, last.end, first.ccw)
    else:
        return None
    if not all(_goes_on(a, b, tol) for a, b in pairwise(run)):
        return None
    sweep = sum(curve.sweep for curve in run if isinstance(curve, Arc))
    if abs(sweep) > tau - LEAST_OPENING:
        return None
    places = (place for curve in run for place in (midpoint(curve), end_of(curve)))
    return whole if all(_off(place, whole) <= tol for place in places) else None


def _goes_on(curve: Curve, after: Curve, tol: float) -> bool:
    """Whether a curve goes on as the next one: no turn between them, one circle where round."""
    if type(curve) is not type(after) or (
            isinstance(curve, Arc) and isinstance(after, Arc)
            and (curve.ccw != after.ccw or dist(curve.center, after.center) > tol)):
        return False
    return abs(turn(tangent_at(curve, 1.0), tangent_at(after, 0.0))) <= BREAK


def _off(place: XY, whole: Line | Arc) -> float:
    """How far a place lies off the unbounded line or the circle of a curve."""
    if isinstance(whole, Arc):
        return abs(dist(place, whole.center) - whole.radius)
    ux, uy = whole.direction
    return abs(ux * (place[1] - whole.start[1]) - uy * (place[0] - whole.start[0]))
