"""A slim panel below the sheet: the step at hand, what it still misses, and how far it came."""

from __future__ import annotations

import sys

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from sketcher.board.action_table import all_actions
from sketcher.board.board import Board
from sketcher.board.tour.tour import TourState, asked, prompts

FINISHED = (
    "That was a part from the first line to the file for the shop. Change a value in the ledger "
    "and see what follows, or look at a demo part; F1 has more."
)
DONE, OPEN = "\N{BLACK CIRCLE}", "\N{WHITE CIRCLE}"
AIR = 6


class TourPanel(QFrame):
    """Shows where the tour stands; its height is the same for every step.

    Parameters
    ----------
    board : Board
    parent : QWidget

    Signals
    -------
    left()
        The tour is to be left.
    begun_anew()
        It is to begin from an empty part.
    help_asked()
        More about the step at hand.
    """

    left = Signal()
    begun_anew = Signal()
    help_asked = Signal()

    def __init__(self, board: Board, parent: QWidget) -> None:
        super().__init__(parent)
        self.board = board
        self._labels = {name: action.label for name, action in all_actions().items()}
        self.setAccessibleName("First part, step by step")
        self.setFrameShape(QFrame.Shape.StyledPanel)
        self.title, self.ask, self.missing = QLabel(self), QLabel(self), QLabel(self)
        self.marks = QLabel(self)
        for label, name in ((self.title, "Step"), (self.ask, "How"),
                            (self.missing, "Still missing"), (self.marks, "How far")):
            label.setAccessibleName(name)
        self.ask.setWordWrap(True)
        self.ask.setAlignment(Qt.AlignmentFlag.AlignTop)
        font = self.title.font()
        font.setBold(True)
        self.title.setFont(font)
        self.missing.setObjectName("faint")
        words = QVBoxLayout()
        words.setSpacing(1)
        head = QHBoxLayout()
        head.setSpacing(14)
        head.addWidget(self.title)
        head.addWidget(self.marks)
        head.addWidget(self.missing, 1)
        words.addLayout(head)
        words.addWidget(self.ask, 1)
        line = QHBoxLayout(self)
        line.setContentsMargins(10, AIR, 8, AIR)
        line.addLayout(words, 1)
        self.more = self._button("&More about it", "Opens the help at this step.", self._more)
        self.anew = self._button("&Begin anew", "Begins with an empty part.", self._anew)
        self.leave = self._button("&Leave", "Goes on without the steps; they can be taken up "
                                  "again from the Help menu.", self._leave)
        for button in (self.more, self.anew, self.leave):
            line.addWidget(button)

    def _button(self, label: str, tip: str, slot: object) -> QPushButton:
        button = QPushButton(label, self)
        button.setToolTip(tip)
        button.setFocusPolicy(Qt.FocusPolicy.TabFocus)  # a press leaves the keyboard to the sheet
        button.clicked.connect(slot)
        return button

    def show_standing(self, standing: TourState) -> None:
        """Show the step at hand, or that all is done."""
        every, prompt = prompts(), standing.prompt
        done = len(every) if prompt is None else prompt.rank - 1
        self.marks.setText(f"{DONE * done}{OPEN * (len(every) - done)}")
        self.marks.setToolTip(f"{done} of {len(every)} done")
        if prompt is None:
            self.title.setText("All ten steps are done")
            self.ask.setText(FINISHED)
            self.missing.setText("")
        else:
            self.title.setText(f"{prompt.rank} of {len(every)}: {prompt.title}")
            self.ask.setText(asked(prompt, self.board, self._labels))
            self.missing.setText(f"Still missing: {standing.missing}.")
        self.missing.setToolTip(self.missing.text())
        self.leave.setText("&Close" if prompt is None else "&Leave")

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Take the height of the longest step at this width; the sheet then never moves."""
        super().resizeEvent(event)
        try:
            self._settle()
        except Exception:  # noqa: BLE001 - an exception that leaves an override can end the process
            sys.excepthook(*sys.exc_info())

    def _settle(self) -> None:
        metrics, width = self.ask.fontMetrics(), max(120, self.ask.width())
        texts = [FINISHED, *(asked(prompt, self.board, self._labels) for prompt in prompts())]
        room = self.ask.rect().adjusted(0, 0, width - self.ask.width(), 10000)
        longest = max(metrics.boundingRect(room, Qt.TextFlag.TextWordWrap, text).height()
                      for text in texts)
        high = longest + self.title.sizeHint().height() + 2 * AIR + 6
        if high != self.height():
            self.setFixedHeight(high)

    @Slot()
    def _leave(self) -> None:
        self.left.emit()

    @Slot()
    def _anew(self) -> None:
        self.begun_anew.emit()

    @Slot()
    def _more(self) -> None:
        self.help_asked.emit()
