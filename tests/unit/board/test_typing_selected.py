"""Digits over a selection: which row they go to, and what becomes of the dimension there."""

from __future__ import annotations

import pytest

from sketcher.board.board import Board
from sketcher.part.edits.draft import Draft
from sketcher.part.value import Part
from tests.hands import BoardHands


def plate(**dimensions: str) -> Part:
    """A level line e1, a hole h1 and an arc a1 of radius 8, with these dimensions."""
    draft = Draft(Part())
    draft.line((0, 0), (40, 10))
    draft.circle((20, 30), 4.5)
    draft.arc((68, 30), (60, 38), draft.point((60, 30)))
    for name, value in dimensions.items():
        kind, of = name.split("_")
        draft.bind(kind, (of,), value)
    return draft.done()


def selected(name: str, **dimensions: str) -> BoardHands:
    board = Board(plate(**dimensions))
    board.bench.select((name,))
    return BoardHands(board, 0.5)


def sizes(board: Board) -> list[tuple[str, str | None]]:
    return sorted((b.kind, b.value) for b in board.part.bindings.values())


@pytest.mark.parametrize(("name", "dimensions", "row"), [
    ("h1", {}, "diameter"), ("h1", {"diameter_h1": "9"}, "diameter"),
    ("h1", {"radius_h1": "4.5"}, "radius"),
    ("a1", {}, "radius"), ("a1", {"diameter_a1": "16"}, "diameter"),
    ("e1", {}, "length"), ("e1", {"angle_e1": "14"}, "angle"),
    ("e1", {"angle_e1": "14", "distance_e1": "41"}, "length"),
])
def test_digits_go_to_the_dimension_that_is_there(
    name: str, dimensions: dict[str, str], row: str
) -> None:
    assert selected(name, **dimensions).board.typing.lit == row


def test_ten_typed_over_a_hole_of_nine_makes_it_ten() -> None:
    hands = selected("h1", diameter_h1="9")
    hands.type("10\n")
    assert sizes(hands.board) == [("diameter", "10")]
    assert hands.board.part.curves["h1"].radius == pytest.approx(5.0)


@pytest.mark.parametrize(("there", "row", "text", "radius"), [
    ("diameter_h1", "radius", "6", 6.0), ("radius_h1", "diameter", "6", 3.0)])
def test_a_radius_replaces_a_diameter_and_the_reverse(
    there: str, row: str, text: str, radius: float
) -> None:
    hands = selected("h1", **{there: "9"})
    before = hands.board.part
    assert hands.board.typing.open_row(row)
    hands.type(f"{text}\n")
    board = hands.board
    assert sizes(board) == [(row, text)]
    assert board.part.curves["h1"].radius == pytest.approx(radius)
    assert (board.report.clashes, board.report.doubled) == ((), ())
    was = there.split("_")[0]
    assert board.bench.message.text == f"{row.capitalize()} of h1 is {text}, in place of {was} 9."
    assert board.bench.undo()
    assert board.part is before


def test_a_reference_diameter_stays_beside_a_typed_radius() -> None:
    draft = Draft(plate())
    draft.bind("diameter", ("h1",), "9", drives=False)
    board = Board(draft.done())
    board.bench.select(("h1",))
    assert board.typing.hold("radius", "6")
    assert sizes(board) == [("diameter", "9"), ("radius", "6")]


def test_another_selection_begins_in_its_own_row() -> None:
    hands = selected("h1", diameter_h1="9")
    hands.board.typing.open_row("radius")
    hands.press("escape")
    assert hands.board.typing.lit == "radius"
    hands.click((66.0, 35.3))  # the arc, and back
    assert hands.board.typing.lit == "radius"
    hands.click((24.5, 30.0))
    assert hands.board.typing.lit == "diameter"


def test_tab_walks_the_rows_of_a_selection_and_moves_on_without_any() -> None:
    hands = selected("h1", diameter_h1="9")
    typing = hands.board.typing
    assert typing.keeps_tab
    seen = [typing.lit]
    for _ in range(4):
        hands.press("tab")
        seen.append(typing.lit)
    assert seen == ["diameter", "x", "y", "radius", "diameter"]
    hands.press("tab")
    hands.type("25\t")  # the X of the center, then on to Y
    assert typing.lit == "y"
    assert hands.board.part.points[hands.board.part.curves["h1"].center][0] == pytest.approx(25.0)
    hands.board.bench.select(())
    assert not typing.keeps_tab
    assert not hands.board.key("tab")


def test_the_length_of_a_line_is_the_distance_of_its_ends() -> None:
    draft = Draft(plate())
    draft.bind("distance", ("p1", "p2"), "41")
    board = Board(draft.done())
    board.bench.select(("e1",))
    assert board.typing.lit == "length"
    assert board.typing.hold("length", "50")
    assert sizes(board) == [("distance", "50")]
    board.bench.select(("p1", "p2"))
    assert board.typing.hold("distance", "60")
    assert sizes(board) == [("distance", "60")]
    assert board.report.clashes == ()


def test_two_arcs_between_the_same_ends_have_radii_of_their_own() -> None:
    draft = Draft(plate(radius_a1="8"))
    arc = draft.curves["a1"]
    draft.arc(*arc.ends, draft.point((68, 38)))  # the other quarter round
    board = Board(draft.done())
    board.bench.select(("a2",))
    assert board.typing.hold("radius", "8")
    assert [(b.of, b.value) for b in board.part.bindings.values()] == [
        (("a1",), "8"), (("a2",), "8")]
