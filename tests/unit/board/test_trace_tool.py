"""Tracing, played as events: regions, sweeps, walks, steps back, and what is shown before."""

from __future__ import annotations

from math import pi
from random import Random

import pytest

from sketcher.board.board import Board
from sketcher.board.places.span_walk import Ways
from sketcher.board.preview import Pointer
from sketcher.board.steps.redundancy import lean
from sketcher.geometry.loops import find_loops
from sketcher.part.arranged import arranged
from sketcher.part.edited import Edited
from sketcher.part.edits.draft import Draft
from sketcher.part.edits.set_value import set_value
from sketcher.part.edits.trace import trace
from sketcher.part.value import Part
from sketcher.part.whole import curve_value
from sketcher.solve import solve
from tests.hands import BoardHands
from tests.layouts import fixed_point, grid
from tests.refusals import is_line


def three() -> Part:
    """Three regions side by side, 20 by 25, and a circle of R5 in the middle one."""
    draft = Draft(grid((0.0, 20.0, 40.0, 60.0), (0.0, 25.0)))
    circle = draft.circle(fixed_point(draft, (30.0, 12.0)), 5.0, "layout")
    draft.bind("radius", (circle,), "5")
    return draft.done()


def tracing(part: Part) -> BoardHands:
    hands = BoardHands(Board(part), 0.8)
    hands.tool("trace")
    return hands


def area(part: Part) -> float:
    found = find_loops([(n, curve_value(part, c)) for n, c in part.curves.items()
                        if c.role == "outline"])
    assert not found.strays
    return float(found.moments.area)


def is_tight(board: Board) -> bool:
    return board.report.state == "bound" and not board.report.doubled


def test_the_region_under_the_pointer_is_shown_before_the_press() -> None:
    hands = tracing(three())
    board = hands.board
    assert not board.preview.fills
    hands.point((30.0, 20.0))
    (fill,) = board.preview.fills
    assert [len(loop) for loop in fill.loops] == [4, 1]
    assert {ghost.mood for ghost in board.preview.curves} == {"new"}
    hands.point((100.0, 100.0))
    assert not board.preview.fills
    assert board.bench.history.steps[-1].part is board.part


def test_regions_are_added_and_taken_away_step_by_step() -> None:
    hands = tracing(three())
    board, before = hands.board, hands.board.part
    hands.click((10.0, 12.0))
    assert area(board.part) == pytest.approx(500.0)
    hands.click((30.0, 20.0))
    assert area(board.part) == pytest.approx(1000.0 - 25.0 * pi)
    hands.click((30.0, 12.0))
    assert area(board.part) == pytest.approx(1000.0)
    assert sum(c.role == "outline" for c in board.part.curves.values()) == 4
    hands.click((10.0, 12.0))
    assert area(board.part) == pytest.approx(1000.0)
    assert "Shift" in board.bench.message.text
    hands.point((11.0, 12.0), "shift")
    assert {ghost.mood for ghost in board.preview.curves} == {"leaves"}
    hands.click((10.0, 12.0), keys=("shift",))
    assert area(board.part) == pytest.approx(500.0)
    assert is_tight(board)
    board.bench.undo()
    assert area(board.part) == pytest.approx(1000.0)
    hands.press("backspace")
    hands.click((50.0, 12.0))
    assert area(board.part) == pytest.approx(1500.0 - 25.0 * pi)
    while board.bench.history.can_undo:
        board.bench.undo()
    assert board.part is before


def test_a_sweep_takes_every_region_on_its_way() -> None:
    hands = tracing(three())
    board, before = hands.board, hands.board.part
    hands.sweep((10.0, 12.0), (50.0, 12.0))
    assert area(board.part) == pytest.approx(1500.0)
    assert len(board.bench.history.steps) == 2
    hands.sweep((50.0, 20.0), (30.0, 20.0), keys=("shift",))
    assert area(board.part) == pytest.approx(500.0 + 25.0 * pi)
    hands.sweep((30.0, 12.0), (10.0, 12.0), keys=("shift",))
    assert board.part.curves == before.curves


def test_a_box_takes_the_regions_in_it_and_leaves_holes_open() -> None:
    hands = tracing(three())
    board, before = hands.board, hands.board.part
    hands.sweep((18.0, -5.0), (65.0, 30.0))
    assert area(board.part) == pytest.approx(1000.0 - 25.0 * pi)
    assert is_tight(board)
    assert len(board.bench.history.steps) == 2
    hands.sweep((-5.0, 30.0), (65.0, -5.0))
    assert area(board.part) == pytest.approx(1500.0 - 25.0 * pi)
    hands.sweep((38.0, -5.0), (65.0, 30.0), keys=("shift",))
    assert area(board.part) == pytest.approx(1000.0 - 25.0 * pi)
    while board.bench.history.can_undo:
        board.bench.undo()
    assert board.part is before


def test_a_hole_that_is_outline_stays_open_though_lines_cut_it() -> None:
    draft = Draft(grid((0.0, 30.0, 60.0), (0.0, 25.0)))
    hole = draft.circle(fixed_point(draft, (30.0, 12.0)), 5.0)
    draft.bind("radius", (hole,), "5")
    edge = [draft.line(a, b) for a, b in
            (((-5, -5), (65, -5)), ((65, -5), (65, 30)), ((65, 30), (-5, 30)), ((-5, 30), (-5, -5)))
            ]
    hands = tracing(draft.done())
    hands.sweep((-10.0, -10.0), (70.0, 40.0))
    assert area(hands.board.part) == pytest.approx(70.0 * 35.0 - 25.0 * pi)
    assert {"h1", *edge} <= set(hands.board.part.curves)
    before = hands.board.part
    hands.click((28.0, 12.0))
    assert hands.board.part is before
    assert "hole" in hands.board.bench.message.text
    hands.sweep((27.0, 12.0), (33.0, 12.0))
    assert hands.board.part is before


def test_a_box_shows_what_it_takes_and_can_be_given_up() -> None:
    hands = tracing(three())
    board, before = hands.board, hands.board.part
    board.press(Pointer(-5.0, -5.0, 0.8))
    board.move(Pointer(30.0, 30.0, 0.8))
    assert board.preview.box is not None
    assert len(board.preview.fills) == 1
    hands.press("escape")
    assert board.preview.box is None
    board.release(Pointer(30.0, 30.0, 0.8))
    assert board.part is before
    hands.sweep((-5.0, -5.0), (30.0, 20.0))
    assert "wholly" in board.bench.message.text
    assert board.part is before


@pytest.mark.parametrize(("gap", "told"), [(0.04, True), (1.0, False)])
def test_a_sliver_left_beside_what_is_traced_is_told(gap: float, told: bool) -> None:
    # Three edges that were meant to be two: a strip so narrow that nobody sees it.
    hands = tracing(grid((0.0, 30.0, 30.0 + gap, 60.0), (0.0, 25.0)))
    board = hands.board
    hands.click((10.0, 12.0))
    message = board.bench.message
    assert (message.severity == "warning") is told
    assert (f"{gap:g} mm wide" in message.text and "s2 and s3" in message.text) is told
    hands.sweep((-5.0, -5.0), (65.0, 30.0))
    assert area(board.part) == pytest.approx(1500.0)
    assert board.bench.message.severity != "warning"


def test_enter_ends_and_another_use_begins_with_what_is_there() -> None:
    hands = tracing(three())
    board = hands.board
    hands.click((10.0, 12.0))
    hands.press("enter")
    assert board.tool.name == "pick"
    hands.tool("trace")
    hands.click((10.0, 12.0))
    assert (board.bench.message.severity, board.bench.message.place) == ("error", "trace")
    hands.sweep((10.0, 12.0), (30.0, 20.0))
    assert area(board.part) == pytest.approx(1000.0 - 25.0 * pi)
    assert is_tight(board)


def test_outside_says_what_is_missing() -> None:
    hands = tracing(three())
    hands.click((-30.0, 5.0))
    assert "closes" in hands.board.bench.message.text
    assert not hands.board.bench.history.can_undo


def test_a_change_from_elsewhere_begins_afresh() -> None:
    hands = tracing(three())
    board = hands.board
    hands.click((30.0, 20.0))
    radius = next(n for n, b in board.part.bindings.items() if b.kind == "radius")
    assert board.bench.do("Change", lambda part: set_value(part, radius, "7"))
    assert area(board.part) == pytest.approx(500.0 - 49.0 * pi)
    hands.click((10.0, 12.0))
    assert board.tool.chosen
    assert is_tight(board)


def test_a_walk_follows_to_the_span_under_the_pointer() -> None:
    hands = tracing(three())
    board = hands.board
    hands.press("w")
    hands.click((10.0, 0.0))
    hands.point((60.0, 10.0))
    assert len(board.preview.curves) == 4
    hands.click((60.0, 10.0), (30.0, 25.0))
    hands.press("backspace")
    hands.press("enter")
    made = [c for c in board.part.curves.values() if c.role == "outline"]
    assert [c.kind for c in made] == ["line", "line", "line"]
    assert is_tight(board)


def test_a_walk_by_the_keyboard_takes_what_is_shown() -> None:
    hands = tracing(three())
    board = hands.board
    hands.press("w")
    for place in ((10.0, 0.0), (60.0, 10.0)):
        hands.point(place)
        hands.press("enter")
    assert board.part.curves.keys() == three().curves.keys()
    hands.press("enter")
    assert [c.kind for c in board.part.curves.values() if c.role == "outline"] == ["line", "line"]
    hands.point((100.0, 100.0))
    assert not board.key("enter")


def test_a_walk_that_closes_is_made_at_once() -> None:
    hands = tracing(three())
    board = hands.board
    hands.press("w")
    hands.click((10.0, 0.0), (30.0, 25.0), (10.0, 0.0))
    assert "does not close" in board.bench.message.text
    hands.press("escape")
    hands.click((10.0, 0.0), (0.0, 10.0), (20.0, 10.0))
    assert area(board.part) == pytest.approx(500.0)
    hands.double((35.0, 12.0))
    circles = [c for c in board.part.curves.values() if c.role == "outline" and c.kind == "circle"]
    assert len(circles) == 1
    assert is_tight(board)


def test_a_walk_prefers_a_fillet_to_the_corner_and_straight_on_to_a_detour() -> None:
    from sketcher.part.edits.scribe_touching import scribe_touching

    part = scribe_touching(grid((0.0, 40.0), (0.0, 25.0)), ("s2", "s3"), (35.0, 5.0), "5").part
    hands = tracing(part)
    board = hands.board
    hands.press("w")
    hands.click((10.0, 0.0), (40.0, 15.0))
    hands.press("enter")
    kinds = [c.kind for c in board.part.curves.values() if c.role == "outline"]
    assert kinds == ["line", "arc", "line"]
    assert is_tight(board)


def test_no_way_and_no_span_are_told() -> None:
    draft = Draft(three())
    draft.circle(fixed_point(draft, (100.0, 12.0)), 5.0, "layout")
    hands = tracing(draft.done())
    before = hands.board.part
    hands.press("w")
    hands.click((10.0, 12.0))
    assert is_line(hands.board.bench.message.text)
    hands.click((10.0, 0.0), (105.0, 12.0))
    assert hands.board.bench.message.severity == "note"
    assert hands.board.part is before
    hands.press("escape")
    assert hands.board.tool.name == "trace"
    assert not hands.board.bench.history.can_undo


def test_ways_cost_least_of_all_ways() -> None:
    # Against a plain search over all ways of at most eight spans.
    part = three()
    net = arranged(part).arrangement
    ways = Ways(net)
    random = Random(5)
    count = 2 * len(net.net.edges)
    for _ in range(30):
        start, goal = random.randrange(count), random.randrange(count)
        found = ways.onward(start, goal)
        best: float | None = None
        front = [(start,)]
        for _ in range(8):
            front = [(*w, h) for w in front for h in net.onward(w[-1]) if h not in w]
            done = [ways.cost(w) for w in front if w[-1] >> 1 == goal >> 1]
            best = min([*done, *([best] if best is not None else [])], default=None)
            front = front[:4000]
        if best is not None and found:
            assert ways.cost((start, *found)) <= best + 1e-9
        assert all(net.onward(a) and b in net.onward(a)
                   for a, b in zip((start, *found), found, strict=False))


def test_what_is_said_twice_is_taken_back() -> None:
    part = grid((0.0, 40.0), (0.0, 25.0))
    edited = trace(part, [(20.0, 12.0)])
    draft = Draft(edited.part)
    twice = draft.bind("parallel", ("e1", "s3"))
    said = Edited(draft.done(), edited.said, (), (*edited.made, twice))
    assert solve(said.part).report.doubled
    kept = lean(said, solve)
    assert not solve(kept.part).report.doubled
    assert twice not in kept.part.bindings
    assert lean(edited, solve) is edited


def test_letters_that_the_tool_does_not_use_are_left_to_others() -> None:
    hands = tracing(three())
    board = hands.board
    board.move(Pointer(10.0, 12.0, 0.8))
    assert not board.key("x")
    assert not board.key("enter")
    assert not board.key("backspace")
    assert board.key("escape")
    assert board.tool.name == "pick"
