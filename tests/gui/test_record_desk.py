"""The inspection record in the window: values typed into its table."""

from __future__ import annotations

import pytest
from PySide6.QtWidgets import QTableWidgetItem

from sketcher.board.files.measured_record import Recording
from sketcher.desk.dialogs.record_desk import MEASURED, VERDICT, RecordDesk
from tests.gui.driver import Driver


@pytest.fixture
def desk(driver: Driver):
    driver.window.filing.open_demo("gate-strap.profile.json")
    driver.settle(5)
    made = RecordDesk(driver.board, driver.window.host, Recording(driver.board.part),
                      driver.window.look, driver.window)
    made.show()
    yield made
    made.recording.measured.clear()
    made.close()
    made.deleteLater()


def row_of(desk: RecordDesk, name: str) -> int:
    return [row.id for row in desk.recording.rows].index(name)


def typed(desk: RecordDesk, name: str, text: str) -> QTableWidgetItem:
    row = row_of(desk, name)
    desk.table.item(row, MEASURED).setText(text)
    return desk.table.item(row, VERDICT)


def test_a_typed_value_passes_or_fails_and_is_told_by_sign_and_word(desk: RecordDesk) -> None:
    assert typed(desk, "b6", "24.1").text() == "\N{CHECK MARK} pass"
    assert typed(desk, "b6", "24.9").text() == "\N{MULTIPLICATION X} fail"
    assert "1 fail" in desk.said.text()
    assert typed(desk, "b6", "wide").text() == "\N{MULTIPLICATION X} fail"  # the old value stays
    assert desk.said.text().startswith("!")
    assert typed(desk, "b6", "").text() == ""


def test_closing_asks_before_typed_values_are_lost(
    desk: RecordDesk, driver: Driver, tmp_path
) -> None:
    typed(desk, "b6", "24")
    driver.answers.unsaved = "cancel"
    desk.reject()
    assert desk.isVisible()
    driver.answers.unsaved, driver.answers.path = "save", tmp_path / "strap.record.csv"
    desk.reject()
    assert not desk.isVisible()
    assert ",24," in (tmp_path / "strap.record.csv").read_text(encoding="utf-8-sig")


def test_a_record_that_somebody_else_filled_in_is_asked_about(
    desk: RecordDesk, driver: Driver, tmp_path
) -> None:
    driver.answers.path = tmp_path / "strap.profile.json"
    driver.act("file.save")
    record = tmp_path / "strap.record.csv"
    typed(desk, "b6", "24")
    assert desk.save()
    typed(desk, "b6", "24.1")
    assert desk.save()  # what it wrote itself is not asked about
    theirs = record.read_text(encoding="utf-8-sig").replace(",24.1,", ",24.3,")
    record.write_text(theirs, encoding="utf-8")
    typed(desk, "b6", "24.2")
    driver.answers.sure = False
    assert not desk.save()
    assert record.read_text(encoding="utf-8") == theirs
    assert desk.recording.is_changed
    driver.answers.sure = True
    assert desk.save()
    assert ",24.2," in record.read_text(encoding="utf-8-sig")
    desk.recording.measured.clear()
