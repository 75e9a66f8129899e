"""The list of holes as a section of the inspection; worked out while it is open."""

from __future__ import annotations

import sys
from functools import partial

from PySide6.QtCore import QItemSelectionModel, QObject

from sketcher.board.board import Board
from sketcher.board.job import Job
from sketcher.desk.panes.row_table import EntryTable
from sketcher.desk.panes.sections import Section, SectionEntry, number, readable, words
from sketcher.errors import SketcherError
from sketcher.interrupt import Stopped
from sketcher.part.image_id import read_image_id
from sketcher.part.value import Part

NAME, TITLE = "holes", "Holes"
COLUMNS = ("Hole", "X", "Y", "Size")
QUICK = 0.02
"""Seconds that it is tried in place, a frame or so."""


def holes_told(part: Part) -> Section:
    """Return the list of holes as rows; a drawing that names a zero that is none says so.

    Parameters
    ----------
    part : Part
        The solved part.
    """
    from sketcher.drafting.holes import said
    from sketcher.quantity.format import angle
    from sketcher.shop.hole_rows import hole_rows

    try:
        found = hole_rows(part)
    except SketcherError as error:
        return Section(NAME, TITLE, COLUMNS, (SectionEntry(
            (words(""), words(""), words(""), words(str(error)))),), True, 0, note="not listed")
    rows = [SectionEntry((words(row.name), number(row.at[0], said(part, row.at[0])),
                          number(row.at[1], said(part, row.at[1])), words(row.size)),
                         row.ids, row.place) for row in found.rows]
    by_name = {row.name: row for row in found.rows}
    for circle in found.circles:
        step = "" if circle.step is None else f" every {angle(circle.step)}"
        x, y = circle.center
        text = (f"{len(circle.holes)} on Ø{said(part, circle.diameter)}{step} "
                f"from {angle(circle.first)}")
        ids = tuple(name for hole in circle.holes for name in by_name[hole].ids)
        rows.append(SectionEntry((words(circle.name), number(x, said(part, x)),
                                  number(y, said(part, y)), words(text)), ids))
    section = Section(NAME, TITLE, COLUMNS, tuple(rows), wraps=True, count=len(found.rows))
    return readable(section)


class HolesWatch(QObject):
    """Keeps the section right while it is open, and its rows chosen as the holes on the sheet are.

    Parameters
    ----------
    board : Board
    table : EntryTable
        Where the section is shown.
    parent : QObject
    """

    def __init__(self, board: Board, table: EntryTable, parent: QObject) -> None:
        super().__init__(parent)
        self._board, self._table = board, table
        self._of: Part | None = None
        table.show_section(Section(NAME, TITLE, COLUMNS, ()))

    def look(self) -> None:
        """See to it that the rows are those of the part as it stands."""
        bench = self._board.bench
        if self._of is bench.part:
            return
        part = self._of = bench.part
        bench.worker.start(Job("Holes", holes_told, (part,), min(bench.derived.quick, QUICK)),
                           partial(self._take, part), partial(self._fail, part))

    def follow(self) -> None:
        """Choose the rows of the holes that are selected on the sheet, and show the first."""
        chosen = {read_image_id(name).source for name in self._board.bench.selection.ids}
        model = self._table.selectionModel()
        mode = QItemSelectionModel.SelectionFlag
        model.clearSelection()
        shown = False
        for row in range(self._table.order.rowCount()):
            index = self._table.order.index(row, 0)
            entry = self._table.entry_at(index)
            if entry.at is None or not any(read_image_id(n).source in chosen for n in entry.ids):
                continue
            model.select(index, mode.Select | mode.Rows)
            if not shown:
                self._table.scrollTo(index)
                shown = True

    def _take(self, part: Part, section: Section) -> None:
        if part is self._of:
            self._table.show_section(section)
            self.follow()

    def _fail(self, part: Part, error: BaseException) -> None:
        if part is self._of:
            self._of = None  # whoever opens the section asks again
            if not isinstance(error, Stopped):
                sys.excepthook(type(error), error, error.__traceback__)
