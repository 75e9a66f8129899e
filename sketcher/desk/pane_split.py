"""The middle of the window: three panes side by side, and what stands below them."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Slot
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QSplitter, QVBoxLayout, QWidget

LEFT, RIGHT = (0.325, 480), (0.215, 400)
"""Share of the width that a side pane begins with, and the most pixels of it: at a width of 1366
the ledger then holds all columns of the demo parts."""


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
        self.panes = tuple(panes)
        self.divided = False
        self.split = QSplitter(Qt.Orientation.Horizontal, self)
        for pane in panes:
            self.split.addWidget(pane)
        self.split.setStretchFactor(1, 1)
        self.split.setChildrenCollapsible(True)
        self.split.setCollapsible(1, False)
        self.split.setAccessibleName("Desk")
        for handle, side in ((1, "left"), (2, "right")):
            self.split.handle(handle).setAccessibleName(f"Width of the {side} pane")
        self.split.splitterMoved.connect(self._divide)
        stack = piled(self, self.split, *below)
        stack.setStretchFactor(self.split, 1)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Share the width out until a person has moved a divider."""
        super().resizeEvent(event)
        if not self.divided:
            width = event.size().width()
            left, right = (min(int(width * share), most) for share, most in (LEFT, RIGHT))
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
        if self.divided and sizes[place] == 0:
            share, most = LEFT if place == 0 else RIGHT
            sizes[place] = min(int(self.width() * share), most)
            sizes[1] = max(sizes[1] - sizes[place], 1)
            self.split.setSizes(sizes)

    def put_below(self, piece: QWidget) -> None:
        """Put one more row right below the panes."""
        stack = self.layout()
        assert isinstance(stack, QVBoxLayout)
        stack.insertWidget(1, piece)

    def divide(self, sizes: Sequence[int]) -> None:
        """Put the dividers where they were once, as long as the sheet keeps room."""
        if len(sizes) == len(self.panes) and all(size >= 0 for size in sizes) and sizes[1] > 0:
            self.divided = True
            self.split.setSizes(list(sizes))

    def sizes(self) -> list[int]:
        """Return the panes' widths, hidden ones as they were; none before a divider was moved."""
        if not self.divided:
            return []
        return [pane.width() if pane.isHidden() else size
                for pane, size in zip(self.panes, self.split.sizes(), strict=True)]

    @Slot()
    def _divide(self) -> None:
        self.divided = True


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
