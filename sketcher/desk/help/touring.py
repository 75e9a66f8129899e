"""The first part in the window: begins it, takes it up again, and keeps how far it came."""

from __future__ import annotations

import contextlib
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal, Slot

from sketcher.board.files.open_and_save import may_leave, new_part
from sketcher.board.tour.tour import Tour
from sketcher.board.tour.tour_file import Kept, keep, kept_in
from sketcher.desk.help.tour_panel import TourPanel
from sketcher.errors import FileError

if TYPE_CHECKING:
    from sketcher.desk.window import MainWindow


class Touring(QObject):
    """Puts the panel below the sheet while the tour is on.

    Parameters
    ----------
    window : MainWindow
    place : Path
        Where is kept how far it came.

    Signals
    -------
    help_asked(str)
        The name of the tool that the step at hand is about.
    """

    help_asked = Signal(str)

    def __init__(self, window: MainWindow, place: Path) -> None:
        super().__init__(window)
        self.window = window
        self.place = place
        self.panel = TourPanel(window.board, window)
        self.panel.hide()
        window.middle.put_below(self.panel)
        self.tour = Tour(window.board, self._follow)
        self._of: object = None  # the history of the part that the tour is about
        self.panel.left.connect(self._leave)
        self.panel.begun_anew.connect(self.begin_anew)
        self.panel.help_asked.connect(self._more)
        window.inspection.judged.connect(self._judged)
        window.inspection.box.currentChanged.connect(self._read)
        window.inspection.asked.connect(self._read)

    @Slot()
    def begin(self) -> None:
        """Go on where it was left, or begin."""
        bench = self.window.board.bench
        if self._of is bench.history:
            self.window.first.show_sheet()
            self._watch(self.tour.deeds)
            return
        kept = kept_in(self.place)
        if kept is None:
            self.begin_anew()
        elif self._bring_back(kept):
            self._watch(kept.deeds)

    @Slot()
    def begin_anew(self) -> None:
        """Begin with an empty part."""
        board = self.window.board
        was = board.bench.history
        new_part(board, self.window.host, "mm")
        if board.bench.history is not was:
            self._watch(frozenset())

    def keep(self) -> None:
        """Write how far it came; what is finished is not kept."""
        bench = self.window.board.bench
        if self._of is not bench.history:
            return
        with contextlib.suppress(FileError):
            if self.tour.standing.prompt is None:
                self.place.unlink(missing_ok=True)
            else:
                keep(Kept(bench.part, bench.path, self.tour.deeds), self.place)

    def _bring_back(self, kept: Kept) -> bool:
        """Put the part on the bench; return whether it is there."""
        if kept.path is not None and kept.path.is_file():
            return self.window.filing.open_path(kept.path)
        board = self.window.board
        if not may_leave(board, self.window.host):
            return False
        board.load(kept.part, None, saved=not kept.part.curves)
        return True

    def _watch(self, deeds: frozenset[str]) -> None:
        self._of = self.window.board.bench.history
        self.tour.begin(deeds)

    def _follow(self) -> None:
        self.panel.show_standing(self.tour.standing)
        self.panel.setVisible(self.tour.is_on)
        self.keep()

    @Slot()
    def _leave(self) -> None:
        self.tour.leave()
        self.window.focus_sheet()

    @Slot(bool, str)
    def _judged(self, sound: bool, line: str) -> None:
        self.tour.look_again()
        pane = self.window.inspection
        if pane.box.currentWidget() is not pane.tables["findings"]:  # what is open need not be
            self._read()

    @Slot()
    def _read(self, *_: object) -> None:
        if self.window.inspection.isVisible():
            self.tour.note("inspected")

    @Slot()
    def _more(self) -> None:
        prompt = self.tour.standing.prompt
        self.help_asked.emit(prompt.tool if prompt is not None else "pick")
