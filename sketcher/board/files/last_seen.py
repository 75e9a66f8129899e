"""The part that was on the sheet when the window was closed, and how it was looked at."""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass
from math import isfinite
from pathlib import Path
from typing import Any

from sketcher.board.settings import MAX_BYTES, write_whole
from sketcher.geometry.curves import XY

NAME = "last-seen.json"


@dataclass(frozen=True, slots=True)
class LastSeen:
    """A file, the name of its part, and the view of it.

    Parameters
    ----------
    path : str
        Where the file is.
    name : str
        What the part was called.
    scale : float
        Pixels per part unit.
    center : tuple of float
        Part's point in the middle of the sheet.
    """

    path: str
    name: str
    scale: float
    center: XY


def load_last_seen(folder: Path) -> LastSeen | None:
    """Return what an earlier run left; None where that is missing or damaged, or the file is."""
    try:
        found: Any = json.loads((folder / NAME).read_bytes()[:MAX_BYTES])
        path, name = found["path"], found["name"]
        scale, x, y = map(float, (found["scale"], *found["center"]))
        if not (isinstance(path, str) and isinstance(name, str) and Path(path).is_file()):
            return None
    except (OSError, ValueError, OverflowError, RecursionError, KeyError, TypeError):
        return None
    fine = scale > 0.0 and all(map(isfinite, (scale, x, y)))
    return LastSeen(path, name, scale, (x, y)) if fine else None


def save_last_seen(seen: LastSeen, folder: Path) -> None:
    """Write what a later run is to offer.

    Raises
    ------
    FileError
        When it cannot be written.
    """
    write_whole(folder / NAME, json.dumps(asdict(seen)) + "\n")
