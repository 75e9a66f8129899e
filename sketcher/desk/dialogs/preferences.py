"""The preferences: one form made from the table of settings."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from PySide6.QtCore import Slot
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QDialogButtonBox,
    QDoubleSpinBox,
    QFormLayout,
    QLineEdit,
    QSpinBox,
    QVBoxLayout,
    QWidget,
)

from sketcher.board.board import Board
from sketcher.board.settings import TABLE, Setting
from sketcher.desk.dialogs.roomy import RoomyDialog, scrolled


def _switch(setting: Setting, value: Any, parent: QWidget) -> tuple[QWidget, Callable[[], Any]]:
    box = QCheckBox(setting.label, parent)
    box.setChecked(bool(value))
    return box, box.isChecked


def _behind(setting: Setting) -> str:
    return f" {setting.unit}" if setting.unit.isalpha() else setting.unit


def _whole(setting: Setting, value: Any, parent: QWidget) -> tuple[QWidget, Callable[[], Any]]:
    spin = QSpinBox(parent)
    spin.setRange(int(setting.least), int(min(setting.most, 2**31 - 1)))
    spin.setSuffix(_behind(setting))
    spin.setValue(int(value))
    return spin, spin.value


def _number(setting: Setting, value: Any, parent: QWidget) -> tuple[QWidget, Callable[[], Any]]:
    spin = QDoubleSpinBox(parent)
    spin.setRange(setting.least, setting.most)
    spin.setDecimals(1)
    spin.setSuffix(_behind(setting))
    spin.setValue(float(value))
    return spin, spin.value


def _choice(setting: Setting, value: Any, parent: QWidget) -> tuple[QWidget, Callable[[], Any]]:
    box = QComboBox(parent)
    box.addItems(list(setting.choices))
    box.setCurrentText(str(value))
    return box, box.currentText


def _text(setting: Setting, value: Any, parent: QWidget) -> tuple[QWidget, Callable[[], Any]]:
    edit = QLineEdit(str(value), parent)
    return edit, edit.text


FIELDS = {"switch": _switch, "whole": _whole, "number": _number, "choice": _choice, "text": _text}


class Preferences(RoomyDialog):
    """A form with one field a setting; `values` tells what was chosen."""

    def __init__(self, settings: Any, parent: QWidget) -> None:
        super().__init__(parent)
        self.setWindowTitle("Preferences")
        outer = QVBoxLayout(self)
        body = QWidget(self)
        form = QFormLayout(body)
        form.setContentsMargins(0, 0, 0, 0)
        self._readers: dict[str, Callable[[], Any]] = {}
        self.fields: dict[str, QWidget] = {}
        for setting in TABLE:
            field, read = FIELDS[setting.kind](setting, settings[setting.name], self)
            field.setToolTip(setting.help)
            field.setAccessibleName(setting.label)
            field.setAccessibleDescription(setting.help)
            self.fields[setting.name] = field
            self._readers[setting.name] = read
            form.addRow("" if setting.kind == "switch" else setting.label, field)
        outer.addWidget(scrolled(body, "Settings", self))
        buttons = QDialogButtonBox(
            QDialogButtonBox.StandardButton.Ok | QDialogButtonBox.StandardButton.Cancel
            | QDialogButtonBox.StandardButton.RestoreDefaults, self,
        )
        buttons.accepted.connect(self.accept)
        buttons.rejected.connect(self.reject)
        buttons.button(QDialogButtonBox.StandardButton.RestoreDefaults).clicked.connect(
            self._defaults
        )
        outer.addWidget(buttons)

    def values(self) -> dict[str, Any]:
        """Return what the form holds, by setting."""
        return {name: read() for name, read in self._readers.items()}

    @Slot()
    def _defaults(self) -> None:
        for setting in TABLE:
            field = self.fields[setting.name]
            if isinstance(field, QCheckBox):
                field.setChecked(bool(setting.default))
            elif isinstance(field, QSpinBox | QDoubleSpinBox):
                field.setValue(setting.default)  # type: ignore[arg-type]
            elif isinstance(field, QComboBox):
                field.setCurrentText(str(setting.default))
            elif isinstance(field, QLineEdit):
                field.setText(str(setting.default))


def change_settings(board: Board, parent: QWidget) -> bool:
    """Let a person change the settings; return whether it was not called off."""
    form = Preferences(board.bench.settings, parent)
    taken = bool(form.exec())
    if taken:
        for name, value in form.values().items():
            if value != board.bench.settings[name]:
                board.bench.set_setting(name, value)
    form.deleteLater()
    return taken
