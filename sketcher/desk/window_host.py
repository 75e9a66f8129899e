"""What actions ask of the window: files, texts, choices, and what to show."""

from __future__ import annotations

import os
from collections.abc import Callable, Collection, Mapping, Sequence
from pathlib import Path

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QFileDialog, QMainWindow, QMessageBox

from sketcher.board.window_port import Answer, Follow, Take
from sketcher.desk.desktop_clipboard import fill, held, pointed_at
from sketcher.desk.dialogs.choice_question import choose
from sketcher.desk.dialogs.findings_question import FindingsQuestion
from sketcher.desk.dialogs.form import FormDialog
from sketcher.desk.dialogs.roomy import whole_title
from sketcher.desk.scene.scene_view import SceneView
from sketcher.geometry.curves import XY


class DeskHost(QObject):
    """Answers the board's questions with dialogs on top of the window."""

    def __init__(self, window: QMainWindow) -> None:
        super().__init__(window)
        self.window = window
        self.view: SceneView | None = None
        self.shows: dict[str, Callable[[], object]] = {}
        self.wear: Callable[[str], object] | None = None
        self.taking: Callable[[Path], object] | None = None
        self.cutting: Callable[[Collection[str], Take], bool] | None = None
        self.folder = Path.home()

    def ask_path(
        self, title: str, save: bool, suffix: str, suggestion: str = ""
    ) -> Path | None:
        """Ask for a file to open, or to save to; the suffix is added where it is missing."""
        dialog = self._file_dialog(title)
        dialog.setNameFilters([f"*{suffix}", "*"])
        if save:
            dialog.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
            dialog.selectFile(suggestion)
        else:
            dialog.setFileMode(QFileDialog.FileMode.ExistingFile)
        path = _chosen(dialog)
        if path is None:
            return None
        self.folder = path.parent
        if save and not path.name.endswith(suffix):
            path = path.with_name(path.name + suffix)
            if path.exists() and not self.confirm(
                title, f"{path.name} is there already. Replace it?", "Replace"
            ):
                return None
        return path

    def ask_folder(self, title: str) -> Path | None:
        """Ask for a folder."""
        dialog = self._file_dialog(title)
        dialog.setFileMode(QFileDialog.FileMode.Directory)
        dialog.setOption(QFileDialog.Option.ShowDirsOnly)
        folder = _chosen(dialog)
        self.folder = folder or self.folder
        return folder

    def _file_dialog(self, title: str) -> QFileDialog:
        dialog = QFileDialog(self.window, title, str(self.folder))
        if os.environ.get("QT_QPA_PLATFORM") == "offscreen":
            dialog.setOption(QFileDialog.Option.DontUseNativeDialog)
        return dialog

    def ask_choice(self, title: str, label: str, choices: Sequence[str]) -> str | None:
        """Ask for one of several."""
        return choose(title, label, choices, self.window)

    def ask_form(
        self, title: str, fields: Sequence[tuple[str, str, str]], caution: str = "",
        take: Take | None = None, long: Collection[str] = (), follow: Follow | None = None,
    ) -> dict[str, str] | None:
        """Ask for several values; the form stays open while what they are for is refused."""
        form = FormDialog(title, fields, caution, self.window, take, long, follow)
        given = form.exec()
        values = form.values()
        form.deleteLater()
        return values if given else None

    def confirm(self, title: str, text: str, yes: str) -> bool:
        """Ask whether to go on."""
        box = QMessageBox(QMessageBox.Icon.Question, title, text, parent=self.window)
        go = box.addButton(yes, QMessageBox.ButtonRole.AcceptRole)
        box.addButton(QMessageBox.StandardButton.Cancel)
        box.setDefaultButton(QMessageBox.StandardButton.Cancel)
        whole_title(box).exec()
        sure = box.clickedButton() is go
        box.deleteLater()
        return sure

    def ask_despite(self, title: str, opening: str, findings: Sequence[str], yes: str) -> bool:
        """Show findings in words and ask whether to go on all the same."""
        question = FindingsQuestion(title, opening, findings, yes, self.window)
        given = bool(question.exec())
        question.deleteLater()
        return given

    def ask_cutting(self, despite: Collection[str], take: Take) -> bool:
        """Show the page of a cut."""
        return self.cutting is not None and self.cutting(despite, take)

    def ask_unsaved(self, name: str) -> Answer:
        """Ask what to do with changes that are not in a file."""
        box = QMessageBox(
            QMessageBox.Icon.Warning, "Unsaved work", f"{name} has changes that are in no file.",
            parent=self.window,
        )
        buttons = QMessageBox.StandardButton
        box.setStandardButtons(buttons.Save | buttons.Discard | buttons.Cancel)
        box.setDefaultButton(buttons.Save)
        chosen = whole_title(box).exec()
        box.deleteLater()
        if chosen == buttons.Save:
            return "save"
        return "discard" if chosen == buttons.Discard else "cancel"

    def tell(self, title: str, text: str) -> None:
        """Show a text that has to be read."""
        box = QMessageBox(QMessageBox.Icon.Information, title, text, parent=self.window)
        whole_title(box).exec()
        box.deleteLater()

    def fill_clipboard(self, contents: Mapping[str, bytes]) -> None:
        """Put contents on the desktop's clipboard."""
        fill(contents)

    def clipboard(self, media: str) -> bytes | None:
        """Return what the desktop's clipboard holds of a media type."""
        return held(media)

    def paste_place(self) -> XY:
        """Return the pointer's place on the sheet, or the middle of what is seen of it."""
        return (0.0, 0.0) if self.view is None else pointed_at(self.view)

    def fit_part(self) -> None:
        """Show the whole part."""
        if self.view is not None:
            self.view.fit()

    def fit_selection(self) -> None:
        """Show what is selected as large as fits."""
        if self.view is not None:
            self.view.fit(self.view.board.bench.selection.ids)

    def zoom(self, factor: float) -> None:
        """Zoom about the keyboard's pointer or the middle of the view."""
        if self.view is not None:
            self.view.zoom(factor)

    def set_look(self, name: str) -> None:
        """Show another look."""
        if self.wear is not None:
            self.wear(name)

    def show_dialog(self, name: str) -> None:
        """Open a dialog by name; the window has registered them."""
        show = self.shows.get(name)
        if show is not None:
            show()

    def bring_in(self, path: Path) -> None:
        """Show a foreign drawing and what becomes of it."""
        self.folder = path.parent
        if self.taking is not None:
            self.taking(path)

    def close(self) -> None:
        """Close the window."""
        self.window.window().close()


def _chosen(dialog: QFileDialog) -> Path | None:
    """Show a dialog of files and return what was chosen; None when nothing was."""
    chosen = dialog.selectedFiles() if dialog.exec() else []
    dialog.deleteLater()
    return Path(chosen[0]) if chosen else None
