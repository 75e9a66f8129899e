"""In the window: a finding about outline that is pressed shows what mends it, and is mended."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QEvent, QPointF
from PySide6.QtGui import QEnterEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from sketcher.part.edits.draft import Draft
from sketcher.part.value import Part
from tests.demo_parts import TO_MEND
from tests.gui.driver import LEFT, Driver, wait_until
from tests.plates import left_the_axis
from tests.shaped import wing


def spoiled() -> Part:
    draft = Draft(wing())  # with its reflection the line is two findings
    draft.line((20.0, 15.0), (40.0, 15.0), name="odd")
    return draft.done()


def press(driver: Driver, code: str) -> None:
    """Press the row of a finding."""
    table = driver.window.inspection.tables["findings"]
    rows = table.rows.section.entries
    line = next(n for n, entry in enumerate(rows) if entry.cells[0].text == code)
    spot = table.visualRect(table.model().index(line, 0)).center()
    QTest.mouseClick(table.viewport(), LEFT, pos=spot)
    driver.settle(10)


@pytest.mark.e2e
@pytest.mark.parametrize(("number", "left"), [(0, None), (1, "layout")])
def test_a_stray_is_mended_from_its_finding(
    driver: Driver, number: int, left: str | None
) -> None:
    driver.board.load(spoiled())
    driver.settle(20)
    wait_until(lambda: "3 findings" in driver.window.inspection.verdict.text(), 8.0)
    bar = driver.window.ledger.mending
    assert not bar.isVisible()
    press(driver, "stray")
    wait_until(bar.isVisible, 8.0)
    assert bar.words == "odd belongs to no closed contour."
    # made layout it can still move, as any line that nothing binds
    assert [button.text() for button in bar.buttons] == [
        "Delete odd: the part is sound", "Make odd layout: 1 finding left"]
    inside = QPointF(5.0, 5.0)
    QApplication.sendEvent(bar.buttons[0], QEnterEvent(inside, inside, inside))
    assert {ghost.mood for ghost in driver.view.sheet.tried} == {"leaves"}
    QApplication.sendEvent(bar.buttons[0], QEvent(QEvent.Type.Leave))
    assert driver.view.sheet.tried == ()
    QTest.mouseClick(bar.buttons[number], LEFT)
    driver.settle(20)
    curve = driver.board.part.curves.get("odd")
    assert (curve.role if curve is not None else None) == left
    verdict = "Sound" if left is None else "1 finding"
    wait_until(lambda: verdict == driver.window.inspection.verdict.text(), 8.0)
    assert not bar.isVisible()


@pytest.mark.e2e
def test_the_ways_go_when_something_else_is_looked_at(driver: Driver) -> None:
    driver.board.load(spoiled())
    driver.settle(20)
    wait_until(lambda: "3 findings" in driver.window.inspection.verdict.text(), 8.0)
    bar = driver.window.ledger.mending
    press(driver, "stray")
    wait_until(bar.isVisible, 8.0)
    driver.board.bench.select(())
    driver.settle(10)
    assert not bar.isVisible()
    press(driver, "stray")
    wait_until(bar.isVisible, 8.0)


@pytest.mark.e2e
def test_ends_that_have_left_the_axis_are_bound_to_it_again(driver: Driver) -> None:
    """Two level edges that end on the axis: unbound there, they are made 3 mm too long."""
    driver.board.load(left_the_axis())
    pane, bar = driver.window.inspection, driver.window.ledger.mending
    wait_until(lambda: "2 findings" in pane.verdict.text(), 8.0)
    entries = pane.tables["findings"].rows.section.entries
    assert [entry.cells[0].text for entry in entries] == ["off-axis", "loose"]
    press(driver, "off-axis")
    wait_until(bar.isVisible, 8.0)
    assert bar.words == "p1 and p4 lie 3 mm past the axis ax."
    assert [button.text() for button in bar.buttons] == ["Bind p1 and p4 to ax: the part is sound"]
    QTest.mouseClick(bar.buttons[0], LEFT)
    wait_until(lambda: pane.verdict.text() == "Sound", 8.0)
    assert QApplication.focusWidget() is driver.view


def test_the_ways_are_those_of_the_finding_that_was_pressed(driver: Driver) -> None:
    driver.window.filing.open_demo(TO_MEND[0].name)
    pane, bar = driver.window.inspection, driver.window.ledger.mending
    wait_until(lambda: pane.tables["findings"].order.rowCount() == 6)
    for code, words in (("reference-differs", "measured value"), ("near-tangent", "tangent"),
                        ("gap", "together"), ("stray", "e5")):
        press(driver, code)
        wait_until(lambda words=words: bar.isVisible() and words in bar.buttons[0].text())
