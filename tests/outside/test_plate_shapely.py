"""Which contours are the plate, and its area, against shapely's polygons.

shapely (https://shapely.readthedocs.io) knows nothing of our loops: it says which shape contains
which, from polygons of chords. The areas beside it are those of the textbook: a circle's, a
rectangle's, an obround's.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import atan, hypot, pi, sin
from pathlib import Path

import ezdxf
import numpy as np
import pytest
from shapely.geometry import LineString, Point, Polygon, box

from sketcher.exchange.dxf_cut import write_cut
from sketcher.part.value import Part
from tests.plates import Row, looked_at, plate

XY = tuple[float, float]
APART = 0.05
"""Boundaries keep this distance: far more than a chord of shapely's circles stands off its arc."""


@dataclass(frozen=True)
class Shape:
    """A closed shape: as we draw it, as shapely sees it, and its exact area."""

    name: str
    points: dict[str, XY]
    curves: dict[str, Row]
    polygon: Polygon
    area: float


def circle(name: str, at: XY, radius: float) -> Shape:
    return Shape(name, {f"{name}c": at}, {name: (f"{name}c", radius)},
                 Point(at).buffer(radius, quad_segs=64), pi * radius**2)


def rectangle(name: str, at: XY, width: float, height: float) -> Shape:
    (x, y), w, h = at, 0.5 * width, 0.5 * height
    corners = [(x - w, y - h), (x + w, y - h), (x + w, y + h), (x - w, y + h)]
    points = {f"{name}p{k}": corner for k, corner in enumerate(corners)}
    lines: dict[str, Row] = {f"{name}e{k}": (f"{name}p{k}", f"{name}p{(k + 1) % 4}")
                             for k in range(4)}
    return Shape(name, points, lines, box(x - w, y - h, x + w, y + h), width * height)


def obround(name: str, at: XY, length: float, radius: float) -> Shape:
    (x, y), w = at, 0.5 * length
    points = {f"{name}a": (x - w, y - radius), f"{name}b": (x + w, y - radius),
              f"{name}c": (x + w, y + radius), f"{name}d": (x - w, y + radius),
              f"{name}m": (x + w, y), f"{name}n": (x - w, y)}
    curves: dict[str, Row] = {
        f"{name}s": (f"{name}a", f"{name}b"),
        f"{name}t": (f"{name}b", f"{name}c", f"{name}m", "ccw"),
        f"{name}u": (f"{name}c", f"{name}d"),
        f"{name}v": (f"{name}d", f"{name}a", f"{name}n", "ccw"),
    }
    polygon = LineString([(x - w, y), (x + w, y)]).buffer(radius, quad_segs=64)
    return Shape(name, points, curves, polygon, 2.0 * length * radius + pi * radius**2)


def scene(seed: int) -> list[Shape]:
    """Up to a dozen shapes whose boundaries keep apart: beside, in and around each other."""
    rng = np.random.default_rng(seed)
    shapes: list[Shape] = []
    for k in range(40):
        size = float(10.0 ** rng.uniform(-0.5, 1.5))
        at = (float(rng.uniform(0.0, 40.0)), float(rng.uniform(0.0, 40.0)))
        name, kind = f"n{k}", int(rng.integers(3))
        if kind == 0:
            made = circle(name, at, size)
        elif kind == 1:
            made = rectangle(name, at, size * float(rng.uniform(0.5, 2.0)), size)
        else:
            made = obround(name, at, size * float(rng.uniform(0.2, 3.0)), 0.5 * size)
        edge = made.polygon.exterior
        if all(edge.distance(other.polygon.exterior) > APART for other in shapes):
            shapes.append(made)
        if len(shapes) == 12:
            break
    return [shapes[k] for k in rng.permutation(len(shapes))]


def drawn(shapes: list[Shape]) -> Part:
    return plate({name: at for shape in shapes for name, at in shape.points.items()},
                 {name: row for shape in shapes for name, row in shape.curves.items()})


def expected(shapes: list[Shape]) -> tuple[set[str], float]:
    """Names of the plate's shapes and its area, by shapely's containment."""
    around = {s.name: [o for o in shapes if o is not s and o.polygon.contains(s.polygon)]
              for s in shapes}
    outside = max((s for s in shapes if not around[s.name]), key=lambda s: s.area)
    holes = [s for s in shapes if around[s.name] == [outside]]
    return ({outside.name, *(h.name for h in holes)},
            outside.area - sum(hole.area for hole in holes))


@pytest.mark.parametrize("first", range(0, 200, 20))
def test_plate_area_and_what_is_detached(first: int) -> None:
    told = 0
    for seed in range(first, first + 20):
        shapes = scene(seed)
        names, area = expected(shapes)
        inspection = looked_at(drawn(shapes))
        owner = {curve: shape.name for shape in shapes for curve in shape.curves}
        counted = {owner[loop.ids[0]] for loop in inspection.profile.plate}
        assert counted == names, seed
        assert inspection.profile.area == pytest.approx(area, rel=1e-12), seed
        beside = {owner[name] for f in inspection.findings for name in f.ids}
        assert {f.code for f in inspection.findings} <= {"detached"}
        assert beside == {shape.name for shape in shapes} - names, seed
        told += len(beside)
    assert told > 20  # else the scenes would prove little


def test_a_plate_mirrored_clear_of_its_axis_counts_once() -> None:
    for seed in range(20):
        shapes = scene(seed)
        names, area = expected(shapes)
        axis: dict[str, XY] = {"a": (-60.0, 0.0), "b": (-60.0, 10.0)}
        part = drawn(shapes)
        assert min(shape.polygon.bounds[0] for shape in shapes) > -60.0
        with_axis = plate({**part.points, **axis}, {
            **{name: row for shape in shapes for name, row in shape.curves.items()},
            "ax": ("a", "b")}, axis="ax", roles={"ax": "axis"})
        inspection = looked_at(with_axis)
        assert inspection.profile.area == pytest.approx(area, rel=1e-12)
        drawn_ones = {name for loop in inspection.profile.plate for name in loop.ids}
        assert all(shape.curves.keys() <= drawn_ones for shape in shapes if shape.name in names)


def enclosed(entity: ezdxf.entities.DXFEntity) -> float:
    """Area of a circle, or of a polyline's chords with the caps on its (convex) bulges."""
    if entity.dxftype() == "CIRCLE":
        return float(pi * entity.dxf.radius**2)
    vertices = entity.get_points("xyb")
    area = float(Polygon([(x, y) for x, y, _ in vertices]).area)
    for (x, y, bend), (x1, y1, _) in zip(vertices, [*vertices[1:], vertices[0]], strict=True):
        if bend:
            angle = 4.0 * atan(abs(bend))  # DXF reference: a bulge is tan(angle / 4)
            radius = 0.5 * hypot(x1 - x, y1 - y) / sin(0.5 * angle)
            area += 0.5 * radius**2 * (angle - sin(angle))
    return area


def test_what_is_cut_is_the_plate_alone(tmp_path: Path) -> None:
    """Read back by ezdxf: the plate with its holes, no more."""
    for seed in range(12):
        shapes = scene(seed)
        names, area = expected(shapes)
        write_cut(looked_at(drawn(shapes)), tmp_path / "cut.dxf", despite={"detached"})
        space = ezdxf.readfile(tmp_path / "cut.dxf").modelspace()
        layers = {"INSIDE": 0.0, "OUTSIDE": 0.0}
        for entity in space:
            layers[entity.dxf.layer] += enclosed(entity)
        assert len(space) == len(names)
        assert layers["OUTSIDE"] - layers["INSIDE"] == pytest.approx(area, rel=1e-9)
