"""The deductions of a hand-in as a list, then what a person gave or took beside the rules."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from PySide6.QtCore import QSignalBlocker, Qt
from PySide6.QtGui import QColor
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QTableWidget,
    QTableWidgetItem,
    QWidget,
)

from sketcher.board.files.marking_book import BookRow, ClassBook
from sketcher.board.files.marking_words import VERDICTS
from sketcher.board.window_port import Host
from sketcher.desk.dialogs.marking_rubric import number_in
from sketcher.desk.looks import Look
from sketcher.marking.deduction_table import points_text, signed_text
from sketcher.marking.marks import PointsByHand
from sketcher.marking.rules import marking_rules

NO, POINTS, WHAT, RULED = range(4)


class DeductionList(QTableWidget):
    """A deduction a row, in the order of their numbers."""

    def __init__(self, look: Look, parent: QWidget) -> None:
        super().__init__(0, 4, parent)
        self.look = look
        self.setAccessibleName("Deductions")
        self.setHorizontalHeaderLabels(["No", "Points", "What", "Ruled"])
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setTabKeyNavigation(False)
        self.setWordWrap(True)
        self.verticalHeader().hide()
        head = self.horizontalHeader()
        head.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        head.setSectionResizeMode(WHAT, QHeaderView.ResizeMode.Stretch)
        self.verticalHeader().setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)

    def fill(self, row: BookRow | None) -> None:
        """List what a hand-in loses; nothing for None."""
        lines = list(_lines(row)) if row is not None else []
        with QSignalBlocker(self):
            self.setRowCount(len(lines))
            # heads that follow cells would measure every row anew with each of them
            each_cell = QSignalBlocker(self.model())
            for place, (cells, faint) in enumerate(lines):
                for column, text in enumerate(cells):
                    item = QTableWidgetItem(text)
                    item.setToolTip(text)
                    side = (Qt.AlignmentFlag.AlignRight if column in (NO, POINTS)
                            else Qt.AlignmentFlag.AlignLeft)
                    item.setTextAlignment(side | Qt.AlignmentFlag.AlignTop)
                    if faint:
                        item.setForeground(QColor(self.look.faint))
                    self.setItem(place, column, item)
            each_cell.unblock()
            self.model().layoutChanged.emit()


def _lines(row: BookRow) -> Iterator[tuple[tuple[str, str, str, str], bool]]:
    """Give the cells of each line, and whether it counts for nothing."""
    for place, each in enumerate(row.marks.deductions):
        what = f"{marking_rules()[each.rule].heading}: {each.mistake.text}"
        if each.comment:
            what += f"\n{each.comment}"
        yield (str(each.number), points_text(each.points), what,
               VERDICTS[row.verdicts[place]]), each.ruling == "waived"
    for given in row.marks.by_hand:
        yield ("", signed_text(given.points), given.words or "Nothing said for what",
               "by hand"), False


def signed_in(text: str, place: str) -> float:
    """Return points as typed: below zero takes off.

    Raises
    ------
    QuantityError
        When it is none.
    """
    plain = text.strip().replace("\N{MINUS SIGN}", "-")
    signed = plain[:1] in ("+", "-")
    value = number_in(plain[1:] if signed else plain, place)
    return -value if plain.startswith("-") else value


def ask_by_hand(book: ClassBook, host: Host, number: int) -> bool:
    """Ask for points that no rule gives or takes; return whether any were given."""
    whose = book.rows[number].marks
    points = ("Points that it is given" if whose.ungraded and not whose.by_hand else
              "Points: -5 takes off, 3 gives")

    def take(given: Mapping[str, str]) -> None:
        book.give(number, PointsByHand(signed_in(given["points"], "Points"),
                                       " ".join(given["words"].split())))

    return host.ask_form("Points by hand", (("points", points, ""), ("words", "For what", "")),
                         take=take) is not None
