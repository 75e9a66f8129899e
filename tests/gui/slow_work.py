"""Jobs that take long, in a module of their own: another process finds them by their names."""

from __future__ import annotations

import time

from sketcher.board.steps.solver_cache import default_solver
from sketcher.interrupt import check
from sketcher.part.value import Part
from sketcher.progress import report, tell
from sketcher.solve.solve_report import Solution


def busy(seconds: float) -> None:
    """Take as much of the processor's time, and ask at every turn whether to go on."""
    end = time.thread_time() + seconds
    while time.thread_time() < end:
        check()


def slow_solver(part: Part) -> Solution:
    """Solve a part in more time than is taken in place."""
    busy(0.2)
    return default_solver(part)


def endless_solver(part: Part) -> Solution:
    """Come to no end by itself."""
    busy(1e9)
    return default_solver(part)


def deaf(seconds: float) -> str:
    """Ask nobody."""
    time.sleep(seconds)
    return "done"


def halves(seconds: float) -> None:
    """Do one half, tell it, and never come to the end of the other."""
    busy(seconds)
    tell(0.5)
    tell(0.25)  # nobody hears of going back
    busy(1e9)


def talking(words: tuple[str, ...]) -> int:
    """Say each word on the way."""
    for word in words:
        report(word)
    return len(words)
