"""Which of the shipped problems were solved, from one run to the next."""

from __future__ import annotations

import json
from contextlib import suppress
from pathlib import Path

from sketcher.board.settings import MAX_BYTES, write_whole
from sketcher.errors import FileError

FILE = "practice.json"


def done_problems(folder: Path) -> frozenset[str]:
    """Return the names of the problems that were solved; none where that is not to be read."""
    try:
        found = json.loads((folder / FILE).read_bytes()[:MAX_BYTES])
        return frozenset(str(name) for name in found["done"])
    except (OSError, ValueError, RecursionError, KeyError, TypeError):
        return frozenset()


def note_done(folder: Path, name: str) -> None:
    """Remember that a problem was solved; that it cannot be written is no reason to stop."""
    done = done_problems(folder)
    if name in done:
        return
    with suppress(FileError):
        write_whole(folder / FILE, json.dumps({"done": sorted(done | {name})}, indent=1) + "\n")
