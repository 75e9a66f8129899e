"""What a screen reader gets of the window and its dialogs, and what the keyboard reaches."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractButton, QToolBar, QWidget

from sketcher.part.edits.add_binding import add_binding
from tests.accessible import ROLES, nameless, tree
from tests.gui.driver import Driver, wait_until
from tests.gui.test_dialogs_fit import all_dialogs


def names(root: QWidget, role: object) -> set[str]:
    return {node.name for node in tree(root) if node.role == role}


def test_everything_in_the_window_has_a_name(driver: Driver) -> None:
    assert nameless(driver.window) == []  # the start page
    driver.window.filing.open_demo("gate-strap.profile.json")
    driver.board.bench.select(("e1", "e2"))
    driver.settle(20)
    assert nameless(driver.window) == []
    found = {node.name for node in tree(driver.window)}  # a tool in a group is a radio button
    fillet = driver.window.commands.actions["tool.fillet"].label
    assert fillet in found
    assert any(name.startswith(("Bind: ", "Angle")) for name in found)
    tables = names(driver.window, ROLES.Table)
    assert {"Bindings", "Parameters", "Findings"} <= tables
    sheet = next(node for node in tree(driver.window) if node.object is driver.view)
    assert sheet.name
    assert sheet.focusable


def test_what_comes_up_in_trouble_has_names(driver: Driver) -> None:
    driver.window.filing.open_demo("gate-strap.profile.json")
    driver.settle(20)
    driver.board.bench.do("Bind", lambda part: add_binding(part, "distance", ("p1", "p4"), "80"))
    wait_until(driver.window.ledger.mending.isVisible)
    driver.tool("clean up")
    driver.settle(20)
    assert nameless(driver.window) == []
    assert any(name.startswith("Drop b6") for name in names(driver.window, ROLES.Button))


def test_the_first_part_has_names(driver: Driver) -> None:
    driver.window.first.tour()
    driver.settle(20)
    assert nameless(driver.window) == []


def test_the_verdict_and_refusals_are_read_out(driver: Driver) -> None:
    driver.window.filing.open_demo("gate-strap.profile.json")
    wait_until(lambda: driver.window.inspection.verdict.text() == "Sound")
    driver.settle(5)
    assert any("Sound" in name for name in names(driver.window, ROLES.StaticText))
    driver.window.ledger._refused("no such thing")
    assert any("no such thing" in name for name in names(driver.window, ROLES.StaticText))


def test_every_dialog_has_names(driver: Driver) -> None:
    driver.window.filing.open_demo("gate-strap.profile.json")
    driver.settle(20)
    for dialog in all_dialogs(driver):
        dialog.show()
        driver.settle(10)
        assert nameless(dialog) == [], type(dialog).__name__
        dialog.close()
        dialog.deleteLater()
    driver.settle(20)


def test_every_menu_entry_has_a_name(driver: Driver) -> None:
    for action in driver.window.menuBar().actions():
        assert all(a.text() for a in action.menu().actions() if not a.isSeparator())


def test_every_button_is_reached_by_keys(driver: Driver) -> None:
    driver.window.filing.open_demo("gate-strap.profile.json")
    driver.board.bench.select(("e1", "e2"))
    driver.settle(20)
    away = [
        button.accessibleName() or button.text() for button in
        driver.window.findChildren(QAbstractButton)
        if button.isVisible() and not button.objectName().startswith("qt_")
        and not (button.focusPolicy() & Qt.FocusPolicy.TabFocus)
        and not button.inherits("QToolBoxButton")
    ]
    assert away == []
    assert all(bar.accessibleName() for bar in driver.window.findChildren(QToolBar))
