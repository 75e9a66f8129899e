"""The construction in the window: begins it, lets it play on the sheet, and ends it."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING

from PySide6.QtCore import QElapsedTimer, QEvent, QObject, Qt, QTimer, Slot
from PySide6.QtGui import QKeyEvent, QMouseEvent
from PySide6.QtWidgets import QWidget

from sketcher.board.job import Job
from sketcher.board.steps.notices import PART_REASONS, Change
from sketcher.board.teaching.lesson_play import LessonPlay
from sketcher.desk import keys
from sketcher.desk.pane_keys import PaneKeys
from sketcher.desk.panes.construction_bar import ConstructionBar
from sketcher.desk.scene.construction_layer import ConstructionLayer
from sketcher.lesson.order import construction_order
from sketcher.lesson.order_step import OrderStep
from sketcher.part.value import Part

if TYPE_CHECKING:
    from sketcher.desk.window import MainWindow

FRAME = 16
"""Milliseconds between two pictures: 60 a second."""
HEIGHT = 5.5
"""Where the construction lies among the layers of the sheet: over all but the magnifying glass."""
PROMPT = ("Space plays or rests, Right and Left go on and back, Up and Down set the speed, "
          "Esc leaves.")
LOOKING = (Qt.Key.Key_PageUp, Qt.Key.Key_PageDown, Qt.Key.Key_Tab, Qt.Key.Key_Backtab)


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
        self._step = -1
        bar = self.bar
        for signal, slot in ((bar.toggled, self.toggle), (bar.onward, self.onward),
                             (bar.back, self.back), (bar.sought, self.go_to),
                             (bar.paced, self._pace), (bar.hand_asked, self._show_hand),
                             (bar.left, self.leave)):
            signal.connect(slot)
        window.bridge.changed.connect(self._hear)

    # Beginning and ending.

    @property
    def is_on(self) -> bool:
        """Whether a construction is on the sheet."""
        return self.play is not None

    @Slot()
    def begin(self) -> None:
        """Put the construction of the part on the sheet; leave it where it is there already."""
        if self.is_on:
            self.leave()
            return
        bench = self.window.board.bench
        part = bench.part

        def done(steps: tuple[OrderStep, ...]) -> None:
            self._begun(part, steps)

        bench.worker.start(Job("Construction", construction_order, (part,), bench.derived.quick),
                           done, bench.notices.tell_failed)

    def _begun(self, part: Part, steps: tuple[OrderStep, ...]) -> None:
        board = self.window.board
        if part is not board.part or self.is_on:
            board.bench.say("The part was changed meanwhile: ask for its construction again.",
                            "warning")
            return
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
        self.bar.show()
        for watched in (view, view.viewport()):
            watched.installEventFilter(self)
        order: QWidget = view
        for piece in (self.bar.before, self.bar.play, self.bar.next, self.bar.slider,
                      self.bar.speed, self.bar.hand, self.bar.leave):
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
        for watched in (view, view.viewport()):
            watched.removeEventFilter(self)
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
        if not self.is_on:
            return
        board = self.window.board
        if change.reason in PART_REASONS:
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
        view = play.view()
        seen = (view.done, view.share if view.beat is not None else 0.0, play.passage, play.by_hand)
        if seen != self._seen:
            self._seen = seen
            self.window.view.viewport().update()
        self._prompt()

    def _prompt(self) -> None:
        if self.window.prompt.text() != PROMPT:
            self.window.prompt.setText(PROMPT)
            self.window.prompt.setToolTip(PROMPT)

    # Keys and the pointer on the sheet.

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Take what would be done on the sheet; pan and zoom stay."""
        try:
            if isinstance(event, QKeyEvent):
                return watched is self.window.view and self._keyed(event)
            if isinstance(event, QMouseEvent) and watched is self.window.view.viewport():
                return self._pointed(event)
        except Exception:  # noqa: BLE001 - an exception that leaves an override can end the process
            sys.excepthook(*sys.exc_info())
        return False

    def _keyed(self, event: QKeyEvent) -> bool:
        kind, name = event.type(), keys.name_of(event)
        held = keys.held(event.modifiers())
        if kind == QEvent.Type.ShortcutOverride or "ctrl" in held or "alt" in held \
                or event.key() in LOOKING:
            return False
        if kind == QEvent.Type.KeyPress and (not event.isAutoRepeat() or name in keys.ARROWS):
            self._key(name)
        return True

    def _key(self, name: str) -> None:
        play = self.play
        if play is None:
            return
        if name == "space":
            self.toggle()
        elif name == "right":
            self.onward()
        elif name == "left":
            self.back()
        elif name in ("up", "down"):
            self.bar.change_speed(1 if name == "up" else -1)
        elif name == "home":
            self.go_to(1)
        elif name == "end":
            self.go_to(len(play.steps) + 1)
        elif name == "escape":
            self.leave()

    def _pointed(self, event: QMouseEvent) -> bool:
        """Leave the middle button to the sheet, which pans with it."""
        middle = Qt.MouseButton.MiddleButton
        return event.button() != middle and not event.buttons() & middle
