"""The cutting DXF read by an independent reader: GDAL, through pyogrio.

GDAL turns arcs into chords; with the step halved the area comes four times nearer, so that two
readings give the exact area by extrapolation. Closed polylines become polygons only when the file
says that they are closed.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pyogrio
import pytest
import shapely

from sketcher.exchange.dxf_cut import INSIDE, OUTSIDE, write_cut
from sketcher.inspect.inspection import Inspection
from sketcher.part.store import load
from tests.demo_parts import SOUND as DEMOS
from tests.inspected import inspected
from tests.plates import looked_at
from tests.unit.exchange.test_dxf_cut import obround

OPTIONS = ("OGR_ARC_STEPSIZE", "DXF_CLOSED_LINE_AS_POLYGON")


@pytest.fixture(autouse=True)
def _closed_lines_are_polygons() -> Iterator[None]:
    pyogrio.set_gdal_config_options({"DXF_CLOSED_LINE_AS_POLYGON": "TRUE"})
    yield
    pyogrio.set_gdal_config_options(dict.fromkeys(OPTIONS))


def layers(path: Path, step: float) -> list[tuple[str, shapely.Geometry]]:
    """Layer and geometry of every entity, arcs in chords of `step` degrees."""
    pyogrio.set_gdal_config_options({"OGR_ARC_STEPSIZE": str(step)})
    meta, _, geometry, fields = pyogrio.raw.read(path)
    names = fields[list(meta["fields"]).index("Layer")]
    return list(zip(names, map(shapely.from_wkb, geometry), strict=True))


def polygon(shape: shapely.Geometry) -> shapely.Polygon:
    """A closed entity as a polygon; GDAL leaves circles as closed lines."""
    if shape.geom_type == "LineString":
        assert shape.is_closed
        return shapely.Polygon(shape)
    assert shape.geom_type == "Polygon"
    return shape


def area(found: list[tuple[str, shapely.Geometry]]) -> float:
    """Area of the outside contours less the inside ones."""
    sign = {OUTSIDE: 1.0, INSIDE: -1.0}
    return sum(sign[layer] * polygon(shape).area for layer, shape in found)


@pytest.fixture(params=[*DEMOS, None], ids=lambda path: path.stem if path else "obround")
def inspection(request: pytest.FixtureRequest) -> Inspection:
    """Each demo part solved, and a plate with slot and hole."""
    return inspected(load(request.param)) if request.param else looked_at(obround())


def test_areas_converge_to_ours_at_second_order(inspection: Inspection, tmp_path: Path) -> None:
    write_cut(inspection, tmp_path / "cut.dxf")
    coarse, fine = (area(layers(tmp_path / "cut.dxf", step)) for step in (1.0, 0.5))
    exact = inspection.profile.area
    assert fine == pytest.approx(exact, rel=2e-5)
    assert (coarse - exact) / (fine - exact) == pytest.approx(4.0, rel=0.35)
    assert area(layers(tmp_path / "cut.dxf", 0.05)) == pytest.approx(exact, rel=1e-6)


def test_every_contour_is_closed_valid_and_on_its_layer(
    inspection: Inspection, tmp_path: Path
) -> None:
    write_cut(inspection, tmp_path / "cut.dxf")
    found = layers(tmp_path / "cut.dxf", 0.5)
    assert [layer for layer, _ in found].count(INSIDE) == sum(
        loop.hole for loop in inspection.profile.loops)
    assert len(found) == len(inspection.profile.loops)
    shapes = [polygon(shape) for _, shape in found]
    assert all(shape.is_valid for shape in shapes)
    outside = shapely.unary_union([s for s, (layer, _) in zip(shapes, found, strict=True)
                                   if layer == OUTSIDE])
    for shape, (layer, _) in zip(shapes, found, strict=True):
        if layer == INSIDE:
            assert outside.contains(shape)
    x0, y0, x1, y1 = inspection.profile.bounds
    assert outside.bounds == pytest.approx((x0, y0, x1, y1), abs=1e-4 * max(x1 - x0, y1 - y0))


def test_pieces_close_up_to_the_same_area(inspection: Inspection, tmp_path: Path) -> None:
    write_cut(inspection, tmp_path / "cut.dxf", pieces=True)
    lines = [shape for _, shape in layers(tmp_path / "cut.dxf", 0.1)]
    rounded = shapely.set_precision(shapely.unary_union(lines), 1e-6)
    faces = list(shapely.polygonize(list(rounded.geoms)).geoms)
    material = max(faces, key=lambda face: face.area)
    assert material.area == pytest.approx(inspection.profile.area, rel=1e-5)


def test_reflection_is_symmetric(tmp_path: Path) -> None:
    strap = inspected(load(next(p for p in DEMOS if p.stem.startswith("gate-strap"))))
    write_cut(strap, tmp_path / "cut.dxf")
    shape = shapely.unary_union(
        [polygon(s) for layer, s in layers(tmp_path / "cut.dxf", 0.5) if layer == OUTSIDE])
    other = shapely.transform(shape, lambda xy: xy * [-1.0, 1.0])
    assert shape.symmetric_difference(other).area < 1e-6 * shape.area
