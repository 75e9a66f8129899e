"""The DXF for a cutter: closed contours only, true arcs, real coordinates, nothing else.

- One polyline a contour, its arcs as exact bulges; or, as pieces, lines and arcs one by one. A full
  circle is always a CIRCLE.
- Two layers, `INSIDE` and `OUTSIDE`, both in the reader's default colour. Inside contours come
  first in the file, so that a part is held by its sheet while its holes are cut (common practice,
  no source). What lies off the plate or inside a hole is no part of it and not in the file.
- Inside contours run counter-clockwise and outside contours clockwise. A plasma's swirl leaves the
  right side of the cut squarer (torch manuals), and that is then the part's side. A CIRCLE has no
  direction, and single arcs always run counter-clockwise.
- Nominal size: nothing is offset by the kerf. The cutter's own program does that, once.
- Units stand in the header ($INSUNITS, $MEASUREMENT).
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass
from math import degrees, pi
from pathlib import Path
from typing import Any

from sketcher.exchange.dxf_bytes import dxf_bytes, new_document
from sketcher.geometry.arcs import bulge
from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.geometry.evaluate import split
from sketcher.inspect.inspection import Inspection
from sketcher.part.atomic import Put, write_bytes
from sketcher.shop.cut_plan import CutContour, CutPlan, CutSettings
from sketcher.shop.planning import plan_cut

INSIDE, OUTSIDE = "INSIDE", "OUTSIDE"

CAUTIONS = (
    "Nominal size: not offset for the kerf. Let the cutter's program do that, once.",
    "Cutters burn and blind: follow the machine's manual, your local codes and fire rules, and "
    "leave to licensed practice what they reserve for it.",
    "Galvanised, painted or plated metal gives off harmful fumes; PVC and unknown plastics must "
    "not be cut thermally at all.",
    "A part that carries load, lifts, holds pressure or guards needs a qualified engineer; only "
    "its geometry was checked here.",
)
"""Printed with every cutting file."""

MOST_SWEEP = 1.75 * pi
"""Arcs that go further round are written as two: near a full turn their chord says little."""


@dataclass(frozen=True, slots=True)
class CutFile:
    """What was written: contours by layer, and the length of all cuts in the part's unit."""

    inside: int
    outside: int
    length: float


def write_cut(
    inspection: Inspection, path: str | Path, pieces: bool = False,
    despite: Collection[str] = (), put: Put = write_bytes, settings: CutSettings | None = None,
) -> CutFile:
    """Write the cutting DXF of an inspected part, in one step.

    Parameters
    ----------
    inspection : Inspection
        Of the solved part.
    path : path-like
        The file to write.
    pieces : bool
        Lines and arcs one by one in place of polylines.
    despite : collection of str
        Codes of findings with which it may be cut all the same. Of a part with a ``detached``
        finding the plate alone is written.
    put : callable
        Takes path and content; left out, the file is written in one step.
    settings : CutSettings, optional
        Kerf, lead-ins and all else that is chosen for a cut.

    Raises
    ------
    ExportError
        When the part has a finding that is not named, or one with which no cutter can make it; the
        error names them. Nothing is written.
    FileError
        When the file cannot be written.
    """
    plan = plan_cut(inspection, settings, despite)
    put(path, dxf_bytes(cut_document(plan, pieces)))
    holes = sum(each.contour.hole for each in plan.paths)
    return CutFile(holes, len(plan.paths) - holes, plan.length)


def cut_document(plan: CutPlan, pieces: bool = False) -> Any:
    """Return the drawing in memory, as an ezdxf document of version R2000."""
    document = new_document("R2000", plan.unit)
    for layer in (INSIDE, OUTSIDE):
        document.layers.add(layer, color=7)
    space = document.modelspace()
    for each in plan.paths:
        contour = each.contour
        look = {"layer": INSIDE if contour.hole else OUTSIDE}
        circle = contour.circle
        if circle:
            space.add_circle(circle.center, circle.radius, look)
        elif pieces:
            for curve in travelled(contour):
                _add_piece(space, curve, look)
        else:
            vertices = [(*start, bend) for start, bend in _vertices(travelled(contour))]
            space.add_lwpolyline(vertices, format="xyb", close=True, dxfattribs=look)
    return document


def travelled(contour: CutContour) -> tuple[Line | Arc, ...]:
    """Return the curves of a contour that is no circle, long arcs in two."""
    return tuple(piece for curve in contour.curves if not isinstance(curve, Circle)
                 for piece in _short(curve))


def _short(curve: Line | Arc) -> tuple[Line | Arc, ...]:
    if isinstance(curve, Arc) and abs(curve.sweep) > MOST_SWEEP:
        return split(curve, (0.5,))
    return (curve,)


def _vertices(curves: Iterable[Line | Arc]) -> Iterator[tuple[XY, float]]:
    for curve in curves:
        yield curve.start, bulge(curve) if isinstance(curve, Arc) else 0.0


def _add_piece(space: Any, curve: Curve, look: dict[str, str]) -> None:
    if isinstance(curve, Line):
        space.add_line(curve.start, curve.end, look)
        return
    assert isinstance(curve, Arc)
    start = degrees(curve.start_angle)
    end = degrees(curve.start_angle + curve.sweep)
    space.add_arc(
        curve.center, curve.radius, start % 360.0, end % 360.0, is_counter_clockwise=curve.ccw,
        dxfattribs=look,
    )


__all__ = ["CAUTIONS", "INSIDE", "OUTSIDE", "CutFile", "cut_document", "travelled", "write_cut"]
