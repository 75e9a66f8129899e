"""The inspection pane: the verdict, and below it every section of the report."""

from __future__ import annotations

import sys
from functools import partial
from typing import Any

from PySide6.QtCore import QModelIndex, Qt, QTimer, Signal, Slot
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QToolBox,
    QVBoxLayout,
    QWidget,
)

from sketcher.board.board import Board
from sketcher.board.job import Job
from sketcher.board.steps.notices import Change
from sketcher.desk.looks import Look
from sketcher.desk.panes.advice_watch import AdviceWatch
from sketcher.desk.panes.cutting_section import (
    COLUMNS,
    PENDING,
    CuttingTold,
    short_entry,
)
from sketcher.desk.panes.holes_section import NAME, TITLE, HolesWatch
from sketcher.desk.panes.reason_note import ReasonNote
from sketcher.desk.panes.row_table import EntryTable
from sketcher.desk.panes.section_tabs import SectionTabs
from sketcher.desk.panes.sections import Section, SectionEntry, sections, verdict, with_cutting
from sketcher.desk.panes.worst_line import WorstLine
from sketcher.interrupt import Stopped
from sketcher.part.value import Part

TITLES = {
    "findings": "Findings", "dimensions": "Dimensions", "joints": "Joints and touches",
    "freedoms": "Freedoms", "doubled": "Redundant", "profile": "Profile", "symmetry": "Symmetry",
    "cutting": "Cutting",
}
FINDINGS, CUTTING = (list(TITLES).index(name) for name in ("findings", "cutting"))
HOLES = len(TITLES)
"""Place of the list of holes, which has a tab once it was asked for: each tab takes room."""
AIR = 14
"""Pixels around the words on a section's tab."""
NOTE_SHARE = 5
"""Of the pane's height that the words below the rows may take, one part in this many."""


class InspectionPane(QWidget):
    """Shows the board's inspection.

    Signals
    -------
    pointed(object)
        Ids that a row under the pointer speaks of.
    asked(object)
        An `SectionEntry` that was activated: zoom there and show it.
    judged(bool, str)
        The verdict.
    """

    pointed = Signal(object)
    asked = Signal(object)
    judged = Signal(bool, str)

    def __init__(self, board: Board, look: Look, parent: QWidget) -> None:
        super().__init__(parent)
        self.board = board
        self.setAccessibleName("Inspection")
        stack = QVBoxLayout(self)
        stack.setContentsMargins(4, 4, 4, 4)
        stack.setSpacing(4)
        stack.addLayout(self._head())
        self.worst = WorstLine(self)
        self.worst.asked.connect(self._open)
        stack.addWidget(self.worst)
        self.room = QScrollArea(self)
        self.box = QToolBox(self.room.viewport())  # in its place: a move would style all of it anew
        self.note = ReasonNote(self)
        self.tables: dict[str, EntryTable] = {}
        for name, title in TITLES.items():
            self.box.addItem(self._table(name, title, look), title)
        self.tabs = SectionTabs(self.box, look)
        self._short = short_entry(PENDING)
        self._first: SectionEntry | None = None
        self.advice = AdviceWatch(board, self)
        self.advice.came.connect(self._advise)
        self.advice.waits.connect(self._await_advice)
        self.advice.lacks.connect(self._no_advice)
        self.holes = HolesWatch(board, self._table(NAME, TITLE, look), self)
        self.tables[NAME].hide()  # until its section is in the box
        self._stopped = False
        self._drawing = ""
        self.box.currentChanged.connect(self._opened)
        stack.addWidget(self._room(), 1)
        stack.addWidget(self.note)
        self._opened(self.box.currentIndex())

    def _table(self, name: str, title: str, look: Look) -> EntryTable:
        """Return the table of a section, whose rows can be pointed at and gone to."""
        table = self.tables[name] = EntryTable(self.box, title, look.bad)
        table.entered.connect(self._point)
        table.activated.connect(self._ask)
        table.clicked.connect(self._ask)
        table.fitted.connect(self._make_room)
        self.note.watch(table)
        return table

    def show_holes(self) -> None:
        """Open the list of holes."""
        table = self.tables[NAME]
        if self.box.indexOf(table) < 0:
            self.box.addItem(table, TITLE)
            self._plain()
        table.show()
        self.box.setCurrentWidget(table)

    def _plain(self) -> None:
        """Let each section be scrolled by the room, and the keyboard go to its rows."""
        for inner in self.box.findChildren(QScrollArea):  # each section lies in one of the box's
            inner.setFocusPolicy(Qt.FocusPolicy.NoFocus)
            inner.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)

    def _room(self) -> QScrollArea:
        """Return where the sections lie; in a low window they are scrolled to."""
        room = self.room
        room.setWidgetResizable(True)
        room.setFrameShape(QFrame.Shape.NoFrame)
        room.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        room.setAccessibleName("Sections of the inspection")
        room.setWidget(self.box)
        self.box.setAutoFillBackground(False)
        self._plain()
        room.viewport().setAutoFillBackground(False)
        return room

    @Slot()
    def _make_room(self) -> None:
        """Let the first rows of the open section be seen, whatever the window's height."""
        table = self.box.currentWidget()
        if isinstance(table, EntryTable):
            for inner in self.box.findChildren(QScrollArea):
                if inner.isAncestorOf(table):
                    table.setMinimumHeight(table.least_height())
                    inner.setMinimumHeight(table.least_height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Leave most of the height to the rows."""
        super().resizeEvent(event)
        self.note.keep_below(self.height() // NOTE_SHARE)

    def _head(self) -> QVBoxLayout:
        """Return the verdict, with a line of its own, above what can be done with the report."""
        head, line = QVBoxLayout(), QHBoxLayout()
        self.verdict = QLabel("", self)
        self.verdict.setObjectName("verdict")
        self.verdict.setWordWrap(True)
        self.verdict.setAccessibleDescription("Verdict")
        font = self.verdict.font()
        font.setPointSizeF(font.pointSizeF() * 1.35)
        font.setBold(True)
        self.verdict.setFont(font)
        self.verdict.setMinimumHeight(self.verdict.fontMetrics().lineSpacing())
        head.addWidget(self.verdict)
        self.copy = QPushButton("Copy", self)
        self.copy.setToolTip("Copy the open section as a table that a spreadsheet takes.")
        self.copy.clicked.connect(self._copy)
        self.save = QPushButton("Export report\N{HORIZONTAL ELLIPSIS}", self)
        self.save.setToolTip("Exports the whole inspection as CSV or HTML.")
        line.addWidget(self.copy)
        line.addWidget(self.save)
        line.addStretch(1)
        head.addLayout(line)
        return head

    def wear(self, look: Look) -> None:
        """Change the colour of findings."""
        self.tabs.wear(look)
        for table in self.tables.values():
            table.rows.bad = look.bad
            table.viewport().update()

    @Slot(object)
    def hear(self, change: Change) -> None:
        """Judge anew where the outline that is being drawn is another one, or ends.

        The list of holes is the part's, and its chosen rows are what is selected.
        """
        if self.box.currentIndex() == HOLES and change.reason != "drag":  # letting go is an edit
            self.holes.look()
            if change.reason == "selection":
                self.holes.follow()
        if self.board.tool.drawn_from != self._drawing:
            self._drawing = self.board.tool.drawn_from
            known = self.board.bench.derived.known_inspection()
            if known is not None:
                self._take(self.board.part, known)

    @Slot()
    def refresh(self) -> None:
        """Show the inspection of the part as it stands; an inspection that fails is no verdict."""
        self._stopped = False
        part, known = self.board.part, self.board.bench.derived.known_inspection()
        if known is not None:
            self._take(part, known)
            return
        try:
            self.board.bench.worker.start(
                self.board.bench.derived.inspecting(), partial(self._take, part),
                partial(self._not_inspected, part))
        except Exception as error:  # noqa: BLE001 - the verdict must never stay on an old "Sound"
            self._not_inspected(part, error)

    def _take(self, part: Part, inspection: Any) -> None:
        """Show an inspection, unless the part has changed meanwhile."""
        if self.board.bench.derived.take_inspection(part, inspection):
            self.board.bench.worker.start(
                Job("Inspection", sections, (inspection, self._drawing),
                    self.board.bench.derived.quick),
                partial(self._tell, part, inspection), partial(self._not_inspected, part),
            )

    def _tell(self, part: Part, inspection: Any, found: tuple[Section, ...]) -> None:
        if part is not self.board.part:
            return
        self._say(*verdict(inspection, found[FINDINGS]))
        rows = found[FINDINGS].entries
        self._first = rows[0] if rows and rows[0].bad else None
        for number, section in enumerate(found):
            self._show(number, section)
        self.advice.look(self.box.currentIndex() == CUTTING)
        self._show_worst()

    def _not_inspected(self, part: Part, error: BaseException) -> None:
        if part is not self.board.part:
            return
        self._say(False, "Not inspected")
        self._stopped = isinstance(error, Stopped)
        if not self._stopped:
            sys.excepthook(type(error), error, error.__traceback__)

    @Slot(int)
    def _opened(self, place: int) -> None:
        try:
            widget = self.box.currentWidget()
            QTimer.singleShot(0, self, self._reveal)  # when the box has been laid out anew
            self.note.look_at(widget if isinstance(widget, EntryTable) else None)
            if place == HOLES:
                self.holes.look()
                self.holes.follow()
            if self._stopped:  # whoever opens a section wants to know after all
                self.refresh()
            else:
                self.advice.look(place == CUTTING)
            self._show_worst()
        except Exception:  # noqa: BLE001 - a slot only tells
            sys.excepthook(*sys.exc_info())

    @Slot()
    def _reveal(self) -> None:
        """Scroll to the open section, and to its top where it is higher than the room."""
        widget = self.box.currentWidget()
        if widget is not None:
            self._make_room()
            self.room.ensureWidgetVisible(widget, 0, 0)
            top = widget.mapTo(self.box, widget.rect().topLeft())
            self.room.ensureVisible(top.x(), top.y(), 0, self.fontMetrics().height() + AIR)

    # The advice for cutters comes by itself, a little later.

    @Slot(object)
    def _advise(self, told: CuttingTold) -> None:
        self._show(CUTTING, told.section)
        self._in_short(told.short)

    @Slot()
    def _await_advice(self) -> None:
        """Leave the old advice where it stands, in grey, until the new one comes."""
        known = self.tables["cutting"].rows.section
        words = known.heading if known is not None and known.entries else TITLES["cutting"]
        self.tabs.say(CUTTING, f"{words} {PENDING}", "faint")
        self._in_short(short_entry(PENDING))

    @Slot(str)
    def _no_advice(self, why: str) -> None:
        section = Section("cutting", TITLES["cutting"], COLUMNS, (), note=why)
        self._show(CUTTING, section)
        self._in_short(short_entry(why))

    def _in_short(self, entry: SectionEntry) -> None:
        """Tell the advice in short beside what the part measures, where that is shown."""
        was, self._short = self._short, entry
        self.tables["findings"].put_entry(was, entry)
        self._show_worst()

    @Slot(int)
    def _open(self, place: int) -> None:
        self.box.setCurrentIndex(place)
        self.box.currentWidget().setFocus()

    def _show_worst(self) -> None:
        """Tell what is worst while the section that it is in is closed."""
        place, entry = FINDINGS, self._first
        if entry is None and self._short.bad:
            place, entry = CUTTING, self._short
        seen = self.box.currentIndex() in (place, FINDINGS)
        self.worst.tell("" if entry is None or seen else entry.cells[-1].text, place)

    def _show(self, number: int, section: Section) -> None:
        self.tables[section.name].show_section(with_cutting(section, self._short))
        self.tabs.say(number, section.heading, "bad" if section.is_bad else "plain")

    def pending(self, anew: bool = False) -> None:
        """Take the verdict back until the part has been inspected again; `anew` for another."""
        self.advice.stop()
        if anew:
            self._no_advice(PENDING)
        if self.verdict.text() != PENDING:
            self._say(False, PENDING)

    def _say(self, sound: bool | None, line: str) -> None:
        word = "" if sound is None else "true" if sound else "false"
        self.verdict.setText(line)
        if self.verdict.property("sound") != word:
            self.verdict.setProperty("sound", word)
            self.verdict.style().unpolish(self.verdict)
            self.verdict.style().polish(self.verdict)
        self.judged.emit(bool(sound), line)

    @Slot()
    def _copy(self) -> None:
        widget = self.box.currentWidget()
        if isinstance(widget, EntryTable):
            widget.copy_rows()

    @Slot(QModelIndex)
    def _point(self, index: QModelIndex) -> None:
        table = self.sender()
        if isinstance(table, EntryTable) and index.isValid():
            self.pointed.emit(table.entry_at(index).ids)

    @Slot(QModelIndex)
    def _ask(self, index: QModelIndex) -> None:
        table = self.sender()
        if isinstance(table, EntryTable) and index.isValid():
            entry: SectionEntry = table.entry_at(index)
            self.asked.emit(entry)

    def leaveEvent(self, event: object) -> None:
        """Put the lights out."""
        self.pointed.emit(())
