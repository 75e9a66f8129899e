"""Plays a cut on the screen: to and fro by one cut, at the screen's rate, or by hand."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import QElapsedTimer, Qt, QTimer, Signal, Slot
from PySide6.QtGui import QHideEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QSlider, QVBoxLayout, QWidget

from sketcher.board.files.cutting_run import CutRun
from sketcher.board.files.cutting_words import step_words

FRAME = 33
"""Milliseconds between two pictures."""
PACE = 200.0
"""Pixels of the whole picture that are cut in a second."""
SHORTEST, LONGEST = 5.0, 60.0
"""Seconds that the whole of it takes at least and at most."""
NOTCHES = 10_000


class CutPlayer(QWidget):
    """Buttons, a slider, and words that say where the torch is.

    Signals
    -------
    moved(float)
        The place on the way, in lengths of cut.
    """

    moved = Signal(float)

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.run: CutRun | None = None
        self.place = 0.0
        self._seconds = SHORTEST
        self.first = self._button("&Rewind", "Back to where nothing is cut")
        self.before = self._button("&Back", "To the cut before")
        self.play = self._button("&Play", "Shows the cut in motion; pressed again it rests")
        self.next = self._button("&Next", "To the next cut")
        self.slider = QSlider(Qt.Orientation.Horizontal, self)
        self.slider.setRange(0, NOTCHES)
        self.slider.setPageStep(NOTCHES // 20)
        self.slider.setSingleStep(NOTCHES // 200)
        self.slider.setAccessibleName("How far it is cut")
        self.slider.setMinimumWidth(60)
        self.words = QLabel(self)
        self.words.setWordWrap(True)
        self.words.setAccessibleDescription("What the torch is at")
        line = QHBoxLayout()
        line.setContentsMargins(0, 0, 0, 0)
        for piece in (self.first, self.before, self.play, self.next):
            line.addWidget(piece)
        line.addWidget(self.slider, 1)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.setSpacing(2)
        outer.addLayout(line)
        outer.addWidget(self.words)
        self._clock = QElapsedTimer()
        self._timer = QTimer(self)
        self._timer.setInterval(FRAME)
        self._timer.timeout.connect(self._tick)
        self.first.clicked.connect(partial(self.go_to, 0.0))
        self.before.clicked.connect(partial(self.step, -1))
        self.next.clicked.connect(partial(self.step, 1))
        self.play.clicked.connect(self.toggle)
        self.slider.valueChanged.connect(self._slid)
        self.show_run(None, 1.0)

    def _button(self, label: str, hint: str) -> QPushButton:
        made = QPushButton(label, self)
        made.setAutoDefault(False)
        made.setToolTip(hint)
        return made

    # What is played.

    def show_run(self, run: CutRun | None, scale: float) -> None:
        """Take another plan, at its begin; `scale` is pixels a unit where all of it is seen."""
        self.rest()
        self.run = run
        if run is not None:
            self._seconds = min(LONGEST, max(SHORTEST, run.takes * scale / PACE))
        for piece in (self.first, self.before, self.play, self.next, self.slider):
            piece.setEnabled(run is not None and run.takes > 0.0)
        self._put(0.0)

    @property
    def plays(self) -> bool:
        """Whether it is in motion."""
        return self._timer.isActive()

    @Slot()
    def toggle(self) -> None:
        """Play on, from the begin where all is cut; or rest."""
        if self.plays:
            self.rest()
        elif self.run is not None and self.run.takes > 0.0:
            if self.place >= self.run.takes:
                self._put(0.0)
            self._clock.start()
            self._timer.start()
            self.play.setText("&Pause")

    @Slot()
    def rest(self) -> None:
        """Stand still."""
        self._timer.stop()
        self.play.setText("&Play")

    @Slot(int)
    def step(self, by: int, *_: object) -> None:
        """Go to where the next cut is done, or the one before."""
        if self.run is None:
            return
        self.rest()
        slack = 1e-9 * self.run.takes
        if by > 0:
            ahead = [stop for stop in self.run.stops if stop > self.place + slack]
            self._put(ahead[0] if ahead else self.run.takes)
        else:
            behind = [stop for stop in self.run.stops if stop < self.place - slack]
            self._put(behind[-1] if behind else 0.0)

    def go_to(self, place: float, *_: object) -> None:
        """Go to a place on the way."""
        self.rest()
        self._put(place)

    @Slot()
    def _tick(self) -> None:
        if self.run is None:
            return
        place = self.place + self._clock.restart() / 1000.0 / self._seconds * self.run.takes
        self._put(min(place, self.run.takes))
        if place >= self.run.takes:
            self.rest()

    @Slot(int)
    def _slid(self, notch: int) -> None:
        if self.run is not None:
            self.go_to(self.run.takes * notch / NOTCHES)

    def _put(self, place: float) -> None:
        self.place = place
        run = self.run
        self.slider.blockSignals(True)
        self.slider.setValue(round(NOTCHES * place / run.takes) if run and run.takes else 0)
        self.slider.blockSignals(False)
        words = "" if run is None else step_words(run, run.number(place))
        if words != self.words.text():
            self.words.setText(words)
        self.moved.emit(place)

    def hideEvent(self, event: QHideEvent) -> None:
        """Rest where nobody looks."""
        self.rest()
