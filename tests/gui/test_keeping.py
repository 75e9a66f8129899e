"""Nothing is lost: recovery after a kill, closing, two windows on one file, crashes told."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest
from PySide6.QtCore import QTimer
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QPushButton

from sketcher.desk.crash import Watch, wording
from sketcher.desk.dialogs.recovery import DISK, RecoveryDialog, describe
from sketcher.desk.keeper import Claim
from sketcher.errors import FileError
from sketcher.part.atomic import digest
from sketcher.part.autosave import NOTE_SUFFIX, Recovery, key_of_file
from sketcher.part.store import load
from tests.gui.driver import LEFT, Driver
from tests.refusals import is_line

DRAWS = """
import os, sys
from pathlib import Path
from PySide6.QtCore import QTimer, QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from sketcher.board.settings import Settings
from sketcher.desk.theme import dress, load_font
from sketcher.desk.window import MainWindow
from tests.refusals import is_line

app = QApplication([])
look = dress(app, "dye", load_font())
window = MainWindow(Settings(), Path(sys.argv[1]), look)
window.show()
window.begin(None)
window.filing.new("mm")
window.board.use("outline")
port = window.view.viewport()
for x, y in ((100, 100), (200, 100), (200, 180)):
    QTest.mouseMove(port, QPoint(x, y))
    QTest.mouseClick(port, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, QPoint(x, y))
QTest.qWait(2600)
print(len(window.board.part.curves), flush=True)
QTest.mouseMove(port, QPoint(150, 250))  # in the middle of the next piece
app.exec()
"""


def click_in_dialog(text: str, seen: list[str]) -> None:
    """Press a button of the dialog that is open now."""
    dialog = QApplication.activeModalWidget()
    if dialog is None:
        QTimer.singleShot(50, lambda: click_in_dialog(text, seen))
        return
    seen.append(dialog.windowTitle())
    for button in dialog.findChildren(QPushButton):
        if text in button.text():
            QTest.mouseClick(button, LEFT)
            return


@pytest.mark.e2e
@pytest.mark.slow
def test_work_survives_a_kill_in_the_middle_of_drawing(driver: Driver, tmp_path: Path) -> None:
    data = driver.window.folder
    child = subprocess.Popen(
        [sys.executable, "-c", DRAWS, str(data)], stdout=subprocess.PIPE, text=True,
        env={**os.environ, "QT_QPA_PLATFORM": "offscreen"}, cwd=Path(__file__).parents[2],
    )
    assert child.stdout is not None
    assert child.stdout.readline().strip() == "2"
    child.send_signal(signal.SIGKILL)
    child.wait(10)
    child.stdout.close()
    kept = list((data / "recovery").glob("*.profile.json"))
    assert len(kept) == 1
    assert len(load(kept[0]).curves) == 2
    seen: list[str] = []
    QTimer.singleShot(50, lambda: click_in_dialog("Go on", seen))
    assert driver.window.filing.offer_recovery()
    assert seen == ["Unsaved work was kept"]
    assert len(driver.board.part.curves) == 2
    assert driver.board.bench.is_changed  # still to be saved
    assert not kept[0].exists()
    mine = list((data / "recovery").glob("*.profile.json"))
    assert len(mine) == 1  # and kept again under this process
    driver.answers.path = tmp_path / "mine.profile.json"
    driver.act("file.save")
    assert list((data / "recovery").glob("*.profile.json")) == []
    assert len(load(driver.answers.path).curves) == 2


def drawn(driver: Driver) -> None:
    driver.new()
    driver.tool("rectangle")
    driver.click(0, 0)
    driver.click(40, 20)


def test_closing_asks_and_can_be_thought_better_of(driver: Driver) -> None:
    drawn(driver)
    driver.answers.unsaved = "cancel"
    driver.window.close()
    assert driver.window.isVisible()
    driver.answers.unsaved = "discard"
    driver.window.close()
    assert not driver.window.isVisible()


def test_closing_can_save(driver: Driver, tmp_path: Path) -> None:
    drawn(driver)
    driver.answers.unsaved, driver.answers.path = "save", tmp_path / "plate.profile.json"
    driver.window.close()
    assert not driver.window.isVisible()
    assert len(load(driver.answers.path).curves) == 4


def test_a_save_that_fails_keeps_the_window_open(driver: Driver, tmp_path: Path) -> None:
    drawn(driver)
    driver.answers.unsaved = "save"
    driver.answers.path = tmp_path / "missing" / "plate.profile.json"
    driver.window.close()
    assert driver.window.isVisible()
    assert driver.board.bench.is_changed
    assert driver.answers.told


def test_two_windows_on_one_file_are_noticed(driver: Driver, tmp_path: Path) -> None:
    drawn(driver)
    path = tmp_path / "plate.profile.json"
    driver.answers.path = path
    driver.act("file.save")
    other = Claim(driver.window.folder / "open")
    assert is_line(other.take(path))
    driver.window.filing.claim.leave()
    assert other.take(path) == "" or other.take(None) == ""
    other.leave()
    again = Claim(driver.window.folder / "open")
    assert again.take(path) == ""
    third = Claim(driver.window.folder / "open")
    assert third.take(path) != ""
    again.leave()


def test_a_file_changed_elsewhere_is_said_and_asked_about(driver: Driver, tmp_path: Path) -> None:
    drawn(driver)
    path = tmp_path / "plate.profile.json"
    driver.answers.path = path
    driver.act("file.save")
    text = path.read_text("utf-8").replace('"name": "Plate"', '"name": "Other"')
    path.write_text(text, "utf-8")
    driver.window.filing.look_at_disk()
    assert "changed by another" in driver.board.bench.message.text
    driver.tool("circle")
    driver.click(20, 10)
    driver.click(24, 10)
    driver.answers.sure = False
    driver.act("file.save")
    assert path.read_text("utf-8") == text
    assert driver.board.bench.is_changed


def left_behind(driver: Driver, path: Path, version: str | None) -> Recovery:
    """A copy of the part on the bench as a run that was killed left it."""
    folder = driver.window.keeper.copies
    key = f"{key_of_file(path)}-1"
    folder.keep(key, driver.board.part, path, version)
    note = folder.folder / f"{key}{NOTE_SUFFIX}"
    note.write_text(json.dumps(json.loads(note.read_text()) | {"pid": 0}))
    (found,) = folder.left_behind()
    return found


def go_on_with_copy(driver: Driver) -> list[str]:
    """Take up the copy in the dialog; return the lines that it showed."""
    lines: list[str] = []

    def press() -> None:
        dialog = QApplication.activeModalWidget()
        assert isinstance(dialog, RecoveryDialog)
        lines.extend(dialog.entries.item(k).text() for k in range(dialog.entries.count()))
        click_in_dialog("Go on", [])

    QTimer.singleShot(50, press)
    assert driver.window.filing.offer_recovery()
    return lines


def asked(driver: Driver, sure: bool) -> list[str]:
    """Answer every question so; return the list to which questions will be added."""
    questions: list[str] = []

    def confirm(title: str, text: str, yes: str) -> bool:
        questions.append(text)
        return sure

    driver.window.host.confirm = confirm
    return questions


def test_a_recovered_part_asks_before_it_replaces_another_version(
    driver: Driver, tmp_path: Path
) -> None:
    drawn(driver)
    path = tmp_path / "plate.profile.json"
    driver.answers.path = path
    driver.act("file.save")
    version = driver.board.bench.digest
    copy = left_behind(driver, path, version)
    assert copy.original_is == "same"
    assert not describe(copy).endswith(DISK["other"])
    newer = path.read_text("utf-8").replace('"name": "Plate"', '"name": "Saved since"')
    path.write_text(newer, "utf-8")
    (line,) = go_on_with_copy(driver)
    assert line.endswith(DISK["other"])
    assert DISK["other"]
    (kept,) = driver.window.keeper.copies.all()  # again, under this run, and from that version
    assert (kept.key, kept.digest) == (driver.window.keeper.key, version)
    questions = asked(driver, sure=False)
    driver.act("file.save")
    assert len(questions) == 1
    assert path.read_text("utf-8") == newer
    assert driver.board.bench.is_changed
    asked(driver, sure=True)
    driver.act("file.save")
    assert len(load(path).curves) == 4
    assert load(path).name == "Plate"
    assert driver.window.keeper.copies.all() == ()


@pytest.mark.parametrize(("noted", "count"), [(True, 0), (False, 1)])
def test_a_recovered_part_goes_back_unasked_only_into_the_version_it_came_from(
    driver: Driver, tmp_path: Path, noted: bool, count: int
) -> None:
    drawn(driver)
    path = tmp_path / "plate.profile.json"
    driver.answers.path = path
    driver.act("file.save")
    left_behind(driver, path, driver.board.bench.digest if noted else None)
    go_on_with_copy(driver)
    questions = asked(driver, sure=True)
    driver.act("file.save")
    assert len(questions) == count
    assert not driver.board.bench.is_changed


def test_a_copy_says_which_version_it_came_from(driver: Driver, tmp_path: Path) -> None:
    drawn(driver)
    driver.answers.path = tmp_path / "plate.profile.json"
    driver.act("file.save")
    driver.tool("circle")
    driver.click(20, 10)
    driver.click(24, 10)
    driver.window.keeper.keep()
    (kept,) = driver.window.keeper.copies.all()
    assert kept.digest == digest(driver.answers.path.read_bytes())


def test_a_copy_that_cannot_be_kept_anew_is_not_removed(
    driver: Driver, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    drawn(driver)
    path = tmp_path / "plate.profile.json"
    driver.answers.path = path
    driver.act("file.save")
    copy = left_behind(driver, path, driver.board.bench.digest)

    def full(*args: object) -> None:
        raise FileError("recovery", "no space left on device", "")

    monkeypatch.setattr(driver.window.keeper.copies, "keep", full)
    go_on_with_copy(driver)
    assert copy.path.exists()


def test_recent_files_are_listed(driver: Driver, tmp_path: Path) -> None:
    drawn(driver)
    driver.answers.path = tmp_path / "plate.profile.json"
    driver.act("file.save")
    names = json.loads((driver.window.folder / "recent.json").read_text("utf-8"))
    assert names["paths"] == [str(driver.answers.path)]
    driver.act("file.start")
    entry = driver.window.start.recent_list.item(0)
    assert entry.text().startswith("plate")


def test_an_unreadable_file_is_told_and_changes_nothing(driver: Driver, tmp_path: Path) -> None:
    drawn(driver)
    before = driver.board.part
    bad = tmp_path / "bad.profile.json"
    bad.write_text('{"format": "part-profile", "version": 1, "unit": "furlong"}', "utf-8")
    assert not driver.window.filing.open_path(bad)
    assert driver.board.part is before
    assert "unit" in driver.answers.told[0]


def test_an_error_is_written_down_told_once_and_rescues(tmp_path: Path) -> None:
    watch = Watch(tmp_path)
    assert watch.start() == ""
    told: list[tuple[str, str]] = []
    rescued: list[int] = []
    watch.tell = lambda severity, text: told.append((severity, text))
    watch.rescue = lambda: rescued.append(1)
    try:
        sys.excepthook(ValueError, ValueError("deliberate"), None)
    finally:
        text = watch.path.read_text("utf-8")
        watch.stop()
    assert "deliberate" in text
    assert rescued == [1]
    assert told[0][0] == "error"
    assert "ValueError" in told[0][1]
    assert not watch.path.exists()  # a run that ended well leaves nothing


def test_what_can_be_mended_is_said_in_its_own_words() -> None:
    said = wording(FileError("part.json", "cannot be read", "check the path"))
    assert said == ("error", "part.json: cannot be read; check the path")


def test_run_starts_shows_and_ends(tmp_path: Path) -> None:
    code = (
        "import sys\n"
        "from PySide6.QtCore import QTimer\n"
        "from PySide6.QtWidgets import QApplication\n"
        "from sketcher.desk import app\n"
        "made = QApplication(['x'])\n"
        "def look(left=200):\n"
        "    if left and not (app.data_folder() / 'recent.json').exists():\n"
        "        QTimer.singleShot(100, lambda: look(left - 1))\n"
        "    else:\n"
        "        made.closeAllWindows()\n"
        "QTimer.singleShot(600, look)\n"
        "status = app.run([sys.argv[1]])\n"
        "print(status)\n"
    )
    from sketcher.shipped import shipped

    demo = str(shipped("demo_parts", "gate-strap.profile.json"))
    done = subprocess.run(
        [sys.executable, "-c", code, demo], capture_output=True, text=True, timeout=60,
        check=False, cwd=Path(__file__).parents[2],
        env={**os.environ, "QT_QPA_PLATFORM": "offscreen", "SKETCHER_DATA": str(tmp_path)},
    )
    assert done.returncode == 0, done.stderr
    assert done.stdout.split() == ["0"]
    assert (tmp_path / "recent.json").exists()
    assert not (tmp_path / "crash.txt").exists()


def test_start_imports_nothing_heavy() -> None:
    code = (
        "import sys\n"
        "import sketcher.desk.window\n"
        "from sketcher.board.board import Board\n"
        "Board()\n"
        "print(sorted({'scipy', 'shapely', 'ezdxf'} & set(sys.modules)))\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, timeout=60, check=False,
        cwd=Path(__file__).parents[2],
    )
    assert done.stdout.strip() == "[]", done.stderr


def test_without_a_screen_it_says_so_and_does_not_abort() -> None:
    env = {k: v for k, v in os.environ.items()
           if k not in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM")}
    done = subprocess.run(
        [sys.executable, "-c", "import sys; from sketcher.desk.app import run; sys.exit(run([]))"],
        capture_output=True, text=True, timeout=60, check=False, env=env,
        cwd=Path(__file__).parents[2],
    )
    assert done.returncode == 2
    assert "no screen" in done.stderr
