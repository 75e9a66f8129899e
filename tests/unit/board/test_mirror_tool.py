"""The mirror tool: axis, preview, report, flip, make whole."""

from __future__ import annotations

import pytest

from sketcher.board.action_table import perform
from sketcher.board.board import Board
from sketcher.board.preview import Pointer
from sketcher.board.toolkit.mirror_preview import try_mirror
from sketcher.geometry.curves import Line
from sketcher.part.edits.draft import Draft
from sketcher.part.value import Mirror, Part
from tests.hosts import AnsweringHost


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
    assert len(board.preview.curves) == 0 or board.tool.axis is not None
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
