"""The text that is typed into a row: how it is read, taken back, and replaced whole."""

from __future__ import annotations

import pytest

from sketcher.board.action_table import perform
from sketcher.board.board import Board
from sketcher.part.value import Part
from sketcher.quantity.parse import hyphen_joins
from tests.hosts import AnsweringHost


def typing(text: str, unit: str = "mm") -> Board:
    board = Board(Part(unit=unit))  # type: ignore[arg-type]
    board.use("circle")
    for letter in text:
        assert board.typing.type_text(letter)
    return board


def test_what_is_typed_over_a_selected_text_takes_its_place() -> None:
    board = typing("57")
    assert perform("edit.select_all", board, AnsweringHost())
    assert board.typing.entry is not None
    assert board.typing.entry.shown == "|57|"
    board.typing.type_text("8")
    assert board.typing.entry.text == "8"
    board.typing.type_text("1")
    assert board.typing.entry.text == "81"


def test_backspace_takes_a_selected_text_away_whole() -> None:
    board = typing("57")
    assert board.typing.select_all()
    assert board.key("backspace")
    assert board.typing.entry is None


def test_select_all_means_the_curves_where_nothing_is_typed() -> None:
    board = Board(Part())
    assert not perform("edit.select_all", board, AnsweringHost())


@pytest.mark.parametrize(("text", "unit", "joins"), [
    ("4-5/8", "in", True), ("4 - 5/8", "in", False), ("4-5/8", "mm", False),
    ('4-5/8"', "mm", True), ("4 5/8", "in", False), ("4-5/", "in", False), ("4-1/3", "in", False),
])
def test_a_hyphen_that_could_be_a_minus_is_read_back(text: str, unit: str, joins: bool) -> None:
    assert hyphen_joins(text, unit) is joins
    prompt = typing(text, unit).prompt
    assert ("is read as" in prompt) is joins
    if joins:
        assert text.replace("-", " ") in prompt
