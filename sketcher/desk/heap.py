"""The heap while very many values are made at once."""

from __future__ import annotations

import ctypes
import gc
from collections.abc import Iterator
from contextlib import contextmanager, suppress


@contextmanager
def uncollected() -> Iterator[None]:
    """Make tens of thousands of values without a look for garbage every few hundred.

    None of them is any: an inspection of 9,720 holes took 140 ms to be unpacked, and 30 so.
    """
    was = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was:
            gc.enable()


def give_back() -> None:
    """Give what is free on the heap back to the system, where the C library does so (glibc).

    The helper stands idle most of the time, and would keep the most that any of its jobs took.
    """
    with suppress(OSError, AttributeError, TypeError):
        ctypes.CDLL(None).malloc_trim(0)
