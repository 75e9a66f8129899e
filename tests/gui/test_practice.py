"""Practice in the window: chosen, drawn, ticked, hinted and left by presses and keys."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QTreeWidgetItem

from sketcher.board.exercise.done_problems import done_problems
from sketcher.desk.dialogs.practice_list import DONE, PracticeList
from sketcher.desk.panes.practice_pane import SIGNS, PracticePane
from sketcher.desk.panes.practice_side import STRIP
from sketcher.desk.practice_desk import PracticeDesk
from sketcher.part.value import Part
from tests.accessible import nameless
from tests.demo_parts import FOLDER
from tests.gui.driver import LEFT, NONE, Driver, wait_until
from tests.loose_drawings import loose, outline_of

CONTROL, SHIFT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier
KEYS = {"down": Qt.Key.Key_Down, "enter": Qt.Key.Key_Return}


def desk_of(driver: Driver) -> PracticeDesk:
    found = driver.window.findChild(PracticeDesk)
    assert isinstance(found, PracticeDesk)
    return found


def listed(driver: Driver) -> PracticeList:
    """The list of problems, come up by its key."""
    driver.key(Qt.Key.Key_P, CONTROL | SHIFT)
    dialog = desk_of(driver).dialog
    assert dialog is not None
    wait_until(dialog.isVisible)
    return dialog


def begun(driver: Driver, number: int) -> PracticePane:
    """The pane with a problem that was chosen by keys."""
    dialog = listed(driver)
    QTest.keyClick(dialog.list, Qt.Key.Key_Home)
    for _ in range(number - 1):
        QTest.keyClick(dialog.list, KEYS["down"])
    QTest.keyClick(dialog.list, KEYS["enter"])
    desk = desk_of(driver)
    wait_until(lambda: desk.model.problem is not None)
    driver.settle(20)
    driver.window.activateWindow()  # as a desktop does when a dialog has gone
    wait_until(driver.window.isActiveWindow)
    return desk.pane


def judged(driver: Driver) -> None:
    model = desk_of(driver).model
    wait_until(lambda: model.judged is driver.board.part)
    driver.settle(5)


def put(driver: Driver, part: Part) -> None:
    """Let the part on the sheet be another one, by a step that can be undone."""
    driver.board.bench.do("Draw", lambda _: part)
    judged(driver)


def rows(pane: PracticePane) -> dict[str, str]:
    """What stands beside each entry of the paper, by its text with the sign before it."""
    found = {}
    for number in range(pane.table.topLevelItemCount()):
        item = pane.table.topLevelItem(number)
        assert isinstance(item, QTreeWidgetItem)
        found[item.text(0)] = item.text(1)
    return found


def signs(pane: PracticePane) -> str:
    return "".join(text[0] for text in rows(pane))


def type_values(driver: Driver, *values: str) -> None:
    """Type into the rows of the readout in their order, and take them."""
    for number, value in enumerate(values):
        if number:
            driver.key(Qt.Key.Key_Tab)
        driver.keys(value)
    driver.key(Qt.Key.Key_Return)


def press(widget: object) -> None:
    QTest.mouseClick(widget, LEFT)
    QApplication.processEvents()


def test_the_start_page_leads_to_the_list(driver: Driver) -> None:
    press(driver.window.start.practice)
    dialog = desk_of(driver).dialog
    assert dialog is not None
    assert dialog.isVisible()
    press(dialog.begin)
    wait_until(lambda: desk_of(driver).model.problem is not None)
    assert driver.view.isVisible()


def test_a_problem_is_chosen_drawn_and_ticked_by_keys_and_presses(driver: Driver) -> None:
    pane = begun(driver, 1)
    assert pane.isVisible()
    assert pane.title.text() == "Corner bracket"
    assert driver.view.isVisible()
    assert set(signs(pane)) == {SIGNS["open"]}
    assert driver.target() is driver.view
    driver.tool("circle")  # the larger hole, at its place, by values
    type_values(driver, "70", "15")
    type_values(driver, "12")
    judged(driver)
    assert rows(pane)[f"{SIGNS['open']} Ø11"] == ""  # alone it may be any circle
    driver.key(Qt.Key.Key_Z, CONTROL)
    driver.tool("circle")
    type_values(driver, "70", "15")
    type_values(driver, "11")
    judged(driver)
    assert f"{SIGNS['holds']} Ø11" in rows(pane)
    assert rows(pane)[f"{SIGNS['open']} Ø9"] == ""


def test_what_has_another_size_says_which(driver: Driver) -> None:
    pane = begun(driver, 1)
    key = desk_of(driver).model.problem.key
    wrong = {name: replace(b, value="72") if b.value == "70" and b.kind == "rise" else b
             for name, b in key.bindings.items()}
    put(driver, key.having(bindings=wrong))
    assert rows(pane)[f"{SIGNS['off']} 70"] == "not yet: 72"
    item = next(item for number in range(pane.table.topLevelItemCount())
                if (item := pane.table.topLevelItem(number)) and item.text(1))
    assert item.toolTip(0) == "70\nnot yet: 72 where the paper says 70"
    spoken = item.data(0, Qt.ItemDataRole.AccessibleTextRole)
    assert spoken == "70, not yet, 72 where the paper says 70"
    assert "hold" in pane.state.text()


def test_hints_are_seen_only_when_asked_and_come_in_halves(driver: Driver) -> None:
    pane = begun(driver, 5)
    assert not pane.hint.isVisible()
    assert pane.view.marks == ()
    press(pane.ask)
    wait_until(pane.hint.isVisible)
    hint = desk_of(driver).model.hint
    assert hint is not None
    assert hint.first.startswith("Next: ")
    assert pane.hint.label.text() == hint.first
    assert pane.view.marks == hint.marks
    press(pane.ask)
    assert pane.hint.label.text() == " ".join((hint.first, *hint.rest))
    assert pane.view.marks == (*hint.marks, *hint.further)
    assert hint.rest
    assert hint.further
    assert not pane.ask.isEnabled()
    put(driver, loose(outline_of(desk_of(driver).model.problem.key)[:3]))
    assert not pane.hint.isVisible()
    assert pane.ask.isEnabled()
    assert pane.view.marks == ()


def test_a_row_shows_its_dimension_on_the_paper(driver: Driver) -> None:
    pane = begun(driver, 5)
    entries = desk_of(driver).model.problem.entries
    seen = [pane.view.grab().toImage()]
    assert pane.view.lit == ""
    pane.table.setFocus()
    for number in range(2):
        assert pane.view.lit == entries[number].id
        seen.append(pane.view.grab().toImage())
        QTest.keyClick(pane.table, KEYS["down"])
    assert len({bytes(image.constBits()) for image in seen}) == 3


def test_time_is_shown_only_if_wanted(driver: Driver) -> None:
    pane = begun(driver, 1)
    assert not pane.timed.isChecked()
    assert pane.time.text() == ""
    QTest.mouseClick(pane.timed, LEFT, NONE, QPoint(6, pane.timed.height() // 2))
    assert pane.time.text() == "0:00"
    wait_until(lambda: pane.time.text() == "0:01", 5.0)
    QTest.mouseClick(pane.timed, LEFT, NONE, QPoint(6, pane.timed.height() // 2))
    assert pane.time.text() == ""


def test_the_time_stands_when_all_holds(driver: Driver) -> None:
    pane = begun(driver, 5)
    pane.timed.setChecked(True)
    put(driver, desk_of(driver).model.problem.key)
    taken = pane.time.text()
    QTest.qWait(1100)
    assert pane.time.text() == taken != ""


def test_the_finished_part_says_so_and_is_remembered(driver: Driver) -> None:
    pane = begun(driver, 5)
    problem = desk_of(driver).model.problem
    put(driver, problem.key)
    assert set(signs(pane)) == {SIGNS["holds"]}
    assert pane.state.text().startswith("Everything holds")
    assert driver.board.bench.message.text == "Drag link: everything holds."
    assert done_problems(driver.window.folder) == {"05-drag-link"}
    dialog = listed(driver)
    marks = [dialog.list.item(n).text()[0] for n in range(dialog.list.count())]
    assert [n for n, mark in enumerate(marks) if mark == DONE] == [4]
    dialog.reject()


def test_leaving_keeps_the_drawing_and_the_panes_come_back(driver: Driver) -> None:
    driver.new()
    wide = driver.window.middle.split.sizes()
    pane = begun(driver, 1)
    put(driver, loose(outline_of(desk_of(driver).model.problem.key)[:3]))
    drawn = driver.board.part
    assert driver.window.middle.split.sizes()[2] == 0  # the inspection made room
    press(pane.leave)
    assert not pane.isVisible()
    assert driver.board.part is drawn
    assert driver.board.bench.is_changed
    assert driver.target() is driver.view
    assert abs(driver.window.middle.split.sizes()[2] - wide[2]) <= 1


def test_panes_that_were_divided_come_back_as_they_were(driver: Driver) -> None:
    driver.new()
    middle = driver.window.middle
    middle.divide([300, 720, 320])
    stood = middle.sizes()
    pane = begun(driver, 1)
    assert middle.split.sizes()[2] == 0
    assert middle.sizes()[2] == stood[2]  # what is remembered is what was chosen
    press(pane.leave)
    driver.settle(5)
    assert abs(middle.split.sizes()[2] - stood[2]) <= 1


def test_the_inspection_can_be_seen_beside_the_paper(driver: Driver) -> None:
    begun(driver, 1)
    sizes = driver.window.middle.split.sizes
    assert sizes()[2] == 0
    for _ in range(2):  # hidden, and shown with its width
        driver.act("view.inspection")
    assert sizes()[2] > 200
    driver.window.resize(1400, 768)
    driver.settle(5)
    assert sizes()[2] > 200


def test_unsaved_work_is_asked_for_and_stays(driver: Driver) -> None:
    driver.new()
    driver.tool("circle")
    type_values(driver, "0", "0")
    type_values(driver, "10")
    kept = driver.board.part
    assert driver.board.bench.is_changed
    driver.answers.unsaved = "cancel"
    dialog = listed(driver)
    press(dialog.begin)
    desk = desk_of(driver)
    wait_until(lambda: driver.board.bench.worker.current is None)
    driver.settle(50)
    assert desk.model.problem is None
    assert driver.board.part is kept
    assert desk.side.isHidden()


def test_another_part_is_a_problem_and_one_with_findings_is_refused(driver: Driver) -> None:
    driver.answers.path = FOLDER / "shelf-bracket.profile.json"
    press(listed(driver).other)
    desk = desk_of(driver)
    wait_until(lambda: desk.model.problem is not None)
    assert desk.pane.title.text() == "Shelf bracket"
    assert driver.board.part.unit == "in"
    driver.window.activateWindow()
    wait_until(driver.window.isActiveWindow)
    driver.answers.path = FOLDER / "latch-plate.profile.json"
    press(listed(driver).other)
    wait_until(lambda: bool(driver.answers.told))
    assert "is no problem to set" in driver.answers.told[-1]
    assert desk.pane.title.text() == "Shelf bracket"


def test_a_file_that_is_opened_is_judged_beside_the_paper(driver: Driver, tmp_path: Path) -> None:
    from sketcher.part.store import save

    pane = begun(driver, 5)
    path = tmp_path / "mine.profile.json"
    save(desk_of(driver).model.problem.key, path)
    driver.window.filing.open_path(path)
    judged(driver)
    assert set(signs(pane)) == {SIGNS["holds"]}


def test_letters_go_to_the_sheet_and_f6_comes_by(driver: Driver) -> None:
    pane = begun(driver, 1)
    pane.table.setFocus()
    tool = next(tool for name, tool in driver.board.tools.items() if name == "circle")
    QTest.keyClicks(pane.table, tool.key.lower())
    assert driver.board.tool.name == "circle"
    driver.view.setFocus()
    for _ in range(8):
        driver.key(Qt.Key.Key_F6)
        if driver.target() is pane.table:
            break
    assert driver.target() is pane.table


def test_the_pane_is_folded_to_a_strip_and_back(driver: Driver) -> None:
    begun(driver, 1)
    side = desk_of(driver).side
    wide, sheet = side.width(), driver.view.width()
    press(side.strip)
    assert side.width() == STRIP
    driver.settle(5)
    assert driver.view.width() > sheet
    press(side.strip)
    assert side.width() == wide


def test_the_whole_sheet_is_seen_large_beside_the_window(driver: Driver) -> None:
    pane = begun(driver, 1)
    press(pane.large)
    sheet = desk_of(driver).sheet
    assert sheet is not None
    assert sheet.isVisible()
    assert not sheet.isModal()
    assert sheet.view.page is desk_of(driver).model.problem.sheet
    press(sheet.larger)
    assert sheet.view.closer > 1.0
    press(pane.leave)
    driver.settle(5)
    assert desk_of(driver).sheet is None


def test_everything_has_a_name(driver: Driver) -> None:
    pane = begun(driver, 9)
    press(pane.ask)
    wait_until(pane.hint.isVisible)
    assert nameless(driver.window) == []
    assert "Center of arc A" in pane.notes.text()


@pytest.mark.parametrize(("wide", "high"), [(800, 600), (683, 384)])
def test_in_a_small_window_it_begins_folded_and_lies_over_the_sheet(
    driver: Driver, wide: int, high: int
) -> None:
    driver.window.resize(wide, high)
    driver.settle(20)
    pane = begun(driver, 1)
    side = desk_of(driver).side
    assert driver.window.width() == wide
    assert side.is_folded
    assert not pane.isVisible()
    press(side.strip)
    driver.settle(5)
    assert pane.isVisible()
    assert driver.window.width() == wide
    corner = pane.view.mapTo(driver.window, QPoint(0, 0))
    assert 0 <= corner.x() <= wide - pane.view.width()
    assert pane.view.height() >= 100
    press(side.strip)
    driver.settle(5)
    assert not pane.isVisible()
    driver.window.resize(1366, 768)
    driver.settle(20)
    press(side.strip)
    driver.settle(20)
    assert pane.isVisible()
    assert side.width() > STRIP


def test_typing_is_not_held_up_and_only_the_last_part_is_judged(driver: Driver) -> None:
    begun(driver, 1)
    model = desk_of(driver).model
    curves = outline_of(model.problem.key)
    for many in range(1, 5):  # quicker than it rests
        driver.board.bench.do("Draw", lambda _, n=many: loose(curves[:n]))
        assert model.judged is not driver.board.part
    looked = []
    took = model._take
    model._take = lambda problem, part, standing: (looked.append(part),
                                                   took(problem, part, standing))
    judged(driver)
    assert looked == [driver.board.part]


@pytest.mark.parametrize("look_name", ["dye", "paper"], indirect=True)
def test_letters_of_a_hint_do_not_lie_on_each_other(driver: Driver) -> None:
    pane = begun(driver, 10)
    key = desk_of(driver).model.problem.key
    put(driver, loose(outline_of(key)[3:5]))
    press(pane.ask)
    wait_until(pane.hint.isVisible)
    press(pane.ask)
    spots = [QPointF(100.0 + 3.0 * n, 80.0) for n in range(6)]
    places = pane.view.letter_places(spots, [True] * 6, 9.0)
    apart = [(a - b).manhattanLength() for n, a in enumerate(places) for b in places[:n]]
    assert min(apart) >= 18.0
