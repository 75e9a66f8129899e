"""The dimension tool after the place of the text was taken, and across an axis."""

from __future__ import annotations

import pytest

from sketcher.board.board import Board
from sketcher.part.edits.draft import Draft
from sketcher.part.kinds import measure
from sketcher.part.value import GridPattern, Mirror, Part
from tests.hands import BoardHands


def slope() -> Part:
    """One line whose length is the root of 44² + 5.84², with many decimals."""
    draft = Draft(Part())
    draft.line((0, 0), (44, 5.84))
    draft.bind("fixed", ("p1",))
    return draft.done()


def dimensioning(part: Part) -> BoardHands:
    hands = BoardHands(Board(part), 0.8)
    hands.tool("dimension")
    return hands


def only(board: Board, kind: str) -> tuple[str, str | None]:
    (found,) = [(n, b.value) for n, b in board.part.bindings.items() if b.kind == kind]
    return found


def test_a_pressed_dimension_is_rounded_and_takes_the_digits_typed_next() -> None:
    hands = dimensioning(slope())
    before = hands.board.part
    hands.click((11, 1.46), (20, -12))
    name, value = only(hands.board, "distance")
    assert value == "44.386"  # 44.38588..., three decimals
    assert hands.board.prompt == (f"{name} is 44.386: type another value for it, or press what "
                                  "comes next. Digits: Distance.")
    hands.type("44\n")
    assert only(hands.board, "distance") == (name, "44")
    assert hands.board.bench.message.text == f"{name} is 44."
    assert hands.board.part.drawing.placed[name] == (20, -12)
    hands.type("45\n")
    assert only(hands.board, "distance") == (name, "45")
    assert hands.board.bench.undo()
    assert hands.board.part is before


def test_the_next_press_is_for_the_next_dimension() -> None:
    hands = dimensioning(slope())
    hands.click((11, 1.46), (20, -12))
    hands.type("50")
    hands.click((11.0, 1.46))  # 50 is taken for the first, then the line is chosen again
    assert only(hands.board, "distance")[1] == "50"
    assert hands.board.tool.just_made is None
    assert hands.board.tool.kind == "distance"


def test_the_decimals_are_those_of_the_settings() -> None:
    hands = dimensioning(slope())
    assert hands.board.bench.set_setting("mm_places", 1)
    hands.click((11, 1.46), (20, -12))
    assert only(hands.board, "distance")[1] == "44.4"


def test_what_follows_from_others_stays_exact_and_a_reference() -> None:
    draft = Draft(slope())
    draft.bind("run", ("p1", "p2"), "44")
    draft.bind("rise", ("p1", "p2"), "5.84")
    hands = dimensioning(draft.done())
    hands.click((11, 1.46), (20, -12))
    name, value = only(hands.board, "distance")
    assert not hands.board.part.bindings[name].drives
    assert value is None  # it says what it measures
    assert measure(hands.board.part, hands.board.part.bindings[name]) == pytest.approx(
        (44**2 + 5.84**2)**0.5, abs=1e-9)
    assert (hands.board.report.clashes, hands.board.report.doubled) == ((), ())


def mirrored() -> Part:
    """Half of a plate about a plumb axis: a level edge, a plumb one at 55, a sloped one."""
    draft = Draft(Part())
    draft.line((0, 0), (0, 80), "axis")  # p1 p2, x1
    draft.line((0, 0), (55, 0))  # e1 from p3
    draft.line("p4", (55, 40))  # e2
    draft.line("p5", (20, 70))  # e3
    draft.line("p6", (0, 70))  # e4
    draft.circle((30, 20), 4.0)  # h1
    draft.bind("plumb", ("x1",))
    draft.bind("fixed", ("p1",))
    draft.bind("plumb", ("e2",))
    draft.set_mirrors((Mirror("x1"),))
    return draft.done()


@pytest.mark.parametrize(("first", "image", "operands"), [
    ((55, 15), (-55, 15), {"x1", "e2"}), ((55, 40), (-55, 40), {"x1", "p5"}),
    ((-55, 15), (55, 15), {"x1", "e2"}),
])
def test_something_and_its_reflection_are_the_whole_size(
    first: tuple[float, float], image: tuple[float, float], operands: set[str]
) -> None:
    hands = dimensioning(mirrored())
    hands.click(first, image)
    assert hands.board.tool.rows()[0].label == "Across"
    assert hands.board.tool.rows()[0].value == pytest.approx(110.0)
    hands.point((5, -15))
    assert hands.board.preview.dims[0].text == "110"
    tips = sorted(arrow.tip[0] for arrow in hands.board.preview.dims[0].arrows)
    assert tips == pytest.approx([-55, 55])
    hands.type("120\t")
    assert hands.board.preview.dims[0].text == "120"
    hands.click((5, -15))
    (made,) = [b for b in hands.board.part.bindings.values() if b.kind == "offset"]
    assert (set(made.of), made.value, made.drives) == (operands, "120/2", True)
    assert hands.board.part.points["p5"][0] == pytest.approx(60.0)
    assert not hands.board.report.doubled
    assert "holds half of 120" in hands.board.bench.message.text
    hands.type("100\n")  # and it still takes another whole value
    assert hands.board.part.points["p5"][0] == pytest.approx(50.0)


def test_holes_are_measured_from_center_to_center() -> None:
    hands = dimensioning(mirrored())
    hands.click((34, 20), (-34, 20), (0, 30))
    (made,) = [b for b in hands.board.part.bindings.values() if b.kind == "offset"]
    center = hands.board.part.curves["h1"].center
    assert (set(made.of), made.value) == ({"x1", center}, "60/2")


def test_two_slopes_open_by_twice_the_angle_to_the_axis() -> None:
    hands = dimensioning(mirrored())
    hands.click((40, 53), (-40, 53))
    (row,) = hands.board.tool.rows()
    assert row.name == "angle"
    hands.type("90\n")
    (made,) = [b for b in hands.board.part.bindings.values() if b.kind == "angle"]
    assert made.value == "90/2"
    (ax, ay), (bx, by) = (hands.board.part.points[p] for p in ("p5", "p6"))
    assert abs(bx - ax) == pytest.approx(abs(by - ay))  # 45 degrees to the axis


def test_a_curve_of_the_reflection_stands_for_the_drawn_one_where_it_measures_the_same() -> None:
    hands = dimensioning(mirrored())
    hands.click((-26, 20))  # the hole's reflection, alone: its size is that of the hole
    assert hands.board.tool.kind == "diameter"
    hands.type("9\n")
    (made,) = [b for b in hands.board.part.bindings.values() if b.kind == "diameter"]
    assert made.of == ("h1",)


def test_an_edge_that_runs_through_the_axis_has_its_whole_length() -> None:
    hands = dimensioning(mirrored())
    hands.click((20, 0), (-20, 0))
    assert hands.board.tool.rows()[0].value == pytest.approx(110.0)
    hands.type("120\n")
    assert only(hands.board, "distance")[1] == "120/2"
    assert hands.board.part.points["p4"][0] - hands.board.part.points["p3"][0] == \
        pytest.approx(60.0)


def test_another_image_is_refused_with_both_values() -> None:
    hands = dimensioning(mirrored())
    before = hands.board.part
    hands.click((30, 20), (-55, 15))  # the center, then the reflected edge: 85, and 25 as drawn
    assert hands.board.part is before
    assert "85" in hands.board.bench.message.text
    assert "25" in hands.board.bench.message.text
    assert hands.board.tool.kind == ""  # the center is still chosen
    hands.click((55, 15))
    assert hands.board.tool.kind == "offset"


@pytest.mark.parametrize("first", [(20, 0), (-20, 0)])
def test_what_is_the_same_there_takes_the_drawn_ones(first: tuple[float, float]) -> None:
    hands = dimensioning(mirrored())
    hands.click(first, (-40, 53), (30, 10))
    (made,) = [b for b in hands.board.part.bindings.values() if b.kind == "angle"]
    assert set(made.of) == {"e1", "e3"}


def test_a_repeat_of_itself_is_told() -> None:
    draft = Draft(mirrored())
    draft.pattern(GridPattern(("h1",), ("0", "15"), (1, 2)))
    hands = dimensioning(draft.done())
    before = hands.board.part
    hands.click((34, 20), (34, 35))
    assert "a number of the pattern" in hands.board.bench.message.text
    assert hands.board.part is before


def test_what_has_no_whole_size_is_told() -> None:
    draft = Draft(mirrored())
    draft.line((20, 30), (40, 30))  # square to the axis, and not up to it
    hands = dimensioning(draft.done())
    before = hands.board.part
    hands.click((25, 30), (-25, 30))
    assert "no whole size" in hands.board.bench.message.text
    assert hands.board.part is before
