"""The properties of a part in the window: its notes are read, changed, kept and printed."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Qt, QTimer
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit, QPlainTextEdit

from sketcher.desk.dialogs.form import FormDialog
from sketcher.drafting.primitives import Text
from sketcher.drafting.sheet import pages
from sketcher.part.value import Material
from tests.gui.driver import LEFT, Driver

THINGS = "The latch slides along the long edges: leave no burr there."


def properties(driver: Driver, typed: str) -> str:
    """Open the form as a person does, add to the notes, press OK; return what stood there."""
    stood: list[str] = []

    def answer() -> None:
        form = QApplication.activeModalWidget()
        assert isinstance(form, FormDialog)
        field = form.edits["notes"]
        assert isinstance(field, QPlainTextEdit)
        stood.append(field.toPlainText())
        field.setFocus()
        QTest.keyClick(field, Qt.Key.Key_End, Qt.KeyboardModifier.ControlModifier)
        for letter in typed:
            if letter == "\n":
                QTest.keyClick(field, Qt.Key.Key_Return)
            else:
                QTest.keyClicks(field, letter)
        QTest.keyClick(field, Qt.Key.Key_Tab)  # goes on, and types nothing
        assert not field.hasFocus()
        buttons = form.buttons
        QTest.mouseClick(buttons.button(buttons.StandardButton.Ok), LEFT)

    vars(driver.window.host).pop("ask_form", None)  # the window's own form
    QTimer.singleShot(0, driver.window, answer)
    driver.act("file.describe")
    driver.settle(5)
    return stood[0]


def printed(driver: Driver) -> str:
    """All words of the sheet, in the order in which they are drawn."""
    return " ".join(item.text for page in pages(driver.board.part) for item in page.items
                    if isinstance(item, Text))


def test_notes_are_read_changed_printed_and_kept(driver: Driver, tmp_path: Path) -> None:
    driver.window.filing.open_demo("latch-plate.profile.json")
    driver.settle(20)
    assert "Deburr" not in printed(driver)
    assert properties(driver, "\nDeburr all round.\n  Both faces.\n\nNo paint.") == THINGS
    wanted = (THINGS, "Deburr all round.\nBoth faces.", "No paint.")
    assert driver.board.part.notes == wanted
    assert "2. Deburr all round. Both faces. 3. No paint. 4." in printed(driver)

    driver.answers.path = tmp_path / "noted.profile.json"
    driver.act("file.save")
    driver.act("edit.undo")  # one step
    assert driver.board.part.notes == (THINGS,)
    assert driver.window.filing.open_path(driver.answers.path)
    assert driver.board.part.notes == wanted
    assert properties(driver, "") == f"{THINGS}\nDeburr all round.\n  Both faces.\nNo paint."
    assert driver.board.part.notes == wanted
    assert not driver.board.bench.is_changed  # looked at only


def test_the_name_is_typed_over_and_what_changed_is_told(driver: Driver) -> None:
    driver.new()

    def answer() -> None:
        form = QApplication.activeModalWidget()
        assert isinstance(form, FormDialog)
        field = form.focusWidget()
        assert field is form.edits["name"]
        QTest.keyClicks(field, "Hinge plate")  # over what is selected
        thickness = form.edits["thickness"]
        assert isinstance(thickness, QLineEdit)
        thickness.setText("6")
        material = form.edits["material"]
        density = form.edits["density"]
        assert isinstance(material, QLineEdit)
        assert isinstance(density, QLineEdit)
        material.clear()
        for typed, found in (("steelish", ""), ("brass", "8440"), ("acrylic", "1190")):
            material.setFocus()
            material.selectAll()
            QTest.keyClicks(material, typed)
            assert density.text() == found  # seen before OK is pressed
        density.setFocus()
        density.selectAll()
        QTest.keyClicks(density, "1180")
        QTest.keyClicks(material, " sheet")
        assert density.text() == "1180"  # somebody's own stays
        QTest.mouseClick(form.buttons.button(form.buttons.StandardButton.Ok), LEFT)

    vars(driver.window.host).pop("ask_form", None)
    QTimer.singleShot(0, driver.window, answer)
    driver.act("file.describe")
    driver.settle(5)
    part = driver.board.part
    assert (part.name, part.material) == ("Hinge plate", Material("acrylic sheet", 6.0, 1180.0))
    said = driver.window.said.toolTip()
    assert said == "Changed name, material, thickness, density"
