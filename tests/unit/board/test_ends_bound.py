"""Ends that land on an axis or on a point are bound there; a typed value that follows is told."""

from __future__ import annotations

from math import sqrt

import pytest

from sketcher.board.board import Board
from sketcher.board.preview import Pointer
from sketcher.part.edits.draft import Draft
from sketcher.part.edits.set_value import set_value
from sketcher.part.value import ArcCurve, Part


def edge_beside_an_axis(more: bool = False) -> Board:
    """A fixed plumb edge at x 25, an axis at x 0; `more`: a fixed point where the arc will end."""
    draft = Draft(Part())
    axis = draft.line((0.0, 0.0), (0.0, 80.0), "axis")
    edge = draft.line((25.0, 0.0), (25.0, 30.0))
    for name in (*draft.curves[axis].ends, *draft.curves[edge].ends):
        draft.bind("fixed", (name,))
    if more:
        draft.bind("fixed", (draft.point((0.0, 55.0)),))
    board = Board(draft.done())
    board.use("outline")
    at = Pointer(25.0, 30.0)
    board.move(at)
    board.press(at)
    board.release(at)
    return board


def arc_typed(board: Board, at: Pointer, keys: str) -> None:
    board.tool.choose_way("tangent arc")
    board.move(at)
    for key in keys.split():
        assert board.key(key) if key.isalpha() else board.typing.type_text(key)


def bound(board: Board, curve: str) -> dict[str, tuple[str, ...]]:
    part = board.part
    ids = {curve, *part.curves[curve].points}
    return {b.kind: b.of for b in part.bindings.values()
            if ids & set(b.of) and b.kind != "fixed"}


def test_a_typed_end_on_the_axis_is_bound_there_and_the_sweep_follows() -> None:
    board = edge_beside_an_axis()
    arc_typed(board, Pointer(0.3, 55.2), "25 tab 90 enter")
    assert "Sweep 90 follows from the other bindings: no new dimension." \
        in board.bench.message.text
    (arc,) = (n for n, c in board.part.curves.items() if isinstance(c, ArcCurve))
    end = board.part.curves[arc].points[1]
    assert bound(board, arc) == {"radius": (arc,), "on": (end, "x1"), "tangent": ("e1", arc)}
    assert set(board.part.curves) == {"x1", "e1", arc}  # no rays of the angle that was left out
    assert (board.report.freedoms, board.report.doubled) == (0, ())
    # Another radius: the center moves along the level of the edge's end, the end along the axis.
    (radius,) = (n for n, b in board.part.bindings.items() if b.kind == "radius")
    assert board.bench.do("Radius", lambda part: set_value(part, radius, "30"))
    assert board.part.points[end] == pytest.approx((0.0, 30.0 + sqrt(30.0**2 - 5.0**2)))


def test_a_typed_end_on_a_point_keeps_the_arc_tangent() -> None:
    board = edge_beside_an_axis(more=True)
    arc_typed(board, Pointer(0.3, 55.2), "25 tab 90 enter")
    (arc,) = (n for n, c in board.part.curves.items() if isinstance(c, ArcCurve))
    assert board.part.curves[arc].points[1] == "p5"
    assert bound(board, arc) == {"tangent": ("e1", arc)}
    assert "Radius 25 follows" in board.bench.message.text
    assert "Sweep 90 follows" in board.bench.message.text
    assert (board.report.freedoms, board.report.doubled) == (0, ())


def test_a_typed_place_on_the_axis_says_so_unless_nothing_is_to_snap() -> None:
    board = edge_beside_an_axis()
    arc_typed(board, Pointer(0.3, 55.2), "25 tab 90 tab")
    assert board.preview.words[0].text.endswith("on the axis x1")
    board.move(Pointer(0.3, 55.3, keys=frozenset({"ctrl"})))
    assert "axis" not in board.preview.words[0].text


def test_without_an_axis_typed_values_stay_and_what_only_a_snap_showed_goes() -> None:
    board = edge_beside_an_axis()
    arc_typed(board, Pointer(10.0, 52.0), "25 tab 60 enter")
    (arc,) = (n for n, c in board.part.curves.items() if isinstance(c, ArcCurve))
    kinds = {b.kind for b in board.part.bindings.values()}
    assert {"radius", "angle", "tangent"} <= kinds
    assert "on" not in kinds
    assert "no new dimension" not in board.bench.message.text
    assert len(board.part.curves[arc].points) == 3
