"""A form of text fields that an action asks for."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QFormLayout,
    QLabel,
    QLineEdit,
    QVBoxLayout,
    QWidget,
)


class Form(QDialog):
    """Fields are ``(name, label, value)``; `caution` is shown below them where there is one."""

    def __init__(
        self, title: str, fields: Sequence[tuple[str, str, str]], caution: str, parent: QWidget
    ) -> None:
        super().__init__(parent)
        self.setWindowTitle(title)
        outer = QVBoxLayout(self)
        form = QFormLayout()
        outer.addLayout(form)
        self.edits: dict[str, QLineEdit] = {}
        for name, label, value in fields:
            edit = QLineEdit(value, self)
            edit.setAccessibleName(label)
            self.edits[name] = edit
            form.addRow(label, edit)
        if caution:
            words = QLabel(caution, self)
            words.setWordWrap(True)
            words.setObjectName("faint")
            outer.addWidget(words)
        buttons = QDialogButtonBox(
            QDialogButtonBox.StandardButton.Ok | QDialogButtonBox.StandardButton.Cancel, self
        )
        buttons.accepted.connect(self.accept)
        buttons.rejected.connect(self.reject)
        outer.addWidget(buttons)

    def values(self) -> dict[str, str]:
        """Return what the fields hold, by name."""
        return {name: edit.text() for name, edit in self.edits.items()}
