"""What the window keeps from one run to the next, files dropped on it, and files open before."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from PySide6.QtCore import QMimeData, QPoint, QPointF, QRect, Qt, QUrl
from PySide6.QtGui import QDragEnterEvent, QDropEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QMenu

from sketcher.board.files import last_seen
from sketcher.board.files.last_seen import LastSeen, load_last_seen, save_last_seen
from sketcher.board.settings import load_settings
from sketcher.desk.theme import dress
from sketcher.desk.window_frame import WindowFrame
from sketcher.desk.window_memory import NAME, WindowMemory, in_sight, recalled
from sketcher.part.edits.describe import describe
from sketcher.part.file_text import write
from sketcher.part.store import save
from sketcher.part.value import Part
from tests.gui.driver import NONE, Driver
from tests.rough import holed_plate

CLOSE = (41.5, (12.25, -3.5))
"""Pixels per millimetre, and the place of the plate in the middle."""
MAIN, BESIDE = QRect(0, 0, 1366, 728), QRect(1366, 0, 1920, 1040)


def made(qapp: QApplication, family: str, folder: Path) -> tuple[WindowFrame, Driver]:
    """A run of the program up to its first event."""
    from sketcher.desk.window import MainWindow

    settings, _ = load_settings(folder / "settings.json")
    look = dress(qapp, settings["look"], family)
    frame = WindowFrame((), (), recalled(folder), load_last_seen(folder))
    frame.unfold()
    desk = MainWindow(settings, folder, look, frame)
    desk.readout.hide()  # alone it is wider than the screen of the offscreen platform
    frame.take(desk, desk.may_close)
    desk.begin(None)
    qapp.processEvents()
    return frame, Driver(desk, qapp)


def ended(frame: WindowFrame, driver: Driver) -> None:
    frame.close()
    driver.window.shut()
    frame.deleteLater()
    driver.app.processEvents()


def test_size_place_panes_and_look_come_back(
    qapp: QApplication, family: str, leaks: None, tmp_path: Path
) -> None:
    frame, driver = made(qapp, family, tmp_path)
    driver.new()
    driver.act("view.inspection")  # the offscreen screen is 800 wide
    frame.showNormal()
    frame.resize(740, 640)
    frame.move(15, 25)
    driver.settle(10)
    split = driver.window.middle.split
    split.moveSplitter(210, 1)
    driver.settle(10)
    sizes = split.sizes()
    driver.act("view.look")
    assert not driver.window.inspection.isVisible()
    before = frame.geometry()
    ended(frame, driver)
    frame, driver = made(qapp, family, tmp_path)
    driver.new()
    assert frame.geometry() == before
    assert not frame.isMaximized()
    assert driver.window.middle.split.sizes()[0] == pytest.approx(sizes[0], abs=2)
    assert driver.window.look.name == "paper"
    assert not driver.window.inspection.isVisible()
    driver.act("view.inspection")
    assert driver.window.inspection.isVisible()
    driver.settle(10)
    assert driver.window.inspection.width() > 100
    ended(frame, driver)


def left_with(qapp: QApplication, family: str, folder: Path, part: Part, answer: str) -> Path:
    """A run in which a file is opened, looked at closely, changed, and left with an answer."""
    path = folder / "plate.profile.json"
    save(part, path)
    frame, driver = made(qapp, family, folder)
    assert not driver.window.start.go_on.isVisible()
    driver.window.filing.open_path(path)
    driver.settle(10)
    driver.view.see(*CLOSE)
    driver.board.bench.do("Describe", lambda part: describe(part, notes=("kept",)))
    driver.answers.unsaved = answer
    ended(frame, driver)
    return path


@pytest.mark.parametrize("answer", ["save", "discard"])
def test_the_part_of_last_time_is_gone_on_with_where_it_was_left(
    qapp: QApplication, family: str, leaks: None, tmp_path: Path, answer: str
) -> None:
    path = left_with(qapp, family, tmp_path, holed_plate(9.0).having(name="Lid & plate"), answer)
    for run in range(2):  # a run in which nothing is opened takes the offer away from nobody
        frame, driver = made(qapp, family, tmp_path)
        page = driver.window.start
        for one in (page, frame.page):  # the frame shows the page before the desk is there
            assert one.go_on.text() == "&Go on with Lid && plate"
        assert page.go_on.isVisible()
        assert driver.window.window().focusWidget() is page.go_on
        if run == 0:
            ended(frame, driver)
    driver.key(Qt.Key.Key_Return)
    driver.settle(20)
    assert driver.board.bench.path == path
    assert driver.board.part.notes == (("kept",) if answer == "save" else ())
    assert not driver.board.bench.is_changed
    camera = driver.view.sheet.camera
    assert (camera.scale, camera.center) == CLOSE
    assert driver.view.hasFocus()
    driver.act("view.fit")
    assert driver.view.sheet.camera.scale < CLOSE[0]
    driver.act("file.start")
    assert not page.go_on.isVisible()  # the way back to the open part stands in its place
    assert page.back.text() == "&Back to Lid && plate"
    ended(frame, driver)


def test_a_part_that_has_moved_out_of_view_is_shown_whole(
    qapp: QApplication, family: str, leaks: None, tmp_path: Path
) -> None:
    path = left_with(qapp, family, tmp_path, holed_plate(9.0), "discard")
    plate = holed_plate(9.0)
    far = {name: (x + 5000.0, y) for name, (x, y) in plate.points.items()}
    save(plate.having(points=far, bindings={}), path)
    frame, driver = made(qapp, family, tmp_path)
    QTest.mouseClick(driver.window.start.go_on, Qt.MouseButton.LeftButton)
    driver.settle(20)
    assert driver.view.sheet.camera.center[0] > 4900.0
    assert driver.view.sheet.camera.meets(driver.view.sheet.around())
    ended(frame, driver)


def test_a_file_that_is_gone_is_not_offered(
    qapp: QApplication, family: str, leaks: None, tmp_path: Path
) -> None:
    path = left_with(qapp, family, tmp_path, holed_plate(9.0), "discard")
    frame, driver = made(qapp, family, tmp_path)
    path.unlink()  # while the page is up
    QTest.mouseClick(driver.window.start.go_on, Qt.MouseButton.LeftButton)
    driver.settle(10)
    assert driver.window.first.covers
    assert not driver.window.start.go_on.isVisible()
    ended(frame, driver)
    frame, driver = made(qapp, family, tmp_path)
    assert not driver.window.start.go_on.isVisible()
    assert not frame.page.go_on.isVisible()
    ended(frame, driver)


@pytest.mark.parametrize("change", [
    {"scale": 0}, {"scale": "wide"}, {"scale": float("inf")}, {"center": [1]}, {"center": None},
    {"path": 3}, {"name": None}, {"scale": 10**400},
])
def test_a_damaged_view_of_last_time_is_none(tmp_path: Path, change: dict[str, object]) -> None:
    there = tmp_path / "plate.profile.json"
    save(holed_plate(9.0), there)
    save_last_seen(LastSeen(str(there), "Plate", 3.0, (1.0, 2.0)), tmp_path)
    kept = tmp_path / last_seen.NAME
    assert load_last_seen(tmp_path) == LastSeen(str(there), "Plate", 3.0, (1.0, 2.0))
    kept.write_text(json.dumps(json.loads(kept.read_text()) | change))
    assert load_last_seen(tmp_path) is None


def test_a_window_of_a_screen_that_is_gone_comes_into_sight() -> None:
    wanted = QRect(2000, 100, 1500, 900)
    assert in_sight(wanted, [MAIN, BESIDE]) == wanted
    there = in_sight(wanted, [MAIN])
    assert MAIN.contains(there)
    half_out = in_sight(QRect(-900, 20, 1000, 600), [MAIN])
    assert MAIN.contains(half_out)
    above = in_sight(QRect(100, -300, 800, 600), [MAIN])  # its upper edge cannot be taken
    assert above.y() == 0
    kept = QRect(1000, 300, 900, 500)  # partly out at the right, as a person may want it
    assert in_sight(kept, [MAIN]) == kept
    assert in_sight(QRect(0, 0, 1, 1), [MAIN]).width() >= 320


@pytest.mark.parametrize("text", ["", "[]", "{", '{"place": [1, 2], "maximized": 3}',
                                  '{"place": ["a", 1, 2, 3], "maximized": true, "sizes": []}',
                                  '{"place": [1, 2, 3, 99999999], "maximized": 0, "sizes": []}'])
def test_a_damaged_memory_is_none(tmp_path: Path, text: str) -> None:
    (tmp_path / NAME).write_text(text)
    assert recalled(tmp_path) == WindowMemory()


def test_panes_do_not_swallow_the_sheet(driver: Driver) -> None:
    before = driver.window.middle.split.sizes()
    for sizes in ((), (1, 2), (500, 0, 500), (-4, 900, 3)):
        driver.window.middle.divide(sizes)
        assert driver.window.middle.split.sizes() == before


# Files.


def drop(driver: Driver, *paths: Path) -> bool:
    """Drag files over the sheet and let them go; return whether they were welcome."""
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(path)) for path in paths])
    copy, left = Qt.DropAction.CopyAction, Qt.MouseButton.LeftButton
    enter = QDragEnterEvent(QPoint(300, 300), copy, data, left, NONE)
    QApplication.sendEvent(driver.window, enter)
    if enter.isAccepted():
        QApplication.sendEvent(driver.window, QDropEvent(QPointF(300, 300), copy, data, left, NONE))
        driver.settle(10)
    return enter.isAccepted()


def test_a_part_that_is_dropped_is_opened(driver: Driver, tmp_path: Path) -> None:
    path = tmp_path / "plate.profile.json"
    save(holed_plate(9.0), path)
    assert not driver.view.viewport().acceptDrops()  # or the sheet would take them from the window
    assert drop(driver, path)
    assert driver.board.bench.path == path
    assert driver.view.isVisible()


def test_other_files_are_told_once_and_change_nothing(driver: Driver, tmp_path: Path) -> None:
    driver.new()
    before = driver.board.part
    picture, text = tmp_path / "photo.png", tmp_path / "broken.profile.json"
    picture.write_bytes(b"x")
    text.write_text("{")
    assert drop(driver, picture)
    (told,) = driver.answers.told
    assert "photo.png" in told
    assert ".profile.json" in told
    drop(driver, text)
    assert len(driver.answers.told) == 2
    other = tmp_path / "two.profile.json"
    other.write_text(write(Part()))
    drop(driver, text, other)
    assert "one is open at a time" in driver.answers.told[2]
    assert driver.board.part is before


def test_files_open_before_stand_in_the_menu(driver: Driver, tmp_path: Path) -> None:
    menu = next(m for m in driver.window.menuBar().findChildren(QMenu) if "recent" in m.title())
    menu.aboutToShow.emit()
    assert not menu.actions()[0].isEnabled()
    paths = [tmp_path / f"{name}.profile.json" for name in ("one", "two")]
    for path in paths:
        save(holed_plate(9.0), path)
        driver.window.filing.open_path(path)
    driver.settle(5)
    menu.aboutToShow.emit()
    assert [a.toolTip() for a in menu.actions()] == [str(paths[1]), str(paths[0])]
    paths[1].unlink()
    menu.aboutToShow.emit()
    (left,) = menu.actions()
    left.trigger()
    assert driver.board.bench.path == paths[0]
    assert driver.window.filing.recent.paths[0] == str(paths[0])
