"""How far somebody came with the first part, kept from one run to the next."""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path

from sketcher.board.settings import MAX_BYTES, write_whole
from sketcher.errors import SketcherError
from sketcher.part import file_text
from sketcher.part.value import Part


@dataclass(frozen=True, slots=True)
class Kept:
    """The part as it was left, its file where it has one, and what was done with it."""

    part: Part
    path: Path | None = None
    deeds: frozenset[str] = frozenset()


def keep(kept: Kept, place: Path) -> None:
    """Write how far it came.

    Raises
    ------
    FileError
        When it cannot be written.
    """
    table = {"part": file_text.write(kept.part), "file": str(kept.path or ""),
             "deeds": sorted(kept.deeds)}
    write_whole(place, json.dumps(table, indent=1) + "\n")


def kept_in(place: Path) -> Kept | None:
    """Return how far it came; None when nothing is there, or nothing that can be read."""
    try:
        table = json.loads(place.read_bytes()[:MAX_BYTES])
        part = file_text.read(table["part"])
        deeds = frozenset(str(deed) for deed in table["deeds"])
        path = Path(table["file"]) if table["file"] else None
    except (OSError, ValueError, KeyError, TypeError, AttributeError, RecursionError,
            SketcherError):
        return None
    return Kept(part, path, deeds)
