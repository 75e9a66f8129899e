"""A form of text fields that an action asks for."""

from __future__ import annotations

import sys
from collections.abc import Collection, Sequence

from PySide6.QtCore import Slot
from PySide6.QtWidgets import (
    QDialogButtonBox,
    QFormLayout,
    QLabel,
    QLineEdit,
    QPlainTextEdit,
    QVBoxLayout,
    QWidget,
)

from sketcher.board.window_port import Follow, Take
from sketcher.desk.dialogs.roomy import RoomyDialog, scrolled
from sketcher.errors import SketcherError

LINES = 4
"""Lines that are seen of a field that takes several."""


class FormDialog(RoomyDialog):
    """Fields are ``(name, label, value)``; `caution` is shown below them where there is one.

    Those named by `long` take several lines; what `follow` makes of the values is filled in.

    The form closes once `take` has taken the values; why it refuses them is shown below them.
    """

    def __init__(
        self, title: str, fields: Sequence[tuple[str, str, str]], caution: str, parent: QWidget,
        take: Take | None = None, long: Collection[str] = (), follow: Follow | None = None,
    ) -> None:
        super().__init__(parent)
        self.take, self.follow = take, follow
        self.setWindowTitle(title)
        outer = QVBoxLayout(self)
        body = QWidget(self)
        form = QFormLayout(body)
        form.setRowWrapPolicy(QFormLayout.RowWrapPolicy.WrapLongRows)
        form.setContentsMargins(0, 0, 0, 0)
        self.edits: dict[str, QLineEdit | QPlainTextEdit] = {}
        for name, label, value in fields:
            edit = self._lines(value) if name in long else QLineEdit(value, self)
            if isinstance(edit, QLineEdit):
                edit.textEdited.connect(self._follow)
            edit.setAccessibleName(label)
            self.edits[name] = edit
            form.addRow(label, edit)
        outer.addWidget(scrolled(body, title, self))
        self.reason = QLabel("", self)
        self.reason.setObjectName("reason")
        self.reason.setWordWrap(True)
        self.reason.setAccessibleDescription("Why the input was refused")
        self.reason.hide()
        outer.addWidget(self.reason)
        if caution:
            words = QLabel(caution, self)
            words.setWordWrap(True)
            words.setObjectName("faint")
            outer.addWidget(words)
        buttons = self.buttons = QDialogButtonBox(
            QDialogButtonBox.StandardButton.Ok | QDialogButtonBox.StandardButton.Cancel, self
        )
        buttons.accepted.connect(self.accept)
        buttons.rejected.connect(self.reject)
        outer.addWidget(buttons)
        first = next(iter(self.edits.values()), None)
        if isinstance(first, QLineEdit):  # to be typed over, as desktops do it
            first.setFocus()
            first.selectAll()

    def _lines(self, value: str) -> QPlainTextEdit:
        """Return a field of several lines; Tab leaves it, as it does every field."""
        edit = QPlainTextEdit(value, self)
        edit.setTabChangesFocus(True)
        frame = edit.frameWidth() + round(edit.document().documentMargin())
        edit.setFixedHeight(LINES * edit.fontMetrics().lineSpacing() + 2 * frame)
        return edit

    @Slot()
    def _follow(self) -> None:
        """Fill in what follows from what was typed."""
        try:
            made = self.follow(self.values()) if self.follow is not None else {}
            for name, text in made.items():
                edit = self.edits[name]
                if isinstance(edit, QLineEdit) and edit.text() != text:
                    edit.setText(text)
        except Exception:  # noqa: BLE001 - a slot only tells
            sys.excepthook(*sys.exc_info())

    def accept(self) -> None:
        """Hand the values over; stay open where they are refused."""
        try:
            if self.take is not None:
                self.take(self.values())
        except SketcherError as error:
            self.reason.setText(str(error))
            self.reason.show()
        except Exception:  # noqa: BLE001 - an override only tells
            sys.excepthook(*sys.exc_info())
        else:
            super().accept()

    def values(self) -> dict[str, str]:
        """Return what the fields hold, by name."""
        return {name: edit.text() if isinstance(edit, QLineEdit) else text_in(edit)
                for name, edit in self.edits.items()}


def text_in(edit: QPlainTextEdit) -> str:
    """Return the text of a field of several lines as typed; Qt's plain text has other spaces."""
    raw = edit.document().toRawText()
    return raw.replace("\N{PARAGRAPH SEPARATOR}", "\n").replace("\N{LINE SEPARATOR}", "\n")
