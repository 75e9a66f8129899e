"""The other process: it does one job after the other while the window goes on.

It is a Python of its own and not a thread. A thread that computes takes its turns from the thread
that paints: in a window with a small part a picture took 35 to 65 ms instead of 20 beside an
inspection or a sheet, 240 ms beside the factors of a large system, whatever
`sys.setswitchinterval` was (0.5 to 5 ms); beside a process it takes what it took before. A process
can also be ended at any time, in the middle of a library's work too.

What goes in and out are frames: eight bytes of length, then a pickle. In go (number, function,
given) and (number,), which takes a job back; out comes (number, made, error), and before that
as often as there is something to say (number, `OnTheWay`).
"""

from __future__ import annotations

import contextlib
import copyreg
import io
import os
import pickle
import signal
import struct
import sys
import threading
import traceback
from collections.abc import Callable
from dataclasses import fields
from operator import attrgetter
from queue import SimpleQueue
from time import monotonic
from typing import Any, BinaryIO

from sketcher.board.job import OnTheWay
from sketcher.desk.heap import give_back, uncollected
from sketcher.geometry.curves import Arc, Circle, Line
from sketcher.geometry.loops import Loop
from sketcher.inspect.profile import Contour
from sketcher.interrupt import Stopped, while_wanted
from sketcher.part.whole import Piece
from sketcher.progress import reported_to, told_to

LENGTH = struct.Struct(">Q")
COURTESY = 5
"""By how much the process steps back where there is one processor for it and the window."""
SELDOM = 0.2
"""Seconds between two words of how much of a job is done."""


def _plain(kind: type[Any]) -> Callable[[Any], tuple[type[Any], tuple[Any, ...]]]:
    """Return how a small value is taken apart: as what it is made of, in the order of its fields.

    What pickle does by itself with a frozen value that has slots takes three times as long, and
    a part has thousands of these.
    """
    parts = attrgetter(*(field.name for field in fields(kind) if field.init))
    return lambda value: (kind, parts(value))


class _Pickler(pickle.Pickler):
    """Takes read-only mappings too, as `sketcher.part.value` says, and a few kinds faster."""

    dispatch_table = copyreg.dispatch_table.copy()
    for _kind in (Line, Arc, Circle, Piece, Loop, Contour):
        dispatch_table[_kind] = _plain(_kind)


def packed(value: object) -> bytes:
    """Return a value as bytes.

    Raises
    ------
    Exception
        Whatever pickle says of a value that is no plain one.
    """
    out = io.BytesIO()
    with uncollected():
        _Pickler(out, pickle.HIGHEST_PROTOCOL).dump(value)
    return out.getvalue()


def unpacked(data: bytes) -> Any:
    """Return the value that `packed` was given."""
    with uncollected():
        return pickle.loads(data)


def send(pipe: BinaryIO, data: bytes) -> None:
    """Write one frame."""
    pipe.write(LENGTH.pack(len(data)))
    pipe.write(data)
    pipe.flush()


def receive(pipe: BinaryIO) -> bytes | None:
    """Return the next frame; None when the other side has gone."""
    head = pipe.read(LENGTH.size)
    if len(head) < LENGTH.size:
        return None
    size = LENGTH.unpack(head)[0]
    data = pipe.read(size)
    return data if len(data) == size else None


class _Inbox:
    """Reads orders in a thread of its own, so that a job can be taken back while it is done."""

    def __init__(self, pipe: BinaryIO) -> None:
        self.jobs: SimpleQueue[tuple[int, Any, tuple[Any, ...]]] = SimpleQueue()
        self.unwanted: set[int] = set()
        self._pipe = pipe
        threading.Thread(target=self._read, daemon=True).start()

    def _read(self) -> None:
        while (data := receive(self._pipe)) is not None:
            number, *work = unpacked(data)
            if work:
                self.jobs.put((number, *work))
            else:
                self.unwanted.add(number)
        os._exit(0)  # the window has gone, whatever is being done here


def telling(number: int, answers: BinaryIO) -> Callable[[float], None]:
    """Return what sends on how much of a job is done: its number and the share.

    No share is less than the one before, and they come at least `SELDOM` apart.
    """
    told, before = 0.0, monotonic()

    def listen(share: float) -> None:
        nonlocal told, before
        now = monotonic()
        if share > told and now - before >= SELDOM:
            told, before = share, now
            send(answers, packed((number, OnTheWay(share))))

    return listen


def _done(number: int, function: Any, given: tuple[Any, ...], unwanted: set[int],
          answers: BinaryIO) -> bytes:
    """Do one job; return its answer."""
    try:
        with while_wanted(lambda: number not in unwanted), told_to(telling(number, answers)), \
                reported_to(lambda news: send(answers, packed((number, OnTheWay(news=news))))):
            return packed((number, function(*given), None))
    except Stopped as stopped:
        return packed((number, None, stopped))
    except Exception as error:  # noqa: BLE001 - the window raises it again, where it is told
        error.add_note("In the other process:\n" + traceback.format_exc())
        with contextlib.suppress(Exception):
            return packed((number, None, error))
        return packed((number, None, RuntimeError(repr(error))))


def main() -> None:
    """Do jobs until the window goes."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl+C in a terminal is meant for the window
    if hasattr(os, "nice"):
        os.nice(COURTESY)
    answers = os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)  # what a library prints must not get between the frames
    inbox = _Inbox(sys.stdin.buffer)
    while True:
        job = inbox.jobs.get()
        answer = _done(*job, inbox.unwanted, answers)
        inbox.unwanted.discard(job[0])
        send(answers, answer)
        del job, answer
        give_back()


if __name__ == "__main__":
    main()
