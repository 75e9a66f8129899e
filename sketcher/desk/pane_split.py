"""The middle of the window: three panes side by side, and what stands below them."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QObject, QSize, Qt, QTimer, Slot
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QApplication,
    QHBoxLayout,
    QScrollArea,
    QSplitter,
    QVBoxLayout,
    QWidget,
)

LEFT, RIGHT = (0.335, 268, 480), (0.215, 232, 400)
"""Share of the width that a side pane begins with, and the least and the most pixels of it: at a
width of 1366 the ledger then holds all columns of the demo parts, at 960 value and result of a
clash (tried at 683, 960, 1366 and 1920)."""


NARROW = 800
"""Pixels of width below which the right pane begins folded away: what it says of the part stands
in the status line too, and the sheet keeps half of the window (tried at 683, 800 and 960)."""
LOWEST = 60
"""Pixels of height that the side panes are content with; what needs more is scrolled to."""


class SidePane(QScrollArea):
    """Holds a side pane: as wide as that, and scrolled where the window is lower than it needs."""

    def __init__(self, pane: QWidget, parent: QWidget) -> None:
        super().__init__(parent)
        self.pane = pane
        self.setFrameShape(QScrollArea.Shape.NoFrame)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAccessibleName(pane.accessibleName())
        self.setWidget(pane)
        pane.setAutoFillBackground(False)
        self.viewport().setAutoFillBackground(False)

    def minimumSizeHint(self) -> QSize:
        """Ask for the pane's width, and for little height."""
        return QSize(self.pane.minimumSizeHint().width(), LOWEST)

    def sizeHint(self) -> QSize:
        """Ask for what the pane asks for."""
        return self.pane.sizeHint()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Give the pane the room."""
        super().resizeEvent(event)
        self._fit()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Follow what the pane needs at least."""
        if event.type() == QEvent.Type.LayoutRequest:
            self.updateGeometry()
            self._fit()
        return super().eventFilter(watched, event)

    @Slot()
    def show_end(self) -> None:
        """Scroll to the lower end."""
        self._fit()
        self.verticalScrollBar().setValue(self.verticalScrollBar().maximum())

    def _fit(self) -> None:
        """Make the pane as high as this, or as it needs at least.

        A scroll area that resizes its widget itself gives one with wrapped words all the height
        that it would like, and scrolls long before it has to.
        """
        bar = self.verticalScrollBar().sizeHint().width()
        layout, wide, high = self.pane.layout(), self.width(), self.height()
        least = layout.totalMinimumHeightForWidth(wide) if layout is not None else 0
        if least > high and layout is not None:
            wide -= bar
            high = max(high, layout.totalMinimumHeightForWidth(wide))
        self.pane.resize(wide, high)


class PaneSplit(QWidget):
    """Ledger, sheet and inspection with dividers between them, and rows of tools below.

    The width is shared out anew with the window's until a person moves a divider.

    Parameters
    ----------
    parent : QWidget
    panes : sequence of QWidget
        Left, the one that takes the room, and right.
    below : sequence of QWidget
        What stands below, from the top.
    """

    def __init__(
        self, parent: QWidget, panes: Sequence[QWidget], below: Sequence[QWidget]
    ) -> None:
        super().__init__(parent)
        self.divided = self._right = self._lean = False
        self._lent: list[int] = []
        self._beside: QWidget | None = None
        self._stood = 0
        self.split = QSplitter(Qt.Orientation.Horizontal, self)
        left, sheet, right = panes
        self.panes = (SidePane(left, self.split), sheet, SidePane(right, self.split))
        for pane in self.panes:
            self.split.addWidget(pane)
        self.split.setStretchFactor(1, 1)
        self.split.setChildrenCollapsible(True)
        self.split.setCollapsible(1, False)
        self.split.setAccessibleName("Desk")
        for handle, side in ((1, "left"), (2, "right")):
            self.split.handle(handle).setAccessibleName(f"Width of the {side} pane")
        self.split.splitterMoved.connect(self._divide)
        app = QApplication.instance()
        assert isinstance(app, QApplication)
        app.focusChanged.connect(self._focus_moved)
        self._line = QHBoxLayout(self)
        self._line.setContentsMargins(0, 0, 0, 0)
        self._line.setSpacing(0)
        self._stack = QVBoxLayout()
        self._stack.setSpacing(0)
        self._line.addLayout(self._stack, 1)
        for piece in (self.split, *below):
            self._stack.addWidget(piece)
        self._stack.setStretchFactor(self.split, 1)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Share the width out until a person has moved a divider."""
        super().resizeEvent(event)
        self.share()

    @property
    def room(self) -> int:
        """Pixels of width that the three panes share."""
        beside = self._beside
        return self.width() - (beside.width() if beside and not beside.isHidden() else 0)

    @Slot()
    def share(self) -> None:
        """Share the width out, as long as no person has moved a divider."""
        if self.divided:
            return
        width = self.room
        left, right = first_width(width, LEFT), first_width(width, RIGHT)
        if width < NARROW:
            left, right = (0, right) if self._right else (left, 0)
        elif not self._lean:
            self._lent, self._right = [], False
        elif not self._right:
            right = 0
        self.split.setSizes([left, width - left - right, right])

    def show_sides(self, left: bool, right: bool) -> None:
        """Show or hide the side panes; one that was folded away comes with its first width."""
        for place, shown in ((0, left), (2, right)):
            pane = self.panes[place]
            if pane.isHidden() == shown:
                pane.setVisible(shown)
                if shown:
                    self.unfold(place)

    def unfold(self, place: int) -> None:
        """Give a side pane that was folded away its first width."""
        sizes = self.split.sizes()
        if sizes[place] == 0:
            wide = first_width(self.room, LEFT if place == 0 else RIGHT)
            sizes[place] = wide
            sizes[1] -= wide
            if self.room < NARROW:  # one at a time, so that the sheet stays to be seen
                sizes[1] += sizes[2 - place]
                sizes[2 - place] = 0
            sizes[1] = max(sizes[1], 1)
            self._right = place == 2
            self.split.setSizes(sizes)

    def lend(self, wanted: bool) -> None:
        """Unfold the right pane while it has something to ask, and put things back afterwards."""
        sizes = self.split.sizes()
        if wanted and sizes[2] == 0:
            self._lent = sizes
            self.unfold(2)
        if wanted:  # it asks at the lower end
            QTimer.singleShot(0, self.panes[2], self.panes[2].show_end)
        elif self._lent:
            self.split.setSizes(self._lent)
            self._lent, self._right = [], False

    def put_below(self, piece: QWidget) -> None:
        """Put one more row right below the panes."""
        self._stack.insertWidget(1, piece)

    def put_beside(self, piece: QWidget) -> None:
        """Put something at the right of all, as wide as it wants to be."""
        self._beside = piece
        self._line.addWidget(piece)

    def lean(self, leans: bool) -> None:
        """Fold the right pane away while something stands beside, and unfold it afterwards."""
        if leans == self._lean:
            return
        self._lean = leans
        if not self.divided:
            self._right = False
            self.share()
            return
        sizes = self.split.sizes()
        if leans and sizes[2]:
            self._stood, sizes[1], sizes[2] = sizes[2], sizes[1] + sizes[2], 0
        elif not leans and not sizes[2] and self._stood:
            sizes[1], sizes[2] = max(1, sizes[1] - self._stood), self._stood
            self._stood = 0
        self.split.setSizes(sizes)

    def divide(self, sizes: Sequence[int]) -> None:
        """Put the dividers where they were once, as long as the sheet keeps room."""
        if len(sizes) == len(self.panes) and all(size >= 0 for size in sizes) and sizes[1] > 0:
            self.divided = True
            self.split.setSizes(list(sizes))

    def sizes(self) -> list[int]:
        """Return the panes' widths, hidden ones as they were; none before a divider was moved."""
        if not self.divided:
            return []
        sizes = [pane.width() if pane.isHidden() else size
                 for pane, size in zip(self.panes, self.split.sizes(), strict=True)]
        if self._stood and not sizes[2]:  # folded away for a while is no width that was chosen
            sizes[1], sizes[2] = max(1, sizes[1] - self._stood), self._stood
        return sizes

    @Slot(QWidget, QWidget)
    def _focus_moved(self, was: QWidget | None, now: QWidget | None) -> None:
        """Unfold a side pane that the keyboard comes to."""
        for place in (0, 2):
            if now is not None and self.panes[place].isAncestorOf(now):
                self.unfold(place)

    @Slot()
    def _divide(self) -> None:
        self.divided, self._lent = True, []


def first_width(room: int, rule: tuple[float, int, int]) -> int:
    """Return how wide a side pane is at first: a share of the room between two limits."""
    share, least, most = rule
    return min(max(int(room * share), least), most)


def piled(parent: QWidget, *pieces: QWidget) -> QVBoxLayout:
    """Return the layout of a widget whose pieces lie below each other without a gap."""
    stack = QVBoxLayout(parent)
    stack.setContentsMargins(0, 0, 0, 0)
    stack.setSpacing(0)
    for piece in pieces:
        stack.addWidget(piece)
    return stack


def one_above_other(parent: QWidget, high: QWidget, low: QWidget) -> QWidget:
    """Return a widget with another one below the one that takes the room."""
    both = QWidget(parent)
    piled(both, high, low).setStretchFactor(high, 1)
    return both


def side_by_side(parent: QWidget, wide: QWidget, narrow: QWidget) -> QWidget:
    """Return a widget with another one at the right of the one that takes the room."""
    both = QWidget(parent)
    line = QHBoxLayout(both)
    line.setContentsMargins(0, 0, 0, 0)
    line.setSpacing(0)
    line.addWidget(wide, 1)
    line.addWidget(narrow)
    return both
