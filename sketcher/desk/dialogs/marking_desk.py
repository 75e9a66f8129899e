"""Marking a class: what is marked by what, the rubric, and the marks with a picture of each."""

from __future__ import annotations

from PySide6.QtCore import Qt, Slot
from PySide6.QtGui import QKeyEvent, QKeySequence, QPalette, QShortcut
from PySide6.QtWidgets import (
    QCheckBox,
    QDialogButtonBox,
    QLabel,
    QSplitter,
    QTabWidget,
    QVBoxLayout,
    QWidget,
)

from sketcher.board.board import Board
from sketcher.board.files.marking_book import ClassBook
from sketcher.board.files.marking_copies import MarkingCopies
from sketcher.board.files.marking_export import export_class
from sketcher.board.files.marking_words import book_state
from sketcher.board.window_port import Host
from sketcher.desk.dialogs.marking_pane import HandInPane
from sketcher.desk.dialogs.marking_rubric import MarkingRubric
from sketcher.desk.dialogs.marking_setup import MarkingSetup
from sketcher.desk.dialogs.marking_table import MarksTable
from sketcher.desk.dialogs.roomy import RoomyDialog, scrolled
from sketcher.desk.looks import Look
from sketcher.desk.work_bar import work_row
from sketcher.errors import SketcherError
from sketcher.interrupt import Stopped
from sketcher.marking.marking_file import MARKING_SUFFIX

CLASS, RUBRIC, MARKS = range(3)


class MarkingDesk(RoomyDialog):
    """Shows the book of a class; what is ruled stays until it is saved or dropped.

    Parameters
    ----------
    board : Board
    host : Host
    look : Look
    parent : QWidget
    copies : MarkingCopies, optional
        Of what is ruled and in no file.
    """

    def __init__(
        self, board: Board, host: Host, look: Look, parent: QWidget,
        copies: MarkingCopies | None = None,
    ) -> None:
        super().__init__(parent)
        self.board, self.host = board, host
        self.book = ClassBook(board, self.follow, copies)
        self._listed: tuple[object, ...] = ()
        self.setWindowTitle("Mark a class")
        self.setup = MarkingSetup(self.book, host, self)
        self.rubric = MarkingRubric(self.book, host, self)
        self.marks = QSplitter(Qt.Orientation.Horizontal, self)
        self.table = MarksTable(look, self.marks)
        self.pane = HandInPane(self.book, host, look, self.marks)
        self.names = QCheckBox("Show &names", self)
        self.names.setChecked(True)
        self.names.setToolTip("Without a tick the page and all that is exported goes by number.")
        self.said = QLabel(self)
        self.said.setWordWrap(True)
        self.said.setAccessibleDescription("How far the class is")
        self._arrange()
        self._connect()
        self.resize(self.screen().availableGeometry().size() * 0.92)
        self.follow()
        self.setup.fields["folder"].setFocus()

    # Building.

    def _arrange(self) -> None:
        self.marks.addWidget(self.table)
        self.marks.addWidget(self.pane)
        self.marks.setChildrenCollapsible(False)
        self.marks.setSizes([480, 720])
        self.marks.setStretchFactor(1, 1)
        self.marks.setAccessibleName("Marks and the hand-in")
        self.marks.handle(1).setAccessibleName("Divider between marks and the hand-in")
        self.tabs = QTabWidget(self)
        self.tabs.setAccessibleName("Steps of marking")
        for page, label, name in ((self.setup, "C&lass", "What is marked"),
                                  (self.rubric, "R&ubric", "What each rule costs"),
                                  (self.marks, "Mark&s", "Marks")):
            area = scrolled(page, name, self)
            # the ground of a tab is a colour on which faint words are not read in the dark look
            area.viewport().setBackgroundRole(QPalette.ColorRole.Window)
            area.viewport().setAutoFillBackground(True)
            self.tabs.addTab(area, label)
        outer = QVBoxLayout(self)
        outer.addWidget(self.tabs, 1)
        outer.addWidget(self.said)
        ends = work_row(self.board.bench.worker, self)
        ends.insertWidget(0, self.names)
        ends.addWidget(self._ends(), 1)
        outer.addLayout(ends)

    def _ends(self) -> QDialogButtonBox:
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close, self)
        role = QDialogButtonBox.ButtonRole
        self.go = buttons.addButton("&Mark the class", role.ActionRole)
        self.keep = buttons.addButton("Sa&ve", role.ActionRole)
        self.put = buttons.addButton("E&xport results ...", role.ActionRole)
        self.go.setToolTip("Compares every hand-in with the key, on all processors.")
        self.keep.setToolTip("Keeps what is chosen and ruled in a file, to go on another day."
                             "  (Ctrl+S)")
        self.put.setToolTip("Writes marks.csv, deductions.csv, a marked sheet for each hand-in "
                            "and the report of the class into a folder.")
        for button in buttons.buttons():
            button.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        for button in (self.go, self.keep, self.put,
                       buttons.button(QDialogButtonBox.StandardButton.Close)):
            button.setAutoDefault(False)
        self.go.clicked.connect(self.begin)
        self.keep.clicked.connect(self.save)
        self.put.clicked.connect(self.export)
        buttons.rejected.connect(self.reject)
        return buttons

    def _connect(self) -> None:
        self.names.toggled.connect(self.follow)
        self.table.pointed.connect(self._pointed)
        self.pane.stepped.connect(self.table.step)
        self.pane.told.connect(self.said.setText)
        self.rubric.told.connect(self.said.setText)
        self.setup.refused.connect(self._refused)
        short = QShortcut(QKeySequence(QKeySequence.StandardKey.Save), self)
        short.activated.connect(self.save)

    # What is shown.

    @Slot()
    def follow(self) -> None:
        """Show the book as it stands."""
        book, names = self.book, self.names.isChecked()
        self.said.setText(book_state(book, names))
        self.go.setEnabled(not book.going and not book.lacks)
        self.go.setText("&Mark again" if book.compared is not None else "&Mark the class")
        self.keep.setEnabled(book.can_be_saved)
        self.put.setEnabled(bool(book.rows) and not book.going)
        self.setup.follow()
        self.rubric.follow()
        shown = (book.rows, book.rubric, names, book.going, book.lacks)
        if shown != self._listed:
            came = bool(book.rows) and not (self._listed and self._listed[0])
            self._listed = shown
            self.table.show_book(book, names)
            self._show_hand_in()
            if came:
                self.tabs.setCurrentIndex(MARKS)
                self.table.setFocus()

    def _show_hand_in(self) -> None:
        number, _ = self.table.current()
        names = self.names.isChecked()
        self.pane.show_hand_in(number, names, book_state(self.book, names))

    @Slot(int, str)
    def _pointed(self, number: int, rule: str) -> None:
        if number != self.pane.number:
            self._show_hand_in()
        if rule:
            self.pane.point_at_rule(rule)

    @Slot(str)
    def _refused(self, why: str) -> None:
        self.said.setText(f"! {why}")

    # What is done.

    @Slot()
    def begin(self) -> None:
        """Mark the class."""
        self.book.begin()

    @Slot()
    def save(self) -> bool:
        """Keep the marking in its file, or in one that is asked for."""
        path = self.book.path or self.host.ask_path(
            "Save the marking", True, MARKING_SUFFIX, self._suggested())
        if path is None:
            return False
        try:
            self.book.save(path)
        except SketcherError as error:
            self.said.setText(f"! {error}")
            return False
        self.said.setText(f"Saved as {path.name}.")
        return True

    def _suggested(self) -> str:
        folder = self.book.folder
        return f"{folder.name if folder is not None else 'class'}{MARKING_SUFFIX}"

    @Slot()
    def export(self) -> None:
        """Write tables, marked sheets and the report of the class."""
        try:
            said = export_class(self.book, self.host, self.names.isChecked())
        except SketcherError as error:
            self.said.setText(f"! {error}")
            return
        except Stopped:
            self.said.setText("Stopped: nothing was exported.")
            return
        if said:
            self.said.setText(said)

    def reject(self) -> None:
        """Close; what was ruled and is in no file is asked about."""
        if self.book.is_changed:
            answer = self.host.ask_unsaved("The marking of the class")
            if answer == "cancel" or (answer == "save" and not self.save()):
                return
        self.book.forget_copy()  # saved, or not wanted
        super().reject()

    def done(self, result: int) -> None:
        """Close; what still goes on is wanted no more."""
        self.book.stop()
        super().done(result)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Take Enter only where a field or a button has it; Esc leaves a field first."""
        if event.key() == Qt.Key.Key_Escape and self.pane.leave_field():
            return
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            return
        super().keyPressEvent(event)


def mark_class(
    board: Board, host: Host, look: Look, parent: QWidget, copies: MarkingCopies
) -> None:
    """Show the page."""
    desk = MarkingDesk(board, host, look, parent, copies)
    desk.exec()
    desk.deleteLater()
