"""The demo parts as files; the start page's line about one says that it is there to be mended."""

from __future__ import annotations

import json
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
FOLDER = ROOT / "demo_parts"
ALL = sorted(FOLDER.glob("*.profile.json"))
LINES = json.loads((ROOT / "resources/help/demo_parts.json").read_text(encoding="utf-8"))


def to_mend(path: Path) -> bool:
    """Whether the start page says that something is wrong with the part."""
    return str(LINES[path.name.removesuffix(".profile.json")]).startswith("To mend:")


SOUND = [path for path in ALL if not to_mend(path)]
TO_MEND = [path for path in ALL if to_mend(path)]
