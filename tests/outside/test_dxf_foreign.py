"""Drawings that other programs wrote, read by GDAL as well: areas, and its vertices on our curves.

GDAL sets the vertices of a free curve on it, far apart, so that no area can be compared there. Its
lines of a DIMENSION are no edges: they stand on other layers. Where the drawings are
missing the tests are skipped.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pyogrio
import pytest
import shapely

from sketcher.exchange.dxf_content import DxfContent
from sketcher.exchange.dxf_read import read_dxf
from sketcher.geometry.biarcs import spline_arcs
from sketcher.geometry.curves import Line
from sketcher.geometry.evaluate import point_at
from tests.shared_files import shared

STEP = 0.2  # degrees, of GDAL's arcs
OPTIONS = ("OGR_ARC_STEPSIZE", "DXF_CLOSED_LINE_AS_POLYGON")
NOT_GDALS = ("malformed",)
FILES = [path for path in shared("dxf", "*.dxf") if not path.stem.startswith(NOT_GDALS)]

pytestmark = pytest.mark.skipif(not FILES, reason="the foreign drawings are not here")


def theirs(path: Path, layers: set[str]) -> list[shapely.Geometry]:
    """Edges on some layers as GDAL has them."""
    pyogrio.set_gdal_config_options(dict(zip(OPTIONS, (str(STEP), "FALSE"), strict=True)))
    try:
        meta, _, shapes, fields = pyogrio.raw.read(path)
    finally:
        pyogrio.set_gdal_config_options(dict.fromkeys(OPTIONS))
    names = fields[list(meta["fields"]).index("Layer")]
    every = [shapely.force_2d(shape) for shape, name in
             zip(shapely.from_wkb(shapes), names, strict=True) if name in layers]
    return [part for shape in every for part in shapely.get_parts(shape)
            if part.geom_type == "LineString"]


def ours(content: DxfContent) -> list[shapely.Geometry]:
    """Edges as we read them, in short chords."""
    curves = [each.curve for each in content.curves]
    curves += [arc for each in content.splines for arc in spline_arcs(each.curve, 1e-4)]
    return [shapely.LineString([
        point_at(curve, t) for t in ([0, 1] if isinstance(curve, Line) else np.linspace(0, 1, 800))
    ]) for curve in curves if curve.length]


def areas(lines: list[shapely.Geometry]) -> list[float]:
    """Areas of all regions that the edges close off, falling."""
    noded = shapely.node(shapely.set_precision(shapely.union_all(lines), 1e-6))
    found = shapely.get_parts(shapely.polygonize(list(shapely.get_parts(noded))))
    return sorted((shape.area for shape in found), reverse=True)


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.name)
def test_edges_are_gdals(path: Path) -> None:
    content = read_dxf(path)
    mine = ours(content)
    other = theirs(path, {each.layer for each in (*content.curves, *content.splines)})
    whole = shapely.union_all(mine)
    vertices = shapely.points(np.vstack([shapely.get_coordinates(line) for line in other]))
    size = max(np.ptp(shapely.get_coordinates(whole), axis=0))
    # Our arcs lie within 1e-4, their chords within 8e-6 of the radius.
    assert shapely.distance(vertices, whole).max() <= 2e-4 + 2e-5 * size
    if not content.splines:
        assert areas(mine) == pytest.approx(areas(other), rel=2e-4)
