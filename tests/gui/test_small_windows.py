"""Small windows: everything is in reach, and what matters most is read without scrolling.

960 by 540 are the pixels of a screen of 1920 by 1080 at 200 %, 683 by 384 those of 1366 by 768.
"""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLabel, QTableWidget, QTableWidgetItem, QToolTip, QWidget

from sketcher.desk.panes.ledger_model import FIELDS
from sketcher.desk.panes.row_table import shared
from sketcher.desk.status import Said, fitted, needed, shares
from sketcher.part.edits.add_binding import add_binding
from tests.gui.cut_words import cut_words, overlaps
from tests.gui.driver import Driver, wait_until

SMALL = (683, 384)


def open_at(driver: Driver, size: tuple[int, int], demo: str = "gate-strap") -> None:
    driver.window.resize(*size)
    driver.window.filing.open_demo(f"{demo}.profile.json")
    driver.settle(60)


def clash(driver: Driver) -> None:
    driver.board.bench.do("Bind", lambda part: add_binding(part, "distance", ("p1", "p4"), "80"))
    wait_until(driver.window.ledger.mending.isVisible)
    driver.settle(60)


def cut(driver: Driver) -> list[str]:
    """What is cut or covered, but for messages, whose rest a press shows."""
    found = (*cut_words(driver.window), *overlaps(driver.window))
    return [trouble for trouble in found if not trouble.startswith("Said")]


def test_a_window_of_half_a_small_screen_is_usable(driver: Driver) -> None:
    window = driver.window
    window.resize(*SMALL)
    driver.settle(20)
    assert window.size().toTuple() == SMALL  # the start page
    open_at(driver, SMALL)
    for tool in ("outline", "rows", "slot", "clean up"):
        driver.tool(tool)
        driver.click(11.3, 7.7)
        driver.move(-68.8, 4.2)
        driver.settle(20)
        assert window.size().toTuple() == SMALL, tool
        assert driver.view.width() >= 240, tool
        assert driver.view.height() >= 100, tool
        assert cut(driver) == [], tool
        driver.tool("pick")
    sizes = window.middle.split.sizes()
    assert sizes[0] > 0
    assert sizes[2] == 0  # the verdict stands in the status line
    clash(driver)
    assert window.size().toTuple() == SMALL
    assert driver.view.width() >= 240
    assert not window.ledger.mending.buttons[0].visibleRegion().isEmpty()
    assert cut(driver) == []
    driver.board.bench.undo()
    wait_until(lambda: not window.ledger.mending.isVisible())
    driver.settle(20)
    assert window.middle.split.sizes() == sizes


def test_the_keyboard_unfolds_a_pane(driver: Driver) -> None:
    open_at(driver, SMALL)
    split, inspection = driver.window.middle.split, driver.window.inspection
    for _ in range(6):
        driver.window.rounds.onward()
        driver.settle(5)
        if inspection.isAncestorOf(driver.target()):
            break
    assert inspection.isAncestorOf(driver.target())
    assert split.sizes()[2] > 200
    assert split.sizes()[0] == 0
    assert driver.view.width() >= 240


@pytest.mark.parametrize("size", [SMALL, (960, 540)])
def test_no_digit_and_no_way_is_cut(driver: Driver, size: tuple[int, int]) -> None:
    open_at(driver, size)
    driver.tool("outline")
    driver.click(-17.123, -55.456)
    driver.move(-140.789, 61.012)
    readout = driver.window.readout
    assert [d.text() for _, _, d in readout.cells if "\N{HORIZONTAL ELLIPSIS}" in d.text()] == []
    assert any(len(d.text()) > 6 for _, _, d in readout.cells)
    ways = [key for key in readout.ways.keys if key.isVisible()]
    assert len(ways) == 3
    for key in (*ways, *readout.keys.findChildren(type(ways[0]))):
        assert key.width() >= key.sizeHint().width(), key.text()
        assert key.height() >= 24, key.text()


def test_value_and_result_are_read_without_scrolling(driver: Driver) -> None:
    open_at(driver, (960, 540))
    table, model = driver.window.ledger.table, driver.window.ledger.model

    def seen(field: str) -> bool:
        rect = table.visualRect(model.index(1, FIELDS.index(field)))
        return table.viewport().rect().left() <= rect.left() \
            and rect.right() <= table.viewport().rect().right()

    assert all(map(seen, ("id", "of", "value", "actual")))
    assert table.isColumnHidden(FIELDS.index("residual"))
    clash(driver)
    assert all(map(seen, ("id", "of", "value", "actual")))
    row = model.row_of(list(driver.board.part.bindings)[-1])
    result = model.index(row, FIELDS.index("actual")).data()
    assert "64.622" in result
    assert "(-15.4)" in result  # residual: 64.622 - 80
    ends = [table.visualRect(model.index(1, n)).right() for n in range(len(FIELDS))
            if not table.isColumnHidden(n)]
    right = table.viewport().rect().right()
    assert min(abs(end - right) for end in ends) <= 2  # no column is half in view
    driver.window.resize(1366, 768)
    driver.settle(20)
    assert not table.isColumnHidden(FIELDS.index("residual"))


@pytest.mark.parametrize("size", [(1366, 768), (1880, 1000)])
def test_findings_keep_four_rows_beside_what_is_said_of_them(
    driver: Driver, size: tuple[int, int]
) -> None:
    open_at(driver, size, "latch-plate")
    pane = driver.window.inspection
    wait_until(pane.note.isVisible)
    driver.settle(30)
    table = pane.tables["findings"]
    port = table.viewport().visibleRegion().boundingRect()
    whole = [row for row in range(table.order.rowCount())
             if port.contains(table.visualRect(table.order.index(row, 0)))]
    assert len(whole) >= 4
    assert pane.note.height() <= pane.height() // 4
    assert pane.note.bed.verticalScrollBar().maximum() == max(
        0, pane.note.label.height() - pane.note.bed.viewport().height())


def test_the_verdict_has_a_line_of_its_own(driver: Driver) -> None:
    driver.new()
    verdict, save = driver.window.inspection.verdict, driver.window.inspection.save
    wait_until(lambda: verdict.text() == "Nothing to check yet")
    driver.settle(20)
    assert verdict.height() < 2 * verdict.fontMetrics().lineSpacing()
    assert verdict.geometry().bottom() < save.geometry().top()
    box = driver.window.inspection.box
    heads = [box.itemText(n) for n in range(box.count())]
    assert "Profile  \N{MIDDLE DOT}  0" in heads  # nothing is drawn, so there is none


def test_the_rest_of_a_long_message_is_shown(driver: Driver) -> None:
    open_at(driver, SMALL)
    said = driver.window.said
    driver.board.bench.say("one two three four five six seven eight nine ten " * 4 + "end", "done")
    driver.settle(20)
    assert isinstance(said, Said)
    assert said.fitting.endswith("\N{HORIZONTAL ELLIPSIS}")
    assert "end" not in said.fitting
    assert said.toolTip().endswith("end")
    assert said.focusPolicy() == Qt.FocusPolicy.TabFocus
    QTest.mouseClick(said, Qt.MouseButton.LeftButton)
    assert QToolTip.isVisible()
    assert "end" in QToolTip.text()
    QToolTip.hideText()
    wait_until(lambda: not QToolTip.isVisible())
    said.setFocus()
    QTest.keyClick(said, Qt.Key.Key_Return)
    assert QToolTip.isVisible()
    assert "end" in QToolTip.text()
    QToolTip.hideText()
    driver.board.bench.say("short", "done")
    driver.settle(20)
    assert said.fitting.endswith("Short")
    assert said.focusPolicy() == Qt.FocusPolicy.NoFocus


def test_who_has_more_to_say_has_more_room(qapp, family: str) -> None:
    assert shares(100, 100, 1000) == 600  # both fit
    assert shares(100, 700, 1000) == 300
    assert shares(900, 50, 1000) == 900
    assert shares(900, 900, 1000) == 500
    metrics = QLabel().fontMetrics()
    text = "Press the end of the line. Space: another piece. Enter ends the outline."
    least = needed(text, metrics)
    assert metrics.horizontalAdvance(text) // 2 - 4 <= least < metrics.horizontalAdvance(text)
    assert fitted(text, metrics, least) == text
    assert fitted(text, metrics, least // 2) != text


def test_the_start_page_has_no_empty_wells(driver: Driver) -> None:
    for size in ((1366, 768), (960, 540)):
        driver.window.resize(*size)
        driver.settle(20)
        page = driver.window.start
        cards = page.demo_list
        rows = len({cards.visualItemRect(cards.item(n)).top() for n in range(cards.count())})
        assert 0 <= cards.height() - rows * cards.gridSize().height() <= 12
        assert cards.verticalScrollBar().maximum() == 0
        assert page.recent_list.height() < 3 * page.fontMetrics().lineSpacing()  # "Nothing yet."
    last = cards.item(cards.count() - 1)
    cards.setFocus()
    cards.setCurrentItem(last)
    middle = cards.viewport().mapTo(page.bed, cards.visualItemRect(last).center())
    shown = middle - QPoint(0, page.room.verticalScrollBar().value())
    assert page.room.viewport().rect().contains(shown)  # the keyboard scrolls the page


def test_columns_share_a_room() -> None:
    assert shared([50, 60], [50, 40], 200) == [50, 150]
    assert shared([50, 300], [50, 60], 200) == [50, 150]  # the widest gives way
    assert shared([120, 300], [60, 60], 200) == [100, 100]
    assert shared([120, 300], [110, 60], 200) == [110, 90]  # a word is not cut
    assert shared([90, 90, 90], [90, 90, 90], 200) == [90, 110, 90]  # none begins at the edge
    assert shared([], [], 200) == []


def test_a_cut_cell_in_a_tall_row_is_found(qapp, family: str) -> None:
    root = QWidget()
    table = QTableWidget(1, 1, root)
    table.setItem(0, 0, QTableWidgetItem("closed; 4 holes, no stray"))
    table.resize(300, 200)
    root.resize(320, 220)
    root.show()
    qapp.processEvents()
    metrics = table.fontMetrics()
    line, side = metrics.lineSpacing(), metrics.horizontalAdvance("holes, no")
    for width, height, found in ((side + 8, 4 * line, 0), (side + 8, 2 * line, 1),
                                 (side // 3, 9 * line, 1), (250, line + 4, 0)):
        table.setColumnWidth(0, width)
        table.setRowHeight(0, height)
        cut = [words for words in cut_words(root) if "closed" in words]
        assert len(cut) == found, (width, height)
    root.close()
    root.deleteLater()
    qapp.processEvents()
