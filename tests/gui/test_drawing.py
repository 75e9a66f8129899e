"""Drawing by mouse, keyboard and readout, through the real window."""

from __future__ import annotations

from math import hypot

import pytest
from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QMouseEvent, QNativeGestureEvent, QPointingDevice, QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from tests.gui.driver import LEFT, NONE, Driver


def test_a_chain_is_drawn_and_bound_by_what_the_snaps_showed(driver: Driver) -> None:
    driver.new()
    driver.tool("outline")
    for place in ((0, 0), (60, 0), (60, 30), (0, 30), (0, 0)):
        driver.click(*place)
    assert len(driver.board.part.curves) == 4
    kinds = [b.kind for b in driver.board.part.bindings.values()]
    assert kinds.count("level") + kinds.count("plumb") + kinds.count("parallel") \
        + kinds.count("square") >= 3
    driver.settle(20)
    assert driver.board.bench.derived.inspection().profile.closed
    assert len(driver.window.ledger.model.rows) == len(driver.board.part.bindings)


def test_typed_values_hold_and_become_dimensions(driver: Driver) -> None:
    driver.new()
    driver.tool("line")
    driver.click(0, 0)
    driver.move(40, 3)
    length = driver.window.readout.digits_of("length")
    QTest.mouseClick(length, LEFT)
    assert driver.board.typing.is_open
    QTest.keyClicks(driver.view, "1 5/8 in")
    assert "1 5/8 in" in length.text()
    QTest.keyClick(driver.view, Qt.Key.Key_Tab)
    assert not driver.board.typing.is_open
    assert length.property("held") == "true"
    driver.click(40, 3)
    (line,) = driver.board.part.curves.values()
    (x0, y0), (x1, y1) = (driver.board.part.points[p] for p in line.ends)
    assert hypot(x1 - x0, y1 - y0) == pytest.approx(41.275, abs=1e-9)
    assert any(b.kind == "distance" for b in driver.board.part.bindings.values())


def test_a_value_that_cannot_be_read_is_told_and_holds_nothing(driver: Driver) -> None:
    driver.new()
    driver.tool("line")
    driver.click(0, 0)
    driver.move(40, 3)
    driver.typed("12 furlong")
    assert driver.board.typing.is_open
    assert driver.window.prompt.text() == driver.board.prompt
    assert driver.board.typing.entry.error
    driver.key(Qt.Key.Key_Escape)
    assert not driver.board.typing.is_open
    assert driver.board.part.curves == {}


@pytest.mark.e2e
def test_undo_to_the_empty_sheet_and_back(driver: Driver) -> None:
    driver.new()
    driver.tool("rectangle")
    driver.click(0, 0)
    driver.click(50, 20)
    driver.tool("circle")
    driver.click(25, 10)
    driver.click(30, 10)
    full = driver.board.part
    assert len(full.curves) == 5
    while driver.board.bench.history.can_undo:
        driver.act("edit.undo")
    assert driver.board.part.curves == {}
    while driver.board.bench.history.can_redo:
        driver.act("edit.redo")
    assert driver.board.part == full


@pytest.mark.e2e
def test_keyboard_alone_draws(driver: Driver) -> None:
    QTest.keyClick(driver.window.start.new_mm, Qt.Key.Key_Space)
    driver.settle(5)
    assert driver.view.hasFocus()
    driver.keys("l")
    assert driver.board.tool.name == "line"
    for _ in range(2):
        driver.key(Qt.Key.Key_Right)
    start = driver.view.sheet.cursor
    driver.key(Qt.Key.Key_Return)
    for _ in range(8):
        driver.key(Qt.Key.Key_Right)
    end = driver.view.sheet.cursor
    driver.key(Qt.Key.Key_Return)
    (line,) = driver.board.part.curves.values()
    ends = [driver.board.part.points[p] for p in line.ends]
    assert ends[0] == pytest.approx(start)
    assert ends[1] == pytest.approx(end)
    driver.key(Qt.Key.Key_Escape)
    driver.keys("p")
    assert driver.board.tool.name == "pick"


@pytest.mark.e2e
def test_keyboard_types_a_whole_line(driver: Driver) -> None:
    driver.new()
    driver.keys("l")
    driver.key(Qt.Key.Key_Right)
    driver.keys("10")
    driver.key(Qt.Key.Key_Tab)
    driver.keys("20")
    driver.key(Qt.Key.Key_Return)
    driver.key(Qt.Key.Key_Right)
    assert driver.board.typing.lit == "length"
    driver.keys("30")
    driver.key(Qt.Key.Key_Tab)
    driver.keys("+90")  # a direction: the pointer stands below, where an unsigned 90 would go
    driver.key(Qt.Key.Key_Return)
    driver.key(Qt.Key.Key_Return)
    (line,) = driver.board.part.curves.values()
    ends = [driver.board.part.points[p] for p in line.ends]
    assert ends[0] == pytest.approx((10.0, 20.0), abs=1e-9)
    assert ends[1] == pytest.approx((10.0, 50.0), abs=1e-9)


def test_loose_geometry_follows_and_bound_says_what_holds_it(driver: Driver) -> None:
    driver.new()
    driver.tool("line")
    driver.click(0, 0)
    driver.click(40, 25)
    driver.key(Qt.Key.Key_Escape)
    driver.tool("pick")
    (line,) = driver.board.part.curves.values()
    far = line.ends[1]
    driver.drag(driver.board.part.points[far], (55.0, 30.0))
    assert driver.board.part.points[far] == pytest.approx((55.0, 30.0), abs=0.5)
    steps = len(driver.board.bench.history.steps)
    driver.drag(driver.board.part.points[line.ends[0]], (10.0, 40.0))
    assert driver.board.part.points[line.ends[0]] == pytest.approx((0.0, 0.0), abs=1e-9)
    assert "hold" in driver.window.said.text()
    assert len(driver.board.bench.history.steps) == steps


def wheel(driver: Driver, pixel: QPoint, turns: int) -> None:
    event = QWheelEvent(
        QPointF(pixel), QPointF(driver.view.mapToGlobal(pixel)), QPoint(), QPoint(0, 120 * turns),
        Qt.MouseButton.NoButton, NONE, Qt.ScrollPhase.NoScrollPhase, False,
    )
    QApplication.sendEvent(driver.view.viewport(), event)


def test_wheel_zooms_about_the_pointer(driver: Driver) -> None:
    driver.window.filing.open_demo("gate-strap.profile.json")
    driver.settle(5)
    pixel = QPoint(200, 150)
    held = driver.view.sheet.camera.to_part((200.0, 150.0))
    scale = driver.view.sheet.camera.scale
    wheel(driver, pixel, 3)
    assert driver.view.sheet.camera.scale == pytest.approx(scale * 1.25**3)
    assert driver.view.sheet.camera.to_part((200.0, 150.0)) == pytest.approx(held, abs=1e-9)


def test_a_pinch_zooms_about_the_fingers(driver: Driver) -> None:
    driver.window.filing.open_demo("gate-strap.profile.json")
    driver.settle(5)
    port, at = driver.view.viewport(), QPointF(200.0, 150.0)
    held = driver.view.sheet.camera.to_part((200.0, 150.0))
    scale = driver.view.sheet.camera.scale
    QApplication.sendEvent(port, QNativeGestureEvent(
        Qt.NativeGestureType.ZoomNativeGesture, QPointingDevice.primaryPointingDevice(), 2, at, at,
        QPointF(port.mapToGlobal(at)), 0.25, QPointF()))
    assert driver.view.sheet.camera.scale == pytest.approx(scale * 1.25)
    assert driver.view.sheet.camera.to_part((200.0, 150.0)) == pytest.approx(held, abs=1e-9)


def test_middle_button_pans(driver: Driver) -> None:
    driver.window.filing.open_demo("gate-strap.profile.json")
    driver.settle(5)
    port = driver.view.viewport()
    held = driver.view.sheet.camera.to_part((200.0, 150.0))
    QTest.mousePress(port, Qt.MouseButton.MiddleButton, NONE, QPoint(200, 150))
    QTest.mouseMove(port, QPoint(240, 190))
    QTest.mouseRelease(port, Qt.MouseButton.MiddleButton, NONE, QPoint(240, 190))
    assert driver.view.sheet.camera.to_part((240.0, 190.0)) == pytest.approx(held, abs=1e-9)


def test_lines_stay_hairlines_at_every_zoom(driver: Driver) -> None:
    driver.window.filing.open_demo("gate-strap.profile.json")
    driver.board.bench.set_setting("show_dimensions", False)
    driver.board.bench.set_setting("show_bindings", False)
    driver.board.bench.set_setting("show_grid", False)
    driver.board.bench.set_setting("show_centers", False)
    driver.settle(5)
    for window in (40.0, 0.4, 4e-4):
        driver.view.zoom_to((30.0, 0.0), window)  # the level edge at y = 0
        driver.settle(5)
        image = driver.view.viewport().grab().toImage()
        x = image.width() // 2 + 37
        bright = [y for y in range(image.height()) if image.pixelColor(x, y).lightness() > 150]
        assert 1 <= len(bright) <= 4, window
        assert abs(bright[0] - image.height() / 2) <= 3


def test_a_quick_press_after_a_key_is_a_press_and_no_double_one(driver: Driver) -> None:
    driver.new()
    driver.tool("circle")
    driver.click(0.0, 0.0)
    driver.typed("40")
    port, at = driver.view.viewport(), driver.pixel(0.0, 0.0)
    # Qt sends the second of two presses within its time as a double press.
    QApplication.sendEvent(port, QMouseEvent(
        QEvent.Type.MouseButtonDblClick, QPointF(at), QPointF(port.mapToGlobal(at)), LEFT, LEFT,
        NONE))
    QTest.mouseRelease(port, LEFT, NONE, at)
    driver.typed("16")
    radii = sorted(c.radius for c in driver.board.part.curves.values())
    assert radii == [8.0, 20.0]
