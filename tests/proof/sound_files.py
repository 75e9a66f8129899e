"""A sound part as a file, for proofs of what is cut: a random plate, at times a demo part."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

from tests.demo_parts import SOUND
from tests.proof.plates import sound_plate
from tests.proof.tally import Case

EACH = 8
"""Every so many cases take a demo part, each in its turn."""


def sound_file(case: Case, path: Path) -> str:
    """Write a sound part and return its unit."""
    if case.number % EACH == 0:
        shutil.copy(SOUND[case.number // EACH % len(SOUND)], path)
        return str(json.loads(path.read_text(encoding="utf-8"))["unit"])
    plate = sound_plate(case.random)
    path.write_text(json.dumps(plate.tree()), encoding="utf-8")
    return plate.unit
