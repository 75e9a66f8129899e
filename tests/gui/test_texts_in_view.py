"""The texts of a part that was fitted are wholly in view, in small windows too, with every tool."""

from __future__ import annotations

from math import cos, sin
from pathlib import Path

import pytest

from sketcher.board.dimensions.dimension_lines import MARKS
from sketcher.desk.scene.dims_layer import room_of, text_font
from tests import demo_parts
from tests.gui.driver import Driver, wait_until
from tests.seldom import some_of


def cut(driver: Driver) -> list[str]:
    """Dimensions whose words, as they are painted, reach out of the viewport."""
    sheet, port, found = driver.view.sheet, driver.view.viewport(), []
    for dim in sheet.dims():
        wide, high = room_of(text_font(sheet).key(), dim.text + MARKS.get(dim.state, ""))
        c, s = abs(cos(dim.turn)), abs(sin(dim.turn))
        across, tall = 0.5 * (wide * c + high * s), 0.5 * (wide * s + high * c)
        x, y = sheet.camera.to_screen(dim.anchor)
        if x < across or y < tall or x + across > port.width() or y + tall > port.height():
            found.append(dim.binding)
    return found


def at_rest(driver: Driver) -> None:
    """Wait until nothing is laid out or fitted again any more."""
    view, quiet = driver.view, 0
    while quiet < 3:
        driver.settle(60)
        dims = view.sheet.dims()
        wait_until(lambda: not view._still.isActive())
        wait_until(lambda: driver.board.bench.derived._dimensions._rested)
        quiet = quiet + 1 if view.sheet.dims() is dims else 0


# Angles of the shift arm have no room among its twenty dimensions in words of 20, told as such; one
# not in words of 13 either, where the list of the clean-up takes room of the sheet.
NO_ROOM = {("shift-arm.profile", 20): 4, ("shift-arm.profile", 13): 1}


def hard(case: tuple[Path, int, str]) -> bool:
    """Words of 20 where they have least room and on another part, and all tools on a third."""
    path, size, tools = case
    short = path.stem.split("-")[0]
    return (short, size, tools) in (
        ("shift", 20, "few"), ("pump", 20, "few"), ("gate", 20, "all"))


CASES = [(path, size, tools) for path in demo_parts.ALL for size in (13, 20)
         for tools in ("few", "all")]


@pytest.mark.parametrize(("path", "size", "tools"), some_of(CASES, hard),
                         ids=lambda value: getattr(value, "stem", value))
def test_no_text_is_cut_off_in_any_tool(
    driver: Driver, path: Path, size: int, tools: str
) -> None:
    driver.window.resize(960, 540)
    driver.board.bench.set_setting("text_size", size)
    driver.window.begin(path)
    at_rest(driver)
    most = NO_ROOM.get((path.stem, size), 0)
    camera = driver.view.sheet.camera
    for name in driver.board.tools if tools == "all" else ("pick", "dimension", "clean up"):
        driver.tool(name)
        if name == "clean up":
            at_rest(driver)
        assert len(cut(driver)) <= most, (name, cut(driver))
        if name != "clean up":  # its list takes room of the sheet
            assert driver.view.sheet.camera == camera, name
        else:
            driver.tool("pick")
            at_rest(driver)
            camera = driver.view.sheet.camera
