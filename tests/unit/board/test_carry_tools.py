"""Move, copy, rotate, reflect and the hole patterns by events, with mirror, patterns and undo."""

from __future__ import annotations

import pytest
import sympy

from sketcher.board.steps.solver_cache import default_solver
from sketcher.geometry.curves import Circle
from sketcher.part.value import GridPattern, Part, PolarPattern
from sketcher.part.whole import half, whole
from tests.shaped import Hands, wing


def center(part: Part, name: str) -> tuple[float, float]:
    return part.points[part.curves[name].points[-1]]


def places(part: Part, source: str) -> list[tuple[float, float]]:
    return sorted((round(p.curve.center[0], 9), round(p.curve.center[1], 9))
                  for p in whole(part) if p.source == source and isinstance(p.curve, Circle))


def test_moving_by_two_places_and_back() -> None:
    hands = Hands(wing())
    before = hands.part
    hands.use("move", "h1")
    hands.press(30, 10)
    hands.move(34, 13)
    moods = [ghost.mood for ghost in hands.board.preview.curves]
    assert moods.count("leaves") == 8  # four instances and their reflections
    assert moods.count("new") == 1
    hands.press(34, 13, "ctrl")
    assert center(hands.part, "h1") == (34, 13)
    assert hands.board.tool.name == "pick"
    assert hands.board.report.state == "loose"
    assert "dropped" in hands.board.bench.message.text
    hands.board.bench.undo()
    assert hands.part is before


def test_moving_by_typed_run_and_rise() -> None:
    hands = Hands(wing())
    hands.use("move", "h1")
    hands.move(50, 20)
    hands.type("2*3", "run")
    hands.type("-4", "rise")
    hands.board.key("enter")
    assert center(hands.part, "h1") == pytest.approx((36, 6), abs=1e-12)


def test_copies_are_dimensioned_by_what_was_typed() -> None:
    hands = Hands(wing(repeated=False))
    hands.use("copy", "h1")
    hands.move(50, 20)
    hands.type("12", "run")
    hands.type("5", "rise")
    hands.board.key("enter")
    (name,) = hands.part.curves.keys() - wing().curves.keys()
    assert center(hands.part, name) == pytest.approx((42, 15), abs=1e-9)
    added = [b for n, b in hands.part.bindings.items() if n not in wing().bindings]
    assert sorted((b.kind, b.value) for b in added) == [
        ("diameter", "4"), ("rise", "5"), ("run", "12")]
    report = default_solver(hands.part).report
    assert (report.state, report.doubled) == ("bound", ())
    assert len(places(hands.part, name)) == 2  # the reflection has it too
    hands.board.bench.undo()
    assert hands.part.curves.keys() == wing().curves.keys()


def test_copying_goes_on_place_by_place() -> None:
    hands = Hands(wing(repeated=False))
    hands.use("copy", "h1")
    hands.press(30, 10)
    hands.press(38, 10, "ctrl")
    hands.press(30, 10)
    hands.press(46, 12, "ctrl")
    made = hands.part.curves.keys() - wing().curves.keys()
    assert sorted(center(hands.part, n) for n in made) == [(38, 10), (46, 12)]
    hands.use("copy", "h1")
    hands.press(30, 10)
    hands.press(30, 10, "ctrl")
    assert len(hands.part.curves.keys() - wing().curves.keys()) == 2


def test_what_is_carried_can_be_chosen_with_the_tool() -> None:
    hands = Hands(wing())
    hands.use("move")
    assert "Enter" in hands.board.prompt
    hands.press(32, 10)
    hands.press(20, 0)
    assert hands.board.preview.lit == ("h1", "e1")
    hands.press(20, 0)
    hands.board.key("enter")
    hands.move(0, 0)
    hands.type("1", "rise")
    hands.press(30, 11, "ctrl")
    assert center(hands.part, "h1") == pytest.approx((30, 11))


def test_rotating_about_a_place_against_sympy() -> None:
    hands = Hands(wing())
    before = hands.part
    hands.use("rotate", "h1")
    hands.press(20, 30)
    hands.type("37")
    turn = sympy.rad(37)
    x, y = 20 + 10 * sympy.cos(turn) + 20 * sympy.sin(turn), \
        30 + 10 * sympy.sin(turn) - 20 * sympy.cos(turn)
    assert center(hands.part, "h1") == pytest.approx((float(x), float(y)), abs=1e-12)
    hands.board.bench.undo()
    assert hands.part is before


def test_rotating_by_the_pointer_takes_whole_degrees() -> None:
    hands = Hands(wing(repeated=False))
    hands.use("rotate", "h1")
    hands.press(0, 0, "ctrl")
    hands.move(-9.87, 10.1)
    (row,) = hands.board.tool.rows()
    assert row.value == 134
    hands.press(0.01, 9, "ctrl")
    assert center(hands.part, "h1") == pytest.approx((-10, 30), abs=1e-12)


def test_rotating_about_the_zero_when_an_angle_is_typed_at_once() -> None:
    hands = Hands(wing(repeated=False))
    hands.use("rotate", "h1")
    hands.type("-90")
    assert center(hands.part, "h1") == pytest.approx((10, -30), abs=1e-12)


def test_reflecting_adds_bound_images_or_changes_sides() -> None:
    hands = Hands(wing(mirrored=False, repeated=False))
    before = hands.part
    hands.use("reflect", "h1", "e2")
    hands.move(0.1, 50)
    assert sum(ghost.mood == "new" for ghost in hands.board.preview.curves) == 2
    hands.press(0, 50)
    made = hands.part.curves.keys() - before.curves.keys()
    assert len(made) == 2
    assert {n for n in made if hands.part.curves[n].kind == "circle"}
    circle = next(n for n in made if hands.part.curves[n].kind == "circle")
    assert center(hands.part, circle) == pytest.approx((-30, 10), abs=1e-12)
    report = default_solver(hands.part).report
    assert (report.state, report.doubled) == ("bound", ())
    hands.board.bench.undo()
    hands.use("reflect", "h1")
    hands.board.key("w")
    assert "dropped" in hands.board.prompt
    hands.press(0, 50)
    assert center(hands.part, "h1") == pytest.approx((-30, 10), abs=1e-12)
    assert len(hands.part.curves) == len(before.curves)


def test_reflecting_chooses_first_and_says_what_is_missing() -> None:
    hands = Hands(wing(mirrored=False))
    hands.use("reflect")
    hands.press(200, 200)
    assert "Nothing is there" in hands.board.bench.message.text
    hands.press(60, 15)
    hands.board.key("enter")
    hands.press(200, 200)
    assert "No line" in hands.board.bench.message.text
    hands.board.key("escape")
    assert "Enter" in hands.board.prompt


def test_a_grid_by_typing_and_by_pointing() -> None:
    hands = Hands(wing(repeated=False))
    hands.use("rows", "h1")
    hands.type("7", "step")
    hands.type("4", "row step")
    hands.type("3", "columns")
    hands.type("2", "rows")
    assert "3 by 2" in hands.board.prompt
    hands.move(0, 0)
    assert sum(ghost.mood == "new" for ghost in hands.board.preview.curves) == 0
    assert sum(ghost.mood == "image" for ghost in hands.board.preview.curves) == 10
    hands.board.key("enter")
    assert hands.part.patterns == {"g1": GridPattern(("h1",), ("7", "4"), (3, 2))}
    right = [(30.0 + 7 * i, 10.0 + 4 * j) for i in range(3) for j in range(2)]
    assert places(hands.part, "h1") == sorted(right + [(-x, y) for x, y in right])
    assert hands.board.tool.name == "pick"
    hands.board.bench.undo()
    assert not hands.part.patterns
    other = Hands(wing(repeated=False))
    other.use("rows", "h1")
    other.press(39.0000001, 10)
    assert other.part.patterns["g1"] == GridPattern(("h1",), ("9", "0"), (2, 1))


def test_holes_around_a_point() -> None:
    hands = Hands(wing(mirrored=False, repeated=False))
    hands.use("bolt circle")
    hands.press(32, 10)
    hands.board.key("enter")
    hands.move(40, 15)
    assert hands.board.prompt.startswith("Press the center of the bolt circle.")
    hands.press(40, 15)
    assert "around p6, the center" in hands.board.prompt
    assert "Enter makes it" in hands.board.prompt
    hands.type("4", "places")
    hands.board.key("enter")
    assert hands.part.patterns == {"r1": PolarPattern(("h1",), "p6", 4, "360")}
    assert places(hands.part, "h1") == [(30, 10), (35, 25), (45, 5), (50, 20)]


@pytest.mark.parametrize("at", [(30.2, 10.0), (32.0, 10.0)])
def test_a_hole_is_never_set_around_its_own_center(at: tuple[float, float]) -> None:
    hands = Hands(wing(mirrored=False, repeated=False))
    hands.use("bolt circle")
    hands.move(*at)
    assert "h1" in hands.board.preview.lit
    hands.press(*at)  # at its center, or at its edge
    hands.board.key("enter")
    hands.move(30.1, 10.1)
    assert hands.board.prompt.startswith("Press the center of the bolt circle.")
    assert not hands.board.preview.curves
    hands.press(30.1, 10.1)
    hands.board.key("enter")
    assert not hands.part.patterns
    hands.move(40, 15)
    hands.board.key("enter")  # takes the center that the pointer is on
    assert "around p6, the center" in hands.board.prompt
    assert not hands.part.patterns
    hands.board.key("enter")
    assert hands.part.patterns == {"r1": PolarPattern(("h1",), "p6", 6, "360")}


def test_a_center_that_was_selected_with_its_own_hole_is_not_taken() -> None:
    hands = Hands(wing(mirrored=False, repeated=False))
    (center,) = hands.part.curves["h1"].points
    hands.use("bolt circle", "h1", center)
    assert hands.board.prompt.startswith("Press the center of the bolt circle.")


def test_curves_about_the_center_go_round_it_unless_they_are_circles() -> None:
    hands = Hands(wing(mirrored=False, repeated=False))
    hands.use("bolt circle", "a1")
    hands.press(40, 15)  # the center of the arc: a curved slot goes round the center of its path
    hands.board.key("enter")
    assert hands.part.patterns["r1"].center == "p6"


def test_rows_show_no_step_while_the_pointer_is_on_the_hole() -> None:
    hands = Hands(wing(repeated=False))
    hands.use("rows")
    hands.press(30.1, 10.2)  # its center chooses the hole
    hands.board.key("enter")
    hands.move(30.4, 10.3)
    assert hands.board.prompt.startswith("Press where the next hole would be")
    hands.board.key("enter")
    hands.press(30.4, 10.3)
    assert not hands.part.patterns
    hands.press(38, 10)
    assert hands.part.patterns["g1"] == GridPattern(("h1",), ("8", "0"), (2, 1))


def test_a_hole_circle_over_a_part_of_the_turn_against_sympy() -> None:
    hands = Hands(wing(mirrored=False, repeated=False))
    hands.use("bolt circle", "h1", "p6")
    hands.type("3", "places")
    hands.type("90", "span")
    hands.board.key("enter")
    expected = []
    for k in range(3):
        turn = sympy.pi / 4 * k
        dx, dy = -10, -5
        expected.append((float(40 + dx * sympy.cos(turn) - dy * sympy.sin(turn)),
                         float(15 + dx * sympy.sin(turn) + dy * sympy.cos(turn))))
    assert places(hands.part, "h1") == [pytest.approx(p, abs=1e-9) for p in sorted(expected)]


def test_counts_must_be_whole_and_are_told() -> None:
    hands = Hands(wing(repeated=False))
    hands.use("rows", "h1")
    hands.type("2.5", "columns")
    assert hands.board.bench.message.severity == "error"
    assert hands.board.bench.message.place == "readout.columns"
    hands.board.key("escape")
    assert half(hands.part) == half(wing(repeated=False))
