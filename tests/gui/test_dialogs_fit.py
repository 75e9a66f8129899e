"""Every dialog on a small screen at twice the size: 1366 by 768 pixels are 683 by 384 of ours."""

from __future__ import annotations

import os
import subprocess
import sys
from importlib import import_module
from pathlib import Path

import pytest
from PySide6.QtWidgets import (
    QComboBox,
    QDialog,
    QDialogButtonBox,
    QLabel,
    QMessageBox,
    QPushButton,
    QWidget,
)

import sketcher.desk.dialogs as folder
from sketcher.board.files.cutting_export import CLOSED, PIECES
from sketcher.desk.dialogs.choice_question import ChoiceQuestion
from sketcher.desk.dialogs.cutting_desk import CuttingDesk
from sketcher.desk.dialogs.drawing_desk import DrawingDesk
from sketcher.desk.dialogs.findings_question import FindingsQuestion
from sketcher.desk.dialogs.form import FormDialog
from sketcher.desk.dialogs.handout_desk import HandoutDesk
from sketcher.desk.dialogs.key_list import KeyList
from sketcher.desk.dialogs.practice_list import PracticeList
from sketcher.desk.dialogs.preferences import Preferences
from sketcher.desk.dialogs.record_desk import RecordDesk
from sketcher.desk.dialogs.recovery import RecoveryDialog
from sketcher.desk.dialogs.roomy import FRAME, RoomyDialog, title_width, whole_title
from sketcher.desk.help.help_window import HelpWindow
from sketcher.drafting.page import Page
from sketcher.lesson.practice import practice_problems
from tests.gui.class_desk import class_desk
from tests.gui.driver import Driver, wait_until
from tests.gui.foreign_desk import foreign_desk

WIDE, HIGH = 683, 384


def all_dialogs(driver: Driver) -> list[QDialog]:
    """One of each kind of dialog, with much in it."""
    from sketcher.board.files.measured_record import Recording

    window, board = driver.window, driver.board
    fields = tuple((f"f{n}", f"A rather long label, number {n}", "0") for n in range(12))
    return [
        FormDialog("Describe the part", fields, "A caution. " * 12, window),
        Preferences(board.bench.settings, window),
        KeyList(window.commands.actions.values(), window),
        FindingsQuestion("Export the cutting file", "This is open. " * 9, ["It is."] * 30, "Go",
                         window),
        ChoiceQuestion("Export a DXF for cutting", "Contours in the DXF", (CLOSED, PIECES), window),
        ChoiceQuestion("Short", "Which", ("a" * 60, "b"), window),
        RecoveryDialog((), window),
        HelpWindow(window),
        DrawingDesk(board, lambda name: True, window),
        CuttingDesk(board, window.look, (), lambda values: True, window),
        foreign_desk(driver),
        *(class_desk(driver, page) for page in range(3)),
        PracticeList(practice_problems(), {"02-lug-plate"}, window),
        HandoutDesk("A problem", Page("drawing", (297.0, 210.0), "ISO", ()), window),
        RecordDesk(board, window.host, Recording(board.part), window.look, window),
        whole_title(QMessageBox(QMessageBox.Icon.Question, "The part cannot be saved", "Why?",
                                QMessageBox.StandardButton.Ok, window)),
    ]


def on_screen(widget: QWidget, dialog: QDialog) -> bool:
    corner = widget.mapTo(dialog, widget.rect().bottomRight())
    first = widget.mapTo(dialog, widget.rect().topLeft())
    return first.x() >= 0 and first.y() >= 0 \
        and corner.x() < dialog.width() and corner.y() < dialog.height()


def check(dialog: QDialog, room: tuple[int, int]) -> None:
    name = type(dialog).__name__
    wide, high = room[0] - FRAME.width(), room[1] - FRAME.height()
    assert dialog.width() <= wide, (name, dialog.width())
    assert dialog.height() <= high, (name, dialog.height())
    assert dialog.width() >= min(title_width(dialog), wide), name
    for listed in dialog.findChildren(QComboBox):
        if listed.isVisible():  # its longest entry, and as much again as its arrow takes
            longest = max((listed.fontMetrics().horizontalAdvance(listed.itemText(row))
                           for row in range(listed.count())), default=0)
            assert listed.width() >= longest + listed.height() // 2, (name, listed.currentText())
            assert listed.height() >= listed.sizeHint().height(), name
    boxes = dialog.findChildren(QDialogButtonBox)
    buttons = [b for box in boxes for b in box.findChildren(QPushButton)]
    for button in buttons or dialog.findChildren(QPushButton):
        if button.isVisible():
            assert on_screen(button, dialog), (name, button.text())
            said = button.fontMetrics().horizontalAdvance(button.text().replace("&", ""))
            assert button.width() >= said, (name, button.text())
    for label in dialog.findChildren(QLabel):
        if label.isVisible() and label.wordWrap() and label.width() > 0 and label.text():
            assert label.height() >= label.heightForWidth(label.width()) - 1, (name, label.text())


def test_dialogs_fit_here(driver: Driver) -> None:
    driver.window.filing.open_demo("gate-strap.profile.json")
    driver.settle(20)
    size = driver.window.screen().availableGeometry().size()
    worker = driver.board.bench.worker
    for dialog in all_dialogs(driver):
        dialog.show()
        # what is worked out beside the window fills the page, and is laid out a turn later
        wait_until(lambda: worker.current is None)
        driver.settle(20)
        check(dialog, size.toTuple())
        dialog.close()
        dialog.deleteLater()
    driver.settle(20)


def test_no_dialog_is_left_out(driver: Driver) -> None:
    for path in Path(folder.__file__).parent.glob("*.py"):
        import_module(f"{folder.__name__}.{path.stem}")
    tried = all_dialogs(driver)
    assert set(RoomyDialog.__subclasses__()) <= {type(dialog) for dialog in tried}
    for dialog in tried:
        dialog.deleteLater()


@pytest.mark.skipif("SKETCHER_SMALL" in os.environ, reason="is run from the test below")
def test_dialogs_fit_at_twice_the_size(tmp_path: Path) -> None:
    """The same on a screen of 683 by 384: another process, for a screen cannot be changed."""
    screens = tmp_path / "screens.json"
    screens.write_text('{"screens": [{"name": "small", "x": 0, "y": 0, "width": 683, '
                       '"height": 384, "logicalDpi": 96, "logicalBaseDpi": 96, "dpr": 2}]}')
    run = subprocess.run(
        [sys.executable, "-m", "pytest", "-q", "--assert=plain", "-p", "no:xdist", "-p",
         "no:cacheprovider",
         f"{__file__}::test_dialogs_fit_here"],
        env={**os.environ, "QT_QPA_PLATFORM": f"offscreen:configfile={screens}",
             "SKETCHER_SMALL": "1"},
        capture_output=True, text=True, timeout=300, check=False)
    assert run.returncode == 0, run.stdout[-3000:]
