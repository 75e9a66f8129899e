"""How long the window's thread is away from its events, and the parts that this is measured on."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from PySide6.QtCore import QEventLoop, Qt, QTimer
from PySide6.QtWidgets import QApplication

from sketcher.part.edits.draft import Draft
from sketcher.part.edits.set_pattern import set_pattern
from sketcher.part.store import load
from sketcher.part.value import Binding, GridPattern, Material, Part, PolarPattern

ROOT = Path(__file__).resolve().parents[2]
STEEL = Material("mild steel", 3.0)
TICK = 5


class Gaps:
    """Notes the largest gaps between two turns of the loop of events, in milliseconds.

    A timer of 5 ms is asked how long ago it was asked before, in wall time and in the thread's own
    processor time; the second depends least on what else the machine does.
    """

    def __init__(self) -> None:
        self.wall = self.own = 0.0
        self._last = (0.0, 0.0)
        self._timer = QTimer()
        self._timer.setTimerType(Qt.TimerType.PreciseTimer)
        self._timer.timeout.connect(self.tick)

    def tick(self) -> None:
        """Note the gap that ends now."""
        now = (time.perf_counter(), time.thread_time())
        self.wall = max(self.wall, 1e3 * (now[0] - self._last[0]))
        self.own = max(self.own, 1e3 * (now[1] - self._last[1]))
        self._last = (time.perf_counter(), time.thread_time())

    def __enter__(self) -> Gaps:
        self._last = (time.perf_counter(), time.thread_time())
        self._timer.start(TICK)
        return self

    def __exit__(self, *_: object) -> None:
        self.tick()
        self._timer.stop()


def turn() -> None:
    """Let the window take what waits, as after each event of a person."""
    end = time.monotonic() + 2e-3 * TICK
    while time.monotonic() < end:
        QApplication.processEvents()


def rest(window) -> None:
    """Let the window go on until nothing is being done beside it."""
    end = time.monotonic() + 300.0
    turn()
    while (window.worker.current is not None or window.bridge._rest.isActive()
           or window.view._still.isActive()):
        QApplication.processEvents(QEventLoop.ProcessEventsFlag.WaitForMoreEvents)
        assert time.monotonic() < end
    turn()


def plate_of_holes(across: int, up: int) -> Part:
    """A plain plate with one hole, repeated; its diameter is said, its place is loose."""
    draft = Draft(Part(name="Sieve", material=STEEL))
    wide, high = 10.0 * across + 10.0, 10.0 * up + 10.0
    corners = [draft.point(at) for at in ((0, 0), (wide, 0), (wide, high), (0, high))]
    for n in range(4):
        draft.line(corners[n], corners[(n + 1) % 4])
    hole = draft.circle((10.0, 10.0), 3.0)
    draft.binding(Binding("diameter", (hole,), "6"))
    grid = GridPattern((hole,), ("10", "10"), (across, up))
    return set_pattern(draft.done(), grid).part


def plate_of_drawn_holes(curves: int) -> Part:
    """A plate whose holes are all drawn, each with its own diameter, run and rise."""
    draft, across = Draft(Part(name="Panel", material=STEEL)), 20
    wide, high = 10.0 * across + 10.0, 10.0 * (curves // across + 2)
    corners = [draft.point(at) for at in ((0, 0), (wide, 0), (wide, high), (0, high))]
    for n in range(4):
        draft.line(corners[n], corners[(n + 1) % 4])
    draft.binding(Binding("run", (corners[0], corners[1]), repr(wide)))
    draft.binding(Binding("rise", (corners[0], corners[3]), repr(high)))
    for n in range(curves - 4):
        x, y = 10.0 * (1 + n % across), 10.0 * (1 + n // across)
        hole = draft.circle((x, y), 3.0)
        center = draft.done().curves[hole].points[0]
        draft.binding(Binding("diameter", (hole,), "6"))
        if n:  # the first one can be dragged
            draft.binding(Binding("run", (corners[0], center), repr(x)))
            draft.binding(Binding("rise", (corners[0], center), repr(y)))
    return draft.done()


def crowded_gusset() -> Part:
    """The roof gusset with a round repeated a thousand times, all but on one place."""
    gusset = load(ROOT / "demo_parts" / "roof-gusset.profile.json")
    crowd = PolarPattern(("a4",), "p1", 1000, "1e-9")
    return replace(gusset, patterns={"n": crowd})


PARTS: dict[str, Callable[[], Part]] = {
    "961 holes": lambda: plate_of_holes(31, 31),
    "1,800 holes": lambda: plate_of_holes(5, 360),
    "9,720 holes": lambda: plate_of_holes(108, 90),
    "crowded gusset": crowded_gusset,
    "300 curves": lambda: plate_of_drawn_holes(300),
}
