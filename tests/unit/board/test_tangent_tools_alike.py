"""Both tangent tools show what fits alike: all of it, and in full the one that is meant."""

from __future__ import annotations

import pytest

from sketcher.board.board import Board, all_tools
from sketcher.board.toolkit.tangent_tool import TangentTool
from sketcher.part.edits.draft import Draft
from sketcher.part.value import Part
from tests.hands import BoardHands

CASES = {  # places of the things that are chosen; about the middle of the first two
    "tangent line": ((0.0, 10.0), (60.0, 10.0)),
    "tangent circle": ((0.0, 10.0), (60.0, 10.0), (30.0, 50.0)),
}


def rounds() -> BoardHands:
    draft = Draft(Part())
    for at in ((0.0, 0.0), (60.0, 0.0), (30.0, 60.0)):
        draft.circle(at, 10.0)
    return BoardHands(Board(draft.done()), 0.8)


def test_the_tools_that_ask_for_tangency_are_these() -> None:
    assert {n for n, tool in all_tools().items() if issubclass(tool, TangentTool)} == set(CASES)


@pytest.mark.parametrize("name", CASES)
def test_the_last_thing_shows_what_a_press_on_it_makes(name: str) -> None:
    hands, places = rounds(), CASES[name]
    hands.tool(name)
    hands.click(*places[:-1])
    hands.point(places[-1])
    moods = [ghost.mood for ghost in hands.board.preview.curves]
    assert moods.count("hint") >= 3
    assert moods[moods.count("hint"):] == ["new"]
    meant = hands.board.preview.curves[-1].curve
    before = set(hands.board.part.curves)
    hands.click(places[-1])
    (made,) = set(hands.board.part.curves) - before
    curve = hands.board.part.curves[made]
    if name == "tangent line":
        ends = sorted(hands.board.part.points[p] for p in curve.points)
        assert ends == [pytest.approx(end) for end in sorted((meant.start, meant.end))]
    else:
        assert curve.radius == pytest.approx(meant.radius)


@pytest.mark.parametrize("name", CASES)
def test_what_was_selected_leaves_the_choice_to_the_pointer(name: str) -> None:
    hands = rounds()
    hands.board.bench.select(list(hands.board.part.curves)[:len(CASES[name])])
    hands.tool(name)
    assert " fit: point at the one that is meant and press." in hands.board.prompt
    meant = set()
    for at in ((30.0, 15.0), (30.0, -15.0), (30.0, 2.0), (30.0, 30.0)):
        hands.point(at)
        assert [g.mood for g in hands.board.preview.curves].count("new") == 1
        meant.add(hands.board.preview.curves[-1].curve)
    assert len(meant) > 1
    before = len(hands.board.part.curves)
    hands.press("enter")
    assert len(hands.board.part.curves) == before + 1
