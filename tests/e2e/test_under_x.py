"""The main path with the X server's own pointer and keys against the running program.

Needs an X server with a window manager that nobody else uses: `.ci/under-x` gives one.
"""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from math import pi
from pathlib import Path
from typing import TypeVar

import pytest
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QApplication

from sketcher.errors import SketcherError
from sketcher.part.store import load
from sketcher.part.value import CircleCurve, Part
from sketcher.solve import solve
from tests.gui.x_hands import UNDER_X
from tests.inspected import inspected

ROOT = Path(__file__).parents[2]
ARTIFACTS = ROOT / "artifacts"
PATIENCE = 45.0  # other tests and lint may have both cores at the same time
SMALL, LARGE = (1366, 768), (1920, 1080)

pytestmark = UNDER_X

T = TypeVar("T")


def until(what: str, look: Callable[[], T | None]) -> T:
    """Look again until there is something, for so long as a slow machine may need."""
    end = time.monotonic() + PATIENCE
    while time.monotonic() < end:
        found = look()
        if found:
            return found
        time.sleep(0.05)
    raise AssertionError(f"waited {PATIENCE:g} s for {what}")


def xdotool(*words: object) -> str:
    done = subprocess.run(["xdotool", *map(str, words)], capture_output=True, text=True,
                          timeout=PATIENCE, check=False)
    return done.stdout.strip()


class Running:
    """The program as a person starts it, and the hands of the X server on its window."""

    def __init__(self, app: QApplication, folder: Path) -> None:
        self.app = app
        self.said = (folder / "said.txt").open("w+")
        quiet = {k: v for k, v in os.environ.items() if k != "XDG_CURRENT_DESKTOP"}
        self.process = subprocess.Popen(
            [sys.executable, "-m", "sketcher"], stdout=self.said, stderr=self.said, cwd=ROOT,
            env={**quiet, "SKETCHER_DATA": str(folder / "data"), "HOME": str(folder)},
        )
        self.window = until("the window", lambda: self.find("Part profile sketcher"))
        xdotool("windowactivate", "--sync", self.window)

    def new_part(self) -> None:
        """Begin a part in millimetres; the first keys may come before the desk is there."""

        def begun() -> bool:
            self.press("ctrl+n")
            return "no file yet" in xdotool("getwindowname", self.window)

        until("the empty sheet", begun)

    def find(self, title: str) -> str | None:
        """Return the program's visible window whose title holds these words."""
        assert self.process.poll() is None, self.told()
        found = xdotool("search", "--all", "--onlyvisible", "--pid", self.process.pid,
                        "--name", title).split()
        return found[-1] if found else None

    def told(self) -> str:
        self.said.seek(0)
        return self.said.read()

    def press(self, *keys: str) -> None:
        xdotool("key", "--delay", 15, "--clearmodifiers", *keys)

    def type(self, text: str) -> None:
        """Type; a tab and a line feed are the keys of that name."""
        named = {"\t": "Tab", "\n": "Return", ".": "period"}
        self.press(*(named.get(letter, letter) for letter in text))

    def size(self) -> tuple[int, int]:
        lines = xdotool("getwindowgeometry", "--shell", self.window).splitlines()
        told = dict(line.split("=") for line in lines if "=" in line)
        return int(told["WIDTH"]), int(told["HEIGHT"])

    def resize(self, size: tuple[int, int]) -> None:
        xdotool("windowmove", self.window, 0, 0)
        xdotool("windowsize", self.window, *size)
        until(f"a window of {size}", lambda: self.size() == size)

    def picture(self) -> QImage:
        """What the window shows once two looks at it agree."""
        last = QImage()

        def still() -> QImage | None:
            nonlocal last
            before, last = last, self.app.primaryScreen().grabWindow(int(self.window)).toImage()
            return last if last == before and not last.isNull() else None

        return until("a still picture", still)

    def keep(self, look: str, size: tuple[int, int]) -> QImage:
        """Keep a picture of the window in the artifacts once it wears a look."""
        self.resize(size)

        def worn() -> QImage | None:
            image = self.picture()
            paper = image.pixelColor(image.width() // 2, image.height() // 2).lightness() > 160
            right = (image.width(), image.height()) == size and paper == (look == "paper")
            return image if right else None

        image = until(f"the look {look}", worn)
        ARTIFACTS.mkdir(exist_ok=True)
        assert image.save(str(ARTIFACTS / f"main-path-{look}-{size[0]}x{size[1]}.png"))
        return image

    def end(self) -> None:
        if self.process.poll() is None:
            self.process.send_signal(signal.SIGKILL)
        self.process.wait(10)
        self.said.close()


@pytest.fixture
def running(qapp: QApplication, tmp_path: Path) -> Iterator[Running]:
    made = Running(qapp, tmp_path)
    yield made
    made.end()


def test_titles_are_whole_and_the_help_comes_to_the_front(running: Running) -> None:
    running.new_part()
    assert xdotool("getwindowname", running.window).endswith("Part profile sketcher")
    for _ in range(2):  # also when it is open already
        xdotool("windowactivate", "--sync", running.window)
        running.press("F1")
        shown = until("the help", lambda: running.find("Help"))
        assert xdotool("getwindowname", shown) == "Help"  # and not the program's name behind it
        until("the help in front",
              lambda: xdotool("getwindowname", xdotool("getactivewindow") or 0) == "Help")
    running.press("Escape")
    until("the help away", lambda: running.find("Help") is None)


def saved(path: Path, wanted: Callable[[Part], bool]) -> Part:
    """The part in a file, once it is there and is as wanted."""

    def look() -> Part | None:
        try:
            part = load(path)
        except (SketcherError, OSError):
            return None
        return part if wanted(part) else None

    return until(f"{path.name} as wanted", look)


def circles(part: Part) -> int:
    return sum(isinstance(curve, CircleCurve) for curve in part.curves.values())


def test_the_main_path_with_the_servers_pointer_and_keys(running: Running, tmp_path: Path) -> None:
    path = tmp_path / "strap.profile.json"
    running.resize(SMALL)
    running.new_part()
    # The half: an axis, two lines and a tangent arc of radius 20 that ends square on the axis.
    running.press("x")
    running.type("0\t0\n" "100\t0\n")
    running.press("Escape", "c")
    running.type("0\t0\n" "\t\t\t\t0\t20\n" "\t\t\t\t60\t20\n")
    running.press("space")
    running.type("\t\t\t\t80\t0\n")
    running.press("Escape", "m", "Right", "Return", "Return")
    running.press("ctrl+s")
    until("the dialog", lambda: running.find("Save the part"))
    xdotool("type", "--delay", 10, path)
    running.press("Return")
    part = saved(path, lambda part: bool(part.mirrors))

    report = solve(part).report
    inspection = inspected(solve(part).part)
    assert (report.state, report.freedoms, report.doubled) == ("bound", 0, ())
    assert inspection.verdict == "Sound"
    # Two rectangles 60 by 20 and half a circle of radius 20.
    assert inspection.profile.area == pytest.approx(2400.0 + 200.0 * pi, rel=1e-9)

    # The pointer: a hole is pressed and taken back.
    until("the window in front", lambda: running.find("Save the part") is None)
    xdotool("windowactivate", "--sync", running.window)
    running.press("h")
    xdotool("mousemove", "--sync", "--window", running.window, 640, 250, "click", 1)
    xdotool("mousemove", "--sync", "--window", running.window, 660, 250, "click", 1)
    running.press("Escape", "ctrl+s")
    holed = saved(path, lambda part: circles(part) == 1)
    assert solve(holed).report.freedoms > 0
    running.press("ctrl+z", "ctrl+s")
    assert saved(path, lambda part: circles(part) == 0).curves == part.curves

    running.press("Home")
    running.keep("dye", SMALL)
    running.keep("dye", LARGE)
    running.press("ctrl+l")
    running.keep("paper", LARGE)
    running.keep("paper", SMALL)
    running.press("ctrl+q")
    assert running.process.wait(PATIENCE) == 0, running.told()


def test_a_foreign_drawing_is_taken_in_with_the_servers_keys(
    running: Running, tmp_path: Path
) -> None:
    """From the start page to a saved, bound half of the demo drawing of loose chords."""
    source = ROOT / "demo_parts" / "gate-strap-as-received.dxf"
    path = tmp_path / "taken.profile.json"
    running.resize(SMALL)
    running.press("alt+d")
    until("the file dialog", lambda: xdotool("getactivewindow") != running.window)
    time.sleep(0.5)
    xdotool("type", "--delay", 10, source)
    running.press("Return")
    page = until("the page", lambda: running.find(f"Bring in {source.name}"))
    xdotool("windowactivate", "--sync", page)

    def taken() -> bool:  # the button comes alive when the work beside the window is done
        running.press("alt+t")
        time.sleep(0.3)
        return running.find(f"Bring in {source.name}") is None

    until("the drawing taken in", taken)
    xdotool("windowactivate", "--sync", running.window)
    running.press("ctrl+s")
    until("the dialog", lambda: running.find("Save the part"))
    xdotool("type", "--delay", 10, path)
    running.press("Return")
    part = saved(path, lambda part: bool(part.mirrors))
    solution = solve(part)
    assert (solution.report.state, solution.report.freedoms) == ("bound", 0)
    strap = load(ROOT / "demo_parts" / "gate-strap.profile.json")
    area = inspected(solve(strap).part).profile.area
    assert inspected(solution.part).profile.area == pytest.approx(area, rel=1e-9)
