"""Drawings that other programs wrote, read by GDAL as well: areas, and its vertices on our curves.

GDAL sets the vertices of a free curve on it, but far apart: for areas scipy draws these. Its lines
of a DIMENSION are no edges: they stand on other layers. Where the drawings are missing the tests
are skipped.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

import ezdxf
import numpy as np
import pyogrio
import pytest
import shapely
from scipy.interpolate import BSpline

from sketcher.exchange.dxf_content import DxfContent
from sketcher.exchange.dxf_read import read_dxf
from sketcher.geometry.biarcs import spline_arcs
from sketcher.intake.take_in import take_in
from sketcher.intake.wishes import Wishes
from tests.chords import facet
from tests.shared_files import shared

STEP = 0.2  # degrees, of GDAL's arcs
OPTIONS = ("OGR_ARC_STEPSIZE", "DXF_CLOSED_LINE_AS_POLYGON")
NOT_GDALS = ("malformed",)
FILES = [path for path in shared("dxf", "*.dxf") if not path.stem.startswith(NOT_GDALS)]

pytestmark = pytest.mark.skipif(not FILES, reason="the foreign drawings are not here")


@cache
def gdals(path: Path) -> tuple[tuple[shapely.Geometry, str, str], ...]:
    """Everything in a drawing as GDAL has it, with layer and kind."""
    pyogrio.set_gdal_config_options(dict(zip(OPTIONS, (str(STEP), "FALSE"), strict=True)))
    try:
        meta, _, shapes, fields = pyogrio.raw.read(path)
    finally:
        pyogrio.set_gdal_config_options(dict.fromkeys(OPTIONS))
    names, kinds = (fields[list(meta["fields"]).index(name)] for name in ("Layer", "SubClasses"))
    return tuple((shapely.force_2d(shape), name, kind or "") for shape, name, kind in
                 zip(shapely.from_wkb(shapes), names, kinds, strict=True))


def theirs(path: Path, layers: set[str], *, free: bool = True) -> list[shapely.Geometry]:
    """Edges on some layers as GDAL has them, free curves among them or not."""
    every = [shape for shape, name, kind in gdals(path)
             if name in layers and (free or "AcDbSpline" not in kind)]
    return [part for shape in every for part in shapely.get_parts(shape)
            if part.geom_type == "LineString"]


def scipys(path: Path) -> list[shapely.Geometry]:
    """The splines of a drawing, whose control points and knots scipy evaluates."""
    found = []
    for spline in ezdxf.readfile(path).modelspace().query("SPLINE"):
        points = np.array([(point[0], point[1], 1.0) for point in spline.control_points])
        points *= np.array(spline.weights or [1.0] * len(points))[:, None]
        degree, knots = spline.dxf.degree, np.array(spline.knots)
        span = np.linspace(knots[degree], knots[len(points)], 20_000)
        places = BSpline(knots, points, degree)(span)
        found.append(shapely.LineString(places[:, :2] / places[:, 2:]))
    return found


def ours(content: DxfContent) -> list[shapely.Geometry]:
    """Edges as we read them, in chords off them by 5e-6 and by 8e-6 of the radius at most."""
    curves = [each.curve for each in content.curves]
    curves += [arc for each in content.splines for arc in spline_arcs(each.curve, 1e-4)]
    return [shapely.LineString(facet(curve, min(5e-6, 8e-6 * getattr(curve, "radius", 1.0))))
            for curve in curves if curve.length]


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
    # Our arcs lie within 1e-4 of a free curve, our chords within 5e-6 of the arcs.
    shapely.prepare(whole)
    assert shapely.dwithin(whole, vertices, 2e-4 + 2e-5 * size).all()
    drawn = theirs(path, {each.layer for each in (*content.curves, *content.splines)}, free=False)
    assert areas(mine) == pytest.approx(areas([*drawn, *scipys(path)]), rel=2e-4)


def test_chords_of_a_free_curve_have_its_area_again() -> None:
    """One drawing twice: as a polyline of chords, and as a spline, which scipy evaluates."""
    cut, whole = shared("dxf", "mixed.r12.dxf") + shared("dxf", "mixed.r14.dxf")
    curve = max(areas(scipys(whole)))
    polygon, arcs = (take_in(read_dxf(cut), wishes).parts[0].area
                     for wishes in (Wishes(), Wishes(chord=0.02)))
    # Arcs within 0.0005 in of 10 in of edge; they miss by 1.1e-4.
    assert arcs == pytest.approx(curve, rel=2e-4)
    assert polygon == pytest.approx(curve * (1.0 - 1.5e-3), rel=2e-4)


@pytest.mark.parametrize(("name", "unit"), [("wheels-in", "in"), ("malformed-polyline", "mm")])
def test_answered_questions_leave_no_near_tangent_edges(name: str, unit: str) -> None:
    (path,) = shared("dxf", f"{name}.dxf")
    content = read_dxf(path)
    asked = take_in(content, Wishes())
    assert any("look in line" in text for part in asked.parts for text in part.findings)
    chord = max(float(each.answers[1]) for each in asked.questions if each.option == "--chord")
    made = take_in(content, Wishes(chord=chord))
    assert [part.findings for part in made.parts] == [()] * len(asked.parts)
    assert {part.part.unit for part in made.parts} == {unit}
