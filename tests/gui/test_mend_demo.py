"""The demo part that is shipped to be mended: six findings, each mended through the window."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QItemSelectionModel, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLineEdit

from sketcher.desk.panes.ledger_model import FIELDS
from sketcher.shipped import shipped
from tests.demo_parts import ALL, SOUND, TO_MEND
from tests.gui.driver import LEFT, Driver, wait_until

SHIFT = Qt.KeyboardModifier.ShiftModifier


class Mender:
    """The part on the bench, and the hands that mend it."""

    def __init__(self, driver: Driver) -> None:
        self.driver = driver
        self.pane = driver.window.inspection
        self.ledger = driver.window.ledger

    def codes(self) -> list[str]:
        """What the inspection pane lists, once it has looked at the part as it stands."""
        derived = self.driver.board.bench.derived
        wait_until(lambda: derived.known_inspection() is not None)
        wait_until(lambda: "finding" in self.pane.verdict.text()
                   or "Sound" in self.pane.verdict.text())
        self.driver.settle(20)
        table = self.pane.tables["findings"]
        rows = [table.rows.entry(row) for row in range(table.rows.rowCount())]
        return [row.cells[0].text for row in rows if row.bad]  # a sound part lists its sizes

    def edit(self, binding: str, text: str) -> None:
        """Type another value into the ledger."""
        table, model = self.ledger.table, self.ledger.model
        index = model.index(model.row_of(binding), FIELDS.index("value"))
        table.setCurrentIndex(index)
        table.edit(index)
        field = table.viewport().findChild(QLineEdit)
        field.selectAll()
        QTest.keyClicks(field, text)
        QTest.keyClick(field, Qt.Key.Key_Return)
        self.driver.settle(5)

    def near_tangent(self) -> None:
        """Bind it tangent, once the dimension that keeps it from that is away."""
        model, table = self.ledger.model, self.ledger.table
        table.selectionModel().setCurrentIndex(
            model.index(model.row_of("b8"), 0), QItemSelectionModel.SelectionFlag.ClearAndSelect
            | QItemSelectionModel.SelectionFlag.Rows)
        self.driver.act("edit.delete")
        assert "b8" not in self.driver.board.part.bindings
        self.driver.click(40.0, 59.8)
        self.driver.click(94.14, 54.14, SHIFT)
        assert set(self.driver.board.bench.selection.ids) == {"e3", "a1"}
        QTest.mouseClick(self.ledger.kinds.buttons["tangent"], LEFT)
        self.driver.settle(5)

    def reference_differs(self) -> None:
        """Correct what was misread."""
        self.edit("b24", "60")

    def detached(self) -> None:
        """Bring the hole back onto the plate."""
        self.edit("b18", "70")

    def stray(self) -> None:
        """Take the piece away."""
        self.driver.click(50.0, 24.66)
        assert self.driver.board.bench.selection.ids == ("e5",)
        self.driver.view.setFocus()
        self.driver.key(Qt.Key.Key_Delete)

    def gap(self) -> None:
        """Join the ends."""
        self.clean("e4")

    def overlap(self) -> None:
        """Keep one of the two circles."""
        self.clean("h3")

    def clean(self, name: str) -> None:
        """Mend one thing that the clean-up lists."""
        pane = self.driver.window.cleanup
        self.driver.act("tool.clean up")
        texts = [pane.list.item(row).text() for row in range(pane.list.count())]
        pane.list.setCurrentRow(next(row for row, text in enumerate(texts) if name in text))
        self.driver.settle(5)
        QTest.mouseClick(pane.this, LEFT)
        self.driver.settle(5)
        QTest.mouseClick(pane.close_key, LEFT)
        self.driver.settle(5)


@pytest.fixture
def mender(driver: Driver) -> Mender:
    (path,) = TO_MEND
    driver.window.filing.open_demo(path.name)
    driver.settle(20)
    return Mender(driver)


WAYS = {"near-tangent": Mender.near_tangent, "reference-differs": Mender.reference_differs,
        "detached": Mender.detached, "stray": Mender.stray, "gap": Mender.gap,
        "overlap": Mender.overlap}


def test_one_demo_part_says_that_it_is_to_be_mended() -> None:
    assert len(TO_MEND) == 1
    assert {*SOUND, *TO_MEND} == {*ALL}
    assert shipped("demo_parts", TO_MEND[0].name).read_bytes() == TO_MEND[0].read_bytes()


def test_it_has_six_findings_of_six_kinds(mender: Mender) -> None:
    assert sorted(mender.codes()) == sorted(WAYS)
    assert mender.driver.board.report.state == "bound"


@pytest.mark.parametrize("code", WAYS)
def test_each_of_them_is_mended_by_itself(mender: Mender, code: str) -> None:
    # Before the outline is closed there is no plate that a hole could lie on.
    mended = ("gap", "detached") if code == "detached" else (code,)
    for each in mended:
        WAYS[each](mender)
    assert sorted(mender.codes()) == sorted(set(WAYS) - set(mended))


def test_all_six_are_mended_to_a_sound_part(mender: Mender) -> None:
    for code, mend in WAYS.items():
        assert code in mender.codes()
        mend(mender)
    assert mender.codes() == []
    assert mender.pane.verdict.text().startswith("Sound")
    assert mender.driver.board.report.state == "bound"
