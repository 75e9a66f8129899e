"""A foreign drawing in the window: dropped, looked at, answered, refused, taken in."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QMimeData, QPoint, QPointF, Qt, QUrl
from PySide6.QtGui import QDragEnterEvent, QDropEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from sketcher.desk.dialogs.bring_in_desk import LAYERS, OUTCOME, REPAIRS, BringInDesk
from sketcher.part.store import load
from tests import foreign
from tests.gui.driver import LEFT, NONE, Driver, wait_until

TICKED, BARE = Qt.CheckState.Checked, Qt.CheckState.Unchecked


@pytest.fixture
def opened(driver: Driver, tmp_path: Path) -> Iterator[list[BringInDesk]]:
    """Pages that a test opens; those of an action and of a drop come in here, and do not wait."""
    pages: list[BringInDesk] = []

    def show(path: Path) -> None:
        window = driver.window
        desk = BringInDesk(driver.board, window.host, path, window.look, window)
        pages.append(desk)
        desk.show()
        desk.bringing.begin()

    driver.window.host.taking = show
    yield pages
    for desk in pages:
        desk.close()
        desk.deleteLater()
    driver.settle(5)


def settled(desk: BringInDesk) -> BringInDesk:
    wait_until(lambda: not desk.bringing.going)
    return desk


def page(driver: Driver, opened: list[BringInDesk], path: Path) -> BringInDesk:
    driver.window.host.bring_in(path)
    return settled(opened[-1])


def plates(folder: Path, unit: str | None = "mm") -> Path:
    curves = [*foreign.plate_curves(), *foreign.plate_curves(110.0, 0.02)]
    return foreign.written(folder / "plates.dxf", curves, unit)


def dropped(driver: Driver, paths: list[Path]) -> None:
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(path)) for path in paths])
    copy = Qt.DropAction.CopyAction
    enter = QDragEnterEvent(QPoint(300, 300), copy, data, LEFT, NONE)
    QApplication.sendEvent(driver.window, enter)
    assert enter.isAccepted()
    QApplication.sendEvent(driver.window, QDropEvent(QPointF(300, 300), copy, data, LEFT, NONE))


def row(desk: BringInDesk, kind: str, number: int = 0):
    """The line of a kind, or a repair below it, counted from 1."""
    heads = [desk.tree.topLevelItem(n) for n in range(desk.tree.topLevelItemCount())]
    head = next(head for head in heads if f"{kind.capitalize()}:" in head.text(0))
    return head.child(number - 1) if number else head


def test_a_drawing_is_dropped_and_taken_in(
    driver: Driver, opened: list[BringInDesk], tmp_path: Path
) -> None:
    path = foreign.written(tmp_path / "plate.dxf", foreign.plate_curves())
    dropped(driver, [path])
    desk = settled(opened[0])
    assert desk.said.text() == "1 part; bound; 2 repairs"
    assert desk.tabs.tabText(REPAIRS) == "&Repairs (2)"
    assert "millimetres" in desk.choices.unit.currentText()
    QTest.mouseClick(desk.take, LEFT)
    assert not desk.isVisible()
    assert driver.board.part.name == "plate"
    assert driver.board.report.state == "bound"
    assert driver.board.bench.path is None
    assert driver.board.bench.is_changed
    assert driver.view.isVisible()
    assert driver.window.filing.recent.paths == ()
    driver.answers.path = tmp_path / "mine.profile.json"
    driver.act("file.save")
    assert load(tmp_path / "mine.profile.json").name == "plate"


def test_several_files_and_strange_ones_are_told(
    driver: Driver, opened: list[BringInDesk], tmp_path: Path
) -> None:
    path = plates(tmp_path)
    other = tmp_path / "notes.txt"
    other.write_text("no drawing")
    dropped(driver, [path, other])
    dropped(driver, [other])
    assert opened == []
    assert "one drawing is brought in at a time" in driver.answers.told[0]
    assert ".dxf" in driver.answers.told[1]


def test_the_menu_and_the_start_page_ask_for_the_file(
    driver: Driver, opened: list[BringInDesk], tmp_path: Path
) -> None:
    driver.answers.path = plates(tmp_path)
    QTest.mouseClick(driver.window.start.foreign, LEFT)
    assert settled(opened[0]).bringing.ready
    driver.act("file.bring_in")
    assert settled(opened[1]).bringing.ready


def test_a_repair_is_refused_by_the_keyboard_and_the_place_stays(
    driver: Driver, opened: list[BringInDesk], tmp_path: Path
) -> None:
    desk = page(driver, opened, plates(tmp_path))
    desk.tree.setFocus()
    desk.tree.setCurrentItem(row(desk, "gap", 2))
    assert desk.near.isVisible()
    assert desk.near.repair is not None
    assert desk.near.repair.kind == "gap"
    assert desk.about.text().startswith("G ")
    driver.settle(20)  # the picture makes room for the one from near
    desk.view.zoom(3.0)
    seen = desk.view.camera
    QTest.keyClick(desk.tree, Qt.Key.Key_Space)
    assert desk.bringing.going
    assert not desk.take.isEnabled()
    settled(desk)
    assert "1 kept as drawn" in desk.said.text()
    assert row(desk, "gap", 2).checkState(0) == BARE
    assert row(desk, "gap").checkState(0) == Qt.CheckState.PartiallyChecked
    assert desk.tree.currentItem() is row(desk, "gap", 2)
    assert desk.about.text().endswith("kept as drawn.")
    driver.settle(50)  # more words stand below the picture now
    assert desk.view.camera == seen
    row(desk, "gap").setCheckState(0, TICKED)
    settled(desk)
    assert row(desk, "gap", 2).checkState(0) == TICKED
    assert "kept" not in desk.said.text()


def test_a_whole_kind_is_refused(
    driver: Driver, opened: list[BringInDesk], tmp_path: Path
) -> None:
    desk = page(driver, opened, plates(tmp_path))
    row(desk, "double").setCheckState(0, BARE)
    settled(desk)
    assert [row(desk, "double", n).checkState(0) for n in (1, 2)] == [BARE, BARE]
    assert desk.bringing.wishes.keep == {"double"}


def test_the_unit_is_answered_and_the_axis_is_chosen(
    driver: Driver, opened: list[BringInDesk], tmp_path: Path
) -> None:
    desk = page(driver, opened, plates(tmp_path))
    box = desk.choices.unit
    box.setCurrentIndex(box.findData("in"))
    box.activated.emit(box.currentIndex())
    settled(desk)
    assert desk.choices.unit.currentData() == "in"
    assert desk.bringing.part.part.unit == "in"
    assert "As asked" in desk.choices.why.text()
    desk.choices.axis_chosen.emit("none")
    settled(desk)
    assert desk.bringing.wishes.axis == "none"
    assert desk.bringing.part.axes == ()


def test_one_of_several_parts_is_chosen(
    driver: Driver, opened: list[BringInDesk], tmp_path: Path
) -> None:
    desk = page(driver, opened, plates(tmp_path))
    box = desk.choices.part
    assert box.count() == 2
    box.setCurrentIndex(1)
    box.activated.emit(1)
    assert desk.view.number == 1
    QTest.mouseClick(desk.take, LEFT)
    assert driver.board.part.name == "plates 2"


def test_all_parts_are_exported(
    driver: Driver, opened: list[BringInDesk], tmp_path: Path
) -> None:
    desk = page(driver, opened, plates(tmp_path))
    driver.answers.path = tmp_path / "out.profile.json"
    QTest.mouseClick(desk.every, LEFT)
    assert desk.said.text().startswith("2 parts exported")
    assert (tmp_path / "out-2.profile.json").exists()
    driver.answers.path = tmp_path / "nowhere" / "out.profile.json"
    QTest.mouseClick(desk.every, LEFT)
    assert desk.said.text().startswith("! ")
    assert desk.isVisible()


def test_a_layer_is_left_out(
    driver: Driver, opened: list[BringInDesk], tmp_path: Path
) -> None:
    desk = page(driver, opened, plates(tmp_path))
    desk.tabs.setCurrentIndex(LAYERS)
    assert desk.layers.item(0).text().startswith("0: 10 LINE")
    desk.layers.item(0).setCheckState(BARE)
    settled(desk)
    assert not desk.take.isEnabled()
    assert desk.layers.item(0).checkState() == BARE


def test_a_broken_file_is_told_in_the_page(
    driver: Driver, opened: list[BringInDesk], tmp_path: Path
) -> None:
    path = tmp_path / "torn.dxf"
    path.write_text("0\nSECTION\n2\nENT")
    before = driver.board.part
    desk = page(driver, opened, path)
    assert desk.said.text().startswith("! ")
    assert "torn.dxf" in desk.said.text()
    assert not desk.take.isEnabled()
    desk.accept()
    assert desk.isVisible()
    assert driver.board.part is before


def test_it_is_stopped_and_begun_again(
    driver: Driver, opened: list[BringInDesk], tmp_path: Path
) -> None:
    driver.window.host.bring_in(plates(tmp_path))
    desk = opened[0]
    wait_until(lambda: driver.window.worker.current is not None
               and "plates.dxf" in driver.window.worker.current.job.name)
    driver.window.worker.cancel()
    settled(desk)
    assert "stopped" in desk.said.text()
    QTest.mouseClick(desk.again, LEFT)
    settled(desk)
    assert desk.bringing.ready
    assert not desk.again.isVisible()


def test_cancel_leaves_everything_as_it_was(
    driver: Driver, opened: list[BringInDesk], tmp_path: Path
) -> None:
    before = driver.board.part
    driver.window.host.bring_in(plates(tmp_path))
    QTest.keyClick(opened[0], Qt.Key.Key_Escape)
    assert not opened[0].isVisible()
    assert driver.board.part is before
    driver.settle(20)
    assert not opened[0].bringing.going


def test_changes_on_the_board_are_asked_about(
    driver: Driver, opened: list[BringInDesk], tmp_path: Path
) -> None:
    desk = page(driver, opened, plates(tmp_path))
    QTest.mouseClick(desk.take, LEFT)
    again = page(driver, opened, plates(tmp_path))
    driver.answers.unsaved = "cancel"
    QTest.mouseClick(again.take, LEFT)
    assert again.isVisible()
    driver.answers.unsaved = "discard"
    QTest.mouseClick(again.take, LEFT)
    assert not again.isVisible()


def test_a_mark_is_pressed_on_the_drawing(
    driver: Driver, opened: list[BringInDesk], tmp_path: Path
) -> None:
    desk = page(driver, opened, plates(tmp_path))
    desk.tabs.setCurrentIndex(OUTCOME)
    mark = next(mark for mark in desk.view.marks() if len(mark.numbers) == 1)
    at = QPointF(*desk.view.camera.to_screen(mark.at)).toPoint()
    QTest.mouseClick(desk.view, LEFT, NONE, at)
    assert desk.tabs.currentIndex() == REPAIRS
    assert desk.tree.current() == mark.numbers[0]
    assert desk.view.chosen == mark.numbers[0]


def test_the_drawing_is_moved_by_keys_and_shown_whole_again(
    driver: Driver, opened: list[BringInDesk], tmp_path: Path
) -> None:
    desk = page(driver, opened, plates(tmp_path))
    view = desk.view
    whole = view.camera
    for key in (Qt.Key.Key_Plus, Qt.Key.Key_Left, Qt.Key.Key_Up):
        QTest.keyClick(view, key)
    assert view.camera.scale > whole.scale
    assert view.camera.center != whole.center
    QTest.keyClick(view, Qt.Key.Key_0)
    assert view.camera == whole


def test_before_and_after_differ_in_the_picture(
    driver: Driver, opened: list[BringInDesk], tmp_path: Path
) -> None:
    desk = page(driver, opened, plates(tmp_path))
    before = desk.view.grab().toImage()
    desk.after.click()
    after = desk.view.grab().toImage()
    assert before != after
    desk.after.click()
    assert desk.view.grab().toImage() == before
