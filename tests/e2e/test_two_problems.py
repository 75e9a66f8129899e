"""Two drawing problems from an empty sheet to a sound part, with few presses and keys."""

from __future__ import annotations

import re

import pytest

from sketcher.board.board import Board
from sketcher.inspect.inspection import inspect_part
from sketcher.part.kinds import KINDS
from tests import problems
from tests.hands import BoardHands

MOST = {"clamp_plate": (25, 80), "pivot_arm": (45, 130)}
"""Presses and keys, every digit counted, with those that export the sheet and the cut."""

EXPORTS = 13
"""Keys that export both: Ctrl+Shift+E and Ctrl+E, and what their questions take."""


@pytest.mark.parametrize("name", sorted(MOST))
def test_a_problem_is_drawn_to_the_end(name: str) -> None:
    board = Board()
    hands = BoardHands(board, 1.2)
    stages: list[str] = []
    script = getattr(problems, name)
    script(hands, stages.append)
    assert (board.report.state, board.report.freedoms, board.report.doubled) == ("bound", 0, ())
    found = inspect_part(board.part, board.report).as_dict()
    assert found["sound"], [each["text"] for each in found["findings"]]
    area = getattr(problems, f"{name}_area")()
    assert found["profile"]["area"] == pytest.approx(area, rel=1e-12)
    assert len(stages) >= 4
    presses, keys = MOST[name]
    assert hands.clicks <= presses
    assert hands.keys + EXPORTS <= keys


@pytest.mark.parametrize("name", sorted(MOST))
def test_the_ledger_holds_what_the_paper_says_and_nothing_else(name: str) -> None:
    board = Board()
    script = getattr(problems, name)
    script(BoardHands(board, 1.2), lambda stage: None)
    printed = sorted(re.findall(r"\b\d+\b", script.__doc__.replace("14 curves", "")), key=float)
    held = [b.value for b in board.part.bindings.values()
            if KINDS[b.kind].quantity is not None and b.drives]
    assert all(value is not None and value in printed for value in held), (held, printed)
    assert set(held) == set(printed) - {"80"}  # 80 is 30 and 50 on


def test_the_half_of_the_clamp_plate_has_fourteen_curves() -> None:
    board = Board()
    problems.clamp_plate(BoardHands(board, 1.2), lambda stage: None)
    assert sum(curve.role == "outline" for curve in board.part.curves.values()) == 14
