"""A corner cut by a kept value takes the value typed next; one cut by its own value does not."""

from __future__ import annotations

import pytest

from sketcher.board.board import Board
from sketcher.geometry.curves import Arc, Line
from sketcher.part.value import Part
from sketcher.part.whole import half
from tests.hands import BoardHands
from tests.shaped import wing

RIGHT, TOP, LEFT = (60.0, 0.0), (60.0, 30.0), (20.0, 30.0)


def cutting(tool: str) -> BoardHands:
    hands = BoardHands(Board(wing()), 1.0)
    hands.tool(tool)
    return hands


def radii(part: Part) -> list[float]:
    return sorted(round(c.radius, 9) for c in half(part).values() if isinstance(c, Arc)
                  and c.radius < 20.0)


def values(part: Part, kind: str) -> list[str | None]:
    known = wing().bindings
    return sorted(str(b.value) for n, b in part.bindings.items()
                  if n not in known and b.kind == kind)


def test_digits_after_a_quick_fillet_change_that_fillet_in_its_own_step() -> None:
    hands = cutting("fillet")
    hands.type("4\n")
    hands.click(RIGHT)
    before = hands.board.part
    hands.click(TOP)
    assert "R4: type another radius for it, or press the next corner." in hands.board.prompt
    hands.type("6\n")
    assert radii(hands.board.part) == [4.0, 6.0]
    assert values(hands.board.part, "radius") == ["4", "6"]
    hands.type("2\n")  # and once more
    assert radii(hands.board.part) == [2.0, 4.0]
    assert hands.board.bench.undo()
    assert hands.board.part is before


def test_digits_without_enter_change_it_before_the_next_corner_is_cut() -> None:
    hands = cutting("fillet")
    hands.type("4\n")
    hands.click(RIGHT, TOP)
    hands.type("6")
    hands.click(LEFT)
    assert radii(hands.board.part) == [4.0, 6.0, 6.0]


def test_a_fillet_made_by_typing_its_own_value_takes_no_later_digits() -> None:
    hands = cutting("fillet")
    hands.click(RIGHT)
    hands.type("4\n")
    assert radii(hands.board.part) == [4.0]
    assert "type another radius for it" not in hands.board.prompt
    hands.type("6\n")
    assert radii(hands.board.part) == [4.0]
    hands.click(TOP)  # value first: for this one
    assert radii(hands.board.part) == [4.0, 6.0]
    hands.type("3\n")
    assert radii(hands.board.part) == [4.0, 6.0]


def test_the_kept_value_of_an_earlier_time_is_changed_too() -> None:
    hands = cutting("fillet")
    hands.type("4\n")
    hands.click(RIGHT)
    hands.board.use("pick")
    hands.board.use("fillet")
    hands.click(TOP)
    hands.type("6\n")
    assert radii(hands.board.part) == [4.0, 6.0]


def test_a_radius_that_does_not_fit_is_refused_and_the_fillet_stays() -> None:
    hands = cutting("fillet")
    hands.type("4\n")
    hands.click(RIGHT, TOP)
    before = hands.board.part
    hands.type("500\n")
    assert hands.board.typing.entry is not None
    assert hands.board.typing.entry.error
    assert hands.board.part is before
    hands.press("escape")
    assert hands.board.tool.rows()[0].text == "4"


def test_after_undo_digits_are_for_the_next_corner() -> None:
    hands = cutting("fillet")
    hands.type("4\n")
    hands.click(RIGHT, TOP)
    hands.board.bench.undo()
    assert "type another" not in hands.board.prompt
    hands.point((30.0, 60.0))
    hands.type("6\n")
    assert radii(hands.board.part) == [4.0]


@pytest.mark.parametrize(("typed", "legs"), [("3\n", ["2", "2", "3", "3"]),
                                             ("\t1\n", ["1", "2", "2", "2"])])
def test_digits_after_a_quick_chamfer_change_its_legs(typed: str, legs: list[str]) -> None:
    hands = cutting("chamfer")
    hands.type("2\n")
    hands.click(RIGHT)
    before = hands.board.part
    hands.click(TOP)
    assert hands.board.prompt.startswith("2 by 2: type another leg for it")
    hands.type(typed)
    assert values(hands.board.part, "distance") == legs
    assert sum(isinstance(c, Line) for c in half(hands.board.part).values()) == 5
    hands.board.bench.undo()
    assert hands.board.part is before
