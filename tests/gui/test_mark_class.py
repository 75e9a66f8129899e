"""A class marked in the window: by mouse and keys, from the empty page to the exported results."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QPushButton

from sketcher.desk.dialogs.marking_deductions import DeductionList
from sketcher.desk.dialogs.marking_desk import CLASS, MARKS, MarkingDesk
from sketcher.desk.dialogs.marking_layers import ANSWER
from sketcher.desk.dialogs.marking_rubric import CAP, LIMIT, POINTS, RULE
from sketcher.desk.dialogs.marking_table import FIRST_RULE, TOTAL, WHO, MarksTable
from sketcher.marking.class_run import ClassProgress
from sketcher.marking.marking_file import load_marking
from sketcher.marking.marks import PointsByHand
from sketcher.marking.roster import ClassEntry
from tests.gui.class_desk import PLACES, compared, put_class
from tests.gui.driver import LEFT, NONE, Driver, wait_until
from tests.marked_class import class_on_disk

MANY = PLACES  # a hand-in with so many deductions
Key = Qt.Key


@pytest.fixture
def desk(driver: Driver) -> Iterator[MarkingDesk]:
    driver.window.first.pictures.stop()  # of the start page: nobody sees them here
    made = MarkingDesk(driver.board, driver.window.host, driver.window.look, driver.window)
    made.show()
    yield made
    made.host.ask_unsaved = lambda name: "discard"
    made.close()
    made.deleteLater()
    driver.settle(5)


@pytest.fixture
def marked(desk: MarkingDesk, driver: Driver) -> MarkingDesk:
    """The page with a class, at a hand-in with many deductions."""
    put_class(desk)
    desk.table.point_at(MANY)
    driver.settle(20)
    return desk


def press(desk: MarkingDesk, *keys: Qt.Key) -> None:
    for key in keys:
        QTest.keyClick(desk.focusWidget() or desk, key)


def test_the_empty_page_says_what_to_do(desk: MarkingDesk, driver: Driver) -> None:
    assert desk.said.text() == "Choose the key: the part as the paper has it."
    assert not desk.go.isEnabled()
    desk.tabs.setCurrentIndex(MARKS)
    assert desk.pane.view.waiting_for == desk.said.text()
    driver.window.filing.open_demo("gate-strap.profile.json")
    desk.follow()
    assert "folder of the hand-ins" in desk.said.text()
    assert "Gate strap" in desk.setup.fields["key"].placeholderText()


def test_a_class_is_marked_beside_the_window(
    desk: MarkingDesk, driver: Driver, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    home = class_on_disk(tmp_path)
    for old in sorted((home / "hand-ins").iterdir())[1:-1]:
        old.unlink()  # one that is wrong and one that is torn are enough here
    for name, text in (("key", home / "key.profile.json"), ("folder", home / "hand-ins"),
                       ("roster", home / "roster.csv")):
        desk.setup.fields[name].setFocus()
        QTest.keyClicks(desk.setup.fields[name], str(text))
        QTest.keyClick(desk.setup.fields[name], Key.Key_Return)
    assert desk.said.text() == "Ready: press Mark the class."
    said: list[str] = []
    show = desk.said.setText

    def noted(text: str) -> None:  # two results may come between two looks at the label
        said.append(text)
        show(text)

    monkeypatch.setattr(desk.said, "setText", noted)
    QTest.mouseClick(desk.go, LEFT)
    wait_until(lambda: not desk.book.going, 120.0)
    assert any(text.startswith("1 of 2 compared") for text in said)
    assert desk.said.text().startswith("1 of 2 hand-ins marked")
    assert desk.tabs.currentIndex() == MARKS
    assert desk.table.item(1, TOTAL).text() == "! not marked"
    assert "Not marked: is not a readable DXF" in desk.table.item(1, TOTAL).toolTip()
    assert "wrong-value" in desk.table.rules
    assert "Ø22, not Ø20" in desk.pane.list.item(0, 2).text()
    assert desk.book.compared.listed.absent
    desk.tabs.setCurrentIndex(CLASS)
    assert "Handed in nothing: 01, 03" in desk.setup.listed.text()


def test_stopping_leaves_what_was_there(desk: MarkingDesk, tmp_path: Path) -> None:
    home = class_on_disk(tmp_path)
    desk.book.use_key(home / "key.profile.json")
    desk.book.use_folder(home / "hand-ins")
    desk.begin()
    assert desk.book.going
    worker = desk.board.bench.worker
    wait_until(lambda: worker.current is not None and worker.current.job.name.startswith("Marking"))
    desk.board.bench.worker.cancel()
    wait_until(lambda: not desk.book.going)
    assert desk.said.text() == "Stopped before the class was marked."
    assert desk.go.isEnabled()


def test_keys_accept_waive_and_change_one_after_the_other(marked: MarkingDesk) -> None:
    pane, row = marked.pane, marked.pane.row
    before = row.marks.points
    cost = [each.points for each in row.marks.deductions]
    marked.table.setFocus()
    press(marked, Key.Key_A, Key.Key_W, Key.Key_P)
    assert pane.points.hasFocus()
    QTest.keyClicks(pane.points, "7,5")
    QTest.keyClick(pane.points, Key.Key_Return)
    row = pane.row
    assert row.verdicts[:4] == ("accepted", "waived", "changed", "open")
    assert row.marks.deductions[1].points == 0.0
    assert row.marks.deductions[2].points == 7.5
    assert pane.points.text() == "7.5"
    assert row.marks.points <= before + cost[1] + cost[2] - 7.5
    assert pane.list.item(1, 3).text() == "\N{MULTIPLICATION X} waived"
    pane.list.setCurrentCell(1, 0)
    press(marked, Key.Key_W)  # once more takes it back
    assert pane.row.verdicts[1] == "open"
    assert pane.row.marks.deductions[1].points == cost[1]


class CountedList(DeductionList):
    measured = 0

    def sizeHintForRow(self, row: int) -> int:
        self.measured += 1
        return super().sizeHintForRow(row)


class CountedTable(MarksTable):
    measured = 0

    def sizeHintForColumn(self, column: int) -> int:
        self.measured += 1
        return super().sizeHintForColumn(column)


def test_a_ruling_measures_little_anew(marked: MarkingDesk, driver: Driver) -> None:
    """A list whose heads follow its cells measures all rows once, a table what is other."""
    one, every = CountedList(marked.table.look, marked), CountedTable(marked.table.look, marked)
    for made in (one, every):
        made.show()
    one.fill(marked.pane.row)
    every.show_book(marked.book, names=True)
    driver.settle(20)
    one.measured = every.measured = 0
    marked.pane.accept()
    one.fill(marked.pane.row)
    every.show_book(marked.book, names=True)
    driver.settle(20)
    assert 0 < one.measured <= 5 * MANY
    assert 0 < every.measured <= 3 < every.columnCount()  # the points, the rule, what is left


def test_points_are_given_and_taken_by_hand(marked: MarkingDesk) -> None:
    pane, before = marked.pane, marked.pane.row.marks.points
    marked.host.ask_form = lambda *a, take, **k: take({"points": "-3", "words": "a day late"}) or {}
    marked.table.setFocus()
    press(marked, Key.Key_H)
    assert pane.row.marks.points == before - 3
    last = pane.list.rowCount() - 1
    assert pane.list.currentRow() == last
    assert [pane.list.item(last, column).text() for column in range(1, 4)] == [
        "\N{MINUS SIGN}3", "a day late", "by hand"]
    press(marked, Key.Key_P)
    QTest.keyClicks(pane.points, "+2,5")
    QTest.keyClick(pane.points, Key.Key_Return)
    assert pane.row.marks.points == before + 2.5
    press(marked, Key.Key_C)
    QTest.keyClicks(pane.comment.lineEdit(), "neat")
    QTest.keyClick(pane.comment.lineEdit(), Key.Key_Return)
    assert pane.row.marks.by_hand == (PointsByHand(2.5, "neat"),)
    pane.list.setFocus()
    press(marked, Key.Key_W)
    assert pane.row.marks.points == before
    assert pane.list.rowCount() == last


def test_letters_that_are_typed_into_a_comment_are_no_keys(marked: MarkingDesk) -> None:
    pane = marked.pane
    marked.table.setFocus()
    press(marked, Key.Key_C)
    typed = pane.comment.lineEdit()
    assert typed.hasFocus()
    QTest.keyClicks(typed, "a wap")
    QTest.mouseClick(pane.keep, LEFT)
    assert pane.row.verdicts[0] == "open"
    assert pane.row.marks.deductions[0].comment == "a wap"
    assert marked.book.rubric.comments == ("a wap",)
    pane.list.setCurrentCell(1, 0)
    assert pane.comment.currentText() == ""
    pane.comment.setCurrentIndex(0)
    pane.comment.activated.emit(0)
    assert pane.row.marks.deductions[1].comment == "a wap"


def test_escape_leaves_a_field_before_it_leaves_the_page(marked: MarkingDesk) -> None:
    pane = marked.pane
    for key, field in ((Key.Key_P, pane.points), (Key.Key_C, pane.comment.lineEdit())):
        marked.table.setFocus()
        press(marked, key)
        QTest.keyClicks(field, "9")
        QTest.keyClick(field, Key.Key_Escape)
        assert marked.isVisible()
        assert pane.list.hasFocus()
    assert pane.row.rulings == ()
    press(marked, Key.Key_Escape)
    assert not marked.isVisible()


def test_the_bank_of_comments_is_changed_under_rubric(marked: MarkingDesk) -> None:
    marked.book.keep_comment("See the paper.")
    given = {"comments": "Close the outline.\n\n Close the outline. \nTangent, please."}
    marked.host.ask_form = lambda *a, **k: given
    button = next(b for b in marked.rubric.findChildren(QPushButton) if "omments" in b.text())
    QTest.mouseClick(button, LEFT)
    assert marked.book.rubric.comments == ("Close the outline.", "Tangent, please.")
    box = marked.pane.comment
    assert [box.itemText(n) for n in range(box.count())] == list(marked.book.rubric.comments)


def test_coming_closer_goes_to_the_chosen_deduction(marked: MarkingDesk) -> None:
    view = marked.pane.view
    marked.pane.list.setCurrentCell(2, 0)
    before = view.camera.to_screen(view.place_of(view.chosen))
    view.setFocus()
    for _ in range(12):
        QTest.keyClick(view, Key.Key_Plus)
    after = view.camera.to_screen(view.place_of(view.chosen))
    assert after == pytest.approx(before, abs=0.5)
    assert len(view.rings()) < len(marked.pane.row.marks.deductions)  # others are out of view
    QTest.keyClick(view, Key.Key_0)
    assert view.fitted


def test_next_and_back_go_by_the_order_of_the_table(marked: MarkingDesk) -> None:
    table = marked.table
    table.sortItems(TOTAL, Qt.SortOrder.AscendingOrder)
    assert table.item(0, TOTAL).text() == "! not marked"
    given = [marked.book.rows[table.item(row, WHO).data(Qt.ItemDataRole.UserRole)].marks.points
             for row in range(1, table.rowCount())]
    assert given == sorted(given)
    table.setCurrentCell(1, WHO)
    first = marked.pane.number
    press(marked, Key.Key_N)
    second = marked.pane.number
    assert second == table.item(2, WHO).data(Qt.ItemDataRole.UserRole) != first
    press(marked, Key.Key_B)
    assert marked.pane.number == first


def test_a_cell_shows_its_deduction_and_a_ring_chooses_one(
    marked: MarkingDesk, driver: Driver
) -> None:
    pane, view = marked.pane, marked.pane.view
    rule = pane.row.marks.deductions[3].rule
    row = marked.table.currentRow()
    marked.table.setCurrentCell(row, FIRST_RULE + marked.table.rules.index(rule))
    assert pane.deduction.rule == rule
    assert view.chosen == pane.deduction.number
    driver.settle(30)
    rings = view.rings()
    told = sorted(int(number) for ring in rings for number in ring.tip.numbers)
    assert told == [each.number for each in pane.row.marks.deductions]
    ring = next(ring for ring in rings if "2" in ring.tip.numbers)
    unit = view._unit()
    x, y = ring.centers[ring.tip.numbers.index("2")]
    QTest.mouseClick(view, LEFT, NONE, QPoint(round(x * unit), round(view.height() - y * unit)))
    assert pane.deduction.number == 2
    assert_leaders_end_on_places(marked)


def assert_leaders_end_on_places(desk: MarkingDesk) -> None:
    pane, view = desk.pane, desk.pane.view
    assert view.rings()
    for one in view.rings():
        each = pane.row.marks.deductions[int(one.tip.numbers[0]) - 1]
        tip = (one.tip.at[0] * view._unit(), view.height() - one.tip.at[1] * view._unit())
        assert tip == pytest.approx(view.camera.to_screen(each.mistake.at), abs=4)


def test_rings_go_along_while_the_drawing_is_pulled(marked: MarkingDesk) -> None:
    view = marked.pane.view
    kept = view.rings()
    start = QPointF(view.rect().center())
    QTest.mousePress(view, LEFT, NONE, start.toPoint())
    for way in (2.0, 40.0):
        at = start + QPointF(way, 0.5 * way)
        QApplication.sendEvent(view, QMouseEvent(
            QEvent.Type.MouseMove, at, view.mapToGlobal(at), Qt.MouseButton.NoButton, LEFT, NONE))
    assert view.pulled_along
    here = view.rings()
    steps = {(round(b.foot[0] - a.foot[0], 9), round(b.foot[1] - a.foot[1], 9))
             for a, b in zip(kept, here, strict=True)}
    assert steps == {(round(40.0 / view._unit(), 9), round(-20.0 / view._unit(), 9))}
    assert_leaders_end_on_places(marked)
    view.zoom(1.1, (start.x(), start.y()))  # a turn of the wheel with the button held down
    assert_leaders_end_on_places(marked)
    QTest.mouseRelease(view, LEFT, NONE, start.toPoint())
    assert not view.pulled_along
    assert_leaders_end_on_places(marked)


def test_the_rubric_is_typed_and_the_marks_follow(marked: MarkingDesk) -> None:
    rubric, row = marked.rubric, marked.pane.row
    each = row.marks.deductions[0]
    place = rubric.names.index(each.rule)
    rubric.table.item(place, CAP).setText("50")
    rubric.table.item(place, POINTS).setText("20")
    assert marked.pane.row.marks.deductions[0].points == 20
    rubric.table.item(place, CAP).setText("3")
    assert "is less than the points, 20" in marked.said.text()
    assert rubric.table.item(place, CAP).text() == "50"
    rubric.table.item(place, POINTS).setText("many")
    assert "'many' is no number" in marked.said.text()
    rubric.table.item(place, RULE).setCheckState(Qt.CheckState.Unchecked)
    assert each.rule not in marked.table.rules
    assert not marked.book.rubric.setting(each.rule).on
    limited = next((n for n, name in enumerate(rubric.names)
                    if marked.book.rubric.setting(name).limit is not None), None)
    if limited is not None:
        rubric.table.item(limited, LIMIT).setText("9")
        assert "Mark again" in marked.said.text()


def test_a_layer_is_answered_once_for_the_class(marked: MarkingDesk) -> None:
    marked.tabs.setCurrentIndex(CLASS)
    table = marked.setup.layers
    box = table.cellWidget(0, ANSWER)
    box.setFocus()
    QTest.keyClicks(box, "center")
    QTest.keyClick(box, Key.Key_Return)
    assert dict(marked.book.rubric.layers) == {"plan-1": "center"}
    assert "Mark again" in marked.said.text()
    table.cellWidget(0, ANSWER).setCurrentIndex(0)
    table.cellWidget(0, ANSWER).activated.emit(0)
    assert dict(marked.book.rubric.layers) == {}


def test_without_names_the_page_goes_by_number(marked: MarkingDesk) -> None:
    names = {one.entry.name for one in compared().marked}
    assert "A name of some length" in marked.pane.head.text() or "Short" in marked.pane.head.text()
    marked.names.setChecked(False)
    shown = [marked.table.item(row, WHO).text() for row in range(marked.table.rowCount())]
    assert not any(name in text for name in names for text in (*shown, marked.pane.head.text()))


def test_without_names_none_stands_where_a_picture_will_be(desk: MarkingDesk) -> None:
    desk.names.setChecked(False)
    desk.book.going = True
    desk.book.progress = ClassProgress(1, 2, ClassEntry("02", "/class/02.dxf", "A name"), 5.0)
    desk.follow()
    assert desk.pane.view.waiting_for == desk.said.text() == "1 of 2 compared, 5 s left: 02"
    desk.book.going = False


@pytest.mark.parametrize("answer", ["cancel", "save", "discard"])
def test_closing_with_rulings_in_no_file_asks(
    marked: MarkingDesk, tmp_path: Path, answer: str
) -> None:
    path = tmp_path / "7b.marking.json"
    asked: list[str] = []
    marked.host.ask_unsaved = lambda name: asked.append(name) or answer
    marked.host.ask_path = lambda *a, **k: path
    marked.table.setFocus()
    press(marked, Key.Key_W)
    marked.reject()
    assert asked == ["The marking of the class"]
    assert marked.isVisible() == (answer == "cancel")
    assert path.exists() == (answer == "save")
    if answer == "save":
        assert [each.verdict for each in load_marking(path).rulings[
            compared().marked[MANY].entry.file]] == ["waived"]
