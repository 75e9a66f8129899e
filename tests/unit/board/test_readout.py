"""The readout: what is drawn, selected or pointed at, typed values, units."""

from __future__ import annotations

from math import hypot, pi

import pytest

from sketcher.board.board import Board
from sketcher.board.places.pending_bindings import read_typed, typed_tie
from sketcher.board.preview import Pointer
from sketcher.board.readout.readout_content import many_items, one_item, two_items
from sketcher.errors import QuantityError
from sketcher.part.edits.draft import Draft
from sketcher.part.value import Part, Unit


def shapes() -> Part:
    draft = Draft(Part())
    draft.line((0, 0), (30, 40))  # e1: 3-4-5
    draft.line((0, 10), (30, 50))  # e2 parallel to e1, 6 away
    draft.circle((60, 0), 10.0)  # h1
    draft.circle((90, 0), 15.0)  # h2
    draft.arc((0, -20), (-20, -40), (-20, -20), "cw")  # a1, a quarter
    return draft.done()


def values(*ids: str) -> dict[str, float]:
    part = shapes()
    if len(ids) == 1:
        return one_item(part, ids[0], (0.0, 0.0))
    return two_items(part, *ids) if len(ids) == 2 else many_items(part, ids)


def test_one_curve() -> None:
    assert values("e1") == pytest.approx({"length": 50, "angle": 53.13010235415598, "run": 30,
                                          "rise": 40})
    assert values("h1") == pytest.approx({"radius": 10, "diameter": 20, "x": 60, "y": 0})
    arc = values("a1")
    assert arc["sweep"] == pytest.approx(90.0)
    assert arc["length"] == pytest.approx(10 * pi)


def test_two_curves() -> None:
    lines = values("e1", "e2")
    assert lines["angle"] == pytest.approx(0.0, abs=1e-6)
    assert lines["distance"] == pytest.approx(6.0)
    rounds = values("h1", "h2")
    assert rounds == pytest.approx({"distance": 30, "gap": 5, "tangency": 5})
    touch = values("e1", "h1")  # distance of (60, 0) from 4x = 3y is 48
    assert touch == pytest.approx({"distance": 48, "gap": 38, "tangency": 38})
    assert values("p1", "p2") == pytest.approx(
        {"distance": 50, "run": 30, "rise": 40, "angle": 53.13010235415598})
    assert values("p1", "h1") == pytest.approx({"distance": 60, "gap": 50})
    assert values("h1", "p1") == values("p1", "h1")
    assert values("e1", "p3")["distance"] == pytest.approx(6.0)


def test_many_curves_sum_and_close_an_area() -> None:
    draft = Draft(Part())
    p, q, r = (draft.point(at) for at in ((0, 0), (30, 0), (0, 40)))
    names = [draft.line(*ends) for ends in ((p, q), (q, r), (r, p))]
    draft.circle((8, 8), 3.0)
    part = draft.done()
    found = many_items(part, (*names, "h1"))
    assert found["sum"] == pytest.approx(30 + 40 + 50 + 6 * pi)
    assert found["area"] == pytest.approx(600 - 9 * pi)
    assert "area" not in many_items(part, (*names[:2], "h1"))


def test_rows_follow_the_selection_and_the_pointer() -> None:
    board = Board(shapes())
    board.move(Pointer(7, 3))
    assert [(r.name, r.text) for r in board.typing.rows()] == [("x", "7"), ("y", "3")]
    board.move(Pointer(15, 20))
    assert board.bench.hover == ("e1",)
    assert "length" in {r.name for r in board.typing.rows()}
    board.bench.select(("h1",))
    rows = {r.name: r for r in board.typing.rows()}
    assert rows["radius"].takes
    assert rows["radius"].unit == "mm"


def test_typing_over_a_selection_makes_or_changes_the_dimension() -> None:
    board = Board(shapes())
    board.bench.select(("h1",))
    assert board.typing.hold("radius", "12")
    assert board.part.curves["h1"].radius == pytest.approx(12.0, abs=1e-9)
    assert board.typing.hold("radius", "13")
    assert board.part.curves["h1"].radius == pytest.approx(13.0, abs=1e-9)
    assert [b.kind for b in board.part.bindings.values()] == ["radius"]
    board.bench.select(("e1",))
    assert board.typing.hold("length", "60")
    x, y = (board.part.points["p2"][i] - board.part.points["p1"][i] for i in (0, 1))
    assert hypot(x, y) == pytest.approx(60.0, abs=1e-9)
    assert board.typing.hold("angle", "90")
    assert "plumb" in {b.kind for b in board.part.bindings.values()}
    assert not board.typing.hold("area", "3")
    part = board.part
    assert not board.typing.hold("length", "banana")
    assert board.part is part


@pytest.mark.parametrize(("kind", "text", "wanted"), [
    ("run", "12", ("run", "12")), ("run", "-12", ("run", "12")), ("run", "0", ("plumb", None)),
    ("rise", "0", ("level", None)), ("rise", "-(3+4)", ("rise", "-(-(3+4))")),
    ("angle", "30", ("angle", "30")), ("angle", "-30", ("angle", "30")),
    ("angle", "0", ("level", None)), ("angle", "180", ("level", None)),
    ("angle", "270", ("plumb", None)), ("angle", "200", ("angle", "160")),
    ("angle", "390", ("angle", "30")),
])
def test_a_typed_value_becomes_a_positive_dimension(kind, text: str, wanted) -> None:
    of = ("@curve",) if kind == "angle" else ("@from", "@")
    quantity = "angle" if kind == "angle" else "length"
    tie = typed_tie(kind, of, read_typed(text, quantity, Part(), "mm", {}))
    found = (tie.kind, tie.value and tie.value.removesuffix(".0"))
    assert found == wanted
    assert tie.typed


def test_a_bare_number_is_in_the_unit_on_display() -> None:
    part = Part(unit="mm")
    typed = read_typed("1 5/8", "length", part, "in", {})
    assert typed.amount == pytest.approx(41.275)
    assert typed.text == "1 5/8 in"
    assert read_typed("10 mm", "length", part, "in", {}).amount == pytest.approx(10.0)
    assert read_typed("2", "length", Part(unit="in"), "mm", {}).amount == pytest.approx(2 / 25.4)
    with pytest.raises(QuantityError):
        read_typed("wide", "length", part, "in", {})


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_a_fraction_typed_where_millimetres_are_shown_needs_its_unit(unit: Unit) -> None:
    with pytest.raises(QuantityError):
        read_typed("9/32", "length", Part(unit=unit), "mm", {})
    typed = read_typed("9/32 in", "length", Part(unit=unit), "mm", {})
    assert typed.amount == pytest.approx(9 / 32 * (25.4 if unit == "mm" else 1.0))


def test_run_and_rise_held_together_fix_the_place() -> None:
    board = Board()
    board.use("line")
    board.press(Pointer(10, 10))
    board.move(Pointer(3, 30))  # to the left and up: that is the side
    board.typing.hold("run", "12")
    board.typing.hold("rise", "7")
    assert board.tool.spot.at == pytest.approx((-2, 17))
    board.key("enter")
    assert sorted(b.kind for b in board.part.bindings.values()) == ["rise", "run"]


def test_length_and_angle_held_together_fix_the_place() -> None:
    board = Board()
    board.use("line")
    board.press(Pointer(10, 10))
    board.typing.hold("angle", "180 - 30")
    board.typing.hold("length", "20")
    assert board.tool.spot.at == pytest.approx((10 - 20 * 3**0.5 / 2, 20))
    board.key("enter")
    kinds = {b.kind: b.value for b in board.part.bindings.values()}
    assert kinds == {"angle": "180 - 30", "distance": "20"}
    assert board.part.points["p2"] == pytest.approx((10 - 20 * 3**0.5 / 2, 20), abs=1e-9)


def test_a_value_that_has_no_place_beside_a_held_one_stands_instead_of_it() -> None:
    board = Board()
    board.use("line")
    board.press(Pointer(10, 10))
    board.typing.hold("length", "5")
    board.typing.hold("run", "30")
    assert board.bench.message.text.startswith("Run 30 stands instead of Length 5")
    board.key("enter")
    assert [(b.kind, b.value) for b in board.part.bindings.values()] == [("run", "30")]


def rows(board: Board) -> dict[str, str]:
    return {row.name: row.text for row in board.typing.rows() if row.held}


def test_a_third_value_replaces_the_one_that_it_contradicts() -> None:
    board = Board()
    board.use("line")
    board.press(Pointer(0, 0))
    board.move(Pointer(20, 30))
    board.typing.hold("x", "30")
    board.typing.hold("y", "40")
    board.typing.hold("run", "25")
    assert board.bench.message.text == "Run 25 stands instead of X 30."
    assert rows(board) == {"y": "40", "run": "25"}
    board.typing.hold("angle", "45")  # of two others the one typed first gives way
    assert board.bench.message.text == "Angle 45 stands instead of Y 40."
    assert rows(board) == {"run": "25", "angle": "45"}


def test_a_third_value_that_agrees_is_taken_and_told_and_makes_nothing_new() -> None:
    board = Board()
    board.use("line")
    board.press(Pointer(0, 0))
    board.move(Pointer(20, 30))
    board.typing.hold("x", "30")
    board.typing.hold("y", "40")
    board.typing.hold("length", "50")  # 3, 4, 5
    assert board.bench.message.text == "Length 50 follows from X 30 and Y 40."
    board.key("enter")
    assert sorted(b.kind for b in board.part.bindings.values()) == ["fixed", "rise", "run"]
    assert "Length 50 follows" in board.bench.message.text
    assert not board.report.doubled


@pytest.mark.parametrize(("first", "other", "kept"), [
    (("radius", "6"), ("diameter", "12"), ("diameter", "12")),
    (("radius", "6"), ("diameter", "13"), ("diameter", "13")),
    (("diameter", "12"), ("radius", "6"), ("radius", "6")),
])
def test_a_diameter_beside_a_radius_is_the_value_typed_last(first, other, kept) -> None:
    board = Board()
    board.use("circle")
    board.press(Pointer(0, 0))
    board.typing.hold(*first)
    board.typing.hold(*other)
    same = first[1] != "6" or other[1] == "12"
    assert "stands instead of" in board.bench.message.text
    assert ("which is the same" in board.bench.message.text) is same
    board.key("enter")
    ties = [(b.kind, b.value) for b in board.part.bindings.values()]
    assert kept in ties
    assert first not in ties


def test_x_and_y_are_dimensions_from_a_fixed_zero() -> None:
    board = Board()
    board.use("circle")
    board.typing.hold("x", "30")
    board.typing.hold("y", "-12")
    board.key("enter")
    board.typing.hold("radius", "4")
    board.key("enter")
    kinds = sorted(b.kind for b in board.part.bindings.values())
    assert kinds == ["fixed", "radius", "rise", "run"]
    assert board.report.state == "bound"
    center = board.part.points[board.part.curves["h1"].center]
    assert center == pytest.approx((30, -12), abs=1e-9)


def test_a_miss_too_small_for_the_decimals_is_not_shown_as_zero() -> None:
    draft = Draft(Part())
    draft.circle((0, 0), 10.0)
    draft.circle((25.0000002, 0), 15.0)
    board = Board(draft.done())
    board.bench.select(("h1", "h2"))
    texts = {row.name: row.text for row in board.typing.rows()}
    assert texts["gap"] == texts["tangency"] == "2.0e-07"
    board.load(shapes())
    board.bench.select(("e2", "p3"))
    assert {row.name: row.text for row in board.typing.rows()}["distance"] == "0"


def typed(board: Board, text: str) -> None:
    """Keys as they come: a tab and a line feed are the keys of that name."""
    for letter in text:
        if letter in "\t\n":
            board.key("tab" if letter == "\t" else "enter")
        elif not board.typing.type_text(letter):
            board.key(letter)


def ends(board: Board) -> list[tuple[float, float]]:
    return [board.part.points[p] for p in list(board.part.curves.values())[-1].points]


def test_each_stage_begins_in_its_first_row() -> None:
    board = Board()
    board.use("outline")
    assert board.typing.lit == "x"
    typed(board, "1\t2\n")
    assert board.typing.lit == "length"
    board.move(Pointer(20, 2, 0.5))
    board.typing.open_row("y")
    typed(board, "2\t\t\t30\n")  # rise, run, length: back at the first, and on
    assert ends(board) == [pytest.approx((1, 2), abs=1e-9), pytest.approx((31, 2), abs=1e-9)]
    assert board.typing.lit == "length"
    typed(board, "20\t90\n")
    assert ends(board)[-1] == pytest.approx((31, 22), abs=1e-9)


def test_tab_walks_the_rows_without_a_value() -> None:
    board = Board()
    board.use("line")
    typed(board, "=")
    seen = [board.typing.entry.row]
    for _ in range(2):
        typed(board, "\t")
        seen.append(board.typing.entry.row)
    assert seen == ["x", "y", "x"]
    typed(board, "\n")
    assert board.typing.entry is None


def test_an_area_is_computed_once_an_event(monkeypatch: pytest.MonkeyPatch) -> None:
    """Readout and status ask for the rows four times while a drag follows the pointer."""
    from sketcher.geometry import loops

    real, asked = loops.find_loops, []

    def counted(curves):
        asked.append(len(curves))
        return real(curves)

    monkeypatch.setattr(loops, "find_loops", counted)
    draft = Draft(Part())
    points = [draft.point(at) for at in ((0, 0), (31, 0), (31, 20), (0, 20))]
    names = [draft.line(a, b) for a, b in zip(points, (*points[1:], points[0]), strict=True)]
    part = draft.done()
    areas = [many_items(part, tuple(names))["area"] for _ in range(4)]
    assert areas == [620.0] * 4
    assert asked == [4]


def test_a_typed_x_of_a_selected_point_makes_the_zero_where_there_is_none() -> None:
    draft = Draft(Part())
    draft.line((5.0, 5.0), (25.0, 8.0))
    board = Board(draft.done())
    board.bench.select(("p2",))
    assert board.typing.hold("x", "30")
    assert board.part.points["p2"][0] == pytest.approx(30.0)
    (run,) = (b for b in board.part.bindings.values() if b.kind == "run")
    assert board.part.points[run.of[0]] == (0.0, 0.0)


def test_a_typed_x_changes_the_dimension_that_holds_it() -> None:
    draft = Draft(Part())
    zero = draft.point((0.0, 0.0))
    draft.bind("fixed", (zero,))
    hole = draft.circle((12.0, 5.0), 4.0)
    center = draft.curves[hole].center
    for kind, value in (("run", "12"), ("rise", "5")):
        draft.bind(kind, (zero, center), value)
    board = Board(draft.done())
    board.bench.select((hole,))
    assert board.typing.hold("x", "8")
    assert [b.value for b in board.part.bindings.values() if b.kind == "run"] == ["8"]
    assert board.part.points[center] == pytest.approx((8.0, 5.0))
    assert not board.report.clashes


def test_a_bound_angle_reads_as_the_drawing_says_it() -> None:
    draft = Draft(Part())
    draft.line((0, 0), (-10, 10))  # drawn at 135 degrees
    draft.bind("angle", ("e1",), "45")
    board = Board(draft.done())
    board.bench.select(("e1",))
    rows = {row.name: row.value for row in board.typing.rows()}
    assert rows["angle"] == pytest.approx(45.0)


@pytest.mark.parametrize(("kind", "said", "typed"), [
    ("distance", "40", "42.5"), ("angle", "30", "35")])
def test_digits_change_the_dimension_that_is_selected(kind: str, said: str, typed: str) -> None:
    draft = Draft(Part())
    draft.line((0, 0), (34.64, 20))
    draft.bind("fixed", ("p1",))
    draft.bind(kind, ("e1",), said)
    board = Board(draft.done())
    board.bench.select(("b2",))
    (row,) = board.typing.rows()
    assert (row.name, board.typing.lit) == (kind, kind)
    for letter in typed:
        assert board.typing.type_text(letter)
    assert board.key("enter")
    assert board.part.bindings["b2"].value == typed
    assert board.bench.selection.ids == ("b2",)
    (row,) = board.typing.rows()
    assert row.value == pytest.approx(float(typed), abs=1e-6)
