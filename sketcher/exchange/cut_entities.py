"""What a cutting file holds, whatever its form: punch marks, leads and contours in order.

- The marks come first, on `MARK`, then the paths in the order of the plan. A contour is one closed
  polyline on `INSIDE` or `OUTSIDE`; a full circle without a lead or tabs is a CIRCLE.
- Leads stand on `LEAD`, each an open polyline that meets the contour's first point exactly: a
  controller follows what touches end to end, and one who sets leads of his own turns that layer
  off and has closed contours left. The file's order is lead-in, contour, lead-out.
- Tabs are gaps: between them the contour is cut in open polylines, the first from the contour's
  start, the last back to it.
- Inside contours run counter-clockwise and outside ones clockwise. A CIRCLE has no direction, and
  an ARC always runs counter-clockwise.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import chain, pairwise
from math import pi
from typing import TypeAlias

from sketcher.geometry.arcs import bulge
from sketcher.geometry.bounds import Box, bounds_of
from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.geometry.evaluate import piece, reversed_curve, split
from sketcher.quantity.units import convert
from sketcher.shop.cut_layers import INSIDE, LEAD, MARK, OUTSIDE, kerf_layer
from sketcher.shop.cut_plan import CutContour, CutMark, CutPath, CutPlan

MOST_SWEEP = 1.75 * pi
"""Arcs that go further round are written as two: near a full turn their chord says little."""

CROSS_MM, RING_MM = 4.0, 1.0
"""Length of the lines of a cross and diameter of a small circle, for a punch mark; at most half of
the hole, so that the drill takes all of it away (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class CutPolyline:
    """Lines and arcs head to tail: where each begins and its bulge; an open one ends at the last.

    Parameters
    ----------
    vertices : tuple of (x, y, bulge)
    closed : bool
    """

    vertices: tuple[tuple[float, float, float], ...]
    closed: bool


Shape: TypeAlias = XY | Line | Arc | Circle | CutPolyline


@dataclass(frozen=True, slots=True)
class CutEntity:
    """One entity of a cutting file: a point, a single curve or a polyline, on a layer."""

    layer: str
    shape: Shape


def layers_of(plan: CutPlan) -> tuple[str, ...]:
    """Return the names of the layers of a plan's file: contours always, others where used."""
    kerf, unit = plan.settings.kerf, plan.unit
    leads = any(path.lead_in or path.lead_out for path in plan.paths)
    return (kerf_layer(INSIDE, kerf, unit), kerf_layer(OUTSIDE, kerf, unit),
            *((MARK,) if plan.marks else ()), *((LEAD,) if leads else ()))


def entities_of(plan: CutPlan, pieces: bool = False) -> tuple[CutEntity, ...]:
    """Return all entities of a plan's file in order.

    Parameters
    ----------
    plan : CutPlan
    pieces : bool
        Lines and arcs one by one in place of polylines.
    """
    inside, outside, *_ = layers_of(plan)
    found: list[CutEntity] = []
    for mark in plan.marks:
        found += (CutEntity(MARK, shape) for shape in _marked(mark, plan))
    for path in plan.paths:
        layer = inside if path.contour.hole else outside
        found += (CutEntity(LEAD, shape) for shape in _open(path.lead_in, pieces))
        found += (CutEntity(layer, shape) for shape in _contour(path, pieces))
        found += (CutEntity(LEAD, shape) for shape in _open(path.lead_out, pieces))
    return tuple(found)


def box_of_file(plan: CutPlan) -> Box:
    """Return the box around all that the file of a plan shows, arcs exactly and tabs left out."""
    def curves() -> Iterator[Curve]:
        for path in plan.paths:
            yield from path.lead_in
            yield from chain(*between_tabs(path)) if path.tabs else path.contour.curves
            yield from path.lead_out
        for mark in plan.marks:
            for shape in _marked(mark, plan):
                if isinstance(shape, Line | Circle):
                    yield shape
                else:
                    yield Line(mark.at, mark.at)

    return bounds_of(curves())


def _marked(mark: CutMark, plan: CutPlan) -> Iterator[Shape]:
    """Yield the strokes of a punch mark."""
    (x, y), form = mark.at, plan.settings.mark_form
    most = 0.5 * mark.diameter
    if form == "circle":
        yield Circle(mark.at, 0.5 * min(convert(RING_MM, "mm", plan.unit), most))
    elif form == "cross":
        arm = 0.5 * min(convert(CROSS_MM, "mm", plan.unit), most)
        yield Line((x - arm, y), (x + arm, y))
        yield Line((x, y - arm), (x, y + arm))
    else:
        yield mark.at


def _contour(path: CutPath, pieces: bool) -> Iterator[Shape]:
    circle = path.contour.circle
    if circle and not (path.lead_in or path.lead_out or path.tabs):
        yield circle
    elif path.tabs:
        for run in between_tabs(path):
            yield from _open(run, pieces)
    elif pieces:
        yield from travelled(path.contour)
    else:
        yield CutPolyline(tuple(_vertices(travelled(path.contour))), True)


def _open(curves: Sequence[Curve], pieces: bool) -> Iterator[Shape]:
    """Yield open runs of curves; an arc alone stays a polyline, which keeps its direction."""
    bends = [part for curve in curves if not isinstance(curve, Circle) for part in _short(curve)]
    if pieces or (len(bends) == 1 and isinstance(bends[0], Line)):
        yield from bends
    elif bends:
        yield CutPolyline((*_vertices(bends), (*bends[-1].end, 0.0)), False)


def travelled(contour: CutContour) -> tuple[Line | Arc, ...]:
    """Return the curves of a contour in the direction of the cut, long arcs in two.

    A circle goes round from its start in two half turns.
    """
    circle = contour.circle
    if circle is not None:
        halves = split(circle, (0.0, 0.5))
        return halves if contour.hole else tuple(map(reversed_curve, reversed(halves)))
    return tuple(part for curve in contour.curves if not isinstance(curve, Circle)
                 for part in _short(curve))


def between_tabs(path: CutPath) -> tuple[tuple[Line | Arc, ...], ...]:
    """Return what is cut of a contour with tabs, run by run; the first begins at its start."""
    edges = [0.0, *(length for tab in path.tabs for length in tab), path.contour.length]
    runs = []
    for first, last in zip(edges[::2], edges[1::2], strict=True):
        run = tuple(between(travelled(path.contour), first, last))
        runs += [run] if run else []
    return tuple(runs)


def between(curves: Iterable[Line | Arc], first: float, last: float) -> Iterator[Line | Arc]:
    """Yield the pieces of a run of curves between two lengths along it, in its unit."""
    curves = tuple(curves)
    ends = [0.0]
    for curve in curves:
        ends.append(ends[-1] + curve.length)
    least = 1e-9 * ends[-1]  # what is shorter comes of rounding where a tab ends at a corner
    for curve, (start, end) in zip(curves, pairwise(ends), strict=True):
        a, b = max(first, start), min(last, end)
        if b - a > least:
            yield piece(curve, (a - start) / curve.length if a > start else 0.0,
                        (b - start) / curve.length if b < end else 1.0)


def _short(curve: Line | Arc) -> tuple[Line | Arc, ...]:
    if isinstance(curve, Arc) and abs(curve.sweep) > MOST_SWEEP:
        return split(curve, (0.5,))
    return (curve,)


def _vertices(curves: Iterable[Line | Arc]) -> Iterator[tuple[float, float, float]]:
    for curve in curves:
        yield (*curve.start, bulge(curve) if isinstance(curve, Arc) else 0.0)
