"""The dialogs that ask for a file or a folder, answered as a person would."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication, QFileDialog, QMainWindow

from sketcher.desk.window_host import DeskHost


@pytest.fixture
def host(qapp: QApplication, tmp_path: Path) -> Iterator[DeskHost]:
    window = QMainWindow()
    made = DeskHost(window)
    made.folder = tmp_path
    yield made
    window.deleteLater()


def answered(ask: Callable[[], Path | None], name: str | None) -> Path | None:
    """Ask, with a name typed into the dialog; None leaves it."""
    def answer() -> None:
        dialog = QApplication.activeModalWidget()
        assert isinstance(dialog, QFileDialog)
        if name is None:
            dialog.reject()
            return
        dialog.selectFile(name)
        dialog.accept()

    QTimer.singleShot(0, answer)
    return ask()


def test_a_folder_is_chosen_and_the_next_question_begins_there(
    host: DeskHost, tmp_path: Path
) -> None:
    (tmp_path / "7b").mkdir()
    (tmp_path / "7b" / "roster.csv").write_text("number\n")
    assert answered(lambda: host.ask_folder("Folder"), None) is None
    assert host.folder == tmp_path
    assert answered(lambda: host.ask_folder("Folder"), str(tmp_path / "7b")) == tmp_path / "7b"
    assert host.folder == tmp_path / "7b"
    given = answered(lambda: host.ask_path("Roster", False, ".csv"), "roster.csv")
    assert given == tmp_path / "7b" / "roster.csv"


def test_a_file_to_save_gets_its_suffix(host: DeskHost, tmp_path: Path) -> None:
    def ask() -> Path | None:
        return host.ask_path("Save", True, ".marking.json", "class.marking.json")

    assert answered(ask, None) is None
    assert answered(ask, "7b") == tmp_path / "7b.marking.json"
    (tmp_path / "7b.marking.json").write_text("{}")
    asked: list[str] = []
    host.confirm = lambda title, text, yes: bool(asked.append(text))
    assert answered(ask, "7b") is None
    assert asked == ["7b.marking.json is there already. Replace it?"]
