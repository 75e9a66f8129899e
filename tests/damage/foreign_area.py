"""Areas of the closed outlines of any DXF, as GDAL reads it; nothing of the program is used."""

from __future__ import annotations

from pathlib import Path

import pyogrio
import shapely

OPTIONS = ("OGR_ARC_STEPSIZE", "DXF_CLOSED_LINE_AS_POLYGON")
NO_EDGES = ("Dimension", "Text", "Leader", "Hatch")
"""Entities that say something about the drawing, by their class in the DXF reference."""
STEP = 0.25  # degrees; the area of a circle in such chords is 3e-6 short


def outlines(path: Path, reach: float = 0.0) -> list[shapely.Polygon]:
    """Closed contours, each filled; lines whose ends lie within `reach` are joined."""
    pyogrio.set_gdal_config_options({"OGR_ARC_STEPSIZE": str(STEP)})
    try:
        meta, _, geometry, fields = pyogrio.raw.read(path)
    finally:
        pyogrio.set_gdal_config_options(dict.fromkeys(OPTIONS))
    kinds = fields[list(meta["fields"]).index("SubClasses")]
    shapes = [shapely.force_2d(shapely.from_wkb(each))
              for each, kind in zip(geometry, kinds, strict=True)
              if each and not any(word in str(kind) for word in NO_EDGES)]
    lines = [line for shape in shapes for line in _lines(shape)]
    if not lines:
        return []
    net = shapely.unary_union(lines) if not reach else shapely.unary_union(
        shapely.set_precision(shapely.MultiLineString(lines), reach))
    faces = shapely.get_parts(shapely.polygonize(list(shapely.get_parts(net))))
    return [shapely.Polygon(face.exterior) for face in faces]


def _lines(shape: shapely.Geometry) -> list[shapely.LineString]:
    if shape.geom_type.startswith(("Multi", "Geometry")):
        return [line for part in shapely.get_parts(shape) for line in _lines(part)]
    if shape.geom_type == "Polygon":
        return [shapely.LineString(ring.coords) for ring in (shape.exterior, *shape.interiors)]
    return [shape] if shape.geom_type == "LineString" and shape.length > 0.0 else []


def plates(path: Path, reach: float = 0.0) -> list[float]:
    """Areas of the plates, the largest first: a contour at an even depth less those right in it."""
    found = outlines(path, reach)
    inner = [each.representative_point() for each in found]
    within = [{k for k, other in enumerate(found) if k != n and other.area > each.area
               and other.contains(inner[n])} for n, each in enumerate(found)]
    areas = []
    for n, each in enumerate(found):
        if len(within[n]) % 2 == 0:
            holes = [found[k].area for k in range(len(found))
                     if n in within[k] and len(within[k]) == len(within[n]) + 1]
            areas.append(each.area - sum(holes))
    return sorted(areas, reverse=True)
