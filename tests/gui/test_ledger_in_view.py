"""The ledger as people read it: words, two sections, columns, and rows that stay in view."""

from __future__ import annotations

from pathlib import Path
from time import monotonic

import pytest
from PySide6.QtCore import QEvent, QPoint, QRect, Qt
from PySide6.QtGui import QColor, QFont, QFontMetrics
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from sketcher.board.ledger.ledger_rows import LedgerRow
from sketcher.desk.panes.ledger_model import FIELDS
from sketcher.part.edits.add_binding import add_binding
from sketcher.part.edits.set_drives import set_drives
from sketcher.part.edits.set_value import set_value
from tests.demo_parts import SOUND as DEMOS
from tests.gui.driver import LEFT, Driver, wait_until
from tests.seldom import some_of

ROLES = Qt.ItemDataRole
MARGINS = 7
"""Pixels that Fusion leaves around a cell's words; with less room it ends them in dots (tried)."""


def wide(path: Path) -> bool:
    """The parts with the longest rows, in mm and in inches."""
    return path.name.startswith(("shift-", "shelf-"))


@pytest.fixture
def strap(driver: Driver) -> Driver:
    driver.window.filing.open_demo("gate-strap.profile.json")
    driver.settle(20)
    return driver


def cell(driver: Driver, name: str, field: str, role: int = ROLES.DisplayRole) -> object:
    model = driver.window.ledger.model
    return model.index(model.row_of(name), FIELDS.index(field)).data(role)


def in_view(driver: Driver, name: str) -> bool:
    ledger = driver.window.ledger
    line = ledger.table.visualRect(ledger.model.index(ledger.model.row_of(name), 0))
    return QRect(0, 0, 10_000, ledger.table.viewport().height()).contains(line)


def test_rows_are_said_in_words_in_two_sections(strap: Driver) -> None:
    model = strap.window.ledger.model
    heads = [line for line in model.lines if not isinstance(line, LedgerRow)]
    assert [head.split()[0] for head in heads] == ["Dimensions", "Relations"]
    parting = model.lines.index(heads[1])
    for n, line in enumerate(model.lines):
        if isinstance(line, LedgerRow):
            assert (line.quantity is not None) == (n < parting)
    assert cell(strap, "b8", "of") == "e1 tangent to a1"
    assert cell(strap, "b5", "of") == "run p1 to p3"
    assert not cell(strap, "b8", "of", ROLES.DecorationRole).isNull()  # the kind's own sign
    assert not model.index(parting, 0).flags() & Qt.ItemFlag.ItemIsSelectable


def test_a_value_is_strong_and_a_zero_residual_faint(strap: Driver) -> None:
    value = cell(strap, "b5", "value", ROLES.FontRole)
    assert isinstance(value, QFont)
    assert value.bold()
    assert cell(strap, "b5", "actual", ROLES.FontRole) is None
    faint = cell(strap, "b5", "residual", ROLES.ForegroundRole)
    assert faint == QColor(strap.window.look.edge)
    strap.board.bench.do("Make", lambda part: set_drives(part, "b5", False))
    strap.board.bench.do("Set", lambda part: set_value(part, "b5", "61"))
    strap.settle(5)
    assert cell(strap, "b5", "residual") == "-1"
    assert cell(strap, "b5", "residual", ROLES.ForegroundRole) != faint


@pytest.mark.parametrize("path", some_of(DEMOS, wide), ids=lambda path: path.name.split(".")[0])
def test_all_columns_of_the_demo_parts_fit(driver: Driver, path: Path) -> None:
    driver.window.filing.open_demo(path.name)
    driver.settle(20)
    table = driver.window.ledger.table
    assert table.horizontalHeader().length() <= table.viewport().width()
    assert_nothing_is_cut(driver)


@pytest.mark.parametrize("path", some_of(DEMOS, wide), ids=lambda path: path.name.split(".")[0])
def test_in_a_small_window_words_are_cut_short_and_no_column_is_scrolled_to(
    driver: Driver, path: Path
) -> None:
    """A screen of 1920 x 1080 that shows everything twice as large."""
    driver.window.resize(960, 540)
    driver.window.filing.open_demo(path.name)
    driver.settle(20)
    ledger = driver.window.ledger
    table, model = ledger.table, ledger.model
    assert driver.window.width() == 960
    assert table.horizontalHeader().length() <= table.viewport().width()
    assert table.horizontalScrollBar().maximum() == 0
    strong = QFont(table.font())
    strong.setBold(True)
    for row in model.rows:
        for n, field in enumerate(FIELDS):
            index = model.index(model.row_of(row.id), n)
            if table.isColumnHidden(n) or (row.quantity is None and field in ("value", "actual")):
                continue
            font = strong if field == "value" else table.font()
            said = QFontMetrics(font).horizontalAdvance(index.data() or "")
            cut = said + MARGINS > table.visualRect(index).width() - (20 if field == "of" else 0)
            if cut:
                assert field == "of" or (field == "value" and "_" in row.value), (row.id, field)
                assert index.data() in index.data(ROLES.ToolTipRole)


def test_in_a_narrow_pane_columns_are_scrolled_to_not_cut(strap: Driver) -> None:
    strap.window.middle.split.setSizes([190, 900, 276])
    strap.settle(10)
    table = strap.window.ledger.table
    assert table.horizontalHeader().length() > table.viewport().width()
    assert table.horizontalScrollBar().maximum() > 0
    assert_nothing_is_cut(strap)


def assert_nothing_is_cut(driver: Driver) -> None:
    """Every title and every cell has room for its words."""
    ledger = driver.window.ledger
    table, model = ledger.table, ledger.model
    plain = table.fontMetrics()
    for n, field in enumerate(FIELDS):
        if table.isColumnHidden(n):  # residuals are told with what is measured
            assert field == "residual"
            assert model.joined
            continue
        title = model.headerData(n, Qt.Orientation.Horizontal)
        assert plain.horizontalAdvance(title) < table.columnWidth(n), title
        for row in model.rows:
            index = model.index(model.row_of(row.id), n)
            if row.quantity is None and field in ("value", "actual"):
                continue
            wide = table.visualRect(index).width() - (20 if field == "of" else 0)
            said = plain.horizontalAdvance(index.data() or "")
            assert said + MARGINS <= wide, (row.id, field)


def test_rows_of_the_selection_stay_in_view_when_the_kind_bar_grows(strap: Driver) -> None:
    for name in ("a5", "h2", "e5", "k1"):
        strap.board.bench.select(())
        strap.settle(5)
        strap.board.bench.select((name,))
        strap.settle(20)
        rows = strap.window.ledger.chosen()
        assert rows
        assert in_view(strap, rows[0]), name
    strap.board.bench.select(("e1", "e3"))  # more kinds fit two lines than one
    strap.settle(20)
    assert in_view(strap, strap.window.ledger.chosen()[0])


def test_a_new_clash_is_brought_into_view(strap: Driver) -> None:
    ledger = strap.window.ledger
    ledger.table.scrollToBottom()
    strap.board.bench.do("Bind", lambda part: add_binding(part, "distance", ("p1", "p4"), "80"))
    strap.settle(20)
    first = next(row.id for row in ledger.model.rows if row.state == "clashing")
    assert in_view(strap, first)


def test_what_was_sought_and_lit_goes_with_the_part(strap: Driver) -> None:
    ledger = strap.window.ledger
    ledger.search.setText("radius")
    ledger.filter.setCurrentIndex(1)
    ledger.table.selectRow(1)
    strap.settle(5)
    assert strap.view.sheet.lit
    strap.window.filing.open_demo("pump-flange.profile.json")
    strap.settle(20)
    assert ledger.search.text() == ""
    assert ledger.filter.currentIndex() == 0
    assert len(ledger.model.rows) == len(strap.board.part.bindings)
    assert ledger.chosen() == []
    assert strap.view.sheet.lit == ()


# What would mend it.


def test_each_binding_of_a_clash_can_go_and_is_shown_before(strap: Driver) -> None:
    strap.board.bench.do("Bind", lambda part: add_binding(part, "distance", ("p1", "p4"), "80"))
    strap.settle(5)
    bar = strap.window.ledger.mending
    wait_until(bar.isVisible)
    (clash,) = strap.board.report.clashes
    texts = [button.text() for button in bar.buttons]
    assert {name for name in clash if any(t.startswith(f"Drop {name} ") for t in texts)} \
        == set(clash)
    assert all("freedoms left" in text for text in texts)
    far = next(b for b in bar.buttons if b.text().startswith("Drop b6 "))
    assert "moves 29.4" in far.text()  # sqrt(80^2 - 60^2) is 52.9, and it stood at 24; see the row
    bar.buttons[0].clearFocus()
    far.setFocus(Qt.FocusReason.TabFocusReason)
    strap.settle(5)
    assert strap.view.sheet.tried
    part = strap.board.part
    far.clearFocus()
    strap.settle(5)
    assert strap.view.sheet.tried == ()
    assert strap.board.part is part


def test_mending_is_far_from_the_ledger_and_comes_after_a_double_press(strap: Driver) -> None:
    bar, begun = strap.window.ledger.mending, monotonic()
    strap.board.bench.do("Bind", lambda part: add_binding(part, "distance", ("p1", "p4"), "80"))
    wait_until(bar.isVisible)
    # Until then the second press of a double press may still be under way.
    assert 1000.0 * (monotonic() - begun) >= QApplication.doubleClickInterval()
    strap.settle(20)
    assert not strap.window.ledger.isAncestorOf(bar)
    assert strap.window.height() == 768  # it takes no room that the window does not have
    wide = [button for button in bar.buttons
            if button.heightForWidth(button.width()) > button.height()]
    assert wide == []  # no words are cut


def test_mending_comes_up_where_the_inspection_is_hidden_or_folded_away(strap: Driver) -> None:
    bar, split = strap.window.ledger.mending, strap.window.middle.split

    def clash() -> None:
        strap.board.bench.do("Bind", lambda part: add_binding(part, "distance", ("p1", "p4"), "80"))
        wait_until(bar.isVisible)
        strap.settle(10)
        assert bar.width() > 100
        strap.board.bench.undo()
        strap.settle(10)
        assert not bar.isVisible()

    strap.act("view.inspection")
    clash()
    assert split.sizes()[2] == 0  # it leaves the room that it took
    strap.act("view.inspection")
    sizes = split.sizes()
    strap.window.middle.divide([sizes[0], sizes[1] + sizes[2], 0])
    strap.settle(5)
    clash()


def test_another_can_be_dropped_instead_of_the_one_said_twice(strap: Driver) -> None:
    strap.board.bench.do("Bind", lambda part: add_binding(part, "plumb", ("p3", "p4")))
    strap.settle(5)
    bar = strap.window.ledger.mending
    wait_until(bar.isVisible)
    (made,) = strap.board.report.doubled
    bar.buttons[0].click()
    wait_until(lambda: len(strap.board.bench.selection.ids) > 1)
    other = next(b for b in bar.buttons if b.text().startswith("Drop b4 "))
    other.click()
    strap.settle(10)
    assert "b4" not in strap.board.part.bindings
    assert made in strap.board.part.bindings
    assert strap.board.report.doubled == ()
    assert strap.board.report.freedoms == 0


def test_a_sound_part_shows_what_was_measured_and_checked(strap: Driver) -> None:
    pane = strap.window.inspection
    wait_until(lambda: pane.verdict.text() == "Sound")
    strap.settle(5)
    table = pane.tables["findings"]
    found = dict(tuple(table.rows.index(row, c).data() for c in (0, 1))
                 for row in range(table.rows.rowCount()))
    inspection = strap.board.bench.derived.inspection()
    assert found["Size"] == "120 x 122 mm"  # the strap's own overall dimensions
    area, edges = found["Area, edges"].split(", ")
    assert area.startswith(f"{inspection.profile.area:.6g} mm")
    assert edges == f"{inspection.profile.perimeter:.6g} mm"
    assert {"Mass", "0 freedoms"} <= set(found)
    assert f"{len(inspection.joints)} joints" in found
    assert pane.box.itemText(0).endswith("0")
    strap.board.bench.do("Bind", lambda part: add_binding(part, "distance", ("p1", "p4"), "80"))
    wait_until(lambda: "finding" in pane.verdict.text())
    strap.settle(5)
    assert "Size" not in {table.rows.index(row, 0).data() for row in range(table.rows.rowCount())}


def test_a_double_press_meets_the_row_that_was_pressed(strap: Driver) -> None:
    strap.window.resize(1366, 768)
    table, model = strap.window.ledger.table, strap.window.ledger.model
    view = table.viewport()
    for scrolled in (0, table.verticalScrollBar().maximum()):
        for part_of in (0.2, 0.5, 0.9):
            strap.board.bench.select(("p1", "p4"))  # many kinds fit
            strap.settle(20)
            table.verticalScrollBar().setValue(scrolled)
            strap.settle(5)
            at = QPoint(100, round(part_of * view.height()))
            row = table.indexAt(at).row()
            QTest.mouseMove(view, at)
            QApplication.sendEvent(view, QEvent(QEvent.Type.Enter))
            QTest.mouseClick(view, LEFT, Qt.KeyboardModifier.NoModifier, at)
            strap.settle(20)
            assert table.indexAt(at).row() == row, (scrolled, part_of, model.at(row))
            QApplication.sendEvent(view, QEvent(QEvent.Type.Leave))
    strap.board.bench.select(())
    strap.settle(20)


def test_what_can_be_bound_takes_no_more_room_than_it_needs(strap: Driver) -> None:
    kinds = strap.window.ledger.kinds
    QApplication.sendEvent(kinds.rows, QEvent(QEvent.Type.Leave))
    low = kinds.height()
    strap.board.bench.select(("p1", "p4"))
    strap.settle(20)
    assert kinds.height() > low
    strap.board.bench.select(())
    strap.settle(20)
    assert kinds.height() == low
