"""Temporary files beside the one that is saved: named, held while at work, removed when left over.

A temporary file is locked by the program that fills it. The system lets the lock go with the
program, however that ends, so what is not locked is left over; no process number that another
program has by now and no other machine on the same share can be mistaken for it.
"""

from __future__ import annotations

import contextlib
import os
import re
import time
from collections.abc import Iterator
from dataclasses import dataclass
from importlib import import_module
from typing import Any

LOCKS: Any = None
with contextlib.suppress(ImportError):  # not on Windows, where nobody can remove an open file
    LOCKS = import_module("fcntl")

ENDING, JOURNAL_ENDING = ".new", ".saving"
TOKEN = re.compile(r"\.[0-9a-f]{8}\.new")
USUAL_LIMIT = 255
OLD = 24 * 3600.0
"""Seconds after which a temporary file counts as left over where the disk knows no locks."""


@dataclass(frozen=True, slots=True)
class Temporary:
    """An open temporary file, locked where the system has locks."""

    path: str
    handle: int

    @staticmethod
    def beside(target: str, mode: int) -> Temporary:
        """Make one in the folder of `target`.

        Raises
        ------
        OSError
            When it cannot be made.
        """
        while True:
            path = _beside(target, f".{os.urandom(4).hex()}{ENDING}")
            flags = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0)
            handle = os.open(path, flags, mode)  # the umask has its say
            # Another program may have taken it for a leftover before it was locked.
            if _lock(handle) is not False and os.fstat(handle).st_nlink:
                return Temporary(path, handle)
            os.close(handle)


def journal_of(target: str) -> str:
    """Return the path at which the whole content stands while `target` is written into."""
    return _beside(target, JOURNAL_ENDING)


def clear_leftovers(target: str) -> None:
    """Remove the temporary files that interrupted saves of a file left in its folder."""
    folder, _ = os.path.split(target)
    stem = os.path.basename(_beside(target, f".{'0' * 8}{ENDING}"))[: -len(f".{'0' * 8}{ENDING}")]
    with contextlib.suppress(OSError):
        for name in os.listdir(folder or "."):
            if name.startswith(stem) and TOKEN.fullmatch(name, len(stem)):
                remove_leftover(os.path.join(folder, name))


def clear_folder(folder: str | os.PathLike[str]) -> None:
    """Remove every left-over temporary file of a folder that holds nothing but this program's."""
    with contextlib.suppress(OSError):
        for name in os.listdir(folder):
            if TOKEN.search(name, max(0, len(name) - 13)):
                remove_leftover(os.path.join(folder, name))


def remove_leftover(path: str) -> None:
    """Remove a temporary file unless a running program holds it or it cannot be removed."""
    with _examined(path) as free, contextlib.suppress(OSError):
        if free:
            os.unlink(path)


def is_left_over(path: str) -> bool:
    """Tell whether no running program holds a temporary file; True when it is not there."""
    with _examined(path) as free:
        return free or not os.path.lexists(path)


@contextlib.contextmanager
def _examined(path: str) -> Iterator[bool]:
    """Tell whether a file is there and nobody's, and hold it while that is made use of."""
    if LOCKS is None:
        yield os.path.lexists(path)
        return
    try:
        handle = os.open(path, os.O_RDWR | os.O_NONBLOCK)
    except OSError:
        yield False
        return
    try:
        locked = _lock(handle)
        aged = time.time() - os.fstat(handle).st_mtime >= OLD
        yield locked or (locked is None and aged)
    finally:
        os.close(handle)


def _lock(handle: int) -> bool | None:
    """Lock an open file; False when another program has it, None where there are no locks."""
    if LOCKS is None:
        return None
    try:
        LOCKS.flock(handle, LOCKS.LOCK_EX | LOCKS.LOCK_NB)
    except BlockingIOError:
        return False
    except OSError:
        return None
    return True


def _beside(target: str, ending: str) -> str:
    """Return `target` with an ending; a name too long for that is cut and told apart by a hash."""
    folder, name = os.path.split(target)
    most = _longest_name(folder or ".") - len(ending)
    whole = os.fsencode(name)
    if len(whole) > most:
        import hashlib

        told_apart = f"~{hashlib.sha256(whole).hexdigest()[:8]}"
        cut = whole[: most - len(told_apart)].decode("utf-8", "ignore")
        name = cut + told_apart
    return os.path.join(folder, name + ending)


def _longest_name(folder: str) -> int:
    try:
        return os.pathconf(folder, "PC_NAME_MAX")
    except (AttributeError, OSError, ValueError):
        return USUAL_LIMIT
