"""The ticks of practice problems while they are drawn from their handouts, by presses and keys."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import pytest

from sketcher.board.board import Board
from sketcher.board.exercise.attempt import AttemptStanding, judge_attempt, paper_key
from sketcher.board.steps.notices import Change
from sketcher.part.value import begun
from tests.e2e.test_practice_problems import OFTEN, REACH, WRONG, Misread, numbers, paper_of
from tests.handout_paper import HandoutPaper
from tests.hands import BoardHands
from tests.practice_hands import SCRIPTS
from tests.practice_keys import practice_solved
from tests.seldom import some_of


def looked_at(name: str, paper: HandoutPaper | Misread) -> list[AttemptStanding]:
    """How the drawing stood after each step."""
    key = practice_solved(name).part
    board = Board(begun(key.unit))
    found: list[AttemptStanding] = []

    def hear(change: Change) -> None:
        if change.reason == "edit":
            before = found[-1].pose if found else None
            found.append(judge_attempt(key, change.after, before))

    board.bench.notices.listen(hear)
    SCRIPTS[name](BoardHands(board, REACH[key.unit]), paper)
    return found


@pytest.mark.parametrize("name", some_of(SCRIPTS, OFTEN.__contains__))
def test_the_ticks_grow_until_all_hold(name: str, tmp_path: Path) -> None:
    stood = looked_at(name, paper_of(name, tmp_path))
    assert stood[-1].finished
    assert not any(each.turn or each.mirrored for each in stood)
    held = [each.holding for each in stood]
    assert held[0] < held[-1]
    # a size that is drawn by eye first may be lost for a step when its neighbor comes
    assert sum(b < a for a, b in pairwise(held)) <= 1


@pytest.mark.parametrize("name", some_of(WRONG, OFTEN.__contains__))
def test_a_dimension_that_is_misread_alone_is_not_yet(name: str, tmp_path: Path) -> None:
    printed, typed = WRONG[name]
    standing = looked_at(name, Misread(paper_of(name, tmp_path), {printed: typed}))[-1]
    texts = {entry.id: entry.text for entry in paper_key(practice_solved(name).part).entries}
    (off,) = (entry for entry in standing.entries if entry.state == "off")
    assert numbers(texts[off.id]) == numbers(printed)
    assert off.said.startswith(off.mine)
    assert {entry.state for entry in standing.entries} == {"off", "holds"}
