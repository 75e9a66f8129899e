"""Under the loupe the eye sees a gap or a break of direction, however small it is."""

from __future__ import annotations

from math import atan, cos, degrees, pi, radians, sin

import pytest

from sketcher.desk.scene.loupe import SHOWN_BREAK, Loupe, look_at, span_for
from sketcher.geometry.curves import Arc, Line


def shown_break(loupe: Loupe) -> float:
    """Return the angle in radians between the two runs as the eye sees it."""
    angles = []
    for run in loupe.runs:
        (x0, y0), (x1, y1) = run[0], run[-1]
        angles.append(atan((y1 - y0) / (x1 - x0)) if x1 != x0 else pi / 2)
    return abs(angles[0] - angles[1])


@pytest.mark.parametrize("off", [1.5, 0.1, 1e-4])
def test_a_break_between_lines_is_opened_wide(off: float) -> None:
    turn = radians(off)
    first = Line((-30.0, 0.0), (0.0, 0.0))
    second = Line((0.0, 0.0), (30.0 * cos(turn), 30.0 * sin(turn)))
    seen = look_at((first, second), (0.0, 0.0), 0.0, "near-tangent")
    assert degrees(shown_break(seen)) == pytest.approx(degrees(SHOWN_BREAK), abs=0.5)
    assert seen.across == pytest.approx(0.5317 / off * 57.29578, rel=1e-3)  # tan 28 deg / turn


def test_an_arc_that_nearly_touches_is_seen_to_break() -> None:
    turn = radians(0.5)
    arc = Arc((0.0, 20.0), (20.0 * sin(turn), 20.0 - 20.0 * cos(turn)), (20.0, 20.0), True)
    line = Line((-40.0, arc.start[1]), arc.start)
    seen = look_at((line, arc), arc.start, 0.0, "near-tangent")
    x0, y0 = seen.runs[1][0]
    x1, y1 = seen.runs[1][10]
    assert degrees(abs((y1 - y0) / (x1 - x0))) > 15.0


def test_a_gap_is_enlarged_evenly() -> None:
    first, second = Line((-10.0, 0.0), (-1e-5, 0.0)), Line((0.0, 0.0), (0.0, 10.0))
    seen = look_at((first, second), (-0.5e-5, 0.0), 1e-5, "gap")
    assert seen.across == 1.0
    assert seen.runs[1][0][0] - seen.runs[0][-1][0] == pytest.approx(1 / 1.6, rel=1e-6)


def test_the_sheet_goes_near_enough_to_a_gap() -> None:
    assert span_for(5.0, 100.0) == 40.0
    assert span_for(0.0, 120.0) == 10.0
