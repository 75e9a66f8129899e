"""Two demo parts built by scribing and tracing only, to the exact geometry of their files."""

from __future__ import annotations

import pytest

from sketcher.board.board import Board
from sketcher.inspect.cleanup import defects
from sketcher.inspect.inspection import inspect_part
from sketcher.part.edits.set_value import set_value
from sketcher.part.file_text import read, write
from sketcher.part.kinds import settle_sides, wanted
from sketcher.part.value import Part
from sketcher.shipped import shipped
from sketcher.solve import solve
from tests.hands import BoardHands
from tests.inspected import inspected
from tests.scribed import SCRIPTS, missing

HALVES: dict[str, list[str]] = {"gate-strap": [], "roof-gusset": ["a3", "a3'"]}
"""Arcs that close in the mirror to a hole on the axis, which the file holds as a circle."""


def file_of(name: str) -> Part:
    data = shipped("demo_parts", f"{name}.profile.json").read_bytes()
    return solve(settle_sides(read(data))).part


def built(name: str) -> BoardHands:
    hands = BoardHands(Board(), 1.2)
    SCRIPTS[name](hands)
    return hands


@pytest.mark.parametrize("name", sorted(SCRIPTS))
def test_a_demo_part_is_scribed_and_traced_to_its_exact_geometry(name: str) -> None:
    hands, exact = built(name), file_of(name)
    board = hands.board
    size = max(abs(v) for at in exact.points.values() for v in at)
    assert (board.report.state, board.report.doubled) == ("bound", ())
    assert missing(board.part, exact, 1e-9 * size) == []
    assert missing(exact, board.part, 1e-9 * size) == HALVES[name]
    found, known = inspect_part(board.part, board.report), inspected(exact)
    assert found.as_dict()["sound"], [f["text"] for f in found.as_dict()["findings"]]
    assert defects(board.part) == ()  # nothing remains to trim
    for what in ("area", "perimeter"):
        mine, theirs = (each.as_dict()["profile"][what] for each in (found, known))
        assert mine == pytest.approx(theirs, rel=1e-9)
    assert read(write(board.part).encode()) == board.part
    # Drawn freely and bound row by row the two take 265 and 205 clicks and keys.
    assert hands.clicks + hands.keys < 140


@pytest.mark.parametrize("name", sorted(SCRIPTS))
@pytest.mark.parametrize("share", [0.8, 1.2])
def test_the_traced_outline_follows_every_value(name: str, share: float) -> None:
    board = built(name).board
    part = board.part
    closed = told = 0
    for key, binding in part.bindings.items():
        value = wanted(part, binding) if binding.drives else None
        if value is None:
            continue
        solution = solve(set_value(part, key, f"({binding.value})*{share}").part)
        if solution.report.state != "bound":
            assert solution.report.clashes or not solution.report.converged, key
            told += 1
            continue
        assert solution.report.doubled == ()
        profile = inspect_part(solution.part, solution.report).as_dict()["profile"]
        assert profile["closed"], key
        assert not profile["strays"], key
        closed += 1
    assert closed > 3 * told, (closed, told)
