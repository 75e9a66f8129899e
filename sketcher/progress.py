"""How much of some work is done, told by whoever does it to whoever listens.

As with `interrupt`, who starts the work says for the current thread alone who listens; without
anybody it costs next to nothing, so the core tells wherever it knows the number of what it goes
through. Shares are from 0 to 1 of what the innermost `stage` covers.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from typing import Any, TypeVar

from sketcher.interrupt import check

T = TypeVar("T")

_listener: ContextVar[Callable[[float], None] | None] = ContextVar("_listener", default=None)
_reader: ContextVar[Callable[[Any], None] | None] = ContextVar("_reader", default=None)


def tell(share: float) -> None:
    """Say how much is done."""
    listener = _listener.get()
    if listener is not None:
        listener(share)


def report(news: Any) -> None:
    """Send on a plain value that says more than a share: what is being done, how long it takes."""
    reader = _reader.get()
    if reader is not None:
        reader(news)


@contextmanager
def reported_to(reader: Callable[[Any], None] | None) -> Iterator[None]:
    """Let `reader` have what is reported inside; None lets nobody.

    Examples
    --------
    >>> with reported_to(print):
    ...     report("half of it")
    half of it
    """
    token = _reader.set(reader)
    try:
        yield
    finally:
        _reader.reset(token)


def counted(items: Collection[T]) -> Iterator[T]:
    """Go through items, tell before each how many are done, and ask whether to go on.

    Examples
    --------
    >>> with told_to(print):
    ...     letters = list(counted("ab"))
    0.0
    0.5

    Raises
    ------
    Stopped
        When whoever started the work wants it no more.
    """
    for number, item in enumerate(items):
        check()
        tell(number / len(items))
        yield item


@contextmanager
def told_to(listener: Callable[[float], None] | None) -> Iterator[None]:
    """Let `listener` hear what is told inside; None lets nobody."""
    token = _listener.set(listener)
    try:
        yield
    finally:
        _listener.reset(token)


@contextmanager
def stage(first: float, last: float) -> Iterator[None]:
    """Take what is told inside as going from one share of the whole to another.

    Examples
    --------
    >>> with told_to(print), stage(0.5, 1.0):
    ...     tell(0.5)
    0.5
    0.75
    """
    listener = _listener.get()
    if listener is None:
        yield
        return
    listener(first)
    with told_to(lambda share: listener(first + share * (last - first))):
        yield
