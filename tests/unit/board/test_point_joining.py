"""Two points made one: by a drag onto another point, by the action, and where that is refused."""

from __future__ import annotations

import pytest

from sketcher.board.action_table import all_actions, perform
from sketcher.board.board import Board
from sketcher.board.preview import Pointer
from sketcher.part.edits.draft import Draft
from sketcher.part.value import Part
from tests.hands import BoardHands
from tests.hosts import AnsweringHost


def two_lines(**bound: tuple[str, ...]) -> Part:
    """e1 from p1, fixed, to p2; e2 from p3 to p4, beside it; `bound` adds kinds with operands."""
    draft = Draft(Part())
    draft.line((0, 0), (40, 0))
    draft.line((50, 20), (90, 30))
    draft.bind("fixed", ("p1",))
    for kind, of in bound.items():
        draft.bind(kind, of)
    return draft.done()


def dragged(board: Board, *places: tuple[float, float], keys: frozenset[str] = frozenset()) -> None:
    """Press at the first place, move through the others; the button stays down."""
    board.press(Pointer(*places[0], 1.0))
    for at in places[1:]:
        board.move(Pointer(*at, 1.0, keys))


def test_a_point_dragged_onto_another_joins_it_in_one_step() -> None:
    board = Board(two_lines())
    before, steps = board.part, len(board.bench.history.steps)
    dragged(board, (50, 20), (45, 8), (40.6, 0.3))
    assert [word.text for word in board.preview.words] == ["joins p2"]
    assert [(mark.at, mark.shape) for mark in board.preview.marks] == [((40, 0), "end")]
    assert board.part.points["p3"] == pytest.approx((40, 0), abs=1e-6)
    assert "p3 and p2 one point" in board.prompt
    board.release(Pointer(40.6, 0.3, 1.0))
    assert "p3" not in board.part.points
    assert board.part.curves["e2"].points == ("p2", "p4")
    assert board.part.points["p2"] == pytest.approx((40, 0), abs=1e-9)
    assert board.bench.selection.ids == ("p2",)
    assert "one point" in board.bench.message.text
    assert board.preview.words == ()
    assert len(board.bench.history.steps) == steps + 1
    board.bench.undo()
    assert board.part is before


def test_beyond_reach_and_with_ctrl_it_is_only_placed() -> None:
    for end, keys in (((40.0, 3.0), frozenset()), ((40.6, 0.3), frozenset({"ctrl"}))):
        board = Board(two_lines())
        dragged(board, (50, 20), (45, 8), end, keys=keys)
        assert board.preview.words == ()
        board.release(Pointer(*end, 1.0, keys))
        assert board.part.points["p3"] == pytest.approx(end, abs=1e-6)


def test_a_join_that_would_clash_is_told_and_the_point_only_placed() -> None:
    draft = Draft(two_lines())
    draft.bind("fixed", ("p2",))
    draft.bind("fixed", ("p3",))
    draft.bind("distance", ("e2",), "41")  # from p3 to p2 it is 22.4
    board = Board(draft.done())
    dragged(board, board.part.points["p4"], (60, 40), (41, 0))
    board.release(Pointer(41, 0, 1.0))
    assert {"p2", "p4"} <= board.part.points.keys()
    assert "clash" in board.bench.message.text
    assert board.bench.message.text.endswith("p4 is only placed.")
    assert board.report.clashes == ()


def test_the_two_ends_of_one_curve_are_not_joined() -> None:
    board = Board(two_lines())
    dragged(board, (50, 20), (70, 28), (89.8, 30))
    assert board.preview.words == ()
    board.release(Pointer(89.8, 30, 1.0))
    assert "e2" in board.part.curves
    assert "nothing of e2" in board.bench.message.text
    assert len(board.bench.history.steps) == 2


def test_the_action_joins_two_selected_points_where_the_bound_one_is() -> None:
    board, join = Board(two_lines()), all_actions()["bind.join"]
    board.bench.select(("p3",))
    assert not join.enabled(board)
    board.bench.select(("p3", "e1"))
    assert not join.enabled(board)
    board.bench.select(("p3", "p1"))
    assert join.enabled(board)
    assert perform("bind.join", board, AnsweringHost())
    assert board.part.curves["e2"].points == ("p1", "p4")
    assert board.part.points["p1"] == pytest.approx((0, 0), abs=1e-12)
    board.bench.select(("p1", "p2"))
    before = board.part
    assert perform("bind.join", board, AnsweringHost())
    assert board.part is before
    assert "nothing of e1" in board.bench.message.text


def test_a_distance_of_zero_says_to_join_and_names_what_it_is() -> None:
    board = Board(two_lines())
    hands = BoardHands(board, 1.0)
    hands.click((40, 0))
    hands.click((50, 20), keys=("shift",))
    hands.type("0\n")
    assert board.bench.message.text == (
        "Distance p2 to p3: 0 is not above zero; join the two points instead")
    hands.press("escape")
    hands.type("20\n")
    (name,) = (n for n, b in board.part.bindings.items() if b.kind == "distance")
    assert board.bench.message.text == "Distance p2 to p3 is 20."
    hands.type("0\n")
    assert board.bench.message.text == (
        f"{name}, distance p2 to p3: 0 is not above zero; join the two points instead")
