"""The page of a cut by the X server's own pointer and keys: chosen, played, exported.

Needs an X server with a window manager that nobody else uses: `.ci/under-x` gives one.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import ezdxf
from PySide6.QtCore import QObject, QTimer
from PySide6.QtWidgets import QApplication, QWidget

from sketcher.desk.dialogs.cutting_desk import CuttingDesk
from sketcher.desk.window_host import DeskHost
from tests.gui.driver import Driver
from tests.gui.x_hands import UNDER_X, XHands, xdotool

pytestmark = UNDER_X


class Modal(QObject):
    """Hands that go on while a page is open: each deed waits until the one before has shown."""

    def __init__(self, deeds: list[tuple[Callable[[CuttingDesk], bool],
                                         Callable[[CuttingDesk], object]]]) -> None:
        super().__init__()
        self.deeds = deeds
        self.left = 600
        self.timer = QTimer(self)
        self.timer.setInterval(25)
        self.timer.timeout.connect(self.go_on)
        self.timer.start()

    def go_on(self) -> None:
        desk = QApplication.activeModalWidget()
        if isinstance(desk, CuttingDesk) and desk.isActiveWindow() and self.deeds:
            self.left -= 1
            if self.left < 0:
                desk.reject()  # what is left of the deeds tells what never came
            elif self.deeds[0][0](desk):
                self.deeds.pop(0)[1](desk)


def press(widget: QWidget) -> None:
    place = widget.mapToGlobal(widget.rect().center())
    xdotool("mousemove", place.x(), place.y())
    xdotool("click", 1)


def test_a_cut_is_chosen_played_and_exported(driver: Driver, tmp_path: Path) -> None:
    driver.window.filing.open_demo("gate-strap.profile.json")
    driver.settle(200)
    hands = XHands(driver)
    host = driver.window.host
    host.ask_cutting = DeskHost.ask_cutting.__get__(host)
    driver.answers.path = tmp_path / "strap-mm.dxf"
    seen: list[float] = []
    modal = Modal([
        (lambda desk: desk.trial is not None, lambda desk: xdotool("key", "Down", "Down")),
        (lambda desk: desk._tried is not None and desk._tried.process == "plasma",
         lambda desk: press(desk.player.play)),
        (lambda desk: desk.player.plays and desk.player.place > 0.0,
         lambda desk: press(desk.player.play)),
        (lambda desk: not desk.player.plays,
         lambda desk: (seen.append(desk.player.place), xdotool("key", "alt+e"))),
    ])
    hands.press("ctrl+e")
    modal.timer.stop()
    assert modal.deeds == []
    assert seen[0] > 0.0
    found = ezdxf.readfile(tmp_path / "strap-mm.dxf")
    assert {entity.dxf.layer.split("-")[0] for entity in found.modelspace()} >= {"OUTSIDE"}
    assert driver.board.bench.settings["cut_process"] == "plasma"
