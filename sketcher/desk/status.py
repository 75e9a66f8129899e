"""The status line: what comes next, what was said last, the state of the part."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QRect, QSize, Qt, Signal, Slot
from PySide6.QtGui import QFontMetrics, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QLabel, QSizePolicy, QStatusBar, QToolTip, QWidget

LINES = 2
GAP = 12
MORE = " \N{HORIZONTAL ELLIPSIS}"
WRAPS = int(Qt.TextFlag.TextWordWrap | Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
SHOWN = 60_000
"""Milliseconds that a whole message stays up; a press or a key takes it away sooner."""


class Said(QLabel):
    """Words in two lines; what does not fit is shown whole on a press, or on Enter.

    The keyboard stops here only while there is more to read.

    Signals
    -------
    changed()
        Other words.
    """

    changed = Signal()

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setWordWrap(True)
        self.fitting = ""
        self._fitted: tuple[str, int] = ("", 0)

    def setText(self, text: str) -> None:
        """Say something else."""
        super().setText(text)
        self.changed.emit()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint what fits, with the sign that there is more."""
        self._fit()
        painter = QPainter(self)
        painter.setFont(self.font())
        painter.setPen(self.palette().color(self.foregroundRole()))
        painter.drawText(self.rect(), WRAPS, self.fitting)
        if self.hasFocus():
            painter.drawRect(self.rect().adjusted(0, 0, -1, -1))
        painter.end()

    def changeEvent(self, event: QEvent) -> None:
        """Measure anew in another font."""
        super().changeEvent(event)
        self._fitted = ("", 0)

    def _fit(self) -> None:
        key = (self.text(), self.width())
        if key != self._fitted:
            self._fitted = key
            self.fitting = fitted(self.text(), self.fontMetrics(), self.width())
            whole = self.fitting == self.text()
            self.setFocusPolicy(Qt.FocusPolicy.NoFocus if whole else Qt.FocusPolicy.TabFocus)
            self.setCursor(Qt.CursorShape.ArrowCursor if whole
                           else Qt.CursorShape.PointingHandCursor)

    def show_whole(self) -> None:
        """Show all words above the line."""
        if self.fitting != self.text():
            QToolTip.showText(self.mapToGlobal(self.rect().topLeft()), f"<p>{self.text()}</p>",
                              self, self.rect(), SHOWN)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Show all words; a press would be too soon, for letting go takes a tip away."""
        self.show_whole()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Show all words with Enter."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.show_whole()
        else:
            super().keyPressEvent(event)


class StatusWords(QWidget):
    """Prompt and last message side by side: who has more to say has more room.

    Never a reason for the window to be wider than the screen.
    """

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.prompt, self.said = Said(self), Said(self)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self._shared: tuple[object, ...] = ()
        for label in (self.prompt, self.said):
            label.changed.connect(self._share)

    def sizeHint(self) -> QSize:
        """Return the height of two lines."""
        return QSize(200, LINES * self.fontMetrics().lineSpacing() + 2)

    def minimumSizeHint(self) -> QSize:
        """Ask for the height alone."""
        return QSize(0, self.sizeHint().height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Share the room out."""
        super().resizeEvent(event)
        self._share()

    @Slot()
    def _share(self) -> None:
        metrics, room = self.fontMetrics(), self.width() - GAP
        key = (self.prompt.text(), self.said.text(), room)
        if key == self._shared or room <= 0:
            return
        self._shared = key
        asks, says = (metrics.horizontalAdvance(label.text()) + 1
                      for label in (self.prompt, self.said))
        if asks + says > room:
            asks, says = (needed(label.text(), metrics) for label in (self.prompt, self.said))
        left = shares(asks, says, room)
        self.prompt.setGeometry(0, 0, left, self.height())
        self.said.setGeometry(left + GAP, 0, room - left, self.height())


def shares(left: int, right: int, room: int) -> int:
    """Return what the left one of two gets: three fifths while both fit, else what they need."""
    usual = room * 3 // 5
    if left + right > room:
        return room * left // (left + right)
    return min(max(usual, left), room - right)


def needed(text: str, metrics: QFontMetrics) -> int:
    """Return the least width in which a text stands in the lines that there are."""
    low, high = 0, metrics.horizontalAdvance(text) + 1
    while high - low > 4:
        middle = (low + high) // 2
        low, high = (low, middle) if stands(text, metrics, middle) else (middle, high)
    return high


def stands(text: str, metrics: QFontMetrics, width: int) -> bool:
    """Say whether a text stands in the lines that there are."""
    box = metrics.boundingRect(QRect(0, 0, width, 10_000), WRAPS, text)
    return box.width() <= width and box.height() <= LINES * metrics.lineSpacing()


def fitted(text: str, metrics: QFontMetrics, width: int) -> str:
    """Return the text, or as many of its words as fit with a sign that there are more."""
    if stands(text, metrics, width):
        return text
    words = text.split(" ")
    while len(words) > 1 and not stands(" ".join(words) + MORE, metrics, width):
        words.pop()
    return " ".join(words) + MORE


def status_labels(bar: QStatusBar) -> tuple[QLabel, QLabel, QLabel]:
    """Fill a status bar; return the labels for the prompt, the last message and the state."""
    words, state = StatusWords(bar), QLabel(bar)
    # Their names are their words, for those who hear them.
    words.prompt.setAccessibleDescription("What comes next")
    words.said.setAccessibleDescription("What was said last")
    state.setAccessibleDescription("State of the part")
    bar.setAccessibleName("Status")
    bar.setSizeGripEnabled(False)
    bar.setContentsMargins(8, 0, 8, 0)
    bar.addWidget(words, 1)
    bar.addPermanentWidget(state)
    return words.prompt, words.said, state
