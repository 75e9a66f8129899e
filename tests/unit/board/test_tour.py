"""The prompts of the first part accept every right way, and name what is missing in the others."""

from __future__ import annotations

import itertools

import pytest

from sketcher.board.action_table import all_actions
from sketcher.board.board import Board
from sketcher.board.preview import Pointer
from sketcher.board.tour.half_view import HalfView
from sketcher.board.tour.tour import Tour, asked, prompts
from sketcher.board.tour.tour_file import Kept, keep, kept_in
from sketcher.inspect.inspection import inspect_part
from sketcher.part.edits.draft import Draft
from sketcher.part.value import Mirror, Part
from sketcher.solve import solve

LABELS = {name: action.label for name, action in all_actions().items()}
BY_NAME = {prompt.title: prompt for prompt in prompts()}


def missing(title: str, part: Part, *deeds: str) -> str:
    """What a prompt still misses of a part as it is solved."""
    solution = solve(part)
    inspection = inspect_part(solution.part, solution.report)
    view = HalfView(solution.part, solution.report, inspection, frozenset(deeds))
    return BY_NAME[title].missing(view)


def begun(lean: float = 0.0, level: bool = False) -> Draft:
    """An axis of 60 from the zero, standing or lying."""
    draft = Draft(Part())
    draft.line((0.0, 0.0), (60.0, 0.0) if level else (lean, 60.0), role="axis")
    draft.bind("fixed", ("p1",))
    return draft


def halved(level: bool = False, *more: tuple[float, float]) -> Draft:
    """The half of 40 by 60 as three edges from end to end of its axis."""
    draft = begun(level=level)
    corners = ((0.0, 40.0), (60.0, 40.0)) if level else ((40.0, 0.0), (40.0, 60.0))
    points = ["p1", *(draft.point(at) for at in corners), "p2"]
    for a, b in itertools.pairwise(points):
        draft.line(a, b)
    return draft


def test_there_are_ten_prompts_in_order_each_with_words() -> None:
    assert [prompt.rank for prompt in prompts()] == list(range(1, 11))
    board = Board()
    for prompt in prompts():
        words = asked(prompt, board, LABELS)
        assert "{" not in words
        assert 40 < len(words) < 230
        assert prompt.tool in board.tools
        assert prompt.missing(HalfView(Part(), solve(Part()).report))  # nothing is done of itself


def test_an_axis_may_stand_or_lie_but_not_lean() -> None:
    assert missing("Draw the axis", begun().done()) == ""
    assert missing("Draw the axis", begun(level=True).done()) == ""
    assert "leans" in missing("Draw the axis", begun(lean=5.0).done())
    assert "no axis" in missing("Draw the axis", Part())


@pytest.mark.parametrize("level", [False, True])
def test_half_of_the_outline_runs_from_axis_to_axis(level: bool) -> None:
    title = "Draw half of the outline"
    assert missing(title, halved(level).done()) == ""
    short = begun(level=level)
    short.line("p1", (30.0, 10.0))
    assert "needs at least 3" in missing(title, short.done())
    hanging = halved(level)
    hanging.line((10.0, 90.0), (20.0, 95.0))
    assert "open" in missing(title, hanging.done())
    closed = halved(level)
    closed.line("p1", "p2")
    assert "along the axis" in missing(title, closed.done())


def slanted(level: bool = False) -> Draft:
    """A half whose last edge comes back to the axis lower than it began."""
    draft = begun(level=level)
    corners = ((0.0, 40.0), (75.0, 40.0)) if level else ((40.0, 0.0), (40.0, 75.0))
    points = ["p1", *(draft.point(at) for at in corners), "p2"]
    for a, b in itertools.pairwise(points):
        draft.line(a, b)
    return draft


@pytest.mark.parametrize(("level", "button"), [(False, "Level"), (True, "Plumb")])
def test_a_top_that_slants_is_named_with_what_straightens_it(level: bool, button: str) -> None:
    title = "Draw half of the outline"
    leaning = slanted(level)
    said = missing(title, leaning.done())
    assert said == f"e3 leans: select it and press {button}"
    assert said in missing("Hold the height", leaning.done())  # where it shows, it is told as well
    leaning.bind(button.lower(), ("e3",))
    assert missing(title, leaning.done()) == ""
    low = slanted()
    low.bind("level", ("e3",))
    assert "leans" not in missing("Hold the height", low.done())


def test_the_words_are_those_of_the_window() -> None:
    board = Board()
    told = {prompt.title: asked(prompt, board, LABELS) for prompt in prompts()}
    assert "Take Pick (P)" in told["Hold the width"]
    assert "Circle (H)" in told["Make a hole"]
    for name in ("file.export_cut", "file.export_sheet"):
        assert LABELS[name].removesuffix(" ...") in told["Export it"]
    board.use("outline")
    board.press(Pointer(0.0, 0.0))
    assert "Enter ends the outline." in told["Draw half of the outline"]
    assert "Enter ends the outline." in board.prompt
    assert "level with the axis' upper end" in told["Draw half of the outline"]


def test_lengths_are_held_in_any_way_that_gives_them() -> None:
    drawn = halved()
    assert "no dimension holds it" in missing("Hold the width", drawn.done())
    for kind, of, value in (("distance", ("e1",), "40"), ("run", ("p1", "p3"), "20*2"),
                            ("offset", ("x1", "p3"), "35+5")):
        part = halved()
        part.bind(kind, of, value)
        assert missing("Hold the width", part.done()) == "", kind
    wide = halved()
    wide.bind("distance", ("e1",), "45")
    assert "45 mm wide and should be 40" in missing("Hold the width", wide.done())
    both = halved()
    both.bind("distance", ("e1",), "40")
    assert "nothing holds it" in missing("Hold the height", both.done())
    both.bind("rise", ("p3", "p4"), "60")
    assert missing("Hold the height", both.done()) == ""


def test_a_hole_is_sized_by_radius_or_diameter_and_lies_inside() -> None:
    title = "Make a hole"
    for kind, value in (("radius", "5"), ("diameter", "10")):
        part = halved()
        part.circle((20.0, 20.0), 4.0)
        assert "size" in missing(title, part.done())
        part.bind(kind, ("h1",), value)
        assert missing(title, part.done()) == ""
    outside = halved()
    outside.circle((90.0, 20.0), 4.0)
    outside.bind("diameter", ("h1",), "8")
    assert "within the outline" in missing(title, outside.done())


def test_what_can_still_move_is_named() -> None:
    part = halved()
    part.bind("distance", ("e1",), "40")
    said = missing("Hold the hole in its place", part.done())
    assert "freedoms left" in said
    assert "p" in said
    part.bind("distance", ("e1",), "30")
    assert "cannot all hold" in missing("Hold the hole in its place", part.done())


def test_mirrored_by_the_tool_or_made_whole() -> None:
    title, half = "Mirror the half", halved().done()
    assert missing(title, half)
    assert missing(title, half.having(mirrors=(Mirror("x1"),))) == ""
    whole = halved()
    for a, b in (("p1", (-40.0, 0.0)), ("p5", (-40.0, 60.0)), ("p6", "p2")):
        whole.line(a, b)
    assert missing(title, whole.done(), "mirrored") == ""


def test_the_inspection_is_read_only_when_there_is_a_whole_part() -> None:
    board = Board(halved().done())
    heard: list[int] = []
    tour = Tour(board, lambda: heard.append(1))
    tour.note("inspected")
    assert not heard  # nobody follows it yet
    tour.begin()
    tour.note("inspected")
    assert tour.deeds == frozenset()
    tour.begin(frozenset({"mirrored"}))
    tour.note("inspected")
    assert "inspected" in tour.deeds
    board.bench.notices.add("exported")
    assert "exported" in tour.deeds
    board.load(Part())
    assert not tour.is_on


def test_how_far_it_came_is_read_back(tmp_path) -> None:
    place = tmp_path / "first-part.json"
    assert kept_in(place) is None
    kept = Kept(halved().done(), tmp_path / "mine.profile.json", frozenset({"mirrored"}))
    keep(kept, place)
    again = kept_in(place)
    assert again is not None
    assert (again.part.points, again.part.curves) == (kept.part.points, kept.part.curves)
    assert (again.path, again.deeds) == (kept.path, kept.deeds)
    for damaged in ("{", "[]", '{"part": "x", "file": "", "deeds": []}',
                    '{"part": 3, "file": "", "deeds": []}'):
        place.write_text(damaged, encoding="utf-8")
        assert kept_in(place) is None
