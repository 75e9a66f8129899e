"""The demo parts as files; one that is shipped to be mended says so in its own notes."""

from __future__ import annotations

import json
from pathlib import Path

FOLDER = Path(__file__).resolve().parents[1] / "demo_parts"
ALL = sorted(FOLDER.glob("*.profile.json"))


def to_mend(path: Path) -> bool:
    """Whether the file says that something is wrong with its part."""
    notes = json.loads(path.read_text(encoding="utf-8")).get("notes", [])
    return any(note.startswith("To mend:") for note in notes)


SOUND = [path for path in ALL if not to_mend(path)]
TO_MEND = [path for path in ALL if to_mend(path)]
