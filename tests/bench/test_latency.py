"""How long the window's thread is away from its events while large parts are worked on.

``pytest tests/bench/test_latency.py -s``. A timer of 5 ms notes its largest gap, in wall time and
in the thread's own processor time; the second depends least on what else the machine does, so that
one is held to the limit.
"""

from __future__ import annotations

import os
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
from PySide6.QtCore import QEventLoop, QPoint, Qt, QTimer
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from sketcher.board.settings import Settings
from sketcher.desk.panes.inspection_pane import CUTTING
from sketcher.part.edits.draft import Draft
from sketcher.part.edits.set_pattern import set_pattern
from sketcher.part.value import GridPattern, Part

LIMIT = 100.0  # milliseconds


class Gaps:
    """Notes the largest gaps between two turns of the loop of events."""

    def __init__(self) -> None:
        self.wall = self.own = 0.0
        self._last = (0.0, 0.0)
        self._timer = QTimer()
        self._timer.setTimerType(Qt.TimerType.PreciseTimer)
        self._timer.timeout.connect(self._tick)

    def _tick(self) -> None:
        now = (time.perf_counter(), time.thread_time())
        self.wall = max(self.wall, 1e3 * (now[0] - self._last[0]))
        self.own = max(self.own, 1e3 * (now[1] - self._last[1]))
        self._last = now

    def __enter__(self) -> Gaps:
        self._last = (time.perf_counter(), time.thread_time())
        self._timer.start(5)
        return self

    def __exit__(self, *_: object) -> None:
        self._tick()
        self._timer.stop()


def plate_of_holes(across: int, up: int) -> Part:
    """A plain plate with one hole, repeated."""
    draft = Draft(Part(name="Sieve"))
    wide, high = 10.0 * across + 10.0, 10.0 * up + 10.0
    corners = [draft.point(at) for at in ((0, 0), (wide, 0), (wide, high), (0, high))]
    for n in range(4):
        draft.line(corners[n], corners[(n + 1) % 4])
    hole = draft.circle((10.0, 10.0), 3.0)
    grid = GridPattern((hole,), ("10", "10"), (across, up))
    return set_pattern(draft.done(), grid).part


@pytest.fixture
def window(tmp_path: Path) -> Iterator:
    from sketcher.desk.theme import dress, load_font
    from sketcher.desk.window import MainWindow

    app = QApplication.instance() or QApplication([])
    made = MainWindow(Settings(), tmp_path, dress(app, "dye", load_font()))
    made.resize(1366, 768)
    made.show()
    made.begin(None)
    made.host.ask_unsaved = lambda name: "discard"
    made.host.tell = lambda *_: None
    made.host.confirm = lambda *_: True
    made.host.ask_despite = lambda *_: True
    made.host.ask_choice = lambda title, label, choices: choices[0]
    made.board.load(plate_of_holes(3, 3), None)  # what is imported once does not count
    rest(made)
    yield made
    made.close()
    made.shut()


def rest(window) -> None:
    """Let the window go on until nothing is being done beside it."""
    end = time.monotonic() + 300.0
    QTest.qWait(20)
    while window.worker.current is not None or window.bridge._rest.isActive():
        QApplication.processEvents(QEventLoop.ProcessEventsFlag.WaitForMoreEvents)
        assert time.monotonic() < end


def looked_around(window) -> None:
    port = window.view.viewport()
    for n in range(20):
        QTest.mouseMove(port, QPoint(200 + 20 * n, 150 + 12 * n))
        window.view.zoom(1.1 if n % 2 else 1 / 1.1)
        QApplication.processEvents()


@pytest.mark.parametrize(("across", "up"), [(31, 31), (5, 360)])
def test_the_window_answers_while_a_plate_of_holes_is_worked_on(
    window, tmp_path: Path, across: int, up: int
) -> None:
    board, part = window.board, plate_of_holes(across, up)
    hole = next(iter(part.patterns.values())).curves[0]
    sheet, cut = tmp_path / "sheet.pdf", tmp_path / "cut.dxf"

    def write(path: Path, action: str) -> None:
        window.host.ask_path = lambda *_: path
        window.commands.run(action)

    steps: list[tuple[str, Callable[[], object]]] = [
        ("open", lambda: board.load(part, None)),
        ("look around", lambda: looked_around(window)),
        ("advice", lambda: window.inspection.box.setCurrentIndex(CUTTING)),
        ("look around meanwhile", lambda: looked_around(window)),
        ("an edit", lambda: board.do("Thicker", lambda p: p.having(name="Thicker"))),
        ("select all", lambda: window.commands.run("edit.select_all")),
        ("select one", lambda: board.select((hole,))),
        ("sheet", lambda: write(sheet, "file.export_sheet")),
        ("cut", lambda: write(cut, "file.export_cut")),
        ("undo", board.undo),
    ]
    worst = {}
    for name, act in steps:
        with Gaps() as gaps:
            act()
            if name != "advice":
                rest(window)
        worst[name] = gaps.own
        print(f"\n{across * up} holes, {name}: {gaps.own:.0f} ms of its own, "
              f"{gaps.wall:.0f} ms in all", end="")
    assert sheet.exists()
    assert cut.exists()
    assert max(worst.values()) <= LIMIT
