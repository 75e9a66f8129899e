"""What to press first, written on an empty sheet; gone with the first curve."""

from __future__ import annotations

import sys
from html import escape

from PySide6.QtCore import QEvent, QObject, Qt, Slot
from PySide6.QtWidgets import QLabel, QWidget

from sketcher.board.board import Board
from sketcher.desk.menus import TRAY

FIRST = (TRAY[1], "axis", "layout line", "circle")
"""Tools that a part is begun with."""
CLEAR = 56
"""Pixels clear above the zero: its mark, and the word beside the pointer there."""
SIDE = 6
"""Pixels left and right of the words on a narrow sheet."""


class EmptyHint(QLabel):
    """Stands in the middle of the sheet and lets every press through.

    Parameters
    ----------
    board : Board
    port : QWidget
        The viewport that it stands on.
    """

    def __init__(self, board: Board, port: QWidget) -> None:
        super().__init__(port)
        self.board = board
        self.port = port
        self.setObjectName("faint")
        self.setTextFormat(Qt.TextFormat.RichText)
        self.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setText(words(board))
        self._wide = self.sizeHint().width()
        self.setWordWrap(True)
        port.installEventFilter(self)
        self.hear()

    @Slot(object)
    def hear(self, _: object = None) -> None:
        """Go with the first curve, and while one is being drawn."""
        empty = not self.board.part.curves and not self.board.preview.curves
        if empty != self.isVisibleTo(self.port):
            self.setVisible(empty)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Stay in the middle."""
        try:
            if event.type() == QEvent.Type.Resize:
                wide = min(self._wide, self.port.width() - 2 * SIDE)
                self.resize(wide, self.heightForWidth(wide))
                middle = self.port.rect().center()  # of an empty sheet: there its zero is
                self.move(middle.x() - self.width() // 2,
                          max(0, middle.y() - self.height() - CLEAR))
        except Exception:  # noqa: BLE001 - an exception that leaves an override can end the process
            sys.excepthook(*sys.exc_info())
        return False


def words(board: Board) -> str:
    """Return what can be pressed first, with the keys that the tools have."""
    tools = [board.tools[name] for name in FIRST]
    rows = "".join(f"<tr><td><b>{escape(tool.key)}</b>&nbsp;&nbsp;</td>"
                   f"<td>{escape(tool.label)}</td></tr>" for tool in tools)
    return ("<p style='font-size:large'>An empty sheet</p><p>Take a tool below, or press its key:"
            f"</p><table align='center'>{rows}</table>"
            "<p>Then press a place on the sheet; digits typed go to the readout.<br>"
            "F1 opens the help for the tool in hand.</p>")
