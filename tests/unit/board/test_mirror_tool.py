"""The mirror tool: axis, preview, report, flip, make whole."""

from __future__ import annotations

import pytest

from sketcher.board.action_table import perform
from sketcher.board.board import Board
from sketcher.board.preview import Pointer
from sketcher.board.toolkit.mirror_preview import try_mirror
from sketcher.geometry.curves import Line
from sketcher.geometry.loops import find_loops
from sketcher.part.edits.draft import Draft
from sketcher.part.value import Mirror, Part
from sketcher.part.whole import curve_value, whole
from tests.hosts import AnsweringHost
from tests.layouts import fixed_point


def half(turn: tuple[float, float] = (0.0, 1.0)) -> Part:
    """Three sides of a rectangle that end on an axis, a hole beside it, one across it."""
    ux, uy = turn

    def at(x: float, y: float) -> tuple[float, float]:
        return (x * uy + y * ux, -x * ux + y * uy)

    draft = Draft(Part())
    first = draft.line(at(0, 0), at(30, 0))
    side = draft.line(draft.curves[first].ends[1], at(30, 20))
    draft.line(draft.curves[side].ends[1], at(0, 25))  # not square to the axis: a corner
    draft.circle(at(15, 10), 4.0)
    draft.circle(at(0, 10), 3.0)
    draft.line(at(0, -10), at(0, 40), "layout")
    return draft.done()


def press(board: Board, x: float, y: float) -> None:
    board.move(Pointer(x, y))
    board.press(Pointer(x, y))
    board.release(Pointer(x, y))


def test_a_chosen_line_previews_reports_and_mirrors() -> None:
    board = Board(half())
    board.use("mirror")
    board.move(Pointer(0.2, 35))
    assert "plumb" in board.prompt
    ghosts = board.preview.curves
    assert len(ghosts) == 4  # the hole across the axis stays single
    assert Line((0, 0), (-30, 0)) in [ghost.curve for ghost in ghosts]
    press(board, 0.2, 35)
    assert "smoothly" in board.prompt
    assert "corner" in board.prompt
    assert "h2" in board.prompt
    board.key("enter")
    assert board.part.mirrors == (Mirror("s1"),)
    assert board.part.curves["s1"].role == "axis"
    assert board.tool.name == "pick"
    assert not board.bench.selection.ids  # the next tool would take the axis along
    assert "h2 lies on the axis and stays single." in board.bench.message.text


def test_an_axis_can_be_drawn_for_it() -> None:
    board = Board(half())
    board.use("mirror")
    press(board, -20, -20)
    board.move(Pointer(-20.1, 10))
    assert "ends" in board.prompt
    press(board, -20.1, 10)
    assert board.part.curves["x1"].role == "axis"
    board.key("enter")
    assert board.part.mirrors == (Mirror("x1"),)


def test_selected_curves_alone_can_be_mirrored() -> None:
    board = Board(half())
    board.bench.select(("h1", "s1"))
    board.use("mirror")
    assert board.tool.axis is None
    press(board, 0.2, 35)
    assert len(board.preview.curves) == 1
    board.key("o")
    assert len(board.preview.curves) == 4
    board.key("o")
    board.key("enter")
    assert board.part.mirrors == (Mirror("s1", ("h1",)),)


def test_the_report_tells_an_odd_axis_and_how_far_it_is_off() -> None:
    report = try_mirror(half((0.6, 0.8)), Mirror("s1"))
    # The axis runs along (0.6, 0.8): atan2(0.8, 0.6) = 53.130102 degrees (3-4-5 triangle).
    assert report.symmetry.angle_deg == pytest.approx(53.13010235415598, abs=1e-9)
    assert report.symmetry.off_axis_deg == pytest.approx(36.86989764584402, abs=1e-9)
    assert report.symmetry.nearer == "plumb"
    assert "53.1301" in report.lines()[0]


def test_a_curve_that_crosses_the_axis_is_told() -> None:
    draft = Draft(half())
    name = draft.line((-5, 5), (12, 12))
    report = try_mirror(draft.done(), Mirror("s1"))
    assert report.symmetry.crossing == (name,)
    assert any("cross" in line and name in line for line in report.lines())


def test_flip_and_make_whole() -> None:
    board, host = Board(half()), AnsweringHost()
    board.bench.do("Mirror", lambda part: Draft(part).done().having(mirrors=(Mirror("s1"),)))
    before = board.part.points["p2"]
    assert perform("mirror.flip", board, host)
    assert board.part.points["p2"] == pytest.approx((-before[0], before[1]), abs=1e-9)
    assert perform("mirror.whole", board, host)
    assert not board.part.mirrors
    assert sum(c.role == "outline" for c in board.part.curves.values()) == 9
    board.bench.undo()
    assert perform("mirror.clear", board, host)
    assert not board.part.mirrors
    assert not perform("mirror.flip", board, host)


def test_an_axis_without_length_is_no_axis() -> None:
    draft = Draft(Part())
    draft.line((0, 0), (0, 0), "layout")
    draft.circle((9, 9), 2.0)
    board = Board(draft.done())
    board.bench.select(("s1",))
    board.use("mirror")
    assert board.tool.report is None
    board.key("enter")
    assert not board.part.mirrors


def open_half(lean: float = 0.0, role: str | None = None) -> Part:
    """A half that is open at (0, 0) and (lean, 25), with a hole; `role` draws the axis."""
    draft = Draft(Part())
    start = fixed_point(draft, (0.0, 0.0))
    first = draft.line(start, (30, 0))
    side = draft.line(draft.curves[first].ends[1], (30, 20))
    top = draft.line(draft.curves[side].ends[1], (lean, 25))
    for kind, of, value in (
        ("level", (first,), None), ("distance", (first,), "30"), ("plumb", (side,), None),
        ("distance", (side,), "20"), ("run", draft.curves[top].ends, f"30-({lean})"),
    ):
        draft.bind(kind, of, value)
    draft.circle((15, 10), 4.0)
    if role is not None:
        draft.line(start, draft.curves[top].ends[1], role)
    return draft.done()


def test_the_axis_through_the_two_open_ends_is_offered() -> None:
    board = Board(open_half())
    board.use("mirror")
    assert "open from p1 to p4" in board.prompt
    assert "plumb" in board.prompt
    assert Line((-30, 0), (-30, 20)) in [ghost.curve for ghost in board.preview.curves]
    moods = {(ghost.role, ghost.mood) for ghost in board.preview.curves}
    assert moods == {("axis", "new"), ("outline", "image")}
    freedoms = board.report.freedoms
    board.key("enter")
    assert board.part.mirrors == (Mirror("x1"),)
    assert board.part.curves["x1"].points == ("p1", "p4")
    assert not board.report.doubled
    # The run puts the end over the start already: the axis says nothing new.
    assert board.report.freedoms == freedoms
    assert len(board.bench.history.steps) == 2
    board.bench.undo()
    assert not board.part.mirrors
    assert "x1" not in board.part.curves


def test_an_axis_that_leans_by_its_values_is_told_and_not_bent() -> None:
    board = Board(open_half(0.5))
    board.use("mirror")
    # atan2(0.5, 25): the sheet says it, the tool does not hide it.
    assert "1.15" in board.prompt
    board.key("enter")
    assert board.report.clashes == ()
    assert not any(b.kind == "plumb" and b.of == ("x1",) for b in board.part.bindings.values())


def test_a_loose_end_is_bound_to_the_axis() -> None:
    draft = Draft(Part())
    first = draft.line(fixed_point(draft, (0.0, 0.0)), (30, 0))
    draft.line(draft.curves[first].ends[1], (0.3, 25))
    board = Board(draft.done())
    freedoms = board.report.freedoms
    board.use("mirror")
    board.key("enter")
    assert board.report.freedoms == freedoms - 1
    (axis,) = (board.part.curves[mirror.axis] for mirror in board.part.mirrors)
    assert len({board.part.points[name][0] for name in axis.points}) == 1


def test_an_axis_that_is_drawn_is_offered_and_another_line_still_counts() -> None:
    board = Board(open_half(role="axis"))
    board.use("mirror")
    assert "x1 is drawn as an axis" in board.prompt
    assert board.preview.lit == ("x1",)
    board.move(Pointer(30.0, 10.0))
    assert board.tool.axis == "e2"
    board.move(Pointer(60.0, 60.0))
    board.key("enter")
    assert board.part.mirrors == (Mirror("x1"),)


def test_a_cut_out_that_is_open_on_the_same_line_is_joined_as_well() -> None:
    draft = Draft(open_half())
    low = draft.line((0, 8), (6, 8))
    side = draft.line(draft.curves[low].ends[1], (6, 14))
    draft.line(draft.curves[side].ends[1], (0, 14))
    board = Board(draft.done())
    board.use("mirror")
    assert "open from p1 to p4" in board.prompt
    board.key("enter")
    assert board.part.curves["x1"].points == ("p1", "p4")
    pieces = [(piece.id, piece.curve) for piece in whole(board.part) if piece.role == "outline"]
    loops = find_loops(pieces)
    assert loops.sound
    assert [loop.hole for loop in loops.loops].count(True) == 3  # the window and two holes


@pytest.mark.parametrize("spoil", ["closed", "two gaps"])
def test_no_axis_is_offered_where_it_is_not_plain(spoil: str) -> None:
    draft = Draft(open_half())
    if spoil == "closed":
        draft.line("p4", "p1")
    else:
        draft.line((60, 0), (60, 20))
    board = Board(draft.done())
    board.use("mirror")
    assert board.prompt == board.tool.ask
    assert not board.preview.curves


@pytest.mark.parametrize("bound_by", ["snap", "on"])
def test_the_loose_end_of_an_axis_reaches_the_half(bound_by: str) -> None:
    # The axis was drawn 40 long, any length; the half is 25 high and ends on it.
    draft = Draft(open_half())
    axis = draft.line("p1", (0.0, 40.0), "axis")
    draft.bind("plumb", (axis,))
    draft.bind("rise", ("p1", "p4"), "25")
    draft.bind("radius", ("h1",), "4")
    draft.bind("fixed", (draft.curves["h1"].center,))
    if bound_by == "on":
        draft.drop("b6")  # the run of the top
        draft.bind("on", ("p4", axis))
    board = Board(draft.done())
    assert board.report.freedoms == 1
    board.use("mirror")
    board.key("enter")
    assert board.part.curves[axis].points == ("p1", "p4")
    assert (board.report.state, board.report.doubled) == ("bound", ())
    assert len(board.bench.history.steps) == 2
    board.bench.undo()
    assert not board.part.mirrors
    assert board.part.curves[axis].points != ("p1", "p4")


def test_an_axis_whose_length_is_a_dimension_stays_as_long() -> None:
    draft = Draft(open_half())
    axis = draft.line("p1", (0.0, 40.0), "axis")
    draft.bind("plumb", (axis,))
    draft.bind("distance", (axis,), "40")
    board = Board(draft.done())
    board.use("mirror")
    board.key("enter")
    assert curve_value(board.part, board.part.curves[axis]).length == pytest.approx(40.0)
