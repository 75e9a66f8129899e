"""The section of holes: its rows, that it follows the selection, and a zero by the menu."""

from __future__ import annotations

from sketcher.desk.panes.inspection_pane import HOLES
from sketcher.part.value import Binding
from tests.gui.driver import Driver, wait_until
from tests.plates import plate, rectangle


def rows(driver: Driver) -> list[tuple[str, ...]]:
    table = driver.window.inspection.tables["holes"]
    return [tuple(cell.text for cell in table.rows.entry(row).cells)
            for row in range(table.rows.rowCount())]


def test_the_section_lists_the_holes_and_follows_the_selection(driver: Driver) -> None:
    points, lines = rectangle(60.0, 40.0)
    points = {**points, "c": (10.0, 20.0), "d": (50.0, 20.0), "f": (30.0, 30.0)}
    part = plate(points, {**lines, "h": ("c", 3.0), "k": ("d", 3.0), "m": ("f", 5.0)},
                 *(Binding("fixed", (name,)) for name in points),
                 Binding("diameter", ("h",), "6"), Binding("equal", ("h", "k")),
                 Binding("diameter", ("m",), "10"))
    driver.new()
    driver.board.load(part)
    driver.settle(5)
    pane = driver.window.inspection
    assert pane.box.count() == HOLES  # it takes no room before
    driver.window.commands.made["view.holes"].trigger()
    driver.settle(3)
    assert pane.box.currentIndex() == HOLES
    wait_until(lambda: len(rows(driver)) == 3)
    assert rows(driver) == [("A1", "30", "30", "Ø10"), ("B1", "10", "20", "Ø6"),
                            ("B2", "50", "20", "Ø6")]
    driver.board.bench.select(("k",))
    driver.settle(3)
    assert [entry.cells[0].text for entry in pane.tables["holes"].chosen()] == ["B2"]
    driver.window.commands.made["readout.hole_zero"].trigger()
    wait_until(lambda: ("B2", "0", "0", "Ø6") in rows(driver))
    assert ("B1", "-40", "0", "Ø6") in rows(driver)
    driver.board.bench.select(("m",))
    driver.settle(3)
    assert [entry.cells[0].text for entry in pane.tables["holes"].chosen()] == ["A1"]
    pane.box.setCurrentIndex(0)
    driver.window.commands.made["view.holes"].trigger()
    assert (pane.box.currentIndex(), pane.box.count()) == (HOLES, HOLES + 1)
