"""The rack beside the sheet: every shape tool in sight, with its word where there is room."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt

from tests.gui.driver import Driver


@pytest.mark.parametrize(("size", "columns", "words"), [
    ((1920, 1080), 1, True), ((1366, 768), 1, False), ((1024, 540), 2, False),
    ((1800, 540), 2, False),
])
def test_every_shape_tool_is_in_sight(
    driver: Driver, size: tuple[int, int], columns: int, words: bool
) -> None:
    driver.new()
    window, rack = driver.window, driver.window.rack
    window.resize(*size)
    driver.settle(50)
    assert (window.width(), window.height()) == size
    buttons = [rack.widgetForAction(tool) for tool in rack.actions()]
    assert len(buttons) >= 14
    for button in buttons:
        assert button.isVisible()
        assert rack.rect().contains(button.geometry()), button.text()
        assert button.toolButtonStyle() == (
            Qt.ToolButtonStyle.ToolButtonTextBesideIcon if words
            else Qt.ToolButtonStyle.ToolButtonIconOnly)
        if words:
            need = button.fontMetrics().horizontalAdvance(button.text()) + 22
            assert button.width() >= need, button.text()
    assert len({button.x() for button in buttons}) == columns
    across = [(a, b) for a in buttons for b in buttons
              if a is not b and a.geometry().intersects(b.geometry())]
    assert across == []


def test_a_part_stays_whole_when_the_rack_takes_its_columns(driver: Driver) -> None:
    """The sheet changes its width once more after the part was fitted into it."""
    driver.window.resize(1366, 640)
    driver.window.filing.open_demo("gate-strap.profile.json")
    driver.window.resize(1366, 560)
    driver.settle(600)
    x0, y0, x1, y1 = driver.view.sheet.camera.window
    for dim in driver.view.sheet.dims():
        x, y = dim.anchor
        assert x0 < x < x1, dim.text
        assert y0 < y < y1, dim.text
