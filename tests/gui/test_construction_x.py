"""The construction by the X server's own pointer and keys: played, a step drawn, compared, left.

Needs an X server with a window manager that nobody else uses: `.ci/under-x` gives one.
"""

from __future__ import annotations

from functools import partial

from PySide6.QtWidgets import QWidget

from sketcher.board.teaching.lesson_play import LessonPlay
from sketcher.desk.constructing import Constructing
from tests.gui.driver import Driver, wait_until
from tests.gui.x_hands import UNDER_X, XHands, xdotool
from tests.lessons import roof, roof_steps

pytestmark = UNDER_X


def press(widget: QWidget) -> None:
    place = widget.mapToGlobal(widget.rect().center())
    xdotool("mousemove", place.x(), place.y())
    xdotool("click", 1)


def stands(play: LessonPlay, number: int) -> bool:
    return (play.number, play.is_drawn, play.plays) == (number, True, False)


def test_a_construction_is_played_and_a_step_drawn(driver: Driver) -> None:
    driver.board.load(roof())
    hands = XHands(driver)
    shown = Constructing(driver.window)
    shown._begun(driver.board.part, roof_steps())
    play, bar = shown.play, shown.bar
    assert play is not None
    driver.settle(100)
    xdotool("key", "Right")
    wait_until(lambda: play.number == 1 and play.is_drawn)
    xdotool("key", "space")
    wait_until(lambda: play.plays and bar.play.text() == "Pause")
    xdotool("key", "space")
    wait_until(lambda: not play.plays)
    xdotool("key", "End")
    wait_until(lambda: play.is_over)
    xdotool("key", "Home")
    wait_until(lambda: play.number == 1)
    for number in range(1, 6):
        xdotool("key", "Right", "Right")  # begun, and finished at once
        wait_until(partial(stands, play, number))
    press(bar.draw)
    wait_until(lambda: shown.trying is not None and bar.compare.isVisible())
    driver.settle(200)
    hands.tool("line")
    hands.click((20.0, 0.0), (0.0, 9.0))
    press(bar.compare)
    wait_until(lambda: "where the paper says 25" in bar.words.text())
    press(bar.go_on)
    wait_until(lambda: shown.trying is None and driver.board.part.name == "Roof")
    wait_until(driver.view.hasFocus)
    xdotool("key", "Escape")
    wait_until(lambda: not shown.is_on)
    assert driver.board.part.curves.keys() == roof().curves.keys()
