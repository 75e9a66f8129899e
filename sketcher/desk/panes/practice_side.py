"""The place of practice at the right of the window: a pane that can be folded to a strip."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt, Signal, Slot
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QToolButton, QWidget

from sketcher.desk.looks import Look
from sketcher.desk.pane_split import SidePane
from sketcher.desk.panes.practice_pane import PracticePane

WIDTH = (0.245, 236, 400)
"""Share of the window's width, and the least and the most pixels of it: at 1366 the drawing of a
small part can be read in it, and the sheet keeps half of the window (tried at 683, 800, 1366 and
1920)."""
STRIP = 18
NARROW = 920
"""Pixels of the window's width below which the tools need all of it: the pane begins folded, and
lies over the sheet while it is unfolded."""
OVER = 420
"""Pixels of width that it then takes at most."""
OUT, IN = "\N{SINGLE LEFT-POINTING ANGLE QUOTATION MARK}", (
    "\N{SINGLE RIGHT-POINTING ANGLE QUOTATION MARK}")


class PracticeSide(QWidget):
    """Holds the pane of practice.

    Parameters
    ----------
    look : Look
    parent : QWidget
        What it stands at the right of, or lies over.

    Signals
    -------
    folded()
        It takes another width than before.
    """

    folded = Signal()

    def __init__(self, look: Look, parent: QWidget) -> None:
        super().__init__(parent)
        self.setAccessibleName("Practice problem")
        self._desk = parent
        self._line = QHBoxLayout(self)
        self._line.setContentsMargins(0, 0, 0, 0)
        self._line.setSpacing(0)
        self.strip = QToolButton(self)
        self.strip.setFixedWidth(STRIP)
        self.strip.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Expanding)
        self.strip.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.strip.clicked.connect(self._turn)
        self.pane = PracticePane(look, self)
        self.room = SidePane(self.pane, self)
        self.room.setAutoFillBackground(True)
        self._line.addWidget(self.strip)
        self._line.addWidget(self.room, 1)
        self._wide = WIDTH[1]
        self._over = False
        self.fold(False)

    @property
    def is_folded(self) -> bool:
        """Whether only the strip is to be seen."""
        return self.room.isHidden()

    def fold(self, away: bool) -> None:
        """Fold it to the strip, or unfold it."""
        self.room.setVisible(not away)
        self.strip.setText(OUT if away else IN)
        said = "Unfold practice" if away else "Fold practice away"
        self.strip.setAccessibleName(said)
        self.strip.setToolTip(said)
        self.setFixedWidth(STRIP if away or self._over else STRIP + self._wide)
        if self._over and not away:
            self.room.raise_()
        self.folded.emit()

    def fit(self, window: int) -> None:
        """Take the width that it has in a window of a width, in pixels."""
        share, least, most = WIDTH
        self._wide = min(max(int(window * share), least), most)
        if self._over != (window < NARROW):
            self._over = not self._over
            hidden = self.is_folded
            if self._over:
                self._line.removeWidget(self.room)
                self.room.setParent(self._desk)
            else:
                self._line.addWidget(self.room, 1)
            self.room.setVisible(not hidden)
        if self._over:
            wide = min(OVER, self._desk.width() - STRIP)
            self.room.setGeometry(self._desk.width() - STRIP - wide, 0, wide, self._desk.height())
        self.fold(self.is_folded)

    def put_away(self) -> None:
        """Hide it."""
        self.hide()
        if self._over:
            self.room.hide()

    def sizeHint(self) -> QSize:
        """Ask for the width that was set."""
        return QSize(self.width(), 400)

    @Slot()
    def _turn(self) -> None:
        self.fold(not self.is_folded)
