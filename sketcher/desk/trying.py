"""A step of the construction drawn by hand in the window, with the tools that there are."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QTimer, Slot

from sketcher.board.teaching.lesson_play import LessonPlay
from sketcher.board.teaching.own_try import OwnTry
from sketcher.board.teaching.try_judge import Judgement, judge
from sketcher.desk.scene.try_layer import TryLayer
from sketcher.geometry.bounds import Box, box_within

if TYPE_CHECKING:
    from sketcher.desk.window import MainWindow

HEIGHT = 5.5
"""Where it lies among the layers of the sheet: over all but the magnifying glass."""


class HandTry(QObject):
    """One step on the sheet without its curve; ends when the part comes back, whoever brought it.

    Parameters
    ----------
    window : MainWindow
    play : LessonPlay
        At rest at the step.
    """

    def __init__(self, window: MainWindow, play: LessonPlay) -> None:
        super().__init__(window)
        self.window = window
        self.own = OwnTry(window.board, play)
        self.judgement: Judgement | None = None
        self._whole: Box | None = None
        self.layer = TryLayer(window.view.sheet, HEIGHT, self.own.start, play.passage.names)

    def begin(self) -> None:
        """Put the part aside, and what was drawn before the step on the sheet.

        Raises
        ------
        Stopped
            When something else is waited for.
        """
        self.window.keeper.keep()  # no copy is written while the part is aside
        view = self.window.view
        camera, around = view.sheet.camera, view.sheet.around()
        self._whole = around if around is not None and box_within(around, camera.window) else None
        self.own.begin()
        view.see(camera.scale, camera.center)
        QTimer.singleShot(0, self, self._see_whole)  # once the bar has its height
        view.scene().addItem(self.layer)
        self.window.ledger.table.scrollToTop()
        self.window.focus_sheet()

    @Slot()
    def _see_whole(self) -> None:
        """Show as much as was seen before, where that was the whole part."""
        if self._whole is not None:
            camera = self.window.view.sheet.camera.fitting(self._whole)
            self.window.view.see(camera.scale, camera.center)

    def end(self) -> None:
        """Bring the part back, where nobody else has."""
        view = self.window.view
        camera = view.sheet.camera
        if self.layer.scene() is not None:
            view.scene().removeItem(self.layer)
        if self.own.is_on:
            self.own.end()
            self.window.board.bench.say("")  # what was said of the try is over with it
            view.see(camera.scale, camera.center)
        self.deleteLater()

    def compare(self) -> Judgement:
        """Say how what is drawn lies."""
        board, play = self.window.board, self.own.play
        board.bench.gesture.restore()
        self.judgement = judge(play.part, play.step, self.own.start, board.part)
        return self.judgement

    @Slot(bool)
    def show_answer(self, shown: bool) -> None:
        """Show what the step draws, or hide it again."""
        self.layer.shows_answer = shown
        self.window.view.viewport().update()
