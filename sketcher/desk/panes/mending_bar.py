"""What would mend a clash or a binding said twice: the sentence, and a button for each offer."""

from __future__ import annotations

from functools import partial

from PySide6.QtWidgets import QLabel, QPushButton, QSizePolicy, QVBoxLayout, QWidget

from sketcher.board.board import Board
from sketcher.board.ledger import LedgerRow
from sketcher.board.mending import Offer, offers, partners, take
from sketcher.part.value import Part

MOST_OFFERS = 3


class MendingBar(QWidget):
    """Hidden while nothing is in trouble."""

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
        self.hide()

    def show_row(self, row: LedgerRow | None) -> None:
        """Show what would mend a row; None hides the bar."""
        name = row.id if row is not None else ""
        if self._shown is not None and self._shown[0] is self.board.part \
                and self._shown[1] == name:
            return
        self._shown = (self.board.part, name)
        self._empty()
        ways = offers(self.board, name) if row is not None else ()
        self.setVisible(bool(ways))
        if row is None or not ways:
            return
        self.words = self._trouble(row)
        label = QLabel(self.words, self)
        label.setWordWrap(True)
        label.setObjectName("reason")
        self._stack.addWidget(label)
        for offer in ways[:MOST_OFFERS]:
            button = QPushButton(offer.label, self)
            button.setToolTip(offer.label)
            button.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
            button.clicked.connect(partial(self._mend, offer))
            self._stack.addWidget(button)
            self.buttons.append(button)

    def _empty(self) -> None:
        self.buttons, self.words = [], ""
        while self._stack.count():
            item = self._stack.takeAt(0)
            widget = item.widget() if item is not None else None
            if widget is not None:
                widget.hide()
                widget.deleteLater()

    def _trouble(self, row: LedgerRow) -> str:
        """Return the sentence that says what is wrong with a row, and with which others."""
        others = partners(self.board, row.id) if row.state == "doubled" else ()
        more = f" It follows from {', '.join(others)}." if others else ""
        return f"{row.id} {row.reason}.{more}"

    def _mend(self, offer: Offer, checked: bool = False) -> None:
        take(self.board, offer)
