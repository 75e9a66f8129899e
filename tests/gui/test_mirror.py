"""The mirror tool through the window: level, plumb and odd axes, preview, report, undo."""

from __future__ import annotations

from math import cos, radians, sin

import pytest
from PySide6.QtCore import Qt

from sketcher.geometry.bounds import bounds
from sketcher.part.value import GridPattern, Mirror
from sketcher.part.whole import whole
from tests.gui.driver import Driver


def half_about(driver: Driver, degrees: float) -> None:
    """Draw an open half whose ends lie on an axis at an angle; axis first."""
    driver.new()
    c, s = cos(radians(degrees)), sin(radians(degrees))

    def at(along: float, away: float) -> tuple[float, float]:
        return (along * c - away * s, along * s + away * c)

    driver.tool("axis")
    driver.click(*at(-40, 0), Qt.KeyboardModifier.ControlModifier)
    driver.click(*at(40, 0), Qt.KeyboardModifier.ControlModifier)
    driver.tool("outline")
    driver.click(*at(-30, 0))
    driver.click(*at(-30, 25), Qt.KeyboardModifier.ControlModifier)
    driver.click(*at(28, 18), Qt.KeyboardModifier.ControlModifier)
    driver.click(*at(30, 0))
    driver.key(Qt.Key.Key_Return)
    driver.tool("mirror")
    driver.move(*at(10, 0))


@pytest.mark.e2e
@pytest.mark.parametrize("degrees", [0.0, 90.0, 27.0])
def test_the_half_is_reflected_about_any_axis(driver: Driver, degrees: float) -> None:
    half_about(driver, degrees)
    outline = [n for n, c in driver.board.part.curves.items() if c.role == "outline"]
    assert len(outline) == 3
    assert len(driver.board.preview.curves) == 3  # shown before it is done
    prompt = driver.window.prompt.text()
    assert "axis" in prompt.lower()
    if degrees == 27.0:
        assert "off" in prompt or "27" in prompt or "26" in prompt
    c, s = cos(radians(degrees)), sin(radians(degrees))
    driver.click(10 * c, 10 * s)
    driver.key(Qt.Key.Key_Return)
    assert len(driver.board.part.mirrors) == 1
    pieces = [p for p in whole(driver.board.part) if p.role == "outline"]
    assert len(pieces) == 6
    driver.settle(20)
    assert driver.board.bench.derived.inspection().profile.closed
    assert driver.window.inspection.tables["symmetry"].rows.rowCount() > 0
    assert len(driver.view.sheet.groups["outline", "quiet"].curves) == 3
    driver.act("edit.undo")
    assert driver.board.part.mirrors == ()


@pytest.mark.e2e
def test_flip_and_make_whole_from_the_menu(driver: Driver) -> None:
    driver.window.filing.open_demo("gate-strap.profile.json")
    driver.settle(5)
    before = driver.board.bench.derived.inspection().profile.area
    driver.act("mirror.flip")
    driver.settle(20)
    assert driver.board.bench.derived.inspection().profile.area == pytest.approx(before, rel=1e-9)
    driver.act("edit.undo")
    count = sum(c.role == "outline" for c in driver.board.part.curves.values())
    driver.act("mirror.whole")
    driver.settle(20)
    assert driver.board.part.mirrors == ()
    assert sum(c.role == "outline" for c in driver.board.part.curves.values()) > count
    assert driver.board.bench.derived.inspection().profile.area == pytest.approx(before, rel=1e-9)


def in_view(driver: Driver) -> bool:
    x0, y0, x1, y1 = driver.view.sheet.camera.window
    return all(x0 <= a and y0 <= b and c <= x1 and d <= y1
               for a, b, c, d in (bounds(piece.curve) for piece in whole(driver.board.part)
                                  if piece.role == "outline"))


def test_a_part_that_grows_out_of_the_view_is_shown_whole(driver: Driver) -> None:
    half_about(driver, 90.0)
    driver.view.fit()
    driver.view.zoom(1.1)
    halved = driver.view.sheet.camera
    assert in_view(driver)
    part = driver.board.part
    axis = next(name for name, curve in part.curves.items() if curve.role == "axis")
    mirror = (Mirror(axis),)
    driver.board.bench.do("Mirror", lambda part: part.having(mirrors=mirror))
    driver.settle(5)
    assert driver.view.sheet.camera is not halved
    assert in_view(driver)
    driver.board.bench.undo()

    driver.view.zoom(0.3)  # there is room for both halves
    roomy = driver.view.sheet.camera
    driver.board.bench.do("Mirror", lambda part: part.having(mirrors=mirror))
    driver.settle(5)
    assert driver.view.sheet.camera is roomy
    driver.board.bench.undo()

    driver.view.zoom(30.0)  # whoever works on a detail stays there
    near = driver.view.sheet.camera
    driver.board.bench.do("Mirror", lambda part: part.having(mirrors=mirror))
    driver.settle(5)
    assert driver.view.sheet.camera is near


def test_rows_that_grow_out_of_the_view_are_shown_whole(driver: Driver) -> None:
    driver.new()
    driver.tool("circle")
    driver.click(0.0, 0.0)
    driver.click(10.0, 0.0)
    driver.view.fit()
    driver.settle(5)
    hole = next(iter(driver.board.part.curves))
    rows = GridPattern((hole,), ("100", "30"), (4, 1))
    driver.board.bench.do("Rows", lambda part: part.having(patterns={"g1": rows}))
    driver.settle(5)
    assert len(whole(driver.board.part)) == 4
    assert in_view(driver)
