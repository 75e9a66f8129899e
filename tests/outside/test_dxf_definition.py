"""Bulges of the cutting DXF against their definition and against another implementation.

DXF reference, LWPOLYLINE, group code 42: the tangent of a quarter of the included angle, negative
for a clockwise arc. Equivalent, from the segment's geometry: twice the sagitta over the chord.
"""

from __future__ import annotations

from math import cos, hypot, radians, sin
from pathlib import Path

import ezdxf
import numpy as np
import pytest
from ezdxf.math import bulge_center, bulge_radius

from sketcher.exchange.dxf_cut import write_cut
from sketcher.part.store import load
from tests.demo_parts import SOUND as DEMOS
from tests.inspected import inspected
from tests.plates import looked_at, plate

# Tangents of a quarter angle, 15 digits.
BULGES = {
    15: 0.0655434628152382, 30: 0.131652497587396, 45: 0.198912367379658, 60: 0.267949192431123,
    90: 0.414213562373095, 120: 0.577350269189626, 180: 1.0, 270: 2.41421356237310,
}


def bulge(sweep: float, folder: Path) -> tuple[float, float]:
    """Bulge that is written for an arc of R10 and some sweep, and its chord."""
    half = radians(0.5 * sweep)
    points = {"o": (0.0, 0.0), "p": (10 * cos(half), -10 * sin(half)),
              "q": (10 * cos(half), 10 * sin(half)), "r": (-20.0, 0.0)}
    part = plate(points, {"a": ("p", "q", "o", "ccw"), "e1": ("q", "r"), "e2": ("r", "p")})
    write_cut(looked_at(part), folder / "cut.dxf")
    polyline = ezdxf.readfile(folder / "cut.dxf").modelspace().query("LWPOLYLINE")[0]
    (found,) = [b for *_, b in polyline.get_points("xyb") if b]
    return found, 20.0 * sin(half)


@pytest.mark.parametrize(("sweep", "expected"), BULGES.items())
def test_tangent_of_a_quarter_of_the_angle(sweep: int, expected: float, tmp_path: Path) -> None:
    assert -bulge(sweep, tmp_path)[0] == pytest.approx(expected, rel=2e-14)


@pytest.mark.parametrize("sweep", BULGES)
def test_twice_the_sagitta_over_the_chord(sweep: int, tmp_path: Path) -> None:
    found, chord = bulge(sweep, tmp_path)
    sagitta = 10.0 - 10.0 * cos(radians(0.5 * sweep))
    assert -found == pytest.approx(2.0 * sagitta / chord, rel=1e-12)


@pytest.mark.parametrize("path", DEMOS, ids=lambda path: path.stem)
def test_centers_and_radii_by_the_library(path: Path, tmp_path: Path) -> None:
    """Every arc of every demo part, rebuilt by ezdxf from vertices and bulge.

    Two arcs of one circle that follow each other are written as one, so that the rebuilt are fewer.
    """
    inspection = inspected(load(path))
    write_cut(inspection, tmp_path / "cut.dxf")
    arcs = [(c.center, c.radius) for loop in inspection.profile.loops if loop.circle is None
            for c in loop.shapes if hasattr(c, "sweep")]
    size = max(np.subtract(inspection.profile.bounds[2:], inspection.profile.bounds[:2]))
    rebuilt = []
    for polyline in ezdxf.readfile(tmp_path / "cut.dxf").modelspace().query("LWPOLYLINE"):
        rows = polyline.get_points("xyb")
        for (x0, y0, b), (x1, y1, _) in zip(rows, [*rows[1:], rows[0]], strict=True):
            if b:
                center = bulge_center((x0, y0), (x1, y1), b)
                rebuilt.append(((center.x, center.y), bulge_radius((x0, y0), (x1, y1), b)))
    assert 1 <= len(rebuilt) <= len(arcs) if arcs else not rebuilt
    for (x, y), r in rebuilt:
        assert any(hypot(cx - x, cy - y) + abs(radius - r) <= 1e-11 * size
                   for (cx, cy), radius in arcs)
    for (cx, cy), radius in arcs:
        assert any(
            hypot(cx - x, cy - y) + abs(radius - r) <= 1e-11 * size for (x, y), r in rebuilt
        )


@pytest.mark.parametrize("path", DEMOS, ids=lambda path: path.stem)
@pytest.mark.parametrize("pieces", [False, True])
def test_the_librarys_audit_finds_nothing(path: Path, pieces: bool, tmp_path: Path) -> None:
    write_cut(inspected(load(path)), tmp_path / "cut.dxf", pieces)
    auditor = ezdxf.readfile(tmp_path / "cut.dxf").audit()
    assert (auditor.errors, auditor.fixes) == ([], [])
