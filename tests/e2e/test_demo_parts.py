"""The five demo parts from rough sketch to cutting file: bound, exact, sound, reproducible."""

from __future__ import annotations

from itertools import pairwise
from math import dist, hypot
from pathlib import Path

import pytest

from sketcher.cli import main
from sketcher.exchange.dxf_cut import write_cut
from sketcher.exchange.dxf_read import read_dxf
from sketcher.geometry.curves import Arc, Circle
from sketcher.geometry.loops import find_loops
from sketcher.inspect.inspection import Inspection
from sketcher.part.store import load
from sketcher.part.whole import half
from sketcher.solve import solve
from tests.demo_parts import SOUND as DEMOS
from tests.inspected import inspected

pytestmark = pytest.mark.e2e


@pytest.fixture(params=DEMOS, ids=lambda path: path.name.removesuffix(".profile.json"))
def path(request: pytest.FixtureRequest) -> Path:
    """File of a demo part."""
    return request.param  # type: ignore[no-any-return]


@pytest.fixture
def inspection(path: Path) -> Inspection:
    """The solved demo part, measured."""
    return inspected(load(path))


def size(inspection: Inspection) -> float:
    """Longer side of the part."""
    x0, y0, x1, y1 = inspection.profile.bounds
    return max(x1 - x0, y1 - y0)


def test_there_are_five() -> None:
    assert len(DEMOS) == 5
    assert {load(path).unit for path in DEMOS} == {"mm", "in"}


def test_bound_without_a_freedom(inspection: Inspection) -> None:
    report = inspection.report
    assert (report.converged, report.freedoms, report.clashes) == (True, 0, ())
    assert (report.state, report.loose, report.doubled) == ("bound", (), ())
    assert set(report.states.values()) == {"bound"}


def test_every_driving_residual(inspection: Inspection) -> None:
    driving = [row for row in inspection.dimensions if row.drives]
    assert driving
    for row in driving:
        assert abs(row.residual) <= 1e-9 * size(inspection), row
    for condition in inspection.conditions:
        assert abs(condition.residual) <= 1e-9 * size(inspection), condition


def test_every_tangency_residual(inspection: Inspection) -> None:
    tangent = [joint for joint in inspection.joints if joint.bound]
    assert tangent
    for joint in tangent:
        assert joint.state == "tangent"
        assert joint.gap == 0.0
        assert abs(joint.residual or 0.0) <= 1e-9 * size(inspection), joint
        assert joint.angle <= joint.floor
    for touch in inspection.touches:
        assert abs(touch.residual) <= 1e-9 * size(inspection), touch


def test_both_ends_of_an_arc_lie_on_its_circle(inspection: Inspection) -> None:
    for curve in half(inspection.part).values():
        if isinstance(curve, Arc):
            one, two = (dist(curve.center, end) for end in (curve.start, curve.end))
            assert one == pytest.approx(two, abs=1e-12 * size(inspection))


def test_sound(inspection: Inspection) -> None:
    assert inspection.findings == ()
    assert inspection.profile.closed


def test_the_command_exits_0(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["inspect", str(path)]) == 0
    assert ": sound" in capsys.readouterr().out


def test_the_sketch_is_rough(path: Path) -> None:
    """The solver has work to do: points move by more than a hundredth of the size."""
    part = load(path)
    solved = solve(part).part
    moved = [dist(part.points[name], at) for name, at in solved.points.items()]
    assert max(moved) > 0.01 * size(inspected(part))


def test_solving_what_is_solved_changes_nothing(inspection: Inspection) -> None:
    again = solve(inspection.part).part
    for name, at in inspection.part.points.items():
        assert dist(at, again.points[name]) <= 1e-12 * size(inspection)


def test_neighbours_in_a_contour_meet_bit_by_bit(inspection: Inspection) -> None:
    for loop in inspection.profile.loops:
        if len(loop.ids) > 1:
            for before, after in pairwise([*loop.shapes, loop.shapes[0]]):
                assert before.end == after.start  # type: ignore[union-attr]


@pytest.mark.parametrize("pieces", [False, True])
def test_the_cutting_file_reads_back_identical(
    inspection: Inspection, pieces: bool, tmp_path: Path
) -> None:
    write_cut(inspection, tmp_path / "cut.dxf", pieces)
    content = read_dxf(tmp_path / "cut.dxf")
    assert content.unit == inspection.part.unit
    tol = 1e-11 * size(inspection)
    loops = find_loops([(str(k), c.curve) for k, c in enumerate(content.curves)], tol)
    assert loops.sound
    ours = sorted((loop.area, loop.perimeter) for loop in inspection.profile.loops)
    theirs = sorted((loop.area, loop.perimeter) for loop in loops.loops)
    assert theirs == [pytest.approx(row, rel=1e-12) for row in ours]
    assert loops.moments.centroid == pytest.approx(
        inspection.profile.moments.centroid, abs=tol)  # type: ignore[union-attr]
    circles = {written(c.curve) for c in content.curves if isinstance(c.curve, Circle)}
    assert circles == {written(loop.circle) for loop in inspection.profile.loops if loop.circle}


def written(circle: Circle) -> tuple[float, ...]:
    """Center and radius to the twelve decimals that the file has."""
    return tuple(round(number, 12) + 0.0 for number in (*circle.center, circle.radius))


def test_reflected_parts_are_symmetric(inspection: Inspection) -> None:
    moments = inspection.profile.moments
    assert moments is not None
    for mirror in inspection.part.mirrors:
        axis = half(inspection.part)[mirror.axis]
        (x0, y0), (dx, dy) = axis.start, axis.direction  # type: ignore[union-attr]
        off = dx * (moments.centroid[1] - y0) - dy * (moments.centroid[0] - x0)
        assert abs(off) <= 1e-12 * hypot(*inspection.profile.bounds)
