"""The frame shows the first page before the desk is there, and hands over without a trace."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from sketcher.board.settings import Settings
from sketcher.desk.theme import dress
from sketcher.desk.window_frame import WindowFrame
from tests.gui.driver import LEFT, Driver


@pytest.fixture
def framed(qapp: QApplication, family: str, leaks: None, tmp_path: Path):
    from sketcher.desk.window import MainWindow

    look = dress(qapp, "dye", family)
    frame = WindowFrame(())
    frame.unfold()
    assert frame.painted
    assert frame.page.isVisible()
    desk = MainWindow(Settings(), tmp_path, look, frame)
    frame.take(desk, desk.may_close)
    desk.begin(None)
    qapp.processEvents()
    yield frame, Driver(desk, qapp)
    frame.close()
    desk.shut()
    frame.deleteLater()
    qapp.processEvents()


def test_the_desk_takes_the_frame(framed) -> None:
    frame, driver = framed
    assert frame.centralWidget() is driver.window
    assert driver.window.window() is frame
    assert driver.window.size() == frame.size()
    driver.new()  # over the start page there is no readout
    frame.resize(1366, 768)  # a narrower one has smaller digits
    driver.settle()
    sizes = {d.font().pointSizeF() for _, _, d in driver.window.readout.cells}
    assert len(sizes) == 1
    assert sizes.pop() > 1.5 * driver.window.font().pointSizeF()
    heights = {d.height() for _, _, d in driver.window.readout.cells if d.isVisible()}
    assert len(heights) == 1
    assert heights.pop() > 24  # big digits, not small ones in a big cell


def test_the_title_and_the_closing_are_the_desks(framed) -> None:
    frame, driver = framed
    driver.new()
    driver.tool("rectangle")
    driver.click(0, 0)
    driver.click(40, 20)
    assert frame.isWindowModified()
    assert frame.windowTitle().startswith("Part")
    driver.answers.unsaved = "cancel"
    frame.close()
    assert frame.isVisible()
    driver.answers.unsaved = "discard"
    driver.act("file.quit")
    assert not frame.isVisible()


def test_keys_reach_the_desk_inside(framed) -> None:
    _frame, driver = framed
    QTest.mouseClick(driver.window.start.new_in, LEFT)
    driver.settle(5)
    assert driver.board.part.unit == "in"
    assert driver.view.hasFocus()
    driver.keys("l")
    assert driver.board.tool.name == "line"
