"""Center lines on the desk: pulled, switched, reset, and the same on the written sheet."""

from __future__ import annotations

from math import cos, dist, radians, sin

import pytest
from shapely import LineString

from sketcher.board.board import Board
from sketcher.board.dimensions.shown_center_lines import (
    CenterLine,
    center_lines,
    end_at,
    is_busy,
    marked_places,
    switch,
)
from sketcher.board.preview import Pointer
from sketcher.drafting.paper_choice import likely_scale
from sketcher.drafting.sheet import pages
from sketcher.errors import SketcherError
from sketcher.geometry.curves import Circle
from sketcher.geometry.evaluate import point_at
from sketcher.interrupt import Stopped
from sketcher.part import store
from sketcher.part.center_rules import line_words
from sketcher.part.value import CircleCurve, Drawing, LineCurve, Part, frozen
from sketcher.part.whole import whole
from sketcher.shipped import shipped
from sketcher.solve import solve
from tests.later import Later

NAMES = ("gate-strap", "pump-flange", "roof-gusset", "shelf-bracket", "shift-arm")
REACH = 0.4


def demo(name: str) -> Part:
    return solve(store.load(shipped("demo_parts", f"{name}.profile.json"))).part


def board_with(name: str) -> Board:
    board = Board(demo(name))
    board.use("centers")
    return board


def line(board: Board, name: str):
    return next(n for n in center_lines(board.part) if n.id == name)


def pull(board: Board, grip, to) -> None:
    board.move(Pointer(*grip, REACH))
    board.press(Pointer(*grip, REACH))
    board.move(Pointer(*to, REACH))
    board.release(Pointer(*to, REACH))


@pytest.mark.parametrize("name", NAMES)
def test_they_stand_on_the_part_as_on_the_sheet(name: str) -> None:
    """At the scale that the sheet has, every dash on the screen is a dash on paper."""
    part = demo(name)
    page = pages(part)[0]
    if page.view.factor != pytest.approx(likely_scale(part) * (25.4 if part.unit == "in" else 1)):
        pytest.skip("the dimensions made the sheet take another scale")
    drawn = [d for i in page.items if getattr(i, "source", "").startswith("center:")
             and hasattr(i, "dashes") for d in i.dashes()]
    shown = [d for n in center_lines(part) for d in n.dashes]
    assert len(shown) == len(drawn)
    assert sum(d.length for d in shown) * page.view.factor == pytest.approx(
        sum(d.length for d in drawn), rel=1e-9)


def test_an_end_is_pulled_past_the_outline_on_the_sheet_too_and_stays_there() -> None:
    board = board_with("gate-strap")
    before = line(board, "h1/level")
    x, y = before.end
    pull(board, (x, y), (x + 8.0, y + 1.0))
    after = line(board, "h1/level")
    assert dict(board.part.drawing.centers["h1/level"]) == {"end": "outline"}
    assert after.start == pytest.approx(before.start, abs=1e-9)
    # The outline stands where an axis-level ray from the hole's center first meets it.
    edge = edge_beyond(board.part, (0.5 * (after.start[0] + after.end[0]), y))
    assert after.end[0] == pytest.approx(edge + 3.0 / after.factor, abs=1e-6)
    page = pages(board.part)[0]
    ends = [max(i.curve.end[0], i.curve.start[0]) for i in page.items
            if getattr(i, "source", "") == "center:h1/level"]
    assert max(ends) == pytest.approx(page.view.point((edge, y))[0] + 3.0, abs=1e-6)
    board.bench.undo()
    assert line(board, "h1/level").end == before.end


def edge_beyond(part: Part, at) -> float:
    """Where a level ray to the right first meets an outline that is no circle, by shapely."""
    ray = LineString([at, (at[0] + 1e4, at[1])])
    met = [ray.intersection(LineString([point_at(p.curve, k / 4000) for k in range(4001)]))
           for p in whole(part) if p.role == "outline" and not isinstance(p.curve, Circle)]
    return min(point.x for point in met if not point.is_empty)


def test_pulling_back_leaves_no_trace() -> None:
    board = board_with("gate-strap")
    start = line(board, "h1/level").start
    x, y = start
    pull(board, (x, y), (x - 8.0, y))
    assert dict(board.part.drawing.centers["h1/level"]) == {"start": "outline"}
    pull(board, line(board, "h1/level").start, (x, y))
    assert line(board, "h1/level").start == pytest.approx(start, abs=1e-9)
    assert not board.part.drawing.centers


def test_a_row_is_parted_and_joined_again_by_pulling() -> None:
    """Pulled to a hole within its row the line ends there, and the others have their own."""
    board = Board(row(40, 80, 120))
    board.use("centers")
    before = line(board, "h1/level")
    assert {n.id for n in center_lines(board.part)} == {"h1/level", "h1/plumb", "h2/plumb",
                                                        "h3/plumb"}
    pull(board, before.end, (80 + 8.0, 50))
    assert dict(board.part.drawing.centers["h2/level"]) == {"end": "to h2"}
    assert line(board, "h1/level").end == pytest.approx((80 + 4 + 3, 50))
    assert line(board, "h3/level").start == pytest.approx((120 - 4 - 3, 50))
    pull(board, line(board, "h1/level").end, (120, 50))
    assert line(board, "h1/level").end == pytest.approx(before.end)


def test_a_hole_that_is_far_off_is_joined_by_pulling_to_it_and_stays_joined() -> None:
    board = Board(row(30, 280, radii=(0.4, 6)))
    board.use("centers")
    assert line(board, "h2/level").start == pytest.approx((280 - 9, 50))
    pull(board, line(board, "h1/level").end, (281, 50))
    assert dict(board.part.drawing.centers["h1/level"]) == {"end": "to h2"}
    assert line(board, "h1/level").end == pytest.approx((289, 50))
    wider = board.part.having(curves={**board.part.curves, "h2": CircleCurve("k2", 10.0)})
    (found,) = [n for n in center_lines(wider) if n.id == "h1/level"]
    assert found.end == pytest.approx((293, 50))


def row(*xs: float, radii: tuple[float, ...] = ()) -> Part:
    points = {"p1": (0.0, 0.0), "p2": (400.0, 0.0), "p3": (400.0, 100.0), "p4": (0.0, 100.0)}
    curves: dict = {f"e{k}": LineCurve((f"p{k}", f"p{k % 4 + 1}")) for k in range(1, 5)}
    for k, x in enumerate(xs, 1):
        points[f"k{k}"] = (x, 50.0)
        curves[f"h{k}"] = CircleCurve(f"k{k}", radii[k - 1] if radii else 4.0)
    return Part(points=frozen(points), curves=frozen(curves),
                drawing=Drawing(sheet="A2", scale="1:1"))


def test_the_path_of_a_curved_slot_is_pulled_back_to_its_center() -> None:
    board = board_with("shift-arm")
    name = next(n.id for n in center_lines(board.part) if n.id.endswith("/path"))
    before = line(board, name)
    arc = next(s for s in before.strokes if hasattr(s, "radius"))
    (cx, cy), (x, y) = arc.center, before.end
    turn = radians(-9.0)
    to = (cx + (x - cx) * cos(turn) - (y - cy) * sin(turn),
          cy + (x - cx) * sin(turn) + (y - cy) * cos(turn))
    pull(board, (x, y), to)
    assert dict(board.part.drawing.centers[name]) == {"end": "center"}
    plus = [p for p in marked_places(center_lines(board.part)) if dist(p, to) < 8.0]
    assert min(dist(line(board, name).end, p) for p in plus) == pytest.approx(
        1.5 / before.factor, abs=0.01)


def test_a_press_switches_a_line_off_and_on_again() -> None:
    board = board_with("gate-strap")
    target = line(board, "h1/level")
    at = ((target.start[0] * 0.75 + target.end[0] * 0.25),
          (target.start[1] * 0.75 + target.end[1] * 0.25))
    pull(board, at, at)
    assert line(board, "h1/level").off
    assert not [i for i in pages(board.part)[0].items
                if getattr(i, "source", "") == "center:h1/level"]
    ghosts = board.tool.preview.curves
    assert any(g.mood == "leaves" for g in ghosts)  # it can still be seen, and pressed
    pull(board, at, at)
    assert not line(board, "h1/level").off
    assert not board.part.drawing.centers


def test_backspace_takes_back_one_line_and_escape_a_pull() -> None:
    board = board_with("gate-strap")
    x, y = line(board, "h1/level").end
    pull(board, (x, y), (x + 8.0, y))
    board.move(Pointer(*line(board, "h1/level").end, REACH))
    assert board.key("backspace")
    assert not board.part.drawing.centers
    part = board.part
    board.press(Pointer(x, y, REACH))
    board.move(Pointer(x + 9.0, y, REACH))
    assert "past the outline" in board.prompt
    assert board.key("escape")
    board.release(Pointer(x + 9.0, y, REACH))
    assert board.part is part
    assert board.tool.name == "centers"


def test_a_mark_is_not_pulled_off_its_plus() -> None:
    board = board_with("gate-strap")
    x, y = line(board, "h1/level").end
    pull(board, (x, y), (x - 500.0, y))
    after = line(board, "h1/level")
    assert after.start[0] < after.end[0]
    assert any(after.start[0] < px < after.end[0] and abs(py - y) < 1e-6
               for px, py in marked_places(center_lines(board.part)))


def test_a_pitch_circle_has_no_ends() -> None:
    lines = center_lines(demo("pump-flange"))
    (pitch,) = [n for n in lines if n.closed]
    assert end_at((pitch,), pitch.start, 1.0) is None


def test_a_part_that_is_only_begun_has_none_and_very_many_holes_are_too_many() -> None:
    assert center_lines(Part()) == ()
    points = {f"p{k}": (10.0 * k, 0.0) for k in range(200)}
    many = Part(points=frozen(points),
                curves=frozen({f"h{k}": CircleCurve(f"p{k}", 2.0) for k in range(200)}))
    assert is_busy(many)
    assert not is_busy(demo("pump-flange"))
    assert Board(many).bench.derived.center_lines() == ()


def test_taking_the_tool_shows_them() -> None:
    board = Board(demo("roof-gusset"))
    board.bench.set_setting("show_centers", False)
    board.use("centers")
    assert board.bench.settings["show_centers"]
    board.move(Pointer(1e6, 1e6, REACH))
    board.press(Pointer(1e6, 1e6, REACH))
    board.release(Pointer(1e6, 1e6, REACH))
    assert "No center line" in board.bench.message.text


def waiting() -> tuple[Board, Later, tuple[CenterLine, ...]]:
    """The tool in hand while the lines are not there yet, and the lines as they will be."""
    board, later = board_with("gate-strap"), Later()
    at_once = board.tool.lines
    board.use("pick")
    board.bench.worker = later
    board.use("centers")
    assert board.tool.lines == ()
    return board, later, at_once


def test_lines_that_take_long_are_made_elsewhere_and_shown_when_they_come() -> None:
    board, later, at_once = waiting()
    begun = board.prompt
    heard: list[str] = []
    board.bench.notices.listen(lambda change: heard.append(change.reason))
    later.work()
    assert heard == ["preview"]
    assert board.tool.lines == at_once
    assert board.prompt != begun
    board.bench.do("Switch", lambda part: switch(part, at_once[0].id))
    assert board.tool.lines == ()
    board.bench.undo()
    assert board.tool.lines == at_once
    later.work()  # for a part that is no longer there
    assert board.tool.lines == at_once


@pytest.mark.parametrize("error", [Stopped(), SketcherError("the process", "has ended")])
def test_lines_that_were_not_worked_out_are_not_taken_for_none(error: BaseException) -> None:
    board, later, at_once = waiting()
    begun = board.prompt
    later.fail(error)
    assert board.prompt != begun
    assert "There is no center line" not in board.prompt
    assert (board.bench.message.severity == "error") == isinstance(error, SketcherError)
    assert board.key("enter")
    assert board.prompt == begun
    later.work()
    assert board.tool.lines == at_once


def test_lines_are_called_by_words_and_not_by_their_ids() -> None:
    for name in NAMES:
        for found in center_lines(demo(name)):
            assert "/" not in found.words
            assert "center line" in found.words or "pitch circle" in found.words
    assert line_words("a5/along") == "center line along a5"
    assert line_words("r1/pitch'") == "pitch circle about r1'"
    board = board_with("gate-strap")
    x, y = line(board, "h1/level").end
    pull(board, (x, y), (x + 8.0, y))
    assert board.bench.history.undo_name == "Pull the level center line of h1"
    board.move(Pointer(*line(board, "h1/level").end, REACH))
    board.key("backspace")
    assert board.bench.history.undo_name == "Reset the level center line of h1"
