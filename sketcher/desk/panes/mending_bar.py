"""What would mend a clash, a binding said twice or one in doubt: a sentence, a button an offer."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import QEvent, Signal
from PySide6.QtGui import QEnterEvent
from PySide6.QtWidgets import QLabel, QPushButton, QSizePolicy, QVBoxLayout, QWidget

from sketcher.board.board import Board
from sketcher.board.ledger.ledger_rows import LedgerRow
from sketcher.board.ledger.offer import Offer
from sketcher.board.mending.clash_mending import offering, partners, take
from sketcher.interrupt import Stopped
from sketcher.part.value import Part

MOST_OFFERS = 3


class MendingBar(QWidget):
    """Hidden while nothing is in trouble.

    Signals
    -------
    pointed(object)
        Ids to light up while the pointer rests on the bar, so that a doubt shows its other part
        before a button is pressed; empty when it leaves.
    """

    pointed = Signal(object)

    def __init__(self, board: Board, parent: QWidget) -> None:
        super().__init__(parent)
        self.board = board
        self.setAccessibleName("What would mend it")
        self._stack = QVBoxLayout(self)
        self._stack.setContentsMargins(0, 0, 0, 0)
        self._stack.setSpacing(2)
        self._shown: tuple[Part, str] | None = None
        self.buttons: list[QPushButton] = []
        self.words = ""
        self.label = QLabel("", self)
        self.label.setWordWrap(True)
        self.label.setObjectName("reason")
        self._stack.addWidget(self.label)
        self.hide()

    def enterEvent(self, event: QEnterEvent) -> None:
        """Point at what the bar speaks of."""
        super().enterEvent(event)
        name = self._shown[1] if self._shown is not None else ""
        binding = self.board.part.bindings.get(name)
        self.pointed.emit((name, *binding.of) if binding is not None else ())

    def leaveEvent(self, event: QEvent) -> None:
        """Point at nothing."""
        super().leaveEvent(event)
        self.pointed.emit(())

    def show_row(self, row: LedgerRow | None) -> None:
        """Show what would mend a row; None hides the bar."""
        name = row.id if row is not None else ""
        if self._shown is not None and self._shown[0] is self.board.part \
                and self._shown[1] == name:
            return
        self._shown = (self.board.part, name)
        self._empty()
        self.hide()
        if row is not None:
            self.board.bench.worker.start(offering(self.board.bench, name),
                                    partial(self._offer, self._shown, row))

    def _offer(
        self, asked: tuple[Part, str], row: LedgerRow, ways: tuple[Offer, ...]
    ) -> None:
        """Show the ways that were found, where they are still asked for."""
        if asked is not self._shown or asked[0] is not self.board.part:
            return
        self.setVisible(bool(ways))
        if not ways:
            return
        self.words = f"{row.id} {row.reason}."
        self.label.setText(self.words)
        self.label.show()
        if row.state == "doubled":
            self._add(f"Which others say what {row.id} says?", partial(self._find, row.id))
        for offer in ways[:MOST_OFFERS]:
            self._add(offer.label, partial(self._mend, offer))

    def _add(self, label: str, slot: Callable[[bool], None]) -> None:
        button = QPushButton(label, self)
        button.setToolTip(label)
        button.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        button.clicked.connect(slot)
        self._stack.addWidget(button)
        self.buttons.append(button)

    def _empty(self) -> None:
        for button in self.buttons:
            self._stack.removeWidget(button)
            button.hide()
            button.deleteLater()
        self.buttons, self.words = [], ""
        self.label.hide()

    def _find(self, name: str, checked: bool = False) -> None:
        """Say from which others a doubled binding follows; it takes many solves, so on request."""
        try:
            others = partners(self.board.bench, name)
        except Stopped:
            return
        self.words = (
            f"{name} follows from {', '.join(others)}." if others
            else f"{name} follows from many others together."
        )
        self.label.setText(self.words)
        self.board.bench.select((name, *others))

    def _mend(self, offer: Offer, checked: bool = False) -> None:
        take(self.board.bench, offer)
