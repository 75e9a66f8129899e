"""What would mend a binding in trouble or a finding about outline: a sentence, a button a way.

The bar stands in a place of its own, away from the rows that lead to it, and comes up no sooner
than a double press can be over: the second press of one must not mend anything.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from time import monotonic

from PySide6.QtCore import QEvent, QObject, Qt, QTimer, Signal, Slot
from PySide6.QtGui import QEnterEvent
from PySide6.QtWidgets import (
    QApplication,
    QFrame,
    QLabel,
    QPushButton,
    QScrollArea,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from sketcher.board.board import Board
from sketcher.board.ledger.ledger_rows import LedgerRow
from sketcher.board.ledger.offer import Offer
from sketcher.board.mending.clash_mending import offering, partnering, take
from sketcher.board.mending.finding_ways import MENDED, finding_job
from sketcher.board.preview import Ghost
from sketcher.desk.panes.sections import SectionEntry
from sketcher.desk.panes.wrapped_button import WrappedButton
from sketcher.part.value import Part

LOWEST, HIGHEST = 64, 300
"""Pixels that the ways take at least and at most; more than fit there are scrolled to."""


class MendingBar(QWidget):
    """Hidden while nothing is in trouble.

    Signals
    -------
    pointed(object)
        Ids to light up while the pointer rests on the bar, so that a doubt shows its other part
        before a button is pressed; empty when it leaves.
    came(bool)
        It came up with something to offer, or went.
    tried(object)
        Curves as they would lie if the way under the pointer, or with the keyboard, were taken.
    pressed()
        A button was pressed: what comes next comes on the sheet.
    """

    pointed = Signal(object)
    came = Signal(bool)
    tried = Signal(object)
    pressed = Signal()

    def __init__(self, board: Board, parent: QWidget) -> None:
        super().__init__(parent)
        self.board = board
        self.setAccessibleName("What would mend it")
        self._shown: tuple[Part, str] | None = None
        self._finding: tuple[Part, tuple[str, ...]] | None = None
        self._speaks_of: tuple[str, ...] = ()
        self._asked = 0.0
        self.buttons: list[QPushButton] = []
        self._ghosts: dict[QObject, tuple[Ghost, ...]] = {}
        self.words = ""
        self.label = QLabel("", self)
        self.label.setWordWrap(True)
        self.label.setObjectName("reason")
        self._ways = QWidget(self)
        self._stack = QVBoxLayout(self._ways)
        self._stack.setContentsMargins(0, 0, 0, 0)
        self._stack.setSpacing(2)
        self._scroll = QScrollArea(self)
        self._scroll.setWidgetResizable(True)
        self._scroll.setFrameShape(QFrame.Shape.NoFrame)
        self._scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._scroll.setAccessibleName("Ways to mend it")
        self._scroll.setWidget(self._ways)
        stack = QVBoxLayout(self)
        stack.setContentsMargins(4, 2, 4, 4)
        stack.setSpacing(2)
        stack.addWidget(self.label)
        stack.addWidget(self._scroll)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Maximum)
        self._late = QTimer(self)
        self._late.setSingleShot(True)
        self._late.timeout.connect(self._come_up)
        self.hide()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Show what the way would change on which the pointer or the keyboard is."""
        kind = event.type()
        if kind in (QEvent.Type.Enter, QEvent.Type.FocusIn) and watched in self._ghosts:
            self.tried.emit(self._ghosts[watched])
        elif kind in (QEvent.Type.Leave, QEvent.Type.FocusOut) and watched in self._ghosts:
            self.tried.emit(())
        return False

    def enterEvent(self, event: QEnterEvent) -> None:
        """Point at what the bar speaks of."""
        super().enterEvent(event)
        self.pointed.emit(self._speaks_of)

    def leaveEvent(self, event: QEvent) -> None:
        """Point at nothing."""
        super().leaveEvent(event)
        self.pointed.emit(())

    def show_row(self, row: LedgerRow | None) -> None:
        """Show what would mend a row; None hides the bar."""
        if self._finding is not None and self._finding[0] is self.board.part \
                and self._finding[1] == self.board.bench.selection.ids:
            return  # the finding that was pressed is still looked at
        name = row.id if row is not None else ""
        asked = self._asks(name)
        if asked is not None and row is not None:
            binding = self.board.part.bindings[name]
            self._speaks_of = (name, *binding.of)
            doubled = name if row.state == "doubled" else ""
            self.board.bench.worker.start(
                offering(self.board.bench, name),
                partial(self._offer, asked, f"{name} {row.reason}.", doubled))

    @Slot(object)
    def show_finding(self, entry: SectionEntry) -> None:
        """Show what would mend a row of the findings that was pressed, and no other's ways.

        What is about a binding is mended as its row of the ledger is.
        """
        code, bindings = entry.cells[0].text, self.board.part.bindings
        if not entry.bad or (code not in MENDED and not bindings.keys().isdisjoint(entry.ids)):
            self._finding = None
            return
        self._finding = (self.board.part, self.board.bench.selection.ids)
        asked = self._asks(f"{code} {' '.join(entry.ids)}")
        if asked is not None and code in MENDED:
            self._speaks_of = entry.ids
            self.board.bench.worker.start(
                finding_job(self.board.bench, code, entry.ids),
                partial(self._offer, asked, f"{entry.cells[-1].text}.", ""))

    def _asks(self, name: str) -> tuple[Part, str] | None:
        """Empty the bar for what is asked now; None where that is what it shows."""
        part = self.board.part
        if self._shown is not None and self._shown[0] is part and self._shown[1] == name:
            return None
        self._shown, self._asked = (part, name), monotonic()
        self._empty()
        self._late.stop()
        if not self.isHidden():
            self.hide()
            self.came.emit(False)
        return self._shown

    def _offer(
        self, asked: tuple[Part, str], words: str, doubled: str, ways: tuple[Offer, ...]
    ) -> None:
        """Show the ways that were found, where they are still asked for."""
        if asked is not self._shown or asked[0] is not self.board.part or not ways:
            return
        self.words = words
        self.label.setText(self.words)
        if doubled:
            self._add(f"Which others say what {doubled} says?", partial(self._find, doubled))
        self._add_ways(ways)
        self._come_up()

    @Slot()
    def _come_up(self) -> None:
        """Show the bar, once a second press of the one that led to it can no longer come."""
        since = 1000.0 * (monotonic() - self._asked)
        left = QApplication.doubleClickInterval() - since
        if left > 0.0:
            self._late.start(int(left) + 10)
        elif self.buttons:
            self.show()
            self.came.emit(True)
            self._fit()

    def _fit(self) -> None:
        """Be as high as all ways need, up to a limit."""
        wide = max(self.width() - 16, 90)
        need = sum(b.heightForWidth(wide) + 2 for b in self.buttons)
        self._scroll.setMinimumHeight(min(need, LOWEST))
        self._scroll.setMaximumHeight(min(need, HIGHEST))

    def resizeEvent(self, event: object) -> None:
        """Follow the width: the words wrap anew."""
        self._fit()

    def _add_ways(self, ways: Sequence[Offer]) -> None:
        for offer in ways:
            text = f"{offer.label}: {offer.says}" if offer.says else offer.label
            button = self._add(text, partial(self._mend, offer))
            self._ghosts[button] = offer.ghosts

    def _add(self, label: str, slot: Callable[[bool], None]) -> QPushButton:
        button = WrappedButton(label, self._ways)
        button.clicked.connect(slot)
        button.clicked.connect(self.pressed)
        button.installEventFilter(self)
        self._stack.addWidget(button)
        self.buttons.append(button)
        return button

    def _empty(self) -> None:
        for button in self.buttons:
            self._stack.removeWidget(button)
            button.hide()
            button.deleteLater()
        self.buttons, self.words, self._speaks_of = [], "", ()
        self._ghosts.clear()
        self.tried.emit(())

    def _find(self, name: str, checked: bool = False) -> None:
        """Say from which others a doubled binding follows; it takes many solves, so on request."""
        self.board.bench.worker.start(partnering(self.board.bench, name),
                                      partial(self._found, self._shown, name))

    def _found(
        self, asked: tuple[Part, str] | None, name: str,
        found: tuple[tuple[str, ...], tuple[Offer, ...]],
    ) -> None:
        """Say which others, and offer each of them to go instead."""
        if asked is not self._shown or asked is None or asked[0] is not self.board.part:
            return
        others, ways = found
        self.words = (
            f"{name} follows from {', '.join(others)}." if others
            else f"{name} follows from many others together."
        )
        self.label.setText(self.words)
        self.buttons[0].hide()
        first = self.buttons.pop(0)
        self._stack.removeWidget(first)
        first.deleteLater()
        self._add_ways(ways)
        self._fit()
        self.board.bench.select((name, *others))

    def _mend(self, offer: Offer, checked: bool = False) -> None:
        self.tried.emit(())
        take(self.board.bench, offer)
