"""Imports without PySide6's look into the source of every module."""

from __future__ import annotations

import builtins
from collections.abc import Iterator
from contextlib import contextmanager

from sketcher.desk import PLAIN_IMPORT


@contextmanager
def plain_imports() -> Iterator[None]:
    """Import with Python's own function.

    PySide6 puts a function of its own in its place, which reads the source of each module that is
    loaded later, to learn whether it asks for other names of Qt's methods (``from __feature__
    import``). None of ours does, nor any of numpy's: that was a tenth of the time until the desk
    stands.
    """
    qts = builtins.__import__
    builtins.__import__ = PLAIN_IMPORT
    try:
        yield
    finally:
        builtins.__import__ = qts
