"""Center lines on the desk's sheet: seen, hidden, pulled with the mouse."""

from __future__ import annotations

from math import dist

from PySide6.QtCore import QPoint
from PySide6.QtGui import QColor
from PySide6.QtTest import QTest

from sketcher.board.dimensions.shown_center_lines import center_lines
from sketcher.geometry.evaluate import point_at
from tests.gui.driver import LEFT, NONE, Driver


def at_pixel(driver: Driver, at) -> bool:
    """Whether the axis colour stands within a pixel of a place."""
    image = driver.view.viewport().grab().toImage()
    wanted = QColor(driver.window.look.axis)
    spot = driver.pixel(*at)

    def far(colour: QColor) -> int:
        return max(abs(colour.red() - wanted.red()), abs(colour.green() - wanted.green()),
                   abs(colour.blue() - wanted.blue()))

    return min(far(image.pixelColor(spot + QPoint(dx, dy)))
               for dx in (-1, 0, 1) for dy in (-1, 0, 1)) < 60


def opened(driver: Driver):
    driver.window.filing.open_demo("roof-gusset.profile.json")
    for what in ("show_dimensions", "show_bindings", "show_grid"):
        driver.board.bench.set_setting(what, False)
    driver.settle(5)
    return next(n for n in center_lines(driver.board.part) if not n.is_axis)


def test_they_are_drawn_by_themselves_and_can_be_hidden(driver: Driver) -> None:
    line = opened(driver)
    dash = max(line.dashes, key=lambda d: d.length)
    along = [point_at(dash, k / 20) for k in range(2, 19)]
    assert sum(at_pixel(driver, at) for at in along) >= 15  # what crosses it may cover a few
    assert driver.window.commands.run("view.centers")
    driver.settle(5)
    assert sum(at_pixel(driver, at) for at in along) <= 8


def test_an_end_is_pulled_with_the_mouse(driver: Driver) -> None:
    opened(driver)
    line, stop = next((n, stop) for n in center_lines(driver.board.part, pulls=True)
                      for stop in n.stops.get("end", ())
                      if stop.rule is not None and stop.rule.goal == "outline")
    driver.window.commands.run("tool.centers")
    (x1, y1), to = line.end, stop.at
    port = driver.view.viewport()
    driver.move(x1, y1)
    QTest.mousePress(port, LEFT, NONE, driver.pixel(x1, y1))
    driver.move(*to)
    driver.settle(5)
    assert "past the outline" in driver.window.prompt.text()
    QTest.mouseRelease(port, LEFT, NONE, driver.pixel(*to))
    driver.settle(5)
    after = next(n for n in center_lines(driver.board.part) if n.id == line.id)
    assert dist(after.end, to) < 1e-6
    assert driver.board.part.drawing.centers[stop.line]["end"] == "outline"
    driver.board.bench.undo()
    assert not driver.board.part.drawing.centers
