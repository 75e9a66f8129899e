"""The main path without the mouse: new part, half, mirror, a value changed, saved and judged."""

from __future__ import annotations

from math import hypot, pi
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLineEdit

from sketcher.desk.panes.ledger_model import FIELDS
from sketcher.part.store import load
from sketcher.solve import solve
from tests.gui.driver import Driver
from tests.inspected import inspected

pytestmark = pytest.mark.e2e
CTRL = Qt.KeyboardModifier.ControlModifier


def typed(driver: Driver, text: str) -> None:
    """Keys as they come, to whatever has the keyboard."""
    for letter in text:
        if letter in "\t\n":
            driver.key(Qt.Key.Key_Tab if letter == "\t" else Qt.Key.Key_Return)
        else:
            driver.keys(letter)


def reach(driver: Driver, pane: object) -> None:
    """Go round the panes with F6 until one has the keyboard."""
    for _ in range(8):
        if pane.isAncestorOf(driver.app.focusWidget()):
            return
        driver.window.rounds.onward()
    raise AssertionError("F6 does not lead there")


def test_a_part_is_made_mirrored_changed_and_saved(driver: Driver, tmp_path: Path) -> None:
    QTest.keyClick(driver.window.start.new_mm, Qt.Key.Key_Space)
    driver.settle(5)
    typed(driver, "x" "0\t0\n" "100\t0\n")
    driver.key(Qt.Key.Key_Escape)
    typed(driver, "c" "0\t0\n" "\t\t\t\t0\t20\n" "\t\t\t\t60\t20\n" " " "\t\t\t\t80\t0\n")
    driver.key(Qt.Key.Key_Escape)
    typed(driver, "m")
    driver.key(Qt.Key.Key_Right)  # the pointer stands on the axis
    typed(driver, "\n\n")
    assert driver.board.report.state == "bound"
    assert driver.board.bench.derived.inspection().verdict == "Sound"

    # The straight edge becomes 70 long: the ledger by keys, the arc keeps its radius of 20.
    ledger = driver.window.ledger
    for old, new in (("80", "90"), ("60", "70")):
        reach(driver, ledger)
        ledger.table.setFocus(Qt.FocusReason.TabFocusReason)
        row = ledger.model.row_of(next(each.id for each in ledger.model.rows if each.value == old))
        ledger.table.setCurrentIndex(ledger.model.index(row, FIELDS.index("value")))
        driver.key(Qt.Key.Key_F2)
        field = driver.app.focusWidget()
        assert isinstance(field, QLineEdit)
        field.selectAll()
        typed(driver, f"{new}\n")
        driver.settle(5)
    reach(driver, driver.view)
    driver.answers.path = tmp_path / "plate.profile.json"
    driver.key(Qt.Key.Key_S, CTRL)
    driver.settle(5)
    part = load(driver.answers.path)
    found = inspected(solve(part).part)
    assert (found.verdict, solve(part).report.freedoms) == ("Sound", 0)
    # Two rectangles 70 by 20 and half a circle of radius 20.
    assert found.profile.area == pytest.approx(2800.0 + 200.0 * pi, rel=1e-9)
    while driver.board.bench.history.can_undo:
        driver.key(Qt.Key.Key_Z, CTRL)
    assert driver.board.part.curves == {}


SHIFT = Qt.KeyboardModifier.ShiftModifier
CORNERS = ("5 1/2\t0", "5 1/2\t2 1/4", "2\t2 1/4", "2\t4 3/8", "1 3/8\t5", "0\t5")
BRACKET = Path(__file__).resolve().parents[2] / "demo_parts" / "shelf-bracket.profile.json"


def go_to(driver: Driver, key: Qt.Key, x: float, y: float) -> None:
    """Go from thing to thing with Shift and an arrow until the pointer stands near a place."""
    for _ in range(60):
        driver.key(key, SHIFT)
        at = driver.view.sheet.cursor
        if hypot(at[0] - x, at[1] - y) < 0.2:
            return
    raise AssertionError(f"no key leads to {x}, {y}")


def test_the_shelf_bracket_is_built_by_keys_alone(driver: Driver) -> None:
    QTest.keyClick(driver.window.start.new_in, Qt.Key.Key_Space)
    driver.settle(5)
    typed(driver, "c" "0\t0\n" + "".join(f"\t\t\t\t{corner}\n" for corner in CORNERS))
    go_to(driver, Qt.Key.Key_Up, 0.0, 0.0)
    typed(driver, "\n")  # back at the first point: the outline closes
    driver.key(Qt.Key.Key_Escape)
    for radius, corner in (("1/2", (5.5, 0.0)), ("3/4", (2.0, 2.25))):
        typed(driver, "f")
        go_to(driver, Qt.Key.Key_Up, *corner)
        typed(driver, f"{radius}\n")
        driver.key(Qt.Key.Key_Escape)
    typed(driver, "h" "1\t3 3/4\n" "3/8\n")
    typed(driver, "2 3/4\t9/16\n" "9/32\n")
    driver.key(Qt.Key.Key_Escape)
    driver.key(Qt.Key.Key_G, CTRL)
    go_to(driver, Qt.Key.Key_Right, 2.75, 0.5625)  # the hole, picked as it is reached
    typed(driver, "\n\n" "1 1/2\t1 1/8\t2\t2\n")
    board = driver.board
    assert board.report.state == "bound"
    found, wanted = board.bench.derived.inspection(), inspected(solve(load(BRACKET)).part)
    assert found.verdict == "Sound"
    assert len(found.profile.loops) == len(wanted.profile.loops) == 6
    assert found.profile.area == pytest.approx(wanted.profile.area, rel=1e-9)
    assert found.profile.perimeter == pytest.approx(wanted.profile.perimeter, rel=1e-9)


def test_shift_and_arrows_go_round_all_things(driver: Driver) -> None:
    driver.window.filing.open_demo("gate-strap.profile.json")
    driver.settle(20)
    driver.view.setFocus()
    part = driver.board.part
    reached = []
    for _ in part.curves:
        driver.key(Qt.Key.Key_Right, SHIFT)
        driver.key(Qt.Key.Key_Return)
        reached += driver.board.bench.selection.ids
    assert reached == list(part.curves)
    driver.key(Qt.Key.Key_Left, SHIFT)
    driver.key(Qt.Key.Key_Return, SHIFT)  # with what was selected
    assert set(driver.board.bench.selection.ids) == set(list(part.curves)[-2:])
    points = set()
    for _ in part.points:
        driver.key(Qt.Key.Key_Up, SHIFT)
        driver.key(Qt.Key.Key_Return)
        points.update(driver.board.bench.selection.ids)
    points &= set(part.points)
    assert len(points) > 0.8 * len(part.points)  # some lie under the text of a dimension
