"""The tangent circle that typing or the next press would make, shown before."""

from __future__ import annotations

import pytest

from sketcher.board.board import Board
from sketcher.board.preview import Pointer
from sketcher.geometry.curves import Circle
from sketcher.part.edits.draft import Draft
from sketcher.part.value import Part
from sketcher.part.whole import half
from tests.hands import BoardHands


def holes(*rounds: tuple[float, float, float]) -> BoardHands:
    """Circles by center and radius, and the tool in hand."""
    draft = Draft(Part())
    for x, y, radius in rounds:
        draft.circle((x, y), radius)
    hands = BoardHands(Board(draft.done()), 0.8)
    hands.tool("tangent circle")
    return hands


def meant(board: Board) -> list[Circle]:
    return [ghost.curve for ghost in board.preview.curves
            if ghost.mood != "hint" and isinstance(ghost.curve, Circle)]


@pytest.mark.parametrize(("typed", "sizes"), [
    ("40", (None, 40.0)), ("12.5", (None, 12.0, 12.0, 12.5)), ("5*4", (None, None, 20.0)),
])
def test_it_is_shown_while_its_radius_is_typed(
    typed: str, sizes: tuple[float | None, ...]
) -> None:
    """Of 1, 4 and 5 none fits between R10 and R6 that are 30 apart: 2 r + 16 < 30."""
    hands = holes((0, 0, 10), (30, 0, 6))
    board = hands.board
    hands.click((5, 8.66), (26, 4.47))  # both about where a circle above touches them
    assert not board.preview.curves
    for letter, size in zip(typed, sizes, strict=True):
        hands.type(letter)
        board.move(Pointer(50.0, -40.0, 0.8))  # the presses choose, not the pointer
        assert [c.radius for c in meant(board)] == ([] if size is None else [pytest.approx(size)])
    (shown,) = meant(board)
    assert shown.center[1] > 0.0
    hands.type("\n")
    made = list(half(board.part).values())[-1]
    assert isinstance(made, Circle)
    assert made.radius == pytest.approx(sizes[-1])
    assert made.center == pytest.approx(shown.center, abs=1e-6)


def test_the_third_curve_shows_its_circle_before_it_is_pressed() -> None:
    hands = holes((0, 0, 10), (60, 0, 6), (30, 60, 8))
    hands.click((8, 6), (55, 3.3))
    hands.point((30, 52))
    (shown,) = meant(hands.board)
    hands.click((30, 52))
    made = list(half(hands.board.part).values())[-1]
    assert isinstance(made, Circle)
    assert made.center == pytest.approx(shown.center, abs=1e-6)
