"""The table of bindings: columns as wide as their words, and rows that stay in view."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QEvent, Qt, Signal, Slot
from PySide6.QtGui import (
    QFont,
    QFontMetrics,
    QGuiApplication,
    QKeyEvent,
    QKeySequence,
    QResizeEvent,
)
from PySide6.QtWidgets import QAbstractItemView, QTableView, QWidget

from sketcher.board.ledger.ledger_rows import LedgerRow
from sketcher.desk.keys import begins_typing
from sketcher.desk.panes.ledger_model import COLUMNS, FIELDS, LedgerModel
from sketcher.desk.panes.row_table import keeps_copy

LOOKED_AT = 400
"""Rows from which the columns take their width."""
AIR, HEAD, SIGN, BOX = 8, 6, 25, 20
"""Pixels around a word of a cell and of a title, beside a sign, and for a box to tick."""
LEAST_ROWS, LEAST_HIGH = 2, 16
"""Rows that are seen in the lowest window, and the pixels of frame and scroll bar."""
TYPED = ("value", "tolerance")
"""Columns that a character on the keyboard begins to fill; a name wants a double press."""
LEAST_WORDS, LEAST_EXPRESSION = "run p1 t", "width/2"
"""As wide as words and expressions are at least, before columns are scrolled to instead: all of
the demo parts then fit a window of 960 pixels (tried at 800, 960 and 1024)."""
WORDS_OVER = ("of", "value", "actual")
"""Columns over which the words of a relation may go: it has no value."""


class LedgerTable(QTableView):
    """The table of bindings; Alt with arrows moves a row, Delete drops it.

    Signals
    -------
    moved(int)
        A row is to go up (-1) or down (1).
    dropped()
        The selected rows are to be dropped.
    """

    moved = Signal(int)
    dropped = Signal()

    def __init__(self, model: LedgerModel, parent: QWidget) -> None:
        super().__init__(parent)
        self.lines = model
        self._wanted: tuple[int, ...] = ()
        self.setModel(model)
        self.setAccessibleName("Bindings")
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setWordWrap(False)
        self.setTextElideMode(Qt.TextElideMode.ElideMiddle)  # what is bound stands at the end
        self.setMouseTracking(True)
        self.verticalHeader().hide()
        self.verticalHeader().setDefaultSectionSize(self.fontMetrics().height() + 5)
        header = self.horizontalHeader()
        self.setMinimumHeight(header.sizeHint().height() + LEAST_HIGH
                              + LEAST_ROWS * self.verticalHeader().defaultSectionSize())
        header.setAccessibleName("Columns of the bindings")
        header.setMinimumSectionSize(20)
        header.setStretchLastSection(False)
        header.setHighlightSections(False)
        model.modelReset.connect(self._set_out)
        model.dataChanged.connect(self._share)

    @Slot()
    def _set_out(self) -> None:
        """Give headings the whole line, and relations the columns that they have no use for."""
        self.clearSpans()
        first = FIELDS.index(WORDS_OVER[0])
        for n, line in enumerate(self.lines.lines):
            if not isinstance(line, LedgerRow):
                self.setSpan(n, 0, 1, len(FIELDS))
            elif line.quantity is None:
                self.setSpan(n, first, 1, len(WORDS_OVER))
        self._share()

    @Slot()
    def _share(self) -> None:
        """Make columns as wide as their words; what is left of the width goes to the words.

        Where they do not fit a residual is told beside what is measured, where it is not 0; then
        the words are cut short in their middle, and after them expressions, whose result stands
        beside them; the tip has the whole. A table that is too narrow even for that is scrolled
        sideways, with nothing cut short.
        """
        room = self.viewport().width()
        self._join(joined=False)
        wide = self._needed()
        if sum(wide.values()) > room:
            self._join(joined=True)
            wide = self._needed()
        wide = self._cut(wide, room)
        spare = room - sum(wide.values())
        if spare < 0:  # the columns in view fill it, so that none begins at the edge
            whole = 0
            for width in wide.values():
                if whole + width > room:
                    break
                whole += width
            spare = room - whole if whole >= wide["id"] + wide["of"] else 0
        wide["of"] += max(0, spare)
        for field, width in wide.items():
            self.setColumnWidth(FIELDS.index(field), width)

    def _cut(self, wide: dict[str, int], room: int) -> dict[str, int]:
        """Return widths that fit a room because words and expressions are cut short, if they can.

        A number is never cut: what is left of one would be another.
        """
        bold = self._bold()
        numbers = (row.value for row in self.lines.rows[:LOOKED_AT] if is_number(row.value))
        least = {"of": self.fontMetrics().horizontalAdvance(LEAST_WORDS) + SIGN + AIR,
                 "value": max(map(bold.horizontalAdvance, (LEAST_EXPRESSION, *numbers))) + AIR}
        narrow = dict(wide)
        for field, low in least.items():
            over = sum(narrow.values()) - room
            narrow[field] -= max(0, min(over, narrow[field] - low))
        return narrow if sum(narrow.values()) <= room else wide

    def _bold(self) -> QFontMetrics:
        font = QFont(self.font())
        font.setBold(True)
        return QFontMetrics(font)

    def _join(self, joined: bool) -> None:
        """Tell residuals in a column of their own, or with what is measured."""
        self.lines.joined = joined
        self.setColumnHidden(FIELDS.index("residual"), joined)

    def _needed(self) -> dict[str, int]:
        plain, bold = self.fontMetrics(), self._bold()
        wide = {field: plain.horizontalAdvance(title) + HEAD for field, title, _ in COLUMNS}
        wide["drives"] = max(wide["drives"], BOX)
        relations = 0
        for row in self.lines.rows[:LOOKED_AT]:
            said = plain.horizontalAdvance(row.said) + SIGN + AIR
            wide["id"] = max(wide["id"], plain.horizontalAdvance(row.id) + AIR)
            wide["residual"] = max(wide["residual"],
                                   plain.horizontalAdvance(row.residual_text) + AIR)
            if row.quantity is None:
                relations = max(relations, said)
                continue
            wide["of"] = max(wide["of"], said)
            wide["value"] = max(wide["value"], bold.horizontalAdvance(row.value) + AIR)
            actual = str(self.lines.text(row, "actual"))
            wide["actual"] = max(wide["actual"], plain.horizontalAdvance(actual) + AIR)
            wide["tolerance"] = max(wide["tolerance"],
                                    plain.horizontalAdvance(row.tolerance) + AIR)
        if self.lines.joined:
            del wide["residual"]
        wide["of"] += max(0, relations - sum(wide[field] for field in WORDS_OVER))
        return wide

    def light(self, strongly: bool) -> None:
        """Paint selected rows as what is meant, or fainter, as what hangs together with that."""
        word = "false" if strongly else "true"
        if self.property("follows") != word:
            self.setProperty("follows", word)
            self.lines.faint = not strongly
            self.style().unpolish(self)
            self.style().polish(self)

    # Rows that stay in view.

    def bring(self, lines: Sequence[int]) -> None:
        """Bring lines into view and keep them there while what stands around changes its size.

        Where they are further apart than the table is high the first is seen, and as many more as
        there is room for.
        """
        self._wanted = tuple(lines)
        self._reveal()

    def _reveal(self) -> None:
        across = self.horizontalScrollBar().value()
        for line in (self._wanted[-1:] + self._wanted[:1]):
            self.scrollTo(self.lines.index(line, 0))
        self.horizontalScrollBar().setValue(across)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Share the width out again; keep in view what is wanted there."""
        super().resizeEvent(event)
        self._share()
        if event.oldSize().height() != event.size().height():
            self._reveal()

    def event(self, event: QEvent) -> bool:
        """Keep the key that copies: with the keyboard here it means these rows."""
        return keeps_copy(event) or super().event(event)

    def keeps_key(self, event: QKeyEvent) -> bool:
        """Keep what is typed into a value, and Delete for chosen rows; see `PaneKeys`."""
        if event.key() == Qt.Key.Key_Delete:
            return self.selectionModel().hasSelection() and not self.lines.faint
        index = self.currentIndex()
        editable = bool(self.lines.flags(index) & Qt.ItemFlag.ItemIsEditable)
        return begins_typing(event) and editable and FIELDS[index.column()] in TYPED

    def copy_rows(self) -> None:
        """Put the selected rows on the clipboard, as a table that a spreadsheet takes."""
        rows = sorted(index.row() for index in self.selectionModel().selectedRows())
        found = [row for n in rows if (row := self.lines.at(n)) is not None]
        lines = [[title for _, title, _ in COLUMNS]]
        lines += [[row.id, row.said, row.value, row.actual_text, row.residual_text,
                   "yes" if row.drives else "no", row.tolerance] for row in found]
        QGuiApplication.clipboard().setText("\n".join("\t".join(line) for line in lines) + "\n")

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Move, drop or copy rows; everything else as in any table."""
        if event.matches(QKeySequence.StandardKey.Copy):
            self.copy_rows()
            return
        alt = event.modifiers() & Qt.KeyboardModifier.AltModifier
        if alt and event.key() in (Qt.Key.Key_Up, Qt.Key.Key_Down):
            self.moved.emit(-1 if event.key() == Qt.Key.Key_Up else 1)
        elif event.key() == Qt.Key.Key_Delete:
            self.dropped.emit()
        else:
            super().keyPressEvent(event)


def is_number(text: str) -> bool:
    """Tell whether a value is a number or a fraction, with no name or unit in it."""
    return not any(letter.isalpha() or letter == "_" for letter in text)
