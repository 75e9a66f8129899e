"""One of several, from a list that drops down."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtWidgets import QComboBox, QDialogButtonBox, QLabel, QVBoxLayout, QWidget

from sketcher.desk.dialogs.roomy import RoomyDialog


class ChoiceQuestion(RoomyDialog):
    """Asks for one of several; as wide as the longest of them.

    Parameters
    ----------
    title, label : str
        Of the window, and the words above the list.
    choices : sequence of str
        The first one is offered.
    parent : QWidget
    """

    def __init__(
        self, title: str, label: str, choices: Sequence[str], parent: QWidget
    ) -> None:
        super().__init__(parent)
        self.setWindowTitle(title)
        self.list = QComboBox(self)
        self.list.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
        self.list.addItems(list(choices))
        words = QLabel(f"&{label}", self)
        words.setBuddy(self.list)
        self.list.setAccessibleName(label)
        standard = QDialogButtonBox.StandardButton
        buttons = QDialogButtonBox(standard.Ok | standard.Cancel, self)
        buttons.accepted.connect(self.accept)
        buttons.rejected.connect(self.reject)
        outer = QVBoxLayout(self)
        for piece in (words, self.list):
            outer.addWidget(piece)
        outer.addStretch(1)
        outer.addWidget(buttons)
        self.list.setFocus()


def choose(title: str, label: str, choices: Sequence[str], parent: QWidget) -> str | None:
    """Ask for one of several; None when the person thinks better of it."""
    question = ChoiceQuestion(title, label, choices, parent)
    given = bool(question.exec())
    chosen = question.list.currentText()
    question.deleteLater()
    return chosen if given else None
