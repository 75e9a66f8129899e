"""Picking: selection, boxes, dragging what is loose, and what is bound."""

from __future__ import annotations

import pytest

from sketcher.board.board import Board
from sketcher.board.places.picking import Picker
from sketcher.board.places.selection import Selection, source_of
from sketcher.board.preview import Pointer
from sketcher.board.toolkit.dimension_picking import dimension_at
from sketcher.part.edits.draft import Draft
from sketcher.part.value import Mirror, Part

SHIFT = frozenset({"shift"})


def plate() -> Part:
    """A fixed level line of length 40, a loose line on its end, a circle, a mirror about x1."""
    draft = Draft(Part())
    draft.line((0, 0), (40, 0))  # e1
    draft.line("p2", (50, 30))  # e2 to p3
    draft.circle((20, 20), 6.0)  # h1 about p4
    axis = draft.line((-20, -10), (-20, 60), "axis")
    draft.set_mirrors((Mirror(axis),))
    draft.bind("fixed", ("p1",))
    draft.bind("level", ("e1",))
    draft.bind("distance", ("e1",), "40")
    return draft.done()


def press(board: Board, x: float, y: float, keys: frozenset[str] = frozenset()) -> None:
    board.press(Pointer(x, y, 1.0, keys))
    board.release(Pointer(x, y, 1.0, keys))


def test_a_point_outranks_a_curve_and_an_image_means_its_source() -> None:
    board = Board(plate())
    press(board, 40.3, 0.2)
    assert board.bench.selection.ids == ("p2",)
    press(board, 12, 0.4)
    assert board.bench.selection.ids == ("e1",)
    press(board, -74, 20)  # the image of the circle: its left edge
    press(board, -60 - 6, 20.2)
    assert board.bench.selection.ids == ("h1",)
    press(board, 100, 100)
    assert board.bench.selection.ids == ()


@pytest.mark.parametrize(("away", "name"), [
    ((0.0, 0.0), "h1"), ((0.3, 0.9), "h1"), ((-0.6, -0.3), "h1"), ((0.0, 7.0), "s1"),
    ((0.0, -1.5), "s1"),
])
def test_where_layout_crosses_an_edge_the_edge_is_meant(
    away: tuple[float, float], name: str
) -> None:
    draft = Draft(Part())
    draft.circle((0.0, 0.0), 30.0, "layout", name="s1")
    draft.circle((30.0, 0.0), 5.0)  # h1, on it
    board = Board(draft.done())
    # Where two circles of radius 30 and 5 cross, 30 between their centers: x = 30 - 25/60.
    x = 30.0 - 25.0 / 60.0
    y = (900.0 - x * x) ** 0.5
    at = Pointer(x + away[0], y + away[1], 2.5)
    board.move(at)
    assert board.bench.hover == (name,)
    board.press(at)
    assert board.bench.selection.ids == (name,)


def test_shift_adds_and_takes_out_again() -> None:
    board = Board(plate())
    press(board, 12, 0.4)
    press(board, 45, 15, SHIFT)
    assert board.bench.selection.ids == ("e1", "e2")
    press(board, 12, 0.4, SHIFT)
    assert board.bench.selection.ids == ("e2",)


@pytest.mark.parametrize(("a", "b", "held", "names"), [
    ((-5, -5), (42, 40), "", {"e1", "h1"}),
    ((42, 40), (-5, -5), "", {"e1", "h1"}),
    ((-5, -5), (42, 40), "ctrl", {"e1", "e2", "h1"}),
    ((42, 40), (-5, -5), "ctrl", {"e1", "e2", "h1"}),
    ((30, 40), (15, 10), "ctrl", {"h1"}),
])
def test_a_box_takes_what_is_inside_or_with_ctrl_what_it_touches(
    a, b, held: str, names: set[str]
) -> None:
    board, keys = Board(plate()), frozenset(filter(None, (held,)))
    board.press(Pointer(*a))
    board.move(Pointer(*b, 1.0, keys))
    assert board.preview.box is not None
    assert board.preview.box.touching == bool(held)
    board.release(Pointer(*b, 1.0, keys))
    assert set(board.bench.selection) == names


def test_loose_geometry_follows_and_the_drag_is_one_step() -> None:
    board = Board(plate())
    heard = []
    board.bench.notices.listen(heard.append)
    board.press(Pointer(50, 30))
    for x in (52, 56, 60):
        board.move(Pointer(x, 34))
    assert board.part.points["p3"] == pytest.approx((60, 34), abs=0.1)
    board.release(Pointer(60, 34))
    assert {c.reason for c in heard} >= {"drag", "edit"}
    assert board.part.points["p2"] == pytest.approx((40, 0), abs=1e-9)
    assert board.report.freedoms > 0
    assert len(board.bench.history.steps) == 2
    board.bench.undo()
    assert board.part.points["p3"] == (50, 30)


def test_a_drag_is_given_up_by_escape() -> None:
    board = Board(plate())
    part = board.part
    board.press(Pointer(50, 30))
    board.move(Pointer(60, 34))
    board.key("escape")
    assert board.part is part
    assert not board.bench.history.can_undo


def test_a_free_radius_follows_the_rim() -> None:
    board = Board(plate())
    board.press(Pointer(26, 20))
    board.move(Pointer(29, 20))
    board.release(Pointer(29, 20))
    assert board.part.curves["h1"].radius == pytest.approx(9.0, abs=0.05)
    assert board.part.points["p4"] == pytest.approx((20, 20), abs=0.05)


def test_what_is_bound_stays_and_says_what_holds_it() -> None:
    board = Board(plate())
    part = board.part
    board.press(Pointer(40, 0))
    board.move(Pointer(47, 9))
    board.release(Pointer(47, 9))
    assert board.part is part
    assert "bound" in board.bench.message.text
    assert "b3" in board.bench.message.text


def test_a_dimension_text_is_dragged_and_stays() -> None:
    board = Board(plate())
    dim = board.bench.derived.dimensions(1.0 / board.bench.settings["reach"])[0]
    assert dimension_at(board.bench, Pointer(*dim.anchor)) == "b3"
    board.press(Pointer(*dim.anchor))
    for step in (3.0, 6.0):
        board.move(Pointer(dim.anchor[0], dim.anchor[1] - step))
    target = (dim.anchor[0], dim.anchor[1] - 6.0)
    board.release(Pointer(*target))
    assert board.part.drawing.placed["b3"] == pytest.approx(target)
    assert board.bench.derived.dimensions(1.0 / 9)[0].anchor == pytest.approx(target)
    assert len(board.bench.history.steps) == 2


def test_picker_gives_distance_and_parameter() -> None:
    picker = Picker(plate())
    pick = picker.nearest_curve((10, 0.5), 1.0)
    assert pick is not None
    assert (pick.id, pick.distance, pick.t) == ("e1", pytest.approx(0.5), pytest.approx(0.25))
    assert picker.nearest((300, 300), 1.0) is None
    assert Picker(Part()).nearest((0, 0), 1.0) is None


def test_an_arc_is_picked_only_on_its_sweep() -> None:
    draft = Draft(Part())
    draft.arc((10, 0), (0, 10), (0, 0))
    picker = Picker(draft.done())
    assert picker.nearest_curve((7.3, 7.3), 1.0) is not None
    assert picker.nearest_curve((-7.3, -7.3), 1.0) is None
    end = picker.nearest_curve((10.2, -0.5), 1.0)
    assert end is not None
    assert end.at == pytest.approx((10, 0))


def test_a_selection_keeps_order_and_only_what_lives() -> None:
    selection = Selection().plus(("e2", "e1'", "h1#2"))
    assert selection.ids == ("e2", "e1", "h1")
    assert selection.toggled(("e1",)).ids == ("e2", "h1")
    assert selection.living(plate()) is selection
    assert selection.living(Part()).ids == ()
    assert source_of("h1#3'") == "h1"
