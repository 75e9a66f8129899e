"""What an intake is asked beside its repairs: the unit, the axis of symmetry, which part."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QSignalBlocker, Signal, Slot
from PySide6.QtWidgets import QComboBox, QFormLayout, QLabel, QSizePolicy, QWidget

from sketcher.board.files.bringing_in import BringingIn
from sketcher.board.files.intake_words import axis_choices, part_words, unit_choices


class IntakeChoices(QWidget):
    """A box to choose from for each question, with why it stands as it does.

    Signals
    -------
    unit_chosen(str), axis_chosen(str), part_chosen(int)
    """

    unit_chosen = Signal(str)
    axis_chosen = Signal(str)
    part_chosen = Signal(int)

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.form = QFormLayout(self)
        self.form.setContentsMargins(0, 0, 0, 0)
        self.form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.AllNonFixedFieldsGrow)
        self.unit = self._box("&Unit", "Unit of the file's numbers")
        self.axis = self._box("A&xis", "Axis of symmetry")
        self.part = self._box("Which &part", "Part that is looked at and taken in")
        self.why = QLabel(self)
        self.why.setWordWrap(True)
        self.why.setAccessibleDescription("Why the unit is taken")
        self.form.insertRow(1, self.why)
        self.asked = QLabel(self)
        self.asked.setWordWrap(True)
        self.asked.setAccessibleDescription("What is asked")
        self.form.insertRow(0, self.asked)
        self.unit.activated.connect(self._unit)
        self.axis.activated.connect(self._axis)
        self.part.activated.connect(self._part)

    def _box(self, label: str, name: str) -> QComboBox:
        box = QComboBox(self)
        box.setAccessibleName(name)
        box.setToolTip(name)
        # Long entries are read in the list; the box itself must not widen the page.
        box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
        box.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.form.addRow(label, box)
        return box

    def show_choices(self, bringing: BringingIn) -> None:
        """Show what stands, and ask what is open."""
        brought, part = bringing.brought, bringing.part
        self.form.setRowVisible(self.unit, brought is not None)
        self.form.setRowVisible(self.why, brought is not None)
        self.form.setRowVisible(self.axis, part is not None and bool(part.offered))
        self.form.setRowVisible(self.part, brought is not None and len(brought.taken.parts) > 1)
        others = [] if brought is None else [
            question.text for question in brought.taken.questions if question.option != "--unit"]
        self.asked.setText("\n".join(f"? {text}." for text in others))
        self.form.setRowVisible(self.asked, bool(others))
        if brought is None:
            return
        verdict = brought.taken.unit
        self._fill(self.unit, unit_choices(brought), verdict.unit)
        asks = verdict.question is not None
        self.why.setText(f"? {verdict.question.text}. Choose one to answer."
                         if verdict.question is not None else _sentence(verdict.why))
        self.unit.setAccessibleDescription("This is asked" if asks else verdict.why)
        if part is not None:
            used = part.axes[0].id if part.axes else "none"
            self._fill(self.axis, axis_choices(part), used)
        self._fill(self.part, [(str(number), part_words(number + 1, each))
                               for number, each in enumerate(brought.taken.parts)],
                   str(bringing.number))

    def _fill(self, box: QComboBox, choices: Sequence[tuple[str, str]], chosen: str) -> None:
        with QSignalBlocker(box):
            box.clear()
            for value, words in choices:
                box.addItem(words, value)
            box.setCurrentIndex(max(box.findData(chosen), 0))

    @Slot()
    def _unit(self) -> None:
        self.unit_chosen.emit(str(self.unit.currentData()))

    @Slot()
    def _axis(self) -> None:
        self.axis_chosen.emit(str(self.axis.currentData()))

    @Slot()
    def _part(self) -> None:
        self.part_chosen.emit(int(self.part.currentData()))


def _sentence(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}."
