"""Copy, cut and paste as a person does, the sheet's menu, and what other programs get."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from collections.abc import Iterator

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from sketcher.board.board import Board
from sketcher.board.files.clipboard import PICTURE, PIECE
from sketcher.part.file_text import read
from tests.gui.driver import NONE, Driver

RIGHT = Qt.MouseButton.RightButton
CTRL = Qt.KeyboardModifier.ControlModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier


@pytest.fixture
def strap(driver: Driver) -> Iterator[Driver]:
    QGuiApplication.clipboard().clear()
    driver.window.filing.open_demo("gate-strap.profile.json")
    driver.settle(20)
    driver.view.setFocus()
    yield driver
    if driver.window.menu.menu is not None:
        driver.window.menu.menu = None


def menu_of(driver: Driver) -> list[str]:
    """Texts of the menu that is open, which is closed."""
    menu = QApplication.activePopupWidget()
    assert menu is not None
    assert all(action.isEnabled() for action in menu.actions() if not action.isSeparator())
    found = [action.text().split("\t")[0] for action in menu.actions() if action.text()]
    menu.close()
    driver.settle(5)
    return found


def test_copied_curves_are_pasted_with_their_bindings_and_undone(strap: Driver) -> None:
    before = strap.board.part
    strap.board.bench.select(("h2", "e1"))
    strap.key(Qt.Key.Key_C, CTRL)
    assert "2 curves" in strap.window.said.text()
    assert "not copied" in strap.window.said.text()  # the hole's places reach beyond
    strap.key(Qt.Key.Key_Right)
    strap.view.sheet.cursor = (150.0, 40.0)
    strap.key(Qt.Key.Key_V, CTRL)
    strap.settle(10)
    part = strap.board.part
    made = [n for n in part.curves if n not in before.curves]
    assert len(made) == 2
    assert set(strap.board.bench.selection.ids) == set(made)
    hole = next(n for n in made if part.curves[n].kind == "circle")
    kinds = [b.kind for b in part.bindings.values() if hole in b.of]
    assert "diameter" in kinds
    x, _ = part.points[part.curves[hole].center]
    assert abs(x - 150.0) < 60.0
    assert strap.board.report.clashes == ()
    strap.key(Qt.Key.Key_Z, CTRL)
    assert strap.board.part is before


def test_a_second_paste_does_not_hide_the_first(strap: Driver) -> None:
    strap.board.bench.select(("h2",))
    strap.act("edit.copy")
    strap.view.sheet.cursor = (150.0, 40.0)
    seen = set()
    for _ in range(3):
        strap.act("edit.paste")
        (hole,) = strap.board.bench.selection.ids
        seen.add(tuple(round(v, 6) for v in strap.board.part.points[
            strap.board.part.curves[hole].center]))
    assert len(seen) == 3


def test_cut_takes_away_and_pasting_brings_back(strap: Driver) -> None:
    strap.board.bench.select(("h1",))
    strap.key(Qt.Key.Key_X, CTRL)
    assert "h1" not in strap.board.part.curves
    strap.view.sheet.cursor = (0.0, 100.0)
    strap.key(Qt.Key.Key_V, CTRL)
    (hole,) = strap.board.bench.selection.ids
    assert strap.board.part.curves[hole].radius == pytest.approx(10.0)


def test_another_window_takes_what_this_one_copied(strap: Driver) -> None:
    strap.board.bench.select(strap.board.part.curves)
    strap.act("edit.copy")
    data = QGuiApplication.clipboard().mimeData()
    piece = read(bytes(data.data(PIECE).data()))  # as another process gets it: text alone
    assert set(piece.curves) == set(strap.board.part.curves)
    strap.window.filing.new("mm")
    strap.settle(5)
    strap.act("edit.paste")
    strap.settle(10)
    assert len(strap.board.part.curves) == len(piece.curves)
    assert strap.board.report.clashes == ()
    assert Board(strap.board.part).report.converged


def test_other_programs_get_a_picture_in_true_size(strap: Driver) -> None:
    strap.board.bench.select(("h1",))
    strap.act("edit.copy")
    data = QGuiApplication.clipboard().mimeData()
    for text in (bytes(data.data(PICTURE).data()).decode(), data.text()):
        root = ET.fromstring(text)
        assert root.tag.endswith("svg")
        assert re.match(r"^24(\.0*)?mm$", root.get("width"))  # a hole of 20 with 2 of air around
    strap.act("edit.paste")  # and the text is not taken for a part by this program


def test_nothing_on_the_clipboard_is_told(strap: Driver) -> None:
    before = strap.board.part
    QGuiApplication.clipboard().setText("not a part")
    strap.act("edit.paste")
    assert "clipboard" in strap.window.said.text()
    assert strap.board.part is before


def test_in_a_table_the_key_copies_its_rows(strap: Driver) -> None:
    strap.board.bench.select(("h1",))
    strap.settle(10)
    for table in (strap.window.ledger.table, strap.window.inspection.tables["findings"]):
        strap.window.activateWindow()
        table.setFocus()
        table.selectRow(table.model().rowCount() - 1)
        strap.board.bench.select(("h1",))  # the menu's copy could be had as well
        strap.key(Qt.Key.Key_C, CTRL)
        data = QGuiApplication.clipboard().mimeData()
        assert not data.hasFormat(PIECE)
        head, *rows = data.text().splitlines()
        assert rows
        assert all(row.count("\t") == head.count("\t") > 0 for row in rows)


# The sheet's menu.


def press_right(driver: Driver, x: float, y: float) -> None:
    driver.move(x, y)
    QTest.mousePress(driver.view.viewport(), RIGHT, NONE, driver.pixel(x, y))
    driver.settle(5)


def test_a_right_press_is_about_what_lies_there(strap: Driver) -> None:
    x, y = strap.board.part.points[strap.board.part.curves["h1"].center]
    press_right(strap, x + 10.0, y)
    assert strap.board.bench.selection.ids == ("h1",)
    found = menu_of(strap)
    assert {"Copy", "Cut", "Delete", "Bind: Diameter"} <= set(found)
    assert "Paste" not in found  # the clipboard is empty
    strap.board.bench.select(("h1", "h2"))
    press_right(strap, x + 10.0, y)
    assert set(strap.board.bench.selection.ids) == {"h1", "h2"}  # both are meant
    menu_of(strap)
    strap.act("edit.copy")
    press_right(strap, x + 300.0, y)
    assert strap.board.bench.selection.ids == ()
    found = menu_of(strap)
    assert "Paste" in found
    assert "Delete" not in found


@pytest.mark.parametrize(("key", "held"), [(Qt.Key.Key_Menu, NONE), (Qt.Key.Key_F10, SHIFT)])
def test_keys_open_the_menu(strap: Driver, key: Qt.Key, held: Qt.KeyboardModifier) -> None:
    strap.board.bench.select(("h1",))
    strap.key(key, held)
    assert "Bind: Diameter" in menu_of(strap)
    assert strap.board.bench.selection.ids == ("h1",)


def test_a_double_press_on_the_blank_sheet_shows_all(strap: Driver) -> None:
    strap.view.fit()
    strap.settle(5)
    whole = strap.view.sheet.camera
    strap.view.zoom(4.0)
    corner = strap.view.sheet.camera.to_part((15.0, 15.0))
    assert strap.board.tool.meant(strap.view.pointer_at(QPoint(15, 15).toPointF(), NONE)) == ()
    strap.double(*corner)
    assert strap.view.sheet.camera.scale == pytest.approx(whole.scale, rel=0.05)
