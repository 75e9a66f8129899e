"""Does the Qt binding count references right? Run by itself and from the tests.

PySide6 6.12.0 on Python 3.11 loses one reference to None at every call that returns nothing, and
ends the process after some thousands of calls.
"""

from __future__ import annotations

import sys

from PySide6.QtCore import QObject


def lost_references(calls: int = 1000) -> int:
    """References to None that `calls` calls lose."""
    thing = QObject()
    before = sys.getrefcount(None)
    for _ in range(calls):
        thing.setObjectName("a")
    return before - sys.getrefcount(None)


if __name__ == "__main__":
    lost = lost_references()
    sys.stdout.write(f"{lost} references to None lost in 1000 calls\n")
    sys.exit(lost > 500)
