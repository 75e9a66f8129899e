"""What the solve of a gesture reports at every move."""

from __future__ import annotations

from math import dist

import pytest

from sketcher.solve import Drag, solve
from tests.specimens import frame, said


def test_a_move_reports_its_steps_and_that_everything_holds() -> None:
    # A bar of 10 about a fixed end: its other end stays on the circle, towards the pointer.
    part = frame({"a": (2.0, 3.0), "b": (12.0, 3.0), "c": (40.0, 0.0)}, [("a", "b")],
                 said("fixed", "a"), said("distance", "e1", value="10"),
                 said("distance", "a", "c", value="38.2", drives=False))
    drag = Drag(solve(part).part, ["b"])
    for target in ((12.0, 13.0), (2.0, 30.0), (-20.0, 3.0)):
        moved = drag.to({"b": target})
        at = moved.part.points
        assert at["a"] == (2.0, 3.0)
        assert dist(at["a"], at["b"]) == pytest.approx(10.0, abs=1e-9)
        assert moved.report.converged
        assert 0 <= moved.report.iterations <= 60
        assert abs(moved.report.residuals["b2"]) < 1e-9
        assert moved.report.turned == ()


@pytest.mark.parametrize(("share", "lag"), [(0.7e-4, 1e-4), (1.5e-4, 1e-8), (0.05, 1e-8)])
def test_what_a_step_leaves_is_taken_by_the_next_unless_it_was_short(
    share: float, lag: float
) -> None:
    # A free point falls short of its target by 1 / (1 + 10^4) of each step; a step below a
    # ten-thousandth of the size is the last.
    part = frame({"a": (0.0, 0.0), "b": (300.0, 400.0)}, [("a", "b")], said("fixed", "a"))
    drag = Drag(part, ["b"])
    goal = 300.0 + 500.0 * share
    moved = drag.to({"b": (goal, 400.0)}).part.points["b"]
    assert goal - moved[0] == pytest.approx(500.0 * share * lag, rel=0.01)
    assert moved[1] == 400.0


def test_a_move_goes_eight_tenths_of_the_size_at_most() -> None:
    part = frame({"a": (0.0, 0.0), "b": (300.0, 400.0)}, [("a", "b")], said("fixed", "a"))
    drag = Drag(part, ["b"])
    for times in (1, 2):  # eight steps of a tenth, then on from there
        assert drag.to({"b": (300.0, 9000.0)}).part.points["b"] == pytest.approx(
            (300.0, 400.0 + times * 8 * 50.0))
