"""The dimension tool, and where dimensions stand."""

from __future__ import annotations

from math import hypot, pi

import pytest

from sketcher.board.board import Board
from sketcher.board.dimensions.desk_layout import lay_out_on_desk
from sketcher.board.preview import Pointer
from sketcher.part.edits.draft import Draft
from sketcher.part.value import Mirror, Part
from sketcher.solve.solve_report import SolveReport


def plate() -> Part:
    draft = Draft(Part())
    draft.line((0, 0), (40, 0))  # e1
    draft.line("p2", (60, 30))  # e2
    draft.circle((20, 20), 6.0)  # h1
    draft.line((5, 40), (35, 40))  # e3
    draft.circle((20, 20), 9.0)  # h2, on a center of its own
    return draft.done()


def press(board: Board, x: float, y: float) -> None:
    board.move(Pointer(x, y))
    board.press(Pointer(x, y))


def dimensioning(*places: tuple[float, float]) -> Board:
    board = Board(plate())
    board.use("dimension")
    for place in places:
        press(board, *place)
    return board


def test_a_line_is_dimensioned_where_the_text_is_put() -> None:
    board = dimensioning((11, 0.2))
    board.move(Pointer(20, -12))
    assert board.preview.dims[0].text == "40"
    assert board.preview.dims[0].anchor == pytest.approx((20, -12))
    press(board, 20, -12)
    (name, binding), = board.part.bindings.items()
    assert (binding.kind, binding.of, binding.value) == ("distance", ("e1",), "40")
    assert board.part.drawing.placed[name] == (20, -12)
    assert board.bench.selection.ids == (name,)


def test_another_kind_by_key_and_a_typed_value() -> None:
    board = dimensioning((26, 20.1))
    assert board.tool.kind == "diameter"
    assert board.key("w")
    assert board.tool.kind == "radius"
    board.move(Pointer(45, 28))
    board.typing.type_text("7.5")
    board.key("tab")
    assert board.preview.dims[0].text == "R7.5"
    press(board, 45, 28)
    assert board.part.curves["h1"].radius == pytest.approx(7.5, abs=1e-9)


def test_two_points_two_lines_and_a_point_with_a_line() -> None:
    assert dimensioning((0, 0), (60, 30)).tool.kind == "distance"
    assert dimensioning((11, 0.1), (50, 15)).tool.kind == "angle"
    assert dimensioning((11, 0.1), (11, 40)).tool.kind == "offset"
    assert dimensioning((11, 0.1), (5, 40)).tool.kind == "offset"
    assert dimensioning((5, 40), (11, 0.1)).tool.kind == "offset"


def test_two_rounds_are_asked_for_their_step_or_for_the_material_between_them() -> None:
    assert dimensioning((26, 20.1), (29, 20.1)).tool.kind == "offset"
    draft = Draft(plate())
    draft.circle((50, 60), 4.0)
    board = Board(draft.done())
    board.use("dimension")
    press(board, 29, 20.1)
    press(board, 54, 60.1)
    assert board.tool.kind == "web"
    board.move(Pointer(20, 55))
    assert board.preview.dims[0].text == "37"  # centers 50 apart, radii 9 and 4
    assert board.key("w")
    assert board.tool.kind == "offset"


def test_what_follows_from_others_becomes_a_reference_dimension() -> None:
    board = dimensioning((11, 0.2), (20, -12))
    board.use("dimension")
    press(board, 0, 0)
    press(board, 40, 0)
    press(board, 20, 12.5)
    first, second = board.part.bindings.values()
    assert first.drives
    assert not second.drives
    assert "reference" in board.bench.message.text
    assert board.bench.derived.dimensions(0.1)[1].text == "(40)"


def test_escape_begins_again() -> None:
    board = dimensioning((11, 0.2))
    board.key("escape")
    assert board.tool.kind == ""
    assert board.tool.name == "dimension"


def one_dimension(kind: str, *of: str, part: Part | None = None, px: float = 0.1):
    draft = Draft(part or plate())
    draft.bind(kind, of, "10")
    return lay_out_on_desk(draft.done(), SolveReport(), px).lines[-1]


@pytest.mark.parametrize(("kind", "of", "arrows"), [
    ("distance", ("e2",), 2), ("distance", ("p1", "p3"), 2), ("run", ("p1", "p3"), 2),
    ("rise", ("p1", "p3"), 2), ("offset", ("e1", "e3"), 2), ("offset", ("e1", "p6"), 2),
    ("offset", ("h1", "h2"), 2), ("radius", ("h1",), 1), ("diameter", ("h1",), 1),
    ("angle", ("e1", "e2"), 2), ("angle", ("e2",), 2),
])
def test_each_form_has_lines_arrows_and_a_readable_text(kind, of, arrows: int) -> None:
    dim = one_dimension(kind, *of)
    assert len(dim.arrows) == arrows
    assert dim.curves
    assert -pi / 2 < dim.turn <= pi / 2 + 1e-9
    for arrow in dim.arrows:
        assert hypot(*arrow.direction) == pytest.approx(1.0)


def test_run_and_rise_measure_along_level_and_plumb() -> None:
    run, rise = one_dimension("run", "p1", "p3"), one_dimension("rise", "p1", "p3")
    tips = [arrow.tip for arrow in run.arrows]
    assert tips[0][1] == pytest.approx(tips[1][1])
    assert sorted(tip[0] for tip in tips) == pytest.approx([0, 60])
    assert sorted(arrow.tip[1] for arrow in rise.arrows) == pytest.approx([0, 30])


def test_an_offset_stands_square_to_its_line() -> None:
    dim = one_dimension("offset", "e2", "p1")
    (ax, ay), (bx, by) = (arrow.tip for arrow in dim.arrows)
    assert (bx - ax) * 20 + (by - ay) * 30 == pytest.approx(0.0, abs=1e-9)
    # Distance of the origin from the line through (40, 0) and (60, 30): 1200 / sqrt(1300).
    assert hypot(bx - ax, by - ay) == pytest.approx(1200 / 1300**0.5)


def test_dimensions_over_the_same_span_stand_in_rows() -> None:
    draft = Draft(plate())
    draft.bind("run", ("p1", "p2"), "40")
    draft.bind("run", ("p1", "p3"), "60")
    first, second = lay_out_on_desk(draft.done(), SolveReport(), 0.1).lines
    # A row of the sheet is 2.3 letters: 19.7 pixels of 0.1 where capitals are 8.6 pixels high.
    assert abs(first.anchor[1] - second.anchor[1]) == pytest.approx(2.3 * 0.66 * 13 * 0.1)


def test_a_row_scales_with_the_zoom() -> None:
    near, far = one_dimension("distance", "e1", px=0.1), one_dimension("distance", "e1", px=0.2)
    assert far.anchor[1] == pytest.approx(2.0 * near.anchor[1])


def test_texts_of_concentric_rounds_do_not_cover_each_other() -> None:
    draft = Draft(Part())
    center = draft.point((0, 0))
    for radius in (40.0, 42.0):
        arc = draft.arc((radius, 0), (0, radius), center)
        draft.bind("radius", (arc,), str(radius), drives=False)
    one, other = lay_out_on_desk(draft.done(), SolveReport(), 0.2).lines
    (ax, ay), (bx, by) = one.anchor, other.anchor
    # A letter is some 8 pixels wide and a line 18 high: 5 letters at 0.2 units a pixel.
    assert abs(ax - bx) >= 8.0 or abs(ay - by) >= 3.6


def test_rises_of_a_mirrored_half_stand_on_its_own_side() -> None:
    draft = Draft(Part())
    draft.line((0, 0), (0, 40), "axis")
    draft.line((10, 0), (10, 30))
    draft.line("p4", (0, 30))
    draft.bind("rise", ("p3", "p5"), "30")
    draft.set_mirrors((Mirror("x1"),))
    (rise,) = lay_out_on_desk(draft.done(), SolveReport(), 0.1).lines
    assert rise.anchor[0] > 10.0


def test_a_hole_and_an_edge_are_measured_by_the_center() -> None:
    for places in (((20, 14), (11, 0.2)), ((11, 0.2), (20, 14))):
        board = dimensioning(*places, (-12, 10))  # the hole of 6 about (20, 20), the edge on y = 0
        (binding,) = board.part.bindings.values()
        assert (binding.kind, binding.value) == ("offset", "20")
        assert set(binding.of) == {"e1", board.part.curves["h1"].center}


def test_a_typed_value_that_contradicts_is_no_reference_but_a_clash() -> None:
    draft = Draft(Part())
    corners = [draft.point(at) for at in ((0, 0), (80, 0), (80, 50), (0, 50))]
    sides = [draft.line(a, b) for a, b in zip(corners, corners[1:] + corners[:1], strict=True)]
    for side, kind in zip(sides, ("level", "plumb", "level", "plumb"), strict=True):
        draft.bind(kind, (side,))
    draft.bind("fixed", (corners[0],))
    draft.bind("distance", (sides[0],), "80")
    board = Board(draft.done())
    board.use("dimension")
    press(board, 30, 50)
    assert board.typing.hold("distance", "81")
    press(board, 30, 62)
    (name,) = board.part.bindings.keys() - draft.bindings.keys()
    assert board.part.bindings[name].drives
    assert [name in clash for clash in board.report.clashes] == [True]
