"""The practice problems from their handouts to parts that are their keys, with presses and keys."""

from __future__ import annotations

import re
from collections.abc import Mapping
from pathlib import Path

import pytest

from sketcher.board.board import Board
from sketcher.inspect.inspection import inspect_part
from sketcher.part.value import begun
from sketcher.part.whole import same_outline
from tests.handout_paper import HandoutPaper
from tests.hands import BoardHands
from tests.practice_hands import SCRIPTS
from tests.practice_keys import handout_pdf, marked_by_key, practice_solved, shown_texts
from tests.seldom import some_of

REACH = {"mm": 1.2, "in": 0.05}
OFTEN = ("02-lug-plate", "03-keeper-plate", "06-index-plate", "07-cross-plate", "09-door-hook")
WRONG = {  # a dimension as it is printed, and what is typed in its place
    "01-corner-bracket": ("50", "48"), "02-lug-plate": ("30°", "33"),
    "03-keeper-plate": ("1 5/8", "1 7/8"), "04-slotted-plate": ("44", "46"),
    "05-drag-link": ("105", "106"), "06-index-plate": ("70°", "65"),
    "07-cross-plate": ("2x R14", "15"), "08-pedal-foot": ("R32", "30"),
    "09-door-hook": ("R25", "27"), "10-cradle-arm": ("R55", "58"),
}


def paper_of(name: str, folder: Path) -> HandoutPaper:
    path = folder / f"{name}.pdf"
    path.write_bytes(handout_pdf(name))
    return HandoutPaper(path)


class Misread:
    """A paper of which one dimension is misread."""

    def __init__(self, paper: HandoutPaper, wrong: Mapping[str, str]) -> None:
        self.paper, self.wrong = paper, wrong

    def __call__(self, text: str) -> str:
        return self.wrong.get(text) or self.paper(text)

    def count(self, text: str) -> str:
        return self.paper.count(text)


def drawn(name: str, paper: HandoutPaper | Misread) -> Board:
    unit = practice_solved(name).part.unit
    board = Board(begun(unit))
    SCRIPTS[name](BoardHands(board, REACH[unit]), paper)
    return board


def numbers(text: str) -> list[str]:
    return re.findall(r"\d+", text)


@pytest.mark.parametrize("name", some_of(SCRIPTS, OFTEN.__contains__))
def test_a_problem_is_drawn_by_its_handout_alone(name: str, tmp_path: Path) -> None:
    paper = paper_of(name, tmp_path)
    board = drawn(name, paper)
    assert paper.left() == []
    assert sorted(paper.texts) == sorted(shown_texts(name))
    assert (board.report.state, board.report.freedoms, board.report.doubled) == ("bound", 0, ())
    assert inspect_part(board.part, board.report).findings == ()
    key = practice_solved(name).part
    assert same_outline(board.part, key, 1e-9 * (100.0 if key.unit == "mm" else 4.0))
    marks = marked_by_key(name, board.part, board.report)
    assert (marks.ungraded, marks.deductions) == ("", ())


@pytest.mark.parametrize("name", some_of(WRONG, OFTEN[:2].__contains__))
def test_a_wrong_value_is_told_by_its_dimension(name: str, tmp_path: Path) -> None:
    printed, typed = WRONG[name]
    board = drawn(name, Misread(paper_of(name, tmp_path), {printed: typed}))
    (deduction,) = marked_by_key(name, board.part, board.report).deductions
    assert deduction.rule == "wrong-value"
    assert numbers(deduction.mistake.wanted) == numbers(printed.partition("x ")[2] or printed)
    assert numbers(deduction.mistake.found) == numbers(typed)
