"""Center lines on the desk's sheet: seen, hidden, pulled with the mouse."""

from __future__ import annotations

from math import dist

from PySide6.QtCore import QPoint
from PySide6.QtGui import QColor
from PySide6.QtTest import QTest

from sketcher.board.dimensions.shown_center_lines import center_lines
from sketcher.geometry.evaluate import point_at
from sketcher.part.value import Binding, Drawing, LineCurve, Part, frozen
from tests.gui.driver import LEFT, NONE, Driver, wait_until


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


def test_an_axis_ends_on_the_desk_where_it_ends_on_the_sheet(driver: Driver) -> None:
    """Drawn 40 past a plate of 120 it is seen for 3 at 1:1, as on paper; hidden, for all of it."""
    points = {"p1": (0.0, 0.0), "p2": (120.0, 0.0), "p3": (120.0, 80.0), "p4": (0.0, 80.0),
              "m1": (-40.0, 40.0), "m2": (160.0, 40.0)}
    curves = {f"e{k}": LineCurve((f"p{k}", f"p{k % 4 + 1}")) for k in range(1, 5)}
    driver.new()
    driver.board.load(Part(points=frozen(points), curves=frozen(
        curves | {"ax": LineCurve(("m1", "m2"), "axis")}),
        bindings=frozen({f"b{k}": Binding("fixed", (name,)) for k, name in enumerate(points)}),
        drawing=Drawing(sheet="A3", scale="1:1")), None)
    for what in ("show_dimensions", "show_bindings", "show_grid"):
        driver.board.bench.set_setting(what, False)
    driver.window.commands.run("view.fit")
    driver.settle(5)
    assert inked(driver, (122.0, 40.0))
    outside = [(float(x), 40.0) for x in range(126, 140)]
    assert not any(inked(driver, at) for at in outside)
    assert driver.window.commands.run("view.centers")
    driver.settle(5)
    assert sum(inked(driver, at) for at in outside) > 8


def inked(driver: Driver, at) -> bool:
    """Whether anything is painted on the ground within a pixel of a place."""
    image = driver.view.viewport().grab().toImage()
    ground = image.pixelColor(driver.pixel(60.0, 100.0)).lightness()
    spot = driver.pixel(*at)
    return any(abs(image.pixelColor(spot + QPoint(0, dy)).lightness() - ground) > 20
               for dy in (-1, 0, 1))


def test_an_end_is_pulled_with_the_mouse(driver: Driver) -> None:
    opened(driver)
    line, stop = next((n, stop) for n in center_lines(driver.board.part, pulls=True)
                      for stop in n.stops.get("end", ())
                      if stop.rule is not None and stop.rule.goal == "outline")
    driver.window.commands.run("tool.centers")
    wait_until(lambda: "being worked out" not in driver.window.prompt.text())
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
