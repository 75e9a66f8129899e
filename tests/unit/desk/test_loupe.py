"""Under the loupe the eye sees a gap or a break of direction, however small it is."""

from __future__ import annotations

from math import atan, cos, degrees, pi, radians, sin

import pytest
from PySide6.QtGui import QFont
from PySide6.QtWidgets import QApplication

from sketcher.board.board import Board
from sketcher.desk.looks import DYE
from sketcher.desk.scene.camera import Camera
from sketcher.desk.scene.loupe import SHOWN_BREAK, Loupe, LoupeLayer, look_at, span_for
from sketcher.desk.scene.scene_state import SceneState
from sketcher.geometry.curves import Arc, Circle, Line


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


def test_a_circle_is_seen_on_both_sides_of_where_it_begins() -> None:
    pair = (Circle((0.0, 0.0), 10.0), Circle((20.3, 0.0), 10.0))
    seen = look_at(pair, (10.15, 0.0), 0.3, "web")
    for run in seen.runs:
        along = [x for x, _ in run]
        assert min(along) < -1.0
        assert max(along) > 1.0


def test_the_loupe_takes_the_corner_that_is_free(qapp: QApplication) -> None:
    board = Board()
    sheet = SceneState(board, DYE, QFont())
    sheet.camera = Camera(1.0, (0.0, 0.0), 800.0, 600.0)
    layer = LoupeLayer(sheet, 6.0)

    def corner(*lines: Line) -> tuple[bool, bool]:
        pair = (lines[0], lines[-1])
        layer.put(look_at(pair, lines[0].start, 1.0, "gap"), lines)
        middle = layer.frame().center()
        return middle.x() > 400.0, middle.y() < 300.0

    up = Line((320.0, 150.0), (380.0, 290.0))  # y is up: the upper right of the sheet
    left = Line((-390.0, 250.0), (-300.0, 280.0))
    low = Line((300.0, -250.0), (390.0, -280.0))
    assert corner(low) == (True, True)
    assert corner(up) == (False, True)
    assert corner(up, left) == (True, False)
    assert corner(up, left, low) == (False, False)
