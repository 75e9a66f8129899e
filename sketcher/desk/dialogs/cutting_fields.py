"""The settings of a cut: one form made from the table, with room for a refusal under each field."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial

from PySide6.QtCore import Signal
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QFormLayout,
    QLabel,
    QLineEdit,
    QSpinBox,
    QWidget,
)

from sketcher.board.files.cutting_form import YES, CutField

NEEDS: Mapping[str, Callable[[Mapping[str, str]], bool]] = {
    "tab_width": lambda held: held["tabs"] != "0",
    "between": lambda held: held["copies"] != "1",
    "grain": lambda held: held["copies"] != "1",
    "mark_form": lambda held: held["small_holes"] in ("", "mark"),
}
"""When a field says anything at all; else it is idle."""


class CuttingForm(QWidget):
    """One field for each line of the table, under the headings of their groups.

    Signals
    -------
    edited(str)
        The field of this name holds something else.
    """

    edited = Signal(str)

    def __init__(
        self, fields: tuple[CutField, ...], values: Mapping[str, str], top: QWidget | None,
        parent: QWidget,
    ) -> None:
        super().__init__(parent)
        self._form = QFormLayout(self)
        self._form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.AllNonFixedFieldsGrow)
        self._form.setContentsMargins(0, 0, 0, 0)
        self.fields: dict[str, QWidget] = {}
        self.reasons: dict[str, QLabel] = {}
        self._readers: dict[str, Callable[[], str]] = {}
        self._setters: dict[str, Callable[[str], object]] = {}
        makers = {"choice": self._choice, "open choice": self._open_choice,
                  "switch": self._switch, "text": self._text, "whole": self._whole}
        if top is not None:
            self._form.addRow(top)
        group = ""
        for one in fields:
            if one.group != group:
                group = one.group
                self._head(group)
            field = makers[one.kind](one, values[one.name])
            field.setToolTip(one.help)
            field.setAccessibleName(one.label)
            field.setAccessibleDescription(one.help)
            self.fields[one.name] = field
            if one.kind == "switch":
                self._form.addRow(field)  # its words stand beside the box
            else:
                self._form.addRow(one.label, field)
            self._reason(one)
        self._idle()

    # What it holds.

    def values(self) -> dict[str, str]:
        """Return what the form holds, by name; an idle field holds nothing."""
        return {name: read() if self.fields[name].isEnabled() else ""
                for name, read in self._readers.items()}

    def write(self, name: str, text: str) -> None:
        """Put what follows from another field into one; nobody hears of it."""
        self.fields[name].blockSignals(True)
        self._setters[name](text)
        self.fields[name].blockSignals(False)

    def refuse(self, name: str, why: str) -> bool:
        """Show under a field why what it holds is refused; return whether there is such a field."""
        for each, label in self.reasons.items():
            label.setText(f"! {why}" if each == name and why else "")
            self._form.setRowVisible(label, bool(each == name and why))
        return name in self.reasons

    # Building.

    def _head(self, words: str) -> None:
        head = QLabel(words, self)
        font = head.font()
        font.setBold(True)
        head.setFont(font)
        self._form.addRow(head)

    def _reason(self, one: CutField) -> None:
        label = QLabel("", self)
        label.setObjectName("reason")
        label.setWordWrap(True)
        label.setAccessibleDescription(f"Why {one.label} was refused")
        self._form.addRow(label)
        self._form.setRowVisible(label, False)
        self.reasons[one.name] = label

    def _switch(self, one: CutField, value: str) -> QWidget:
        box = QCheckBox(one.label, self)
        box.setChecked(value == YES)
        self._readers[one.name] = lambda: YES if box.isChecked() else ""
        self._setters[one.name] = lambda text: box.setChecked(text == YES)
        box.toggled.connect(partial(self._changed, one.name))
        return box

    def _text(self, one: CutField, value: str) -> QWidget:
        edit = QLineEdit(value, self)
        edit.setPlaceholderText(one.hint)
        self._readers[one.name], self._setters[one.name] = edit.text, edit.setText
        edit.editingFinished.connect(partial(self._changed, one.name))
        return edit

    def _whole(self, one: CutField, value: str) -> QWidget:
        spin = QSpinBox(self)
        spin.setRange(one.least, one.most)
        spin.setKeyboardTracking(False)  # 12 is not 1 on its way
        spin.setSpecialValueText(one.hint)
        spin.setValue(int(value))
        self._readers[one.name] = lambda: str(spin.value())
        self._setters[one.name] = lambda text: spin.setValue(int(text))
        spin.valueChanged.connect(partial(self._changed, one.name))
        return spin

    def _choice(self, one: CutField, value: str) -> QWidget:
        box = self._listed(one)
        box.setCurrentIndex(max(0, box.findData(value)))
        self._readers[one.name] = lambda: str(box.currentData())
        self._setters[one.name] = lambda text: box.setCurrentIndex(max(0, box.findData(text)))
        box.activated.connect(partial(self._changed, one.name))
        return box

    def _open_choice(self, one: CutField, value: str) -> QWidget:
        box = self._listed(one)
        box.setEditable(True)
        box.setInsertPolicy(QComboBox.InsertPolicy.NoInsert)

        def read() -> str:
            at = box.findText(box.currentText())
            return str(box.itemData(at)) if at >= 0 else box.currentText()

        line = box.lineEdit()
        assert line is not None

        def put(text: str) -> None:
            at = box.findData(text)
            if at >= 0:
                box.setCurrentIndex(at)
            else:
                box.setEditText(text)
            line.setCursorPosition(0)  # its begin is what is read

        line.setAccessibleName(one.label)
        self._readers[one.name], self._setters[one.name] = read, put
        put(value)
        line.editingFinished.connect(partial(self._changed, one.name))
        box.activated.connect(partial(self._changed, one.name))
        return box

    def _changed(self, name: str, *_: object) -> None:
        self._idle()
        self.edited.emit(name)

    def _listed(self, one: CutField) -> QComboBox:
        box = QComboBox(self)
        for value, words in one.choices:
            box.addItem(words, value)
        longest = max(box.fontMetrics().horizontalAdvance(words) for _, words in one.choices)
        box.setMinimumWidth(longest + 2 * box.fontMetrics().height() + 8)  # its arrow and edges
        return box

    def _idle(self) -> None:
        """Let fields rest that say nothing beside what the others hold."""
        held = {name: read() for name, read in self._readers.items()}
        for name, needed in NEEDS.items():
            if name in self.fields:
                self.fields[name].setEnabled(needed(held))
