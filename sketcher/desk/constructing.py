"""The construction in the window: begins it, lets it play on the sheet, and ends it."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QElapsedTimer, QObject, Qt, QTimer, Slot
from PySide6.QtWidgets import QWidget

from sketcher.board.job import Job
from sketcher.board.steps.notices import PART_REASONS, Change
from sketcher.board.teaching.lesson_play import LessonPlay
from sketcher.desk.lesson_keys import LessonKeys
from sketcher.desk.pane_keys import PaneKeys
from sketcher.desk.panes.construction_bar import ConstructionBar
from sketcher.desk.scene.construction_layer import ConstructionLayer
from sketcher.desk.trying import HEIGHT, HandTry
from sketcher.interrupt import Stopped
from sketcher.lesson.order import construction_order
from sketcher.lesson.order_step import OrderStep
from sketcher.part.value import Part

if TYPE_CHECKING:
    from sketcher.desk.window import MainWindow

FRAME = 16
"""Milliseconds between two pictures: 60 a second."""
PROMPT = ("Space plays or rests, Right and Left go on and back, Up and Down set the speed, "
          "Esc leaves.")


class Constructing(QObject):
    """Plays the construction of the part that is open; while it does the part stays as it is.

    Parameters
    ----------
    window : MainWindow
    """

    def __init__(self, window: MainWindow) -> None:
        super().__init__(window)
        self.window = window
        self.play: LessonPlay | None = None
        self.layer: ConstructionLayer | None = None
        self.bar = ConstructionBar(window)
        self.bar.hide()
        window.middle.put_below(self.bar)
        PaneKeys(window.view, (self.bar,))
        self._clock = QElapsedTimer()
        self._timer = QTimer(self)
        self._timer.setTimerType(Qt.TimerType.PreciseTimer)
        self._timer.setInterval(FRAME)
        self._timer.timeout.connect(self._tick)
        self._seen: object = None
        self._share = 0.0
        self._step = -1
        self.trying: HandTry | None = None
        self.keys = LessonKeys(window.view, {
            "space": self.toggle, "right": self.onward, "left": self.back,
            "up": partial(self.bar.change_speed, 1), "down": partial(self.bar.change_speed, -1),
            "home": partial(self.go_to, 1), "end": self._go_to_end, "escape": self.leave})
        self._switching = False
        bar = self.bar
        for signal, slot in ((bar.toggled, self.toggle), (bar.onward, self.onward),
                             (bar.back, self.back), (bar.sought, self.go_to),
                             (bar.paced, self._pace), (bar.hand_asked, self._show_hand),
                             (bar.left, self.leave), (bar.drawing_asked, self.draw),
                             (bar.compared, self._compare), (bar.answer_asked, self._answer),
                             (bar.play_asked, self.play_on)):
            signal.connect(slot)
        window.bridge.changed.connect(self._hear)

    # Beginning and ending.

    @property
    def is_on(self) -> bool:
        """Whether a construction is on the sheet."""
        return self.play is not None

    @Slot()
    def begin(self) -> None:
        """Put the construction of the part on the sheet; leave it where it is there already.

        Raises
        ------
        GeometryError
            When there is nothing to construct, as bindings cannot all hold.
        Stopped
            When it took long and the person thought better of it.
        """
        if self.trying is not None:
            self.play_on()
            return
        if self.is_on:
            self.leave()
            return
        bench = self.window.board.bench
        part = bench.part
        job = Job("Construction", construction_order, (part,), bench.derived.quick)
        self._begun(part, bench.worker.finish(job))

    def _begun(self, part: Part, steps: tuple[OrderStep, ...]) -> None:
        board = self.window.board
        if not steps:
            board.bench.say("There is nothing to construct yet: draw something and bind it.",
                            "warning")
            return
        board.use("pick")
        board.bench.select(())
        self._show(LessonPlay(part, steps))

    def _show(self, play: LessonPlay) -> None:
        view = self.window.view
        self.play = play
        self.layer = ConstructionLayer(view.sheet, HEIGHT, play)
        view.scene().addItem(self.layer)
        self._hide_part(True)
        self.bar.take(play)
        self.bar.show_try(False)
        self.bar.show()
        self.keys.watch(True)
        order: QWidget = view
        for piece in (self.bar.before, self.bar.play, self.bar.next, self.bar.slider,
                      self.bar.speed, self.bar.hand, self.bar.draw, self.bar.compare,
                      self.bar.answer, self.bar.go_on, self.bar.leave):
            QWidget.setTabOrder(order, piece)
            order = piece
        view.fit()
        self.window.focus_sheet()
        self._step, self._seen = -1, None
        self._follow()

    @Slot()
    def leave(self) -> None:
        """Show the part again."""
        if self.layer is None:
            return
        view = self.window.view
        self._timer.stop()
        self.play = None
        self._end_try()
        self.keys.watch(False)
        view.scene().removeItem(self.layer)
        self.layer = None
        self._hide_part(False)
        self.bar.hide()
        self.window.ledger.show_used(())
        self.window.focus_sheet()
        self.window.board.bench.show_again()
        view.refresh()
        view.viewport().update()

    def _hide_part(self, hidden: bool) -> None:
        """Leave the ground of the sheet alone in view, or show all of the part again."""
        for layer in self.window.view.layers[1:]:
            layer.setVisible(not hidden)

    @Slot(object)
    def _hear(self, change: Change) -> None:
        """End with the first change of the part, and when a tool is taken up."""
        if not self.is_on or self._switching:
            return
        board = self.window.board
        if self.trying is not None:
            if not self.trying.own.is_on:  # another part was opened meanwhile
                self.leave()
        elif change.reason in PART_REASONS:
            self.leave()
            if change.reason != "load":
                board.bench.say("The part was changed, so its construction was left.", "warning")
        elif change.reason == "tool" and board.tool.name != "pick":
            self.leave()
        else:
            self._prompt()

    # Playing.

    @Slot()
    def toggle(self) -> None:
        """Play on, or rest."""
        if self.play is not None:
            self.play.toggle()
            self._follow()

    def rest(self) -> None:
        """Stand still."""
        if self.play is not None:
            self.play.rest()
            self._follow()

    @Slot()
    def onward(self) -> None:
        """Draw the next sentence."""
        if self.play is not None:
            self.play.onward()
            self._follow()

    @Slot()
    def back(self) -> None:
        """Go to the begin of the sentence, or to the one before."""
        if self.play is not None:
            self.play.back()
            self._follow()

    @Slot(int)
    def go_to(self, number: int) -> None:
        """Go to a step."""
        if self.play is not None:
            self.play.go_to(number)
            self._follow()

    def _go_to_end(self) -> None:
        if self.play is not None:
            self.go_to(len(self.play.steps) + 1)

    @Slot(float)
    def _pace(self, speed: float) -> None:
        if self.play is not None:
            self.play.speed = speed

    @Slot(bool)
    def _show_hand(self, by_hand: bool) -> None:
        if self.play is not None:
            self.play.show_hand(by_hand)
            self.bar.take(self.play)
            self._follow()

    @Slot()
    def _tick(self) -> None:
        if self.play is None or not self.bar.isVisible():  # the start page lies over it
            self._timer.stop()
            return
        self.play.tick(self._clock.restart() / 1000.0)
        self._follow()

    def _follow(self) -> None:
        """Show where it stands; nothing is painted while nothing moves."""
        play = self.play
        assert play is not None
        if play.plays and not self._timer.isActive():
            self._clock.start()
            self._timer.start()
        elif not play.plays:
            self._timer.stop()
        self.bar.follow()
        if play.passage.step != self._step:
            self._step = play.passage.step
            self.window.ledger.show_used(play.step.bindings)
        self._paint(play)
        self._prompt()

    def _paint(self, play: LessonPlay) -> None:
        """Paint what differs: within a stroke that is what lies about its tool."""
        view, port = play.view(), self.window.view.viewport()
        seen = (view.done, view.beat, play.passage, play.by_hand)
        before, share, self._share = self._seen, self._share, view.share
        if seen != before:
            self._seen = seen
            port.update()
        elif self.layer is not None and share != view.share and view.beat is not None:
            moving = self.layer.moving(view, share)
            if moving is None:
                port.update()
            else:
                port.update(moving)

    def _prompt(self) -> None:
        if self.window.prompt.text() != PROMPT:
            self.window.prompt.setText(PROMPT)
            self.window.prompt.setToolTip(PROMPT)

    # A step drawn by hand.

    @Slot()
    def draw(self) -> None:
        """Have the step at hand drawn by the person."""
        if self.play is None or self.layer is None or self.trying is not None:
            return
        self.play.go_to(self.play.number)
        trying = HandTry(self.window, self.play)
        self._timer.stop()
        self._switching = True
        try:
            trying.begin()
        except Stopped:
            return
        finally:
            self._switching = False
        self.trying = trying
        self.keys.watch(False)
        self.layer.setVisible(False)
        self._hide_part(False)
        self.bar.show_try(True)
        self.window.view.refresh()

    @Slot()
    def play_on(self) -> None:
        """Put what was drawn away, and play on: past the step where it was drawn right."""
        play, trying = self.play, self.trying
        if play is None or trying is None or self.layer is None:
            return
        right = trying.judgement is not None and trying.judgement.right
        self._end_try()
        if right:
            play.finish_step()
        self.layer.setVisible(True)
        self._hide_part(True)
        self.keys.watch(True)
        self.bar.show_try(False)
        self.window.focus_sheet()
        self._step, self._seen = -1, None
        self._follow()

    def _end_try(self) -> None:
        """Bring the part back."""
        trying, self.trying = self.trying, None
        if trying is not None:
            self._switching = True
            try:
                trying.end()
            finally:
                self._switching = False

    @Slot()
    def _compare(self) -> None:
        if self.trying is not None:
            self.bar.show_judgement(self.trying.compare())

    @Slot(bool)
    def _answer(self, shown: bool) -> None:
        if self.trying is not None:
            self.trying.show_answer(shown)
