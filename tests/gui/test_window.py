"""The window: what it shows at the sizes it must fit, names for every control, the verdict."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QComboBox,
    QLineEdit,
    QScrollBar,
    QWidget,
)

from sketcher.part.edits.move import move
from tests.gui.driver import Driver, wait_until

CONTROLS = (QAbstractButton, QAbstractItemView, QComboBox, QLineEdit)


def on_screen(widget: QWidget, window: QWidget) -> bool:
    at = widget.mapTo(window, widget.rect().topLeft())
    return (
        at.x() >= 0 and at.y() >= 0 and at.x() + widget.width() <= window.width()
        and at.y() + widget.height() <= window.height()
    )


@pytest.mark.parametrize("size", [(1366, 768), (1920, 1080)])
def test_everything_fits(driver: Driver, size: tuple[int, int]) -> None:
    window = driver.window
    window.filing.open_demo("gate-strap.profile.json")
    window.resize(*size)
    driver.settle(20)
    assert (window.width(), window.height()) == size  # nothing forces it to be larger
    for pane in (window.ledger, window.view, window.inspection, window.tray, window.readout,
                 window.statusBar(), window.menuBar()):
        assert pane.isVisible()
        assert on_screen(pane, window), pane.accessibleName()
    buttons = [window.tray.widgetForAction(a) for a in window.tray.actions()]
    assert all(button.isVisible() and on_screen(button, window) for button in buttons)
    across = [
        bar for bar in window.findChildren(QScrollBar)
        if bar.isVisible() and bar.orientation() == Qt.Orientation.Horizontal
        and not isinstance(bar.parent().parent(), QAbstractItemView)
    ]
    assert across == []
    table = window.ledger.table
    assert table.horizontalHeader().length() <= table.viewport().width()


def test_every_control_has_a_name(driver: Driver) -> None:
    driver.window.filing.open_demo("pump-flange.profile.json")
    driver.board.bench.select(list(driver.board.part.curves)[:2])
    driver.settle(20)
    nameless = [
        w for w in driver.window.findChildren(QWidget)
        if isinstance(w, CONTROLS) and w.isVisibleTo(driver.window)
        and not (w.accessibleName() or (w.text() if isinstance(w, QAbstractButton) else ""))
        and not w.objectName().startswith("qt_")
    ]
    assert nameless == []


def test_tooltips_teach(driver: Driver) -> None:
    for name, made in driver.window.commands.made.items():
        action = driver.window.commands.actions[name]
        assert action.label in made.toolTip()
        assert len(action.hint.split()) > 1, f"{name} teaches nothing"
        assert action.hint in made.toolTip()


def test_status_line_says_what_comes_next(driver: Driver) -> None:
    driver.new()
    for name in driver.board.tools:
        driver.tool(name)
        assert driver.window.prompt.text() == driver.board.prompt != ""


@pytest.mark.parametrize(
    "name",
    ["gate-strap", "pump-flange", "roof-gusset", "shelf-bracket", "shift-arm"],
)
def test_verdict_is_the_inspections(driver: Driver, name: str) -> None:
    driver.window.filing.open_demo(f"{name}.profile.json")
    driver.settle(20)
    inspection = driver.board.bench.derived.inspection()
    assert driver.window.inspection.verdict.text() == inspection.verdict == "Sound"
    assert driver.window.inspection.tables["dimensions"].rows.rowCount() == len(
        inspection.dimensions)
    assert driver.window.inspection.tables["joints"].rows.rowCount() == (
        len(inspection.joints) + len(inspection.touches)
    )


def test_verdict_is_taken_back_at_once(driver: Driver) -> None:
    driver.window.filing.open_demo("gate-strap.profile.json")
    driver.settle(20)
    from sketcher.part.edits.remove_binding import remove_binding

    driver.board.bench.do("Drop b7", lambda part: remove_binding(part, "b7"))
    assert "Sound" not in driver.window.inspection.verdict.text()  # before anybody inspected
    driver.settle(20)
    assert "finding" in driver.window.inspection.verdict.text()
    assert driver.window.inspection.tables["freedoms"].rows.rowCount() > 0
    assert driver.window.state.text().startswith("loose: 1 freedom")


def test_an_inspection_that_breaks_is_no_verdict(
    driver: Driver, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    import sys

    heard: list[str] = []
    monkeypatch.setattr(sys, "excepthook", lambda kind, error, trace: heard.append(str(error)))
    driver.window.filing.open_demo("gate-strap.profile.json")
    driver.settle(20)

    def broken() -> None:
        raise ArithmeticError("deliberate")

    monkeypatch.setattr(driver.board.bench.derived, "known_inspection", lambda: None)
    monkeypatch.setattr(driver.board.bench.derived, "inspecting", broken)
    driver.window.inspection.refresh()
    assert driver.window.inspection.verdict.text() == "Not inspected"
    assert heard == ["deliberate"]


def test_both_looks_are_worn(driver: Driver) -> None:
    driver.window.filing.open_demo("gate-strap.profile.json")
    driver.settle(20)
    before = driver.view.grab().toImage().pixelColor(8, 8)
    driver.board.bench.set_setting("look", "paper")
    driver.settle(20)
    after = driver.view.grab().toImage().pixelColor(8, 8)
    assert before.lightness() < 90 < 200 < after.lightness()
    assert driver.window.palette().window().color().lightness() > 200


def test_f6_goes_round_the_panes(driver: Driver) -> None:
    driver.new()
    window = driver.window
    stops = []
    for _ in range(6):
        window.rounds.onward()
        now = driver.app.focusWidget()
        stops.append(next(
            pane for pane in (window.view, window.rack, window.ledger, window.inspection,
                              window.tray, window.readout) if pane is now or pane.isAncestorOf(now)
        ))
    assert len(set(stops)) == 6
    assert stops[-1] is window.view


def test_the_key_list_knows_every_action(driver: Driver) -> None:
    driver.window._show_keys()
    dialog = driver.app.activeModalWidget()
    texts = {dialog.table.item(n, 0).text() for n in range(dialog.table.rowCount())}
    assert texts >= {a.label for a in driver.window.commands.actions.values()}
    dialog.search.setText("halve")
    shown = [n for n in range(dialog.table.rowCount()) if not dialog.table.isRowHidden(n)]
    assert [dialog.table.item(n, 0).text() for n in shown] == ["Halve"]
    dialog.close()


def test_no_key_means_two_things(driver: Driver) -> None:
    keys = [key for a in driver.window.commands.actions.values() for key in a.keys]
    keys += [s.toString() for menu in driver.window.menuBar().actions()
             for s in (made.shortcut() for made in menu.menu().actions()
                       if made.objectName() == "") if not s.isEmpty()]
    assert len(keys) == len(set(keys))
    letters = {title[title.index("&") + 1].lower()
               for title in (m.text() for m in driver.window.menuBar().actions())}
    assert len(letters) == len(driver.window.menuBar().actions())
    assert not {f"alt+{letter}" for letter in letters} & {key.lower() for key in keys}


@pytest.mark.e2e
def test_keyboard_alone_binds(driver: Driver) -> None:
    """From the sheet to a bound line without the mouse: draw, pick, kind, value."""
    from PySide6.QtTest import QTest
    from PySide6.QtWidgets import QLineEdit

    QTest.keyClick(driver.window.start.new_mm, Qt.Key.Key_Space)
    driver.settle(5)
    driver.keys("l")
    driver.key(Qt.Key.Key_Right)
    driver.key(Qt.Key.Key_Left)  # the sheet's zero
    driver.key(Qt.Key.Key_Return)
    for _ in range(6):
        driver.key(Qt.Key.Key_Right)
        driver.key(Qt.Key.Key_Up)
    driver.key(Qt.Key.Key_Return)
    driver.key(Qt.Key.Key_Escape)
    driver.keys("p")
    for _ in range(3):  # back to the middle of the line
        driver.key(Qt.Key.Key_Left)
        driver.key(Qt.Key.Key_Down)
    driver.key(Qt.Key.Key_Return)
    assert driver.board.bench.selection.ids == ("e1",)
    buttons = driver.window.ledger.kinds.buttons
    buttons["distance"].setFocus(Qt.FocusReason.TabFocusReason)
    QTest.keyClick(buttons["distance"], Qt.Key.Key_Space)
    driver.settle(5)
    field = driver.app.focusWidget()
    assert isinstance(field, QLineEdit)
    field.selectAll()
    QTest.keyClicks(field, "60")
    QTest.keyClick(field, Qt.Key.Key_Return)
    driver.settle(5)
    while not driver.view.hasFocus():
        driver.window.rounds.onward()
    driver.key(Qt.Key.Key_Return)  # the pointer still stands on the line
    assert driver.board.bench.selection.ids == ("e1",)
    driver.settle(5)
    buttons = driver.window.ledger.kinds.buttons
    buttons["angle"].setFocus(Qt.FocusReason.TabFocusReason)
    QTest.keyClick(buttons["angle"], Qt.Key.Key_Space)
    driver.settle(5)
    field = driver.app.focusWidget()
    field.selectAll()
    QTest.keyClicks(field, "30")
    QTest.keyClick(field, Qt.Key.Key_Return)
    driver.settle(5)
    assert driver.board.report.freedoms == 0
    x, y = driver.board.part.points[driver.board.part.curves["e1"].ends[1]]
    assert (x, y) == pytest.approx((60 * 3**0.5 / 2, 30.0), abs=1e-9)


def test_an_entry_of_a_menu_is_explained_in_the_status_line_and_covers_no_other(
    driver: Driver,
) -> None:
    driver.new()
    menu = next(action.menu() for action in driver.window.menuBar().actions()
                if action.text() == "&File")
    assert not menu.toolTipsVisible()
    entry = driver.window.commands.made["file.open"]
    menu.popup(driver.window.mapToGlobal(driver.window.rect().topLeft()))
    while menu.activeAction() is not entry:
        QTest.keyClick(menu, Qt.Key.Key_Down)
    assert driver.window.prompt.text() == driver.window.commands.actions["file.open"].hint
    menu.hide()
    assert driver.window.prompt.text() == driver.board.prompt


def test_why_a_value_was_refused_is_said_once(driver: Driver) -> None:
    driver.new()
    driver.tool("line")
    driver.click(0, 0)
    driver.typed("12 furlong")
    prompt, said = driver.window.prompt.text(), driver.window.said.text()
    assert "furlong" in said
    assert "furlong" not in prompt
    assert "Esc" in prompt


def test_a_part_that_an_edit_takes_out_of_view_is_shown(driver: Driver) -> None:
    driver.window.filing.open_demo("latch-plate.profile.json")
    driver.settle(20)
    part, camera = driver.board.part, driver.view.sheet.camera
    driver.view.see(4.0 * camera.scale, part.points["p1"])
    near = driver.view.sheet.camera
    driver.board.bench.do("Move", lambda p: move(p, tuple(p.curves), (3.0, 0.0)))
    driver.settle(20)
    assert driver.view.sheet.camera == near  # part of it is still seen
    driver.board.bench.do("Move", lambda p: move(p, tuple(p.curves), (900.0, 0.0)))
    driver.settle(20)
    assert driver.view.sheet.camera != near
    x0, y0, x1, y1 = driver.view.sheet.camera.window
    assert all(x0 < x < x1 and y0 < y < y1 for x, y in driver.board.part.points.values())


def test_the_keyboards_pointer_goes_with_the_part(driver: Driver) -> None:
    driver.new()
    driver.key(Qt.Key.Key_Right)
    assert driver.view.sheet.cursor is not None
    driver.new()
    assert driver.view.sheet.cursor is None


def test_one_escape_out_of_a_menu_goes_back_to_the_sheet(driver: Driver) -> None:
    driver.new()
    bar = driver.window.menuBar()
    view = next(action for action in bar.actions() if action.text() == "&View")
    driver.view.setFocus()
    QTest.keyClick(driver.window, Qt.Key.Key_V, Qt.KeyboardModifier.AltModifier)
    wait_until(lambda: view.menu().isVisible())
    QTest.keyClick(view.menu(), Qt.Key.Key_Escape)
    wait_until(lambda: not view.menu().isVisible())
    driver.settle(50)
    assert bar.activeAction() is None
    assert driver.window.focusWidget() is driver.view
