"""What the scribing tools make is layout: said once for each part that is opened."""

from __future__ import annotations

import pytest

from sketcher.board.board import Board
from sketcher.board.tools.trace_tool import TraceTool
from sketcher.part.edits.draft import Draft
from sketcher.part.value import Part
from tests.hands import BoardHands


def two_holes() -> Part:
    """Two circles and an edge."""
    draft = Draft(Part())
    draft.circle((0, 0), 10.0)
    draft.circle((60, 0), 6.0)
    draft.line((0, 40), (60, 40))
    return draft.done()


def scribe(hands: BoardHands, tool: str) -> None:
    board = hands.board
    board.use(tool)
    if tool == "tangent line":
        hands.click((0, 10), (60, 6))
    elif tool == "tangent circle":
        hands.click((9.5, 3.1), (54.5, 2.3))
        hands.type("40\n")
        if board.tool.ids:
            hands.press("enter")
    elif tool == "line at angle":
        hands.click((0, 40))
        hands.point((20, 55))
        hands.type("30\t20\n")
    else:
        hands.click((30, 40))
        hands.point((30, 50))
        hands.type("12\n")


@pytest.mark.parametrize(
    "tool", ["tangent line", "tangent circle", "line at angle", "offset ladder"])
def test_a_scribed_curve_is_said_to_be_layout_the_first_time(tool: str) -> None:
    hands = BoardHands(Board(two_holes()), 0.8)
    bench = hands.board.bench
    for time in (1, 2):
        curves = len(hands.board.part.curves)
        scribe(hands, tool)
        assert len(hands.board.part.curves) > curves
        assert bench.message.text.lower().startswith("scribed")
        assert ("layout" in bench.message.text) is (time == 1)
        assert (f"Trace ({TraceTool.key})" in bench.message.text) is (time == 1)
        bench.undo()
    hands.board.load(two_holes())
    scribe(hands, tool)
    assert "layout" in bench.message.text
