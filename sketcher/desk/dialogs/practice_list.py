"""Which problem to practice: the shipped ones in their order, or any part."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from PySide6.QtCore import QSize, Qt, Signal, Slot
from PySide6.QtWidgets import (
    QDialogButtonBox,
    QLabel,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from sketcher.desk.dialogs.roomy import RoomyDialog
from sketcher.lesson.practice import PracticeProblem

OPENING = "Each problem is a paper to draw from, beside an empty sheet; the last are the hardest."
DONE, OPEN = "\N{CHECK MARK}", "\N{WHITE CIRCLE}"


class PracticeList(RoomyDialog):
    """Lists the problems with what is learned by each, and which were solved.

    Parameters
    ----------
    problems : sequence of PracticeProblem
    done : collection of str
        Names of those that were solved.
    parent : QWidget

    Signals
    -------
    chosen(str)
        The name of a problem.
    file_asked()
        Any other part.
    """

    chosen = Signal(str)
    file_asked = Signal()

    def __init__(
        self, problems: Sequence[PracticeProblem], done: Collection[str], parent: QWidget
    ) -> None:
        super().__init__(parent)
        self.setWindowTitle("Practice problems")
        outer = QVBoxLayout(self)
        opening = QLabel(OPENING, self)
        opening.setWordWrap(True)
        outer.addWidget(opening)
        self.list = QListWidget(self)
        self.list.setAccessibleName("Problems")
        self.list.setWordWrap(True)
        self.list.setAlternatingRowColors(True)
        self.list.setMinimumSize(QSize(280, 120))
        for problem in problems:
            is_done = problem.name in done
            item = QListWidgetItem(f"{DONE if is_done else OPEN}  {problem.number}  "
                                   f"{problem.title}\n{problem.goal}", self.list)
            item.setData(Qt.ItemDataRole.UserRole, problem.name)
            item.setData(Qt.ItemDataRole.AccessibleTextRole,
                         f"{problem.number}, {problem.title}, "
                         f"{'done' if is_done else 'not done yet'}. {problem.goal}")
        self.list.itemActivated.connect(self._begin)
        outer.addWidget(self.list, 1)
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Cancel, self)
        self.begin = buttons.addButton("&Begin", QDialogButtonBox.ButtonRole.AcceptRole)
        self.begin.setDefault(True)
        self.other = QPushButton("Open a &part as a problem\N{HORIZONTAL ELLIPSIS}", self)
        self.other.setAutoDefault(False)
        self.other.setToolTip("Sets any sound part, such as one of your own.")
        buttons.addButton(self.other, QDialogButtonBox.ButtonRole.ActionRole)
        self.other.clicked.connect(self._other)
        buttons.accepted.connect(self._begin)
        buttons.rejected.connect(self.reject)
        outer.addWidget(buttons)
        first = next((n for n, each in enumerate(problems) if each.name not in done), 0)
        self.list.setCurrentRow(first)
        self.list.setFocus()
        self.resize(600, 560)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)

    @Slot()
    def _begin(self, *_: object) -> None:
        item = self.list.currentItem()
        self.accept()
        if item is not None:
            self.chosen.emit(item.data(Qt.ItemDataRole.UserRole))

    @Slot()
    def _other(self) -> None:
        self.accept()
        self.file_asked.emit()
