"""Ledger, parameters, inspection: edited and followed through the real widgets."""

from __future__ import annotations

import re
from html import unescape
from math import cos, pi, sin
from pathlib import Path

import pytest
from PySide6.QtCore import QEvent, QPointF, Qt
from PySide6.QtGui import QEnterEvent, QGuiApplication, QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit

from sketcher.desk.panes.ledger_model import FIELDS
from sketcher.inspect.findings import CODES
from sketcher.inspect.joint_value import JOINT_STATES
from sketcher.part.edits.add_binding import add_binding
from sketcher.part.edits.remove_binding import remove_binding
from tests.gui.driver import LEFT, Driver, wait_until
from tests.rough import HOLE, holed_plate


@pytest.fixture
def strap(driver: Driver) -> Driver:
    driver.window.filing.open_demo("gate-strap.profile.json")
    driver.settle(20)
    return driver


def edit_cell(driver: Driver, name: str, field: str, text: str) -> QLineEdit:
    """Type into a cell of the ledger and press Enter; return the field."""
    table = driver.window.ledger.table
    row = driver.window.ledger.model.row_of(name)
    index = driver.window.ledger.model.index(row, FIELDS.index(field))
    table.setCurrentIndex(index)
    table.edit(index)
    field_widget = table.viewport().findChild(QLineEdit)
    field_widget.selectAll()
    QTest.keyClicks(field_widget, text)
    QTest.keyClick(field_widget, Qt.Key.Key_Return)
    driver.app.processEvents()
    return field_widget


def test_a_value_edited_in_place_drives_the_half(strap: Driver) -> None:
    edit_cell(strap, "b7", "value", "10")
    assert strap.board.part.bindings["b7"].value == "10"
    row = strap.window.ledger.model.at(strap.window.ledger.model.row_of("b7"))
    assert row.actual == pytest.approx(10.0, abs=1e-9)
    assert not strap.window.ledger.reason.isVisible()


def test_wrong_input_says_why_at_the_field_and_changes_nothing(strap: Driver) -> None:
    before = strap.board.part
    field = edit_cell(strap, "b7", "value", "10 +* 2")
    assert strap.board.part is before
    assert field.isVisible()  # still open, to be mended
    assert field.property("wrong") == "true"
    assert strap.window.ledger.reason.isVisible()
    assert strap.window.ledger.reason.text() == field.toolTip() != ""
    QTest.keyClick(field, Qt.Key.Key_Escape)
    strap.app.processEvents()
    assert strap.board.part is before


def test_drives_switches_to_reference_and_back(strap: Driver) -> None:
    model = strap.window.ledger.model
    index = model.index(model.row_of("b7"), FIELDS.index("drives"))
    assert model.setData(index, Qt.CheckState.Unchecked.value, Qt.ItemDataRole.CheckStateRole)
    assert strap.board.part.bindings["b7"].drives is False
    assert strap.board.report.freedoms == 1
    index = model.index(model.row_of("b7"), FIELDS.index("drives"))
    assert model.setData(index, Qt.CheckState.Checked.value, Qt.ItemDataRole.CheckStateRole)
    assert strap.board.report.freedoms == 0


def test_find_and_filter(strap: Driver) -> None:
    pane = strap.window.ledger
    every = pane.model.rowCount()
    pane.search.setText("radius")
    strap.settle(5)
    assert {row.kind for row in pane.model.rows} == {"radius"}
    pane.search.clear()
    pane.filter.setCurrentIndex(pane.filter.findData("references"))
    strap.settle(5)
    assert 0 < len(pane.model.rows) < every
    assert not any(row.drives for row in pane.model.rows)


def test_rows_move(strap: Driver) -> None:
    pane = strap.window.ledger
    pane.table.selectRow(pane.model.row_of("b6"))
    pane.table.setFocus()
    QTest.keyClick(pane.table, Qt.Key.Key_Up, Qt.KeyboardModifier.AltModifier)
    strap.settle(5)
    order = list(strap.board.part.bindings)
    assert order.index("b6") == order.index("b5") - 1
    assert pane.chosen() == ["b6"]


def test_geometry_and_rows_light_each_other(strap: Driver) -> None:
    pane = strap.window.ledger
    strap.board.bench.select(("a1",))
    strap.settle(5)
    chosen = set(pane.chosen())
    assert chosen == {n for n, b in strap.board.part.bindings.items() if "a1" in b.of}
    pane.table.clearSelection()
    pane.table.selectRow(pane.model.row_of("b7"))
    assert strap.board.bench.selection.ids == ("b7",)
    assert set(strap.view.sheet.lit) >= {"b7", "a1"}


def test_kinds_that_fit_are_offered_and_bind(driver: Driver) -> None:
    driver.new()
    driver.tool("line")
    driver.click(0, 0)
    driver.click(40, 25)
    driver.key(Qt.Key.Key_Escape)
    driver.board.bench.select(list(driver.board.part.curves))
    driver.settle(5)
    buttons = driver.window.ledger.kinds.buttons
    assert {"distance", "angle", "level", "plumb"} <= set(buttons)
    QTest.mouseClick(buttons["distance"], LEFT)
    driver.settle(5)
    field = QApplication.focusWidget()
    assert isinstance(field, QLineEdit)  # the new dimension waits for its value
    field.selectAll()
    QTest.keyClicks(field, "50")
    QTest.keyClick(field, Qt.Key.Key_Return)
    driver.settle(5)
    (row,) = [r for r in driver.window.ledger.model.rows if r.kind == "distance"]
    assert row.actual == pytest.approx(50.0, abs=1e-9)


@pytest.mark.e2e
def test_a_clash_names_the_others_and_is_mended(strap: Driver) -> None:
    # p1 to p3 is 60 by b5; the true length from p1 to p4 then is sqrt(60^2 + 24^2), not 80.
    strap.board.bench.do("Bind", lambda part: add_binding(part, "distance", ("p1", "p4"), "80"))
    strap.settle(20)
    assert strap.board.report.state == "clashing"
    assert "clashing" in strap.window.state.text()
    bar = strap.window.ledger.mending
    wait_until(bar.isVisible)  # what would mend it may be worked out elsewhere
    clash = strap.board.report.clashes[0]
    named = set(re.findall(r"\bb\d+\b", bar.words))
    assert named
    assert named <= set(clash)
    assert all(name in bar.words for name in clash)
    QTest.mouseClick(bar.buttons[0], LEFT)
    strap.settle(20)
    assert strap.board.report.clashes == ()
    assert not bar.isVisible()


@pytest.mark.e2e
def test_a_side_in_doubt_is_shown_and_settled_with_one_press(driver: Driver) -> None:
    driver.board.load(holed_plate(0.2))
    driver.settle(20)
    ledger = driver.window.ledger
    wait_until(ledger.mending.isVisible)
    assert HOLE in ledger.mending.words
    before = driver.view.grab().toImage()
    hovered = QPointF(5.0, 5.0)
    QApplication.sendEvent(ledger.mending, QEnterEvent(hovered, hovered, hovered))
    driver.settle(5)
    assert differing(before, driver.view.grab().toImage(), driver, (30.0, 25.0), 4.0)
    QApplication.sendEvent(ledger.mending, QEvent(QEvent.Type.Leave))
    driver.settle(5)
    assert not differing(before, driver.view.grab().toImage(), driver, (30.0, 25.0), 4.0)
    ledger.table.selectRow(ledger.model.row_of(HOLE))
    driver.settle(5)
    assert differing(before, driver.view.grab().toImage(), driver, (30.0, 25.0), 4.0)
    other = ledger.mending.buttons[1]
    QTest.mouseClick(other, LEFT)
    driver.settle(20)
    assert driver.board.part.points["k1"] == pytest.approx((30.0, 25.0))
    assert driver.board.part.doubts == ()
    assert not ledger.mending.isVisible()
    driver.board.bench.undo()
    driver.settle(20)
    wait_until(ledger.mending.isVisible)
    QTest.mouseClick(ledger.mending.buttons[0], LEFT)
    driver.settle(20)
    assert driver.board.part.points["k1"] == pytest.approx((50.0, 25.0))
    assert driver.board.part.doubts == ()


def differing(one: QImage, other: QImage, driver: Driver, center: tuple[float, float],
              radius: float) -> bool:
    """Tell whether two pictures differ all along a circle on the sheet."""
    camera = driver.view.sheet.camera
    changed = 0
    for k in range(12):
        at = (center[0] + radius * cos(k * pi / 6), center[1] + radius * sin(k * pi / 6))
        x, y = map(round, camera.to_screen(at))
        changed += any(one.pixel(x + i, y + j) != other.pixel(x + i, y + j)
                       for i in (-1, 0, 1) for j in (-1, 0, 1))
    return changed >= 10


@pytest.mark.e2e
def test_a_binding_said_twice_is_offered_as_reference(strap: Driver) -> None:
    strap.board.bench.do("Bind", lambda part: add_binding(part, "plumb", ("p3", "p4")))
    strap.settle(20)
    made = list(strap.board.part.bindings)[-1]
    assert strap.board.report.doubled == (made,)  # later rows are the ones said twice
    bar = strap.window.ledger.mending
    wait_until(bar.isVisible)  # what would mend it may be worked out elsewhere
    assert re.findall(r"\bb\d+\b", bar.words) == [made]
    QTest.mouseClick(bar.buttons[0], LEFT)  # which others?
    wait_until(lambda: len(strap.board.bench.selection.ids) > 1)
    strap.settle(5)
    others = [name for name in strap.board.bench.selection.ids if name != made]
    assert others
    assert all(name in bar.words for name in others)
    drop = next(b for b in bar.buttons if b.text().startswith(f"Drop {made}"))
    QTest.mouseClick(drop, LEFT)
    strap.settle(5)
    assert made not in strap.board.part.bindings
    assert strap.board.report.doubled == ()


def test_parameters_are_added_changed_and_refused(strap: Driver) -> None:
    table = strap.window.ledger.parameters
    row = len(table.rows.rows)
    assert table.rows.try_text(table.rows.index(row, 0), "slack = 2*wall") == ""
    assert strap.board.part.parameters["slack"] == "2*wall"
    assert table.rows.rows[-1][2] == "24"
    assert table.rows.try_text(table.rows.index(0, 1), "slack + 1") != ""  # wall = slack + 1
    assert strap.board.part.parameters["wall"] == "12"
    assert table.rows.try_text(table.rows.index(0, 1), "14") == ""
    assert strap.board.part.parameters["wall"] == "14"
    assert table.rows.rows[-1][2] == "28"


def test_what_was_refused_is_over_with_the_next_thing_done(strap: Driver) -> None:
    ledger = strap.window.ledger
    nexts = (
        lambda: strap.tool("line"),
        lambda: strap.board.bench.do("Drop", lambda part: remove_binding(part, "b30")),
        lambda: strap.board.bench.undo(),
        lambda: strap.board.bench.select(("e1",)),
    )
    for move_on in nexts:
        ledger.parameters.refused.emit("'10' cannot name a parameter")
        strap.settle(5)
        assert ledger.reason.isVisible()
        move_on()
        strap.settle(5)
        assert not ledger.reason.isVisible()


def test_dimension_is_edited_where_it_stands(strap: Driver) -> None:
    strap.view.setFocus()
    dim = next(d for d in strap.view.sheet.dims() if d.binding == "b19")
    strap.double(*dim.anchor)
    field = strap.window.field
    assert field.isVisible()
    assert field.field.text() == "100"
    field.field.selectAll()
    QTest.keyClicks(field.field, "nonsense")
    QTest.keyClick(field.field, Qt.Key.Key_Return)
    assert field.isVisible()
    assert field.reason.text()
    field.field.selectAll()
    QTest.keyClicks(field.field, "104")
    QTest.keyClick(field.field, Qt.Key.Key_Return)
    assert not field.isVisible()
    assert strap.board.part.bindings["b19"].value == "104"
    assert strap.view.hasFocus()


def test_dimension_text_is_dragged_and_stays(strap: Driver) -> None:
    dim = next(d for d in strap.view.sheet.dims() if d.binding == "b19")
    x, y = dim.anchor
    strap.drag((x, y), (x - 12.0, y + 5.0))
    assert "b19" in strap.board.part.drawing.placed
    moved = next(d for d in strap.view.sheet.dims() if d.binding == "b19")
    assert moved.anchor[0] == pytest.approx(x - 12.0, abs=1.0)


def test_a_finding_leads_to_its_place_enlarged(strap: Driver) -> None:
    strap.board.bench.do("Drop", lambda part: remove_binding(part, "b8"))
    strap.board.bench.do("Set", lambda part: part.having(points={
        **part.points, "p2": (part.points["p2"][0], part.points["p2"][1] + 1e-3)}))
    strap.settle(20)
    table = strap.window.inspection.tables["findings"]
    found = [table.rows.entry(n) for n in range(table.rows.rowCount())]
    assert found
    placed = [n for n, entry in enumerate(found) if entry.at is not None]
    assert placed
    scale = strap.view.sheet.camera.scale
    table.clicked.emit(table.order.mapFromSource(table.rows.index(placed[0], 0)))
    strap.settle(5)
    x, y = found[placed[0]].at
    x0, y0, x1, y1 = strap.view.sheet.camera.window
    assert x0 < x < x1
    assert y0 < y < y1
    assert strap.view.sheet.camera.scale > scale


def test_sections_sort_by_value_and_copy(strap: Driver) -> None:
    table = strap.window.inspection.tables["dimensions"]
    table.sortByColumn(2, Qt.SortOrder.AscendingOrder)
    shown = [table.entry_at(table.order.index(n, 2)).cells[2].key
             for n in range(table.order.rowCount())]
    assert shown == sorted(shown)
    table.clearSelection()
    table.copy_rows()
    lines = QGuiApplication.clipboard().text().splitlines()
    assert lines[0].split("\t")[0] == "Dimension"
    assert len(lines) == len(shown) + 1


def test_every_column_of_the_dimensions_is_in_view_in_a_small_window(strap: Driver) -> None:
    strap.window.resize(1366, 768)
    box = strap.window.inspection.box
    box.setCurrentIndex(1)
    strap.settle(60)
    table = strap.window.inspection.tables["dimensions"]
    assert table.isVisible()
    wide = sum(table.columnWidth(n) for n in range(table.order.columnCount()))
    assert wide <= table.viewport().width()
    assert box.itemText(1).startswith("Dimensions, mm")
    assert [box.itemText(n) for n in (5, 6)] == ["Profile", "Symmetry"]
    residuals = {table.order.index(n, 3).data() for n in range(table.order.rowCount())}
    assert residuals == {"0"}


def test_an_opened_demo_part_says_that_it_is_a_copy(strap: Driver) -> None:
    assert strap.board.bench.message.text.startswith("A copy of the demo part Gate strap")


@pytest.mark.parametrize(("how", "suffix", "begins"), [(0, ".html", "<"), (1, ".csv", "")])
def test_the_report_is_written(
    strap: Driver, tmp_path: Path, how: int, suffix: str, begins: str
) -> None:
    from sketcher.board.actions.export_inspection_actions import PAGE, TABLE

    path = tmp_path / f"report{suffix}"
    strap.answers.path, strap.answers.choice = path, (PAGE, TABLE)[how]
    QTest.mouseClick(strap.window.inspection.save, LEFT)
    text = path.read_text("utf-8")
    assert text.startswith(begins)
    assert "b7" in text
    assert "report" in strap.window.said.text()


def test_a_finding_says_why_it_matters_and_what_mends_it(strap: Driver) -> None:
    pane = strap.window.inspection
    assert not pane.note.isVisible()  # a sound part needs no words
    strap.board.bench.do("Taken away", lambda part: remove_binding(part, "b16", "b30"))
    wait_until(lambda: pane.tables["findings"].rows.rowCount() > 0)
    strap.settle()
    assert pane.note.isVisible()
    table, meaning = pane.tables["findings"], CODES["loose"]
    assert meaning.why in unescape(pane.note.label.text())
    assert meaning.mend in unescape(pane.note.label.text())
    pane.box.setCurrentWidget(pane.tables["joints"])
    strap.settle()
    assert not pane.note.isVisible()  # no joint is bad, and none is chosen
    joints = pane.tables["joints"]
    joints.selectRow(0)
    state = joints.entry_at(joints.order.index(0, 0)).cells[1].text
    assert JOINT_STATES[state][0] in unescape(pane.note.label.text())
    pane.box.setCurrentWidget(table)
    strap.settle()
    assert meaning.why in unescape(pane.note.label.text())


def test_an_empty_part_has_nothing_to_check(driver: Driver) -> None:
    driver.new()
    pane = driver.window.inspection
    wait_until(lambda: pane.verdict.text() == "Nothing to check yet")
    assert pane.verdict.property("sound") == ""
    assert pane.tables["findings"].rows.rowCount() == 0
    assert "finding" not in driver.window.state.text()
    driver.tool("line")
    driver.click(0, 0)
    driver.click(30, 0)
    wait_until(lambda: "finding" in pane.verdict.text())
    assert pane.verdict.property("sound") == "false"
