"""Practice beside the sheet: the paper, its list with ticks, a hint when asked, a clock too."""

from __future__ import annotations

from math import floor
from time import monotonic

from PySide6.QtCore import QSize, Qt, QTimer, Signal, Slot
from PySide6.QtGui import QColor
from PySide6.QtWidgets import (
    QCheckBox,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QPushButton,
    QTreeWidget,
    QTreeWidgetItem,
    QVBoxLayout,
    QWidget,
)

from sketcher.board.exercise.attempt import EntryStanding
from sketcher.board.exercise.opened_problem import OpenedProblem
from sketcher.board.exercise.practising import Practising
from sketcher.desk.looks import Look
from sketcher.desk.panes.handout_view import HandoutView
from sketcher.desk.panes.words_room import WordsRoom

SIGNS = {"holds": "\N{CHECK MARK}", "off": "\N{NOT EQUAL TO}", "open": "\N{WHITE CIRCLE}"}
SPOKEN = {"holds": "holds", "off": "not yet", "open": "open"}
HINT, MORE = "&Hint", "&Whole step"
ROWS = 4
"""Rows of the list that are to be seen however low the window is."""


class PracticePane(QWidget):
    """Shows a problem and how the drawing stands beside it.

    Parameters
    ----------
    look : Look
    parent : QWidget

    Signals
    -------
    hint_asked()
    enlarged()
        The whole sheet is to be seen.
    left()
        The problem is to be put away.
    """

    hint_asked = Signal()
    enlarged = Signal()
    left = Signal()

    def __init__(self, look: Look, parent: QWidget) -> None:
        super().__init__(parent)
        self.setAccessibleName("Practice problem")
        self._look = look
        self._problem: OpenedProblem | None = None
        self._began = 0.0
        self._tick = QTimer(self)
        self._tick.setInterval(1000)
        self._tick.timeout.connect(self._show_time)
        self.title = self._label("Problem", bold=True)
        self.goal, self.notes = self._label("What is learned"), self._label("Notes of the paper")
        self.goal.setObjectName("faint")
        self.view = HandoutView(self)
        self.table = self._list()
        self.state = self._label("How the drawing stands")
        self.hint = WordsRoom("Hint", self)
        self.ask = self._button(HINT, "Shows what comes next; again, how.", self._ask)
        self.large = self._button("&Enlarge", "Shows the whole sheet of the problem.",
                                  self._enlarge)
        self.leave = self._button("&Leave", "Puts the problem away; the drawing stays.",
                                  self._leave)
        self.timed = QCheckBox("&Time", self)
        self.timed.setToolTip("Shows how long it takes from now on.")
        self.timed.toggled.connect(self._time)
        self.time = self._label("Time")
        self.time.setWordWrap(False)
        self._arrange()

    def _label(self, name: str, bold: bool = False) -> QLabel:
        label = QLabel("", self)
        label.setAccessibleName(name)
        label.setWordWrap(True)
        if bold:
            font = label.font()
            font.setBold(True)
            label.setFont(font)
        return label

    def _button(self, text: str, tip: str, slot: object) -> QPushButton:
        button = QPushButton(text, self)
        button.setToolTip(tip)
        button.setFocusPolicy(Qt.FocusPolicy.TabFocus)  # a press leaves the keyboard to the sheet
        button.clicked.connect(slot)
        return button

    def _list(self) -> QTreeWidget:
        found = QTreeWidget(self)
        found.setAccessibleName("Dimensions of the paper")
        found.setColumnCount(2)
        found.setHeaderLabels(["The paper", "Your drawing"])
        found.setRootIsDecorated(False)
        found.setUniformRowHeights(True)
        found.setAllColumnsShowFocus(True)
        found.setTextElideMode(Qt.TextElideMode.ElideRight)
        found.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        found.header().setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
        found.header().setSectionResizeMode(1, QHeaderView.ResizeMode.ResizeToContents)
        found.header().setStretchLastSection(False)
        found.header().setMinimumSectionSize(40)
        found.currentItemChanged.connect(self._light)
        return found

    def _arrange(self) -> None:
        outer = QVBoxLayout(self)
        outer.setContentsMargins(6, 6, 6, 6)
        outer.setSpacing(4)
        head = QHBoxLayout()
        head.addWidget(self.title, 1)
        head.addWidget(self.large)
        outer.addLayout(head)
        outer.addWidget(self.goal)
        outer.addWidget(self.view, 5)
        outer.addWidget(self.notes)
        outer.addWidget(self.table, 6)
        outer.addWidget(self.state)
        outer.addWidget(self.hint)
        foot = QHBoxLayout()
        for piece in (self.ask, self.timed, self.time):
            foot.addWidget(piece)
        foot.addStretch(1)
        foot.addWidget(self.leave)
        outer.addLayout(foot)
        row = self.fontMetrics().height() + 6
        self.table.setMinimumHeight((ROWS + 1) * row)

    def sizeHint(self) -> QSize:
        """Ask for little width: the sheet needs it."""
        return QSize(300, 500)

    def wear(self, look: Look) -> None:
        """Take the colours of a look."""
        self._look = look
        for number in range(self.table.topLevelItemCount()):
            self._colour(self.table.topLevelItem(number))

    # What is shown.

    def show_practice(self, model: Practising) -> None:
        """Show how things stand; nothing of a problem that is put away."""
        problem = model.problem
        if problem is None:
            self._problem = None
            self.timed.setChecked(False)
            return
        if problem is not self._problem:
            self._begin(problem)
        for number, standing in enumerate(model.standing.entries):
            self._show_entry(self.table.topLevelItem(number), standing)
        self.state.setText(model.state)
        font = self.state.font()
        if font.bold() != model.standing.finished:
            font.setBold(model.standing.finished)
            self.state.setFont(font)
        if model.standing.finished:
            self._tick.stop()  # the time that it took stays to be read
        self._show_hint(model)

    def _begin(self, problem: OpenedProblem) -> None:
        self._problem = problem
        self.title.setText(problem.title)
        self.goal.setText(problem.goal)
        self.goal.setVisible(bool(problem.goal))
        self.notes.setText("\n".join(problem.notes))
        self.notes.setVisible(bool(problem.notes))
        self.view.show_page(problem.picture)
        self.view.zoom(0.0)
        self.timed.setChecked(False)
        self.table.clear()
        for entry in problem.entries:
            item = QTreeWidgetItem([entry.text, ""])
            item.setData(0, Qt.ItemDataRole.UserRole, entry.text)
            self.table.addTopLevelItem(item)

    def _show_entry(self, item: QTreeWidgetItem | None, standing: EntryStanding) -> None:
        if item is None:
            return
        text = item.data(0, Qt.ItemDataRole.UserRole)
        item.setText(0, f"{SIGNS[standing.state]} {text}")
        mine = f"not yet: {standing.mine}" if standing.state == "off" else standing.mine
        item.setText(1, mine)
        whole = f"not yet: {standing.said}" if standing.state == "off" else standing.said
        spoken = ", ".join(filter(None, (text, SPOKEN[standing.state], standing.said)))
        for column in (0, 1):
            item.setToolTip(column, f"{text}\n{whole}" if whole else text)
            item.setData(column, Qt.ItemDataRole.AccessibleTextRole, spoken)
        item.setData(1, Qt.ItemDataRole.UserRole, standing.state)
        self._colour(item)

    def _colour(self, item: QTreeWidgetItem | None) -> None:
        if item is None:
            return
        state = item.data(1, Qt.ItemDataRole.UserRole)
        ink = {"holds": self._look.good, "off": self._look.bad}.get(state, self._look.text)
        for column in (0, 1):
            item.setForeground(column, QColor(ink))

    def _show_hint(self, model: Practising) -> None:
        hint = model.hint
        if hint is None:
            self.hint.say("")
            self.view.ask_about(())
        else:
            said = [hint.first, *(hint.rest if model.whole else ())]
            self.hint.say(" ".join(said))
            self.view.ask_about((*hint.marks, *(hint.further if model.whole else ())))
        self.ask.setText(HINT if hint is None else MORE)
        self.ask.setEnabled(model.has_more)

    @Slot(QTreeWidgetItem, QTreeWidgetItem)
    def _light(self, item: QTreeWidgetItem | None, _: object = None) -> None:
        problem = self._problem
        if item is None or problem is None:
            self.view.light("")
            return
        entry = problem.entries[self.table.indexOfTopLevelItem(item)]
        self.view.light(entry.id, (problem.curves[n] for n in entry.features))

    # Buttons and the clock.

    @Slot()
    def _ask(self) -> None:
        self.hint_asked.emit()

    @Slot()
    def _enlarge(self) -> None:
        self.enlarged.emit()

    @Slot()
    def _leave(self) -> None:
        self.left.emit()

    @Slot(bool)
    def _time(self, wanted: bool) -> None:
        self._began = monotonic()
        if wanted:
            self._tick.start()
            self._show_time()
        else:
            self._tick.stop()
            self.time.setText("")

    @Slot()
    def _show_time(self) -> None:
        seconds = floor(monotonic() - self._began)
        self.time.setText(f"{seconds // 60}:{seconds % 60:02d}")
