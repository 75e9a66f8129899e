"""Buttons for the binding kinds that fit the selection."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QGridLayout, QLabel, QToolButton, QWidget

from sketcher.board.board import Board
from sketcher.board.ledger.ledger_edits import FittingKind, fitting_kinds
from sketcher.desk.looks import Look
from sketcher.desk.scene.signs import sign_icon

COLUMNS = 4


def teaching(choice: FittingKind) -> str:
    """Return what a button's tooltip says."""
    measured = "" if choice.measured is None else f"<br>It measures {choice.measured:.6g} now."
    return f"<p><b>{choice.label}</b><br>{choice.hint}{measured}</p>"


class KindBar(QWidget):
    """Shows one button a kind.

    Parameters
    ----------
    board : Board
    look : Look
    parent : QWidget
    rows : QWidget
        What stands above and would grow where fewer buttons are shown: not while the pointer is
        over it, for a double press must meet one row.

    Signals
    -------
    asked(str)
        A kind by which the selection is to be bound.
    """

    asked = Signal(str)

    def __init__(self, board: Board, look: Look, parent: QWidget, rows: QWidget) -> None:
        super().__init__(parent)
        self.rows = rows
        self.board = board
        self.look = look
        self.setAccessibleName("Kinds that fit the selection")
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setSpacing(2)
        self._hint = QLabel("Select geometry to bind it.", self)
        self._hint.setObjectName("faint")
        self._grid.addWidget(self._hint, 0, 0, 1, COLUMNS)
        self.buttons: dict[str, QToolButton] = {}

    def wear(self, look: Look) -> None:
        """Draw the signs in the colours of a look."""
        self.look = look
        for kind, button in self.buttons.items():
            button.setIcon(sign_icon(kind, look.text))

    def refresh(self) -> None:
        """Offer a button for each kind that fits the selection."""
        high = self.height() if self.rows.underMouse() else 0
        self._offer()
        self.setMinimumHeight(high)

    def _offer(self) -> None:
        fitting = {choice.kind: choice for choice in fitting_kinds(self.board.bench)}
        self._hint.setVisible(not fitting)
        if list(self.buttons) == list(fitting):
            for kind, choice in fitting.items():
                self.buttons[kind].setToolTip(teaching(choice))
            return
        for button in self.buttons.values():
            self._grid.removeWidget(button)
            button.hide()
            button.deleteLater()
        self.buttons = {}
        for place, (kind, choice) in enumerate(fitting.items()):
            button = self._button(choice)
            self._grid.addWidget(button, place // COLUMNS, place % COLUMNS)
            self.buttons[kind] = button

    def _button(self, choice: FittingKind) -> QToolButton:
        button = QToolButton(self)
        button.setText(choice.label)
        button.setIcon(sign_icon(choice.kind, self.look.text))
        button.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)
        button.setToolTip(teaching(choice))
        button.setAccessibleName(f"Bind: {choice.label}")
        button.setAccessibleDescription(choice.hint)
        button.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        button.clicked.connect(partial(self._ask, choice.kind))
        return button

    def _ask(self, kind: str, checked: bool = False) -> None:
        self.asked.emit(kind)

    def actions_for(self, parent: QObject) -> list[QAction]:
        """Return an action for each kind that fits the selection, for a context menu."""
        made = []
        for choice in fitting_kinds(self.board.bench):
            icon = sign_icon(choice.kind, self.look.text)
            action = QAction(icon, f"Bind: {choice.label}", parent)
            action.setToolTip(teaching(choice))
            action.triggered.connect(partial(self._ask, choice.kind))
            made.append(action)
        return made
