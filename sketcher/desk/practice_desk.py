"""Practice in the window: choosing a problem, the pane beside the sheet, and what is remembered."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QObject, QTimer, Slot

from sketcher.board.exercise.done_problems import done_problems, note_done
from sketcher.board.exercise.practising import Practising
from sketcher.board.steps.notices import PART_REASONS, Change
from sketcher.desk.dialogs.handout_desk import HandoutDesk
from sketcher.desk.dialogs.practice_list import PracticeList
from sketcher.desk.looks import LOOKS
from sketcher.desk.pane_keys import PaneKeys
from sketcher.desk.panes.practice_side import NARROW, PracticeSide
from sketcher.desk.rounds import Stop
from sketcher.errors import SketcherError
from sketcher.interrupt import Stopped
from sketcher.lesson.practice import practice_problems
from sketcher.part.store import SUFFIX

if TYPE_CHECKING:
    from sketcher.desk.window import MainWindow

REST = 250
"""Milliseconds after a step before it is judged: the next step of a quick hand comes sooner."""


class PracticeDesk(QObject):
    """Puts a problem beside the sheet, and away again.

    Parameters
    ----------
    window : MainWindow
    """

    def __init__(self, window: MainWindow) -> None:
        super().__init__(window)
        self.window = window
        self.model = Practising(window.board, self._follow)
        self.side = PracticeSide(window.look, window.middle)
        self.side.hide()
        self.pane = self.side.pane
        self.dialog: PracticeList | None = None
        self.sheet: HandoutDesk | None = None
        window.middle.put_beside(self.side)
        PaneKeys(window.view, (self.pane,))
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.setInterval(REST)
        self._rest.timeout.connect(self._look)
        self._was_finished = False
        self.pane.hint_asked.connect(self._hint)
        self.pane.enlarged.connect(self._enlarge)
        self.pane.left.connect(self.leave)
        self.side.folded.connect(window.middle.share)
        window.bridge.changed.connect(self._hear)
        window.rounds.go_on_to(self.stops)
        window.middle.installEventFilter(self)

    # Choosing.

    def choose(self) -> None:
        """Show the list of problems."""
        try:
            problems = practice_problems()
        except SketcherError as error:
            self.window.host.tell("There are no problems", str(error))
            return
        self.dialog = PracticeList(problems, done_problems(self.window.folder), self.window)
        self.dialog.chosen.connect(self._begin)
        self.dialog.file_asked.connect(self._begin_file)
        self.dialog.finished.connect(self._forget_list)
        self.dialog.open()

    @Slot()
    def _forget_list(self) -> None:
        self.dialog = None

    @Slot(str)
    def _begin(self, name: str) -> None:
        self._set(lambda: self.model.begin_shipped(self.window.host, name))

    @Slot()
    def _begin_file(self) -> None:
        path = self.window.host.ask_path("Open a part as a problem", False, SUFFIX)
        if path is not None:
            self._set(lambda: self.model.begin_file(self.window.host, Path(path)))

    def _set(self, begin: object) -> None:
        assert callable(begin)
        try:
            begin()
        except SketcherError as error:
            self.window.host.tell("This is no problem to set", str(error))
        except Stopped:
            self.window.board.bench.say("Stopped; the problem was not set.", "warning")

    @Slot()
    def leave(self) -> None:
        """Put the problem away; what was drawn stays."""
        self.model.leave()
        self.window.focus_sheet()

    # Following.

    def _follow(self) -> None:
        problem = self.model.problem
        if problem is None:
            self._rest.stop()
            self._close_sheet()
        self.pane.show_practice(self.model)
        if problem is None:
            self.side.put_away()
        elif self.side.isHidden():
            self.side.fit(self.window.width())
            self.side.fold(self.window.width() < NARROW)
            self.side.show()
        self.window.middle.lean(problem is not None)
        self.window.middle.share()
        finished = problem is not None and self.model.standing.finished
        if finished and not self._was_finished:
            assert problem is not None
            if problem.name:
                note_done(self.window.folder, problem.name)
            self.window.board.bench.say(f"{problem.title}: everything holds.", "done")
        self._was_finished = finished

    @Slot(object)
    def _hear(self, change: Change) -> None:
        if change.reason == "settings":
            self.pane.wear(LOOKS[self.window.board.bench.settings["look"]])
        elif self.model.problem is not None and change.reason in PART_REASONS and (
                change.reason != "drag"):
            self._rest.start()

    @Slot()
    def _look(self) -> None:
        try:
            self.model.look()
        except Exception:  # noqa: BLE001 - a slot only tells
            sys.excepthook(*sys.exc_info())

    @Slot()
    def _hint(self) -> None:
        self.model.ask_hint()

    @Slot()
    def _enlarge(self) -> None:
        problem = self.model.problem
        if problem is None:
            return
        self._close_sheet()
        self.sheet = HandoutDesk(problem.title, problem.sheet, self.window)
        self.sheet.destroyed.connect(self._forget_sheet)
        self.sheet.show()

    @Slot()
    def _forget_sheet(self) -> None:
        self.sheet = None

    def _close_sheet(self) -> None:
        if self.sheet is not None:
            self.sheet.close()
            self.sheet = None

    def stops(self) -> tuple[Stop, ...]:
        """Where the keyboard's way round the panes comes by."""
        return ((self.side, self.side.strip if self.side.is_folded else self.pane.table),)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Follow the window's width."""
        if event.type() == QEvent.Type.Resize and not self.side.isHidden():
            self.side.fit(self.window.width())
        return False
