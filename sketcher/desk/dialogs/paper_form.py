"""The settings of the finished drawing: one form made from the table."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import QCheckBox, QComboBox, QFormLayout, QLineEdit, QWidget

from sketcher.board.files.drawing_settings import PaperSetting, paper_table

BY_STANDARD = ("sheet", "scale")
Field = tuple[QWidget, Callable[[], Any]]


class PaperForm(QWidget):
    """One field for each line of the table.

    Signals
    -------
    edited()
        A field holds something else.
    """

    edited = Signal()

    def __init__(self, values: dict[str, Any], parent: QWidget) -> None:
        super().__init__(parent)
        form = QFormLayout(self)
        form.setRowWrapPolicy(QFormLayout.RowWrapPolicy.WrapLongRows)
        self.fields: dict[str, QWidget] = {}
        self._readers: dict[str, Callable[[], Any]] = {}
        makers = {"choice": self._choice, "open choice": self._choice, "switch": self._switch,
                  "length": self._text, "text": self._text}
        for setting in paper_table(values["practice"]):
            field, read = makers[setting.kind](setting, values[setting.name])
            field.setToolTip(setting.help)
            field.setAccessibleName(setting.label)
            field.setAccessibleDescription(setting.help)
            self.fields[setting.name], self._readers[setting.name] = field, read
            if setting.kind == "switch":
                form.addRow(field)  # its words stand beside the box
            else:
                form.addRow(setting.label, field)
        practice = self.fields["practice"]
        assert isinstance(practice, QComboBox)
        practice.activated.connect(self._restock)

    def values(self) -> dict[str, Any]:
        """Return what the form holds, by name."""
        return {name: read() for name, read in self._readers.items()}

    def write(self, name: str, text: str) -> None:
        """Put what was set elsewhere into a line of text."""
        field = self.fields[name]
        if isinstance(field, QLineEdit):
            field.setText(text)

    def _switch(self, setting: PaperSetting, value: Any) -> Field:
        box = QCheckBox(setting.label, self)
        box.setChecked(bool(value))
        box.toggled.connect(self._changed)
        return box, box.isChecked

    def _text(self, setting: PaperSetting, value: Any) -> Field:
        edit = QLineEdit(str(value), self)
        if setting.kind == "length":
            edit.setPlaceholderText("by the part's unit")
        edit.editingFinished.connect(self._changed)
        return edit, edit.text

    def _choice(self, setting: PaperSetting, value: Any) -> Field:
        box = QComboBox(self)
        box.setMinimumContentsLength(12)
        box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        for one, words in setting.choices:
            box.addItem(words, one)
        at = box.findData(value)
        if setting.kind == "open choice":
            box.setEditable(True)
            box.setInsertPolicy(QComboBox.InsertPolicy.NoInsert)
            line = box.lineEdit()
            assert line is not None
            line.setAccessibleName(setting.label)
            line.editingFinished.connect(self._changed)
        if at >= 0:
            box.setCurrentIndex(at)
        elif setting.kind == "open choice":
            box.setEditText(str(value))
        box.activated.connect(self._changed)

        def read() -> str:
            text = box.currentText()
            at = box.findText(text)
            return str(box.itemData(at)) if at >= 0 else text

        return box, read

    @Slot()
    def _restock(self, *_: object) -> None:
        """Offer the sheets and scales of the standard that is chosen; what it has not is by fit."""
        practice = self._readers["practice"]()
        for setting in paper_table(practice):
            box, held = self.fields[setting.name], self._readers[setting.name]()
            if setting.name not in BY_STANDARD or not isinstance(box, QComboBox):
                continue
            box.clear()
            for one, words in setting.choices:
                box.addItem(words, one)
            at = box.findData(held)
            box.setCurrentIndex(max(at, 0))
            if at < 0 and box.isEditable():
                box.setEditText(held)

    @Slot()
    def _changed(self, *_: object) -> None:
        self.edited.emit()
