"""A whole class marked: a process on each core, and no hand-in that ends the others.

A process that has one thread and no window copies itself (fork, on Linux), which costs nothing.
Another one lets them be copies of one that has nothing but the libraries (forkserver), or start
anew (spawn) where there is neither. A hand-in that takes too long or brings its process down is
listed with the reason, and another process takes over. What comes out stands in the order of what
went in.
"""

from __future__ import annotations

import multiprocessing
import os
import signal
import sys
import threading
from collections import deque
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from multiprocessing.connection import Connection, wait
from multiprocessing.process import BaseProcess
from time import monotonic
from typing import Any

from sketcher.errors import SketcherError
from sketcher.interrupt import check
from sketcher.marking.class_worker import Marked, Task, work
from sketcher.marking.marks import ungraded
from sketcher.marking.roster import ClassEntry
from sketcher.progress import tell

MOST_SECONDS = 60.0
"""What a hand-in may take, by the clock: 200 times what one usually takes."""
TURN = 0.1
"""Seconds between two looks whether the class is still wanted."""
LIBRARIES = ["sketcher.marking.class_worker", "sketcher.inspect.sketched", "scipy.optimize",
             "scipy.sparse.linalg", "shapely", "ezdxf", "sketcher.exchange.dxf_read"]
"""What every process loads: copied, not loaded anew, where that can be."""
BAD_STARTS = 3
"""Processes that may end before their first word, one after the other."""


@dataclass(frozen=True, slots=True)
class ClassProgress:
    """How far a class is: how many hand-ins are done, of how many, which was the last one.

    `seconds_left` is None until one is done.
    """

    done: int
    of: int
    last: ClassEntry
    seconds_left: float | None

    @property
    def left_words(self) -> str:
        """How long it still takes, as the end of a clause: ``, 5 s left``; empty where unknown."""
        left = self.seconds_left
        if left is None:
            return ""
        return f", {left:.0f} s left" if left < 90.0 else f", {left / 60.0:.0f} min left"


Listen = Callable[[ClassProgress], None]


def cores() -> int:
    """Return how many processors this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


def processes() -> Any:
    """Return the way in which processes are started here."""
    if not sys.platform.startswith("linux"):
        return multiprocessing.get_context("spawn")
    if threading.active_count() == 1 and "PySide6" not in sys.modules:
        return multiprocessing.get_context("fork")
    context = multiprocessing.get_context("forkserver")
    context.set_forkserver_preload(LIBRARIES)
    return context


def run_class(
    entries: Sequence[ClassEntry], task: Task, jobs: int | None = None,
    listen: Listen | None = None, most_seconds: float = MOST_SECONDS,
) -> tuple[Marked, ...]:
    """Mark hand-ins, and return what each is given, in the order of `entries`.

    Parameters
    ----------
    entries : sequence of ClassEntry
    task : Task
    jobs : int, optional
        Processes; without it one for each processor.
    listen : callable, optional
        Hears after each hand-in how far the class is, in this thread.
    most_seconds : float
        After which a hand-in is given up.

    Raises
    ------
    Stopped
        When nobody wants it any more; its processes have ended then.
    SketcherError
        When no process can be started.
    """
    run = _ClassUnderWay(entries, task, listen, most_seconds)
    try:
        run.through(max(1, min(cores() if jobs is None else jobs, len(entries))))
    finally:
        for each in run.workers:
            each.end()
    return tuple(run.done[number] for number in range(len(entries)))


@dataclass(slots=True)
class _Worker:
    """A process and what it is at: the number of an entry, None before its first word or idle."""

    process: BaseProcess
    pipe: Connection
    begun: bool = False
    at: int | None = None
    since: float = field(default_factory=monotonic)

    @classmethod
    def started(cls, task: Task, others: Sequence[_Worker]) -> _Worker:
        context = processes()
        ours, theirs = context.Pipe()
        copied = context.get_start_method() == "fork"
        process = context.Process(
            target=work, daemon=True, name="marking of a class",
            args=(theirs, task, [ours, *(each.pipe for each in others)] if copied else ()))
        process.start()
        theirs.close()
        return cls(process, ours)

    def take(self, number: int, entry: ClassEntry) -> None:
        """Give it a hand-in."""
        self.pipe.send((number, entry))
        self.at, self.since = number, monotonic()

    def end(self) -> str:
        """End it at once; return how it had ended where it had by itself."""
        self.process.join(0.05)
        code = self.process.exitcode
        self.process.kill()
        self.process.join()
        self.process.close()
        self.pipe.close()
        if code is None:
            return ""
        return signal.Signals(-code).name if code < 0 else f"exit status {code}"


class _ClassUnderWay:
    """One class on its way through the processes."""

    def __init__(self, entries: Sequence[ClassEntry], task: Task, listen: Listen | None,
                 most_seconds: float) -> None:
        self.entries, self.task = entries, task
        self.workers: list[_Worker] = []
        self.done: dict[int, Marked] = {}
        self._waiting = deque(range(len(entries)))
        self._listen, self._most = listen, most_seconds
        self._since: float | None = None
        self._bad_starts = 0

    def through(self, jobs: int) -> None:
        """Mark all of them."""
        while len(self.done) < len(self.entries):
            check()
            missing = len(self.entries) - len(self.done)
            while len(self.workers) < min(jobs, missing):
                self.workers.append(_Worker.started(self.task, self.workers))
            heard = wait([each.pipe for each in self.workers], TURN)
            for each in [each for each in self.workers if each.pipe in heard]:
                self._hear(each)
            now = monotonic()
            for each in [each for each in self.workers
                         if each.at is not None and now - each.since > self._most]:
                self._give_up(each, f"was given up after {self._most:g} s")

    def _hear(self, worker: _Worker) -> None:
        try:
            said = worker.pipe.recv()
            if said is not None:
                self._keep(*said)
            elif self._since is None:
                self._since = monotonic()
            worker.begun, worker.at, self._bad_starts = True, None, 0
            if self._waiting:
                worker.take(self._waiting[0], self.entries[self._waiting[0]])
                self._waiting.popleft()
        except (EOFError, OSError):
            self._give_up(worker, "brought the process down that marked it")

    def _give_up(self, worker: _Worker, reason: str) -> None:
        """List what a worker was at, and do without it."""
        self.workers.remove(worker)
        ended = worker.end()
        if worker.at is not None:
            entry = self.entries[worker.at]
            why = f"{reason} ({ended})" if ended else reason
            self._keep(worker.at, Marked(entry, ungraded(entry.file, why, self.task.rubric)))
        elif not worker.begun:
            self._bad_starts += 1
            if self._bad_starts >= BAD_STARTS:
                raise SketcherError("marking", f"its processes end before they begin ({ended})",
                                    "try it with --jobs 1, or with more memory free")

    def _keep(self, number: int, one: Marked) -> None:
        self.done[number] = one
        done, of = len(self.done), len(self.entries)
        tell(done / of)
        if self._listen is not None:
            left = None
            if self._since is not None:
                left = (monotonic() - self._since) / done * (of - done)
            self._listen(ClassProgress(done, of, one.entry, left))
