"""A plan moved to the lower left."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sketcher.geometry.curves import Arc, Line
from sketcher.shop.cut_plan import CutMark, CutPlan, CutSettings
from sketcher.shop.lower_left import at_lower_left, box_of_cut
from sketcher.shop.planning import plan_cut
from tests.plates import looked_at, plate, rectangle


def planned(**settings: object) -> CutPlan:
    """Plan of a plate of 40 by 20 with its lower left corner at (-7, 3) and a hole of 5."""
    points, lines = rectangle(40.0, 20.0, at=(-7.0, 3.0))
    part = plate({**points, "c": (10.0, 10.0)}, {**lines, "h": ("c", 2.5)})
    return plan_cut(looked_at(part), CutSettings(**settings))  # type: ignore[arg-type]


def test_all_of_it_lies_right_of_and_above_zero() -> None:
    plan = planned(lower_left=True)
    assert box_of_cut(plan) == pytest.approx((0.0, 0.0, 40.0, 20.0))
    (hole,) = [path.contour.circle for path in plan.paths if path.contour.circle]
    assert hole is not None
    assert hole.center == pytest.approx((17.0, 7.0))
    assert plan.length == pytest.approx(planned().length)


def test_without_it_coordinates_stay_the_parts() -> None:
    assert box_of_cut(planned()) == pytest.approx((-7.0, 3.0, 33.0, 23.0))


def test_leads_marks_and_finished_parts_move_along() -> None:
    plan = planned()
    lead = (Arc((-9.0, 1.0), (-9.0, -1.0), (-7.0, 1.0)), Line((-7.0, 1.0), (-7.0, 3.0)))
    path = replace(plan.paths[-1], lead_in=lead, lead_out=(Line((-7.0, 3.0), (-7.0, 3.5)),))
    mark = CutMark("h", (-12.0, 10.0), 3.0, "small")
    moved = at_lower_left(replace(plan, paths=(*plan.paths[:-1], path), marks=(mark,)))
    assert box_of_cut(moved) == pytest.approx((0.0, 0.0, 45.0, 24.0))
    assert moved.marks[0].at == pytest.approx((0.0, 11.0))
    assert moved.paths[-1].pierce == pytest.approx((3.0, 0.0))
    assert moved.paths[-1].end == pytest.approx((5.0, 4.5))
    assert moved.paths[-1].contour.start == pytest.approx((5.0, 4.0))
    assert moved.finished[-1].start == pytest.approx((5.0, 4.0))


def test_a_plate_comes_to_lie_with_its_corner_at_zero() -> None:
    edges = (Line((-20.0, -5.0), (80.0, -5.0)), Line((80.0, -5.0), (80.0, 55.0)))
    moved = at_lower_left(replace(planned(), plate=edges))
    assert moved.plate[0].start == (0.0, 0.0)
    assert moved.plate[1].end == pytest.approx((100.0, 60.0))
    assert moved.paths[-1].contour.start == pytest.approx((13.0, 8.0))
