"""One hand-in of a class: its picture, its deductions, and what a person says of each."""

from __future__ import annotations

from dataclasses import replace
from html import escape

from PySide6.QtCore import QSignalBlocker, Qt, Signal, Slot
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QSizePolicy,
    QSplitter,
    QVBoxLayout,
    QWidget,
)

from sketcher.board.files.marking_book import BookRow, ClassBook
from sketcher.board.files.marking_words import points_words, remarks, who
from sketcher.board.window_port import Host
from sketcher.desk.dialogs.marking_deductions import (
    WHAT,
    DeductionList,
    ask_by_hand,
    signed_in,
)
from sketcher.desk.dialogs.marking_rubric import number_in
from sketcher.desk.dialogs.marking_view import HandInView
from sketcher.desk.dialogs.roomy import lines_to_read
from sketcher.desk.looks import Look
from sketcher.errors import QuantityError
from sketcher.marking.deduction_table import points_text, signed_text
from sketcher.marking.hand_rulings import Verdict
from sketcher.marking.marks import Deduction, PointsByHand

KEYS = (("accept", "Accept", "A", "It stands as it is; once more takes that back."),
        ("waive", "Waive", "W", "It costs nothing; once more takes that back. What was given by "
         "hand is dropped."))
BY_HAND = ("by hand", "By hand ...", "H", "Gives or takes points for what no rule looks at: "
           "lateness, neatness. What could not be marked is given its points so.")
STEPS = (("back", "Back", "B", "The student before, as the table is sorted."),
         ("next", "Next", "N", "The next student, as the table is sorted."))


class HandInPane(QWidget):
    """Shows the hand-in that is chosen in the table of marks.

    Parameters
    ----------
    book : ClassBook
    host : Host
    look : Look
    page : QWidget
        In which the keys count.

    Signals
    -------
    told(str)
        Why something typed was refused.
    stepped(int)
        Another student is wanted: -1 or 1.
    """

    told = Signal(str)
    stepped = Signal(int)

    def __init__(self, book: ClassBook, host: Host, look: Look, page: QWidget) -> None:
        super().__init__(page)
        self.book, self.host = book, host
        self.number = -1
        self.view = HandInView(look, self)
        self.view.picked.connect(self.point_at)
        self.list = DeductionList(look, self)
        self.list.currentCellChanged.connect(self._moved)
        self.notes = lines_to_read("Told beside the deductions", (), self)
        self.head = QLabel(self)
        self.head.setAccessibleDescription("The hand-in that is shown, and its points")
        self.head.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self._arrange(page)

    # Building.

    def _arrange(self, page: QWidget) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(6, 0, 0, 0)
        first = QHBoxLayout()
        self.buttons: dict[str, QPushButton] = {}
        first.addWidget(self.head, 1)
        for name, label, key, tip in STEPS:
            first.addWidget(self._button(name, label, key, tip, page))
        column.addLayout(first)
        below = QSplitter(Qt.Orientation.Vertical, self)
        below.setAccessibleName("Picture and deductions")
        below.setChildrenCollapsible(False)
        for piece, share in ((self.view, 5), (self.list, 3), (self.notes, 1)):
            piece.setMinimumHeight(40)
            below.addWidget(piece)
            below.setStretchFactor(below.count() - 1, share)
        below.handle(1).setAccessibleName("Divider between picture and deductions")
        below.handle(2).setAccessibleName("Divider between deductions and what else is told")
        below.setSizes([420, 180, 60])
        column.addWidget(below, 1)
        column.addLayout(self._ruling(page))

    def _button(self, name: str, label: str, key: str, tip: str, page: QWidget) -> QPushButton:
        """Return a button that its key presses as well."""
        made = QPushButton(f"{label} ({key})", self)
        made.setAccessibleName(label)
        made.setToolTip(f"{tip}  ({key})")
        made.setAutoDefault(False)
        act = {"accept": self.accept, "waive": self.waive, "back": self.back,
               "next": self.onward, "by hand": self.by_hand}[name]
        made.clicked.connect(act)
        short = QShortcut(QKeySequence(key), page)
        short.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        short.activated.connect(act)
        self.buttons[name] = made
        return made

    def _ruling(self, page: QWidget) -> QVBoxLayout:
        column = QVBoxLayout()
        row = QHBoxLayout()
        for name, label, key, tip in KEYS:
            row.addWidget(self._button(name, label, key, tip, page))
        words = QLabel("Points (P)", self)
        self.points = QLineEdit(self)
        self.points.setMaximumWidth(8 * self.points.fontMetrics().averageCharWidth())
        self.points.setAccessibleName("Points that it takes off")
        self.points.setToolTip("Changes what it takes off.  (P)")
        self.points.editingFinished.connect(self._points_typed)
        words.setBuddy(self.points)
        row.addWidget(words)
        row.addWidget(self.points)
        row.addStretch(1)
        row.addWidget(self._button(*BY_HAND, page))
        column.addLayout(row)
        row = QHBoxLayout()
        words = QLabel("Comment (C)", self)
        self.comment = QComboBox(self)
        self.comment.setEditable(True)
        self.comment.setInsertPolicy(QComboBox.InsertPolicy.NoInsert)
        self.comment.setAccessibleName("Comment")
        self.comment.setToolTip("In your own words, or one of the rubric's.  (C)")
        self.comment.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self.comment.setMinimumContentsLength(10)
        typed = self.comment.lineEdit()
        assert typed is not None
        typed.setAccessibleName("Comment in words")
        typed.editingFinished.connect(self._comment_typed)
        self.comment.activated.connect(self._comment_typed)
        self.keep = QPushButton("Add to rubric", self)
        self.keep.setAccessibleName("Add the comment to the rubric")
        self.keep.setToolTip("The comment is offered for the next one, too.")
        self.keep.setAutoDefault(False)
        self.keep.clicked.connect(self._keep)
        words.setBuddy(self.comment)
        row.addWidget(words)
        row.addWidget(self.comment, 1)
        row.addWidget(self.keep)
        column.addLayout(row)
        for key, field in (("P", self.points), ("C", typed)):
            short = QShortcut(QKeySequence(key), page)
            short.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
            short.activated.connect(field.selectAll)
            short.activated.connect(field.setFocus)
        return column

    # What is shown.

    @property
    def row(self) -> BookRow | None:
        """The hand-in that is shown."""
        rows = self.book.rows
        return rows[self.number] if 0 <= self.number < len(rows) else None

    @property
    def deduction(self) -> Deduction | None:
        """The deduction that is chosen."""
        row, at = self.row, self.list.currentRow()
        if row is None or not 0 <= at < len(row.marks.deductions):
            return None
        return row.marks.deductions[at]

    @property
    def given(self) -> PointsByHand | None:
        """What is chosen of the points that were given by hand."""
        row, at = self.row, self._given_at
        return row.marks.by_hand[at] if row is not None and at >= 0 else None

    @property
    def _given_at(self) -> int:
        row, at = self.row, self.list.currentRow()
        first = len(row.marks.deductions) if row is not None else 0
        return at - first if row is not None and first <= at < self.list.rowCount() else -1

    def show_hand_in(self, number: int, names: bool, words: str) -> None:
        """Show a hand-in of the book; `words` where there is none."""
        before, current = self.number, self.list.currentRow()
        self.number = number
        row = self.row
        if row is None:
            self.head.setText("")
            self.view.show_hand_in(None, (), words)
        else:
            self.head.setText(f"<b>{escape(who(row, names))}</b> &nbsp; {points_words(row)}")
            self.view.show_hand_in(row.view, row.marks.deductions, "\n".join(remarks(row)))
        told = remarks(row) if row is not None else ()
        if told != tuple(self.notes.item(n).text() for n in range(self.notes.count())):
            self.notes.clear()
            self.notes.addItems(list(told))
        self.notes.setVisible(bool(told) and row is not None and row.view is not None)
        self.list.fill(row)
        self._choose(current if number == before else 0)

    def _choose(self, place: int) -> None:
        with QSignalBlocker(self.list):
            if self.list.rowCount():
                self.list.setCurrentCell(min(max(place, 0), self.list.rowCount() - 1), WHAT)
        self._moved()

    @Slot(int)
    def point_at(self, number: int) -> None:
        """Choose a deduction by its number."""
        self._choose(number - 1)
        self.list.scrollTo(self.list.currentIndex())

    def point_at_rule(self, rule: str) -> None:
        """Choose the first deduction of a rule; none of it changes nothing."""
        row = self.row
        for each in row.marks.deductions if row is not None else ():
            if each.rule == rule:
                self.point_at(each.number)
                return

    @Slot()
    def _moved(self, *cells: int) -> None:
        """Show the deduction that is chosen."""
        each, row, given = self.deduction, self.row, self.given
        self.view.choose(each.number if each is not None else 0)
        self.view.reveal()
        for piece in (*(self.buttons[name] for name, *_ in KEYS), self.points, self.comment,
                      self.keep):
            piece.setEnabled(each is not None or given is not None)
        self.buttons["accept"].setEnabled(each is not None)
        with QSignalBlocker(self.comment):
            self.comment.clear()
            self.comment.addItems([*self.book.rubric.comments])
            self.comment.setEditText(self._words)
        self.points.setText(self._points)
        self.points.setModified(False)
        for step, *_ in (*STEPS, BY_HAND):
            self.buttons[step].setEnabled(row is not None)

    @property
    def _points(self) -> str:
        """Points of what is chosen, as they are typed."""
        if self.given is not None:
            return signed_text(self.given.points)
        return points_text(self.deduction.points) if self.deduction is not None else ""

    @property
    def _words(self) -> str:
        """What a person said of what is chosen."""
        if self.given is not None:
            return self.given.words
        return self.deduction.comment if self.deduction is not None else ""

    # What is said.

    def _verdict(self) -> Verdict:
        row = self.row
        assert row is not None
        return row.verdicts[self.list.currentRow()]

    @Slot()
    def accept(self) -> None:
        """Let a deduction stand, and go to the next."""
        self._rule("accepted")

    @Slot()
    def waive(self) -> None:
        """Let a deduction cost nothing, and go to the next; drop what was given by hand."""
        if self.given is not None:
            self.book.give(self.number, None, self._given_at)
        else:
            self._rule("waived")

    @Slot()
    def by_hand(self) -> None:
        """Give or take points that no rule does."""
        if self.row is None:
            return
        if ask_by_hand(self.book, self.host, self.number):
            self._choose(self.list.rowCount() - 1)
        self.list.setFocus()

    def _rule(self, verdict: Verdict) -> None:
        each = self.deduction
        if each is None:
            return
        again = self._verdict() == verdict
        at = self.list.currentRow()
        self.book.say(self.number, each, "open" if again else verdict)
        if not again:
            self._choose(at + 1)

    @Slot()
    def _points_typed(self) -> None:
        each, given = self.deduction, self.given
        if (each is None and given is None) or not self.points.isModified():
            return
        try:
            value = (number_in if given is None else signed_in)(self.points.text(), "Points")
        except QuantityError as error:
            self.points.setText(self._points)
            self.points.setModified(False)
            self.told.emit(f"! {error}")
            return
        if given is not None:
            self.book.give(self.number, replace(given, points=value), self._given_at)
        elif each is not None and (value != each.points or self._verdict() != "changed"):
            self.book.say(self.number, each, points=value)
        self.list.setFocus()

    @Slot()
    def _comment_typed(self) -> None:
        each, given = self.deduction, self.given
        text = self.comment.currentText().strip()
        if text == self._words:
            return
        if given is not None:
            self.book.give(self.number, replace(given, words=text), self._given_at)
        elif each is not None:
            self.book.say(self.number, each, comment=text)

    @Slot()
    def _keep(self) -> None:
        self._comment_typed()
        self.book.keep_comment(self.comment.currentText().strip())

    def leave_field(self) -> bool:
        """Drop what is typed into a field and leave it; False where none has the keyboard."""
        if not (self.points.hasFocus() or self.comment.hasFocus()):
            return False
        self._moved()
        self.list.setFocus()
        return True

    @Slot()
    def onward(self) -> None:
        """Go to the next student."""
        self.stepped.emit(1)

    @Slot()
    def back(self) -> None:
        """Go to the student before."""
        self.stepped.emit(-1)
