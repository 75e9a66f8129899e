"""Files that other people and programs made; they stay outside, in a folder ``shared``.

It lies beside the checkout, or where the environment's SHARED_FILES says; tests that need it skip
where it is missing.
"""

from __future__ import annotations

import os
from pathlib import Path

SHARED = Path(os.environ.get("SHARED_FILES", Path(__file__).resolve().parents[2] / "shared"))


def shared(folder: str, pattern: str) -> list[Path]:
    """The files of a folder whose names fit a pattern, in order; none where it is missing."""
    return sorted((SHARED / folder).glob(pattern))
