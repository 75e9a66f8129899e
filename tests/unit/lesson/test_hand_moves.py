"""The hand moves of the demo parts and practice problems make them, and their sentences hold.

Some parts by default; ``-m whole`` takes the rest, ``python -m tests.proof hand_moves`` many more.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.demo_parts import FOLDER, SOUND
from tests.hand_moves import by_hand
from tests.seldom import some_of

PRACTICE = sorted((FOLDER / "practice").glob("*.profile.json"))
OFTEN = ("pump-flange", "shift-arm", "03-", "06-", "07-", "10-")


def test_there_are_problems() -> None:
    assert len(PRACTICE) == 10


@pytest.mark.parametrize("path", some_of((*SOUND, *PRACTICE),
                                         lambda path: path.name.startswith(OFTEN)),
                         ids=lambda path: path.name.split(".")[0])
def test_straightedge_and_compass_make_the_part(path: Path, tmp_path: Path) -> None:
    found = by_hand(path, tmp_path)
    assert found.solved
    assert found.faults == []
    assert found.counts["strokes"] > found.counts["moves"] >= found.counts["steps"] > 4
    assert found.flattest > 0.1
