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
