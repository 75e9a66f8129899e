"""The bar below the sheet that plays a construction: where it stands, and the sentence at hand."""

from __future__ import annotations

import sys

from PySide6.QtCore import QSize, Qt, Signal, Slot
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QFrame,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QSlider,
    QVBoxLayout,
    QWidget,
)

from sketcher.board.teaching.lesson_play import SPEEDS, LessonPlay
from sketcher.board.teaching.telling import whole_sentence
from sketcher.board.teaching.try_judge import Judgement

AIR, SIDE = 6, 10
LINES = 5
"""Lines of a sentence that are seen without scrolling; longer ones are rare."""
RIGHT, OFF = "\N{CHECK MARK}", "\N{MULTIPLICATION X}"
FOUND = 2
"""Lines for what is found when a drawing is compared; of a fillet with its edges there are more."""
LONGEST = 12
"""Of so many of the longest sentences the height is tried: lines break here and there."""


class ConstructionBar(QFrame):
    """Buttons, the place among the steps, and what is said; its height is the same for every step.

    Parameters
    ----------
    parent : QWidget

    Signals
    -------
    toggled(), onward(), back()
        Play or rest; the next sentence; the one before.
    sought(int)
        A step is asked for, by its number from 1.
    paced(float)
        How quick it plays.
    hand_asked(bool)
        The hand moves are wanted, or the steps alone.
    left()
        The construction is to be left.
    drawing_asked(), compared(), answer_asked(bool), play_asked()
        The step at hand is to be drawn by hand; what is drawn is to be compared with it; what it
        draws is to be seen, or not; it is to be played on.
    """

    toggled = Signal()
    onward = Signal()
    back = Signal()
    sought = Signal(int)
    paced = Signal(float)
    hand_asked = Signal(bool)
    left = Signal()
    drawing_asked = Signal()
    compared = Signal()
    answer_asked = Signal(bool)
    play_asked = Signal()

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setAccessibleName("Construction")
        self.setFrameShape(QFrame.Shape.StyledPanel)
        self._play: LessonPlay | None = None
        self._tried = (-1, 0)
        self.before = self._button("Back", "To the begin of this sentence, or the one before.  "
                                   "(Left)", self.back)
        self.play = self._button("Play", "Draws on, or rests.  (Space)", self.toggled)
        self.next = self._button("Next", "Draws one sentence and rests.  (Right)", self.onward)
        self.leave = self._button("Leave", "Back to the part.  (Esc)", self.left)
        self.draw = self._button("Draw it yourself", "Hides what this step draws: draw it with the "
                                 "tools, then compare. A step that only goes over what is there "
                                 "leaves nothing to draw.", self.drawing_asked)
        self.compare = self._button("Compare", "Says how what you drew lies.", self.compared)
        self.answer = self._button("Show it", "Shows what the step draws.", self.answer_asked)
        self.answer.setCheckable(True)
        self.go_on = self._button("Back to the play", "Puts your drawing away and the part back.",
                                  self.play_asked)
        self.slider = QSlider(Qt.Orientation.Horizontal, self)
        self.slider.setAccessibleName("Step")
        self.slider.setMinimumWidth(50)
        self.slider.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.slider.valueChanged.connect(self._seek)
        self.speed = QComboBox(self)
        self.speed.setAccessibleName("Speed")
        self.speed.setToolTip("How quick it plays.  (Up, Down)")
        self.speed.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        for speed in SPEEDS:
            self.speed.addItem(f"\N{MULTIPLICATION SIGN} {speed:g}", speed)
        self.speed.setCurrentIndex(SPEEDS.index(1.0))
        self.speed.currentIndexChanged.connect(self._pace)
        self.hand = QCheckBox("Hand moves", self)
        self.hand.setToolTip("Shows every stroke of compass and straightedge.")
        self.hand.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.hand.toggled.connect(self.hand_asked)
        self.head, self.words = QLabel(self), QLabel(self)
        self._lay_out()

    def _button(self, label: str, tip: str, signal: object) -> QPushButton:
        button = QPushButton(label, self)
        button.setToolTip(tip)
        button.setAutoDefault(False)
        button.setFocusPolicy(Qt.FocusPolicy.TabFocus)  # a press leaves the keyboard to the sheet
        button.clicked.connect(signal)
        return button

    def _lay_out(self) -> None:
        font = self.head.font()
        font.setBold(True)
        self.head.setFont(font)
        self.head.setAccessibleName("Where it stands")
        self.words.setWordWrap(True)
        self.words.setAlignment(Qt.AlignmentFlag.AlignTop)
        self.words.setAccessibleName("What is drawn")
        self.words.setTextInteractionFlags(Qt.TextInteractionFlag.NoTextInteraction)
        self.room = QScrollArea(self)
        self.room.setWidget(self.words)
        self.room.setWidgetResizable(True)
        self.room.setFrameShape(QFrame.Shape.NoFrame)
        self.room.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.room.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.line = QHBoxLayout()
        self.line.setSpacing(4)
        self.playing: tuple[QWidget, ...] = (self.before, self.play, self.next, self.slider,
                                             self.draw)
        self.gap = QWidget(self)
        self.trying: tuple[QWidget, ...] = (self.compare, self.answer, self.go_on, self.gap)
        for piece in (*self.playing, *self.trying):
            self.line.addWidget(piece, 1 if piece in (self.slider, self.gap) else 0)
        for piece in self.trying:
            piece.hide()
        self.line.addWidget(self.leave)
        stack = QVBoxLayout(self)
        stack.setContentsMargins(SIDE - 1, AIR, SIDE - 1, AIR)  # the frame has a pixel
        stack.setSpacing(2)
        second = QHBoxLayout()
        second.addWidget(self.head, 1)
        for piece in (self.speed, self.hand):
            second.addWidget(piece)
        stack.addLayout(self.line)
        stack.addLayout(second)
        stack.addWidget(self.room, 1)

    # What is shown.

    def take(self, play: LessonPlay) -> None:
        """Show another construction."""
        self._play = play
        self._tried = (-1, 0)
        for piece in (self.slider, self.hand):
            piece.blockSignals(True)
        self.slider.setRange(1, len(play.steps) + 1)
        self.hand.setChecked(play.by_hand)
        self.hand.setEnabled(play.has_moves)
        for piece in (self.slider, self.hand):
            piece.blockSignals(False)
        play.speed = float(self.speed.currentData())
        self._settle()
        self.follow()

    def show_try(self, tries: bool) -> None:
        """Show the buttons for a step drawn by hand, or those that play."""
        for piece in (*self.playing, self.speed, self.hand):
            piece.setVisible(not tries)
        for piece in self.trying:
            piece.setVisible(tries)
        self._tried = (-1, 0)
        self._settle()
        self.answer.setChecked(False)
        if tries and self._play is not None:
            play = self._play
            self.head.setText(f"Step {play.number} of {len(play.steps)}, drawn by you")
            self.words.setText(whole_sentence(play.step))
            self.room.verticalScrollBar().setValue(0)

    def show_judgement(self, judgement: Judgement) -> None:
        """Say above the sentence what was found."""
        if self._play is None:
            return
        lines = [f"{RIGHT if one.right else OFF} {one.text}" for one in judgement.told] \
            or [f"{RIGHT} All that this step needs is there already."]
        self.words.setText("\n".join((*lines, whole_sentence(self._play.step))))
        self.room.verticalScrollBar().setValue(0)

    @Slot()
    def follow(self) -> None:
        """Show where it stands."""
        play = self._play
        if play is None:
            return
        self.play.setText("Pause" if play.plays else "Play")
        self.draw.setEnabled(play.draws_new)
        place = len(play.steps) + 1 if play.is_over else play.number
        if self.slider.value() != place:
            self.slider.blockSignals(True)
            self.slider.setValue(place)
            self.slider.blockSignals(False)
        head, words = heading(play), play.passage.text
        if self.head.text() != head:
            self.head.setText(head)
        if self.words.text() != words:
            self.words.setText(words)
            self.room.verticalScrollBar().setValue(0)

    def change_speed(self, by: int) -> None:
        """Play quicker or slower by one notch."""
        index = min(max(0, self.speed.currentIndex() + by), self.speed.count() - 1)
        self.speed.setCurrentIndex(index)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Take the height of the longest sentence at this width; the sheet then never moves."""
        super().resizeEvent(event)
        try:
            self._settle()
        except Exception:  # noqa: BLE001 - an exception that leaves an override can end the process
            sys.excepthook(*sys.exc_info())

    def minimumSizeHint(self) -> QSize:
        """Ask for no more width than the buttons need."""
        return QSize(self.line.minimumSize().width() + 20, super().minimumSizeHint().height())

    def _settle(self) -> None:
        play, wide = self._play, max(120, self.width() - 2 * SIDE)
        if play is None or self._tried == (wide, id(play.telling)):
            return
        self._tried = (wide, id(play.telling))
        metrics, box = self.words.fontMetrics(), self.rect().adjusted(0, 0, 0, 10_000)
        box.setWidth(wide)
        texts = sorted((passage.text for passage in play.telling.passages), key=len)
        high = max(metrics.boundingRect(box, Qt.TextFlag.TextWordWrap, text).height()
                   for text in texts[-LONGEST:])
        if self.compare.isVisibleTo(self):  # below the sentence there is room for what is found
            high += FOUND * metrics.lineSpacing()
        self.room.setFixedHeight(min(high, LINES * metrics.lineSpacing()) + 2)

    # What is asked for.

    @Slot(int)
    def _seek(self, number: int) -> None:
        self.sought.emit(number)

    @Slot(int)
    def _pace(self, index: int) -> None:
        self.paced.emit(float(self.speed.itemData(index)))


def heading(play: LessonPlay) -> str:
    """Return the line above the sentence: the stage, which step of how many, which move."""
    if play.is_over:
        return f"All {len(play.steps)} steps are drawn"
    passage, stage = play.passage, play.step.stage
    words = f"Step {play.number} of {len(play.steps)}"
    if passage.move:
        words += f", move {passage.move} of {passage.moves}"
    return f"{stage}  \N{MIDDLE DOT}  {words}" if stage else words
