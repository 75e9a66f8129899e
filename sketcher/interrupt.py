"""Long work can be stopped: it asks at every turn of its outer loops whether it still should go on.

Whoever starts the work says how that is answered, for the current thread alone; without anybody
to answer a question costs next to nothing, so the core asks freely: once a curve, a hole, a place
or a step of Newton's method, so that no millisecond's work goes unasked, yet not once a number.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar

_wanted: ContextVar[Callable[[], bool] | None] = ContextVar("_wanted", default=None)


class Stopped(BaseException):
    """Work ended early because somebody asked for it.

    It is no `Exception`, as `asyncio.CancelledError` is none: what catches the errors of a piece
    of work to try another way must not catch that the whole is no longer wanted.
    """


def check() -> None:
    """Return while the work in this thread may go on.

    Raises
    ------
    Stopped
        When whoever started the work wants it no more. Nothing half made may be kept then.
    """
    wanted = _wanted.get()
    if wanted is not None and not wanted():
        raise Stopped


@contextmanager
def while_wanted(wanted: Callable[[], bool]) -> Iterator[None]:
    """Let work go on as long as `wanted` says so; what was asked around it is asked as well.

    Parameters
    ----------
    wanted : callable
        Returns whether to go on. It is called often and from the thread that works.

    Examples
    --------
    >>> with while_wanted(lambda: False):
    ...     check()
    Traceback (most recent call last):
    sketcher.interrupt.Stopped
    """
    around = _wanted.get()
    token = _wanted.set(wanted if around is None else lambda: around() and wanted())
    try:
        yield
    finally:
        _wanted.reset(token)


@contextmanager
def within(seconds: float) -> Iterator[None]:
    """Stop work that takes longer; the thread's own time counts, not what other programs take.

    Parameters
    ----------
    seconds : float
        How long it may take, in seconds of this thread's processor time.
    """
    end = time.thread_time() + seconds
    with while_wanted(lambda: time.thread_time() < end):
        yield
