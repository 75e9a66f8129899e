"""A cutting DXF as GDAL reads it: contours as polygons, and their area.

GDAL turns arcs into chords. The area by chords falls short by a share that goes with the square of
the step, so readings at two steps give the exact area by extrapolation (Richardson).
"""

from __future__ import annotations

from pathlib import Path

import pyogrio
import shapely

STEPS = (0.1, 0.05)
"""Degrees. The number of chords is rounded up, so that short arcs need many for extrapolation."""
INSIDE, OUTSIDE = "INSIDE", "OUTSIDE"


def contours(path: Path, step: float) -> list[tuple[str, shapely.Polygon]]:
    """Layer and polygon of every entity; what is not closed raises ValueError."""
    pyogrio.set_gdal_config_options({"DXF_CLOSED_LINE_AS_POLYGON": "TRUE",
                                     "OGR_ARC_STEPSIZE": str(step)})
    meta, _, geometry, fields = pyogrio.raw.read(path)
    layers = fields[list(meta["fields"]).index("Layer")]
    found = []
    for layer, shape in zip(layers, map(shapely.from_wkb, geometry), strict=True):
        if shape.geom_type == "LineString" and shape.is_closed:
            shape = shapely.Polygon(shape)  # GDAL leaves circles as closed lines
        if shape.geom_type != "Polygon":
            raise ValueError(f"an entity on {layer} is not closed")
        found.append((layer, shape))
    return found


def material(found: list[tuple[str, shapely.Polygon]]) -> float:
    """Area of the outside contours less the inside ones."""
    return sum(shape.area if layer == OUTSIDE else -shape.area for layer, shape in found)


def area(path: Path) -> float:
    """The exact area by extrapolation of two readings."""
    coarse, fine = (material(contours(path, step)) for step in STEPS)
    return fine + (fine - coarse) / 3.0


def faults(found: list[tuple[str, shapely.Polygon]], outside: int, inside: int) -> list[str]:
    """What is wrong with the contours of one part in one piece."""
    shapes = {name: [shape for layer, shape in found if layer == name]
              for name in (OUTSIDE, INSIDE)}
    wrong = [f"{len(shapes[name])} contours on {name}, not {count}"
             for name, count in ((OUTSIDE, outside), (INSIDE, inside))
             if len(shapes[name]) != count]
    wrong += [f"{layer}: {shapely.is_valid_reason(shape)}" for layer, shape in found
              if not shape.is_valid]
    if wrong:
        return wrong
    sheet = shapely.unary_union(shapes[OUTSIDE])
    if not all(sheet.contains(hole) for hole in shapes[INSIDE]):
        wrong.append("an inside contour is not inside")
    holes = shapely.unary_union(shapes[INSIDE]).area
    if abs(holes - sum(hole.area for hole in shapes[INSIDE])) > 1e-9 * sheet.area:
        wrong.append("inside contours overlap")
    return wrong


def insunits(path: Path) -> str:
    """The unit in the header: "4" millimetres, "1" inches."""
    lines = [line.strip() for line in path.read_text(encoding="utf-8").splitlines()]
    return lines[lines.index("$INSUNITS") + 2]
