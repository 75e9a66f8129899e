"""Corner tools by events, on every pairing of line and arc, mirrored, repeated and undone.

Expected places come from sympy: the center of a fillet solves the two distances that it has from
its curves; the ends of a chamfer lie a leg away from the corner on each curve.
"""

from __future__ import annotations

import re
from math import hypot

import pytest
import sympy

from sketcher.board.steps.solver_cache import default_solver
from sketcher.geometry.curves import Arc, Line
from sketcher.geometry.evaluate import joint_angle
from sketcher.part.value import ArcCurve, Part
from sketcher.part.whole import curve_value, half, whole
from tests.refusals import is_line
from tests.shaped import CORNERS, Hands, wing

PAIRS = {"line and line": ("e1", "e2"), "line and arc": ("e2", "a1"), "two arcs": ("a1", "a2")}
x, y = sympy.symbols("x y", real=True)
HALF = sympy.Rational(1, 2)


def away(name: str, reach: sympy.Expr) -> sympy.Expr:
    """The equation of the places that are a length off a curve of the wing, on the fillet's side.

    Lines count inward; arc a1 counts inward at the corner with e2, outward in the notch.
    """
    return {
        "e1": y - reach, "e2": 60 - x - reach,
        "a1": (x - 40) ** 2 + (y - 15) ** 2 - (25 - reach) ** 2,
        "notch": (x - 40) ** 2 + (y - 15) ** 2 - (25 + reach) ** 2,
        "a2": x**2 + (y - 15) ** 2 - (25 + reach) ** 2,
    }[name]


def fillet_center(pair: str, radius: int) -> tuple[float, float]:
    one, other = PAIRS[pair] if pair != "two arcs" else ("notch", "a2")
    found = sympy.solve([away(one, radius), away(other, radius)], [x, y])
    corner = CORNERS[pair]
    best = min(found if isinstance(found, list) else [(found[x], found[y])],
               key=lambda p: hypot(float(p[0]) - corner[0], float(p[1]) - corner[1]))
    return float(best[0]), float(best[1])


def is_bound(part: Part) -> None:
    report = default_solver(part).report
    assert report.state == "bound"
    assert report.doubled == ()


def new_curve(before: Part, after: Part) -> str:
    (name,) = after.curves.keys() - before.curves.keys()
    return name


@pytest.mark.parametrize("pair", PAIRS)
@pytest.mark.parametrize("order", ["value first", "corner first", "two curves", "selected"])
def test_a_fillet_is_the_one_of_sympy_and_its_reflection_follows(pair: str, order: str) -> None:
    hands = Hands(wing())
    before = hands.part
    hands.use("fillet", *(PAIRS[pair] if order == "selected" else ()))
    if order in ("value first", "two curves"):
        hands.type("3")
    if order == "two curves":
        for name in PAIRS[pair]:
            curve = half(before)[name]
            assert isinstance(curve, Line | Arc)
            at = CORNERS[pair]
            middle = {"e1": (35, 0), "e2": (60, 15), "a1": (40, 40), "a2": (15, 35)}[name]
            hands.press(*middle)
            assert at
    elif order != "selected":
        hands.press(*CORNERS[pair])
    if order in ("corner first", "selected"):
        assert "Type the radius" in hands.board.prompt
        hands.type("3")
    name = new_curve(before, hands.part)
    arc = curve_value(hands.part, hands.part.curves[name])
    assert isinstance(arc, Arc)
    assert arc.center == pytest.approx(fillet_center(pair, 3), abs=1e-9)
    assert arc.radius == pytest.approx(3.0, abs=1e-9)
    is_bound(hands.part)
    images = {piece.id: piece.curve for piece in whole(hands.part)}
    image = images[f"{name}'"]
    assert isinstance(image, Arc)
    assert image.center == pytest.approx((-arc.center[0], arc.center[1]), abs=1e-9)
    for other in PAIRS[pair]:
        curve = half(hands.part)[other]
        end = next(p for p in (arc.start, arc.end)
                   if p in (curve.start, curve.end))  # type: ignore[union-attr]
        assert joint_angle(arc, curve, end) < 1e-9
    assert "radius 3" in hands.board.bench.message.text
    hands.board.bench.undo()
    assert hands.part is before


@pytest.mark.parametrize("pair", PAIRS)
def test_a_chamfer_has_its_legs_from_the_lost_corner(pair: str) -> None:
    hands = Hands(wing())
    before = hands.part
    hands.use("chamfer")
    hands.type("4")
    hands.type("2.5", "other leg")
    hands.press(*CORNERS[pair])
    name = new_curve(before, hands.part)
    line = curve_value(hands.part, hands.part.curves[name])
    assert isinstance(line, Line)
    legs = []
    for end in (line.start, line.end):
        u, v = (sympy.nsimplify(c) for c in CORNERS[pair])
        legs.append(float(sympy.sqrt((sympy.Float(end[0], 30) - u) ** 2
                                     + (sympy.Float(end[1], 30) - v) ** 2)))
    assert legs == pytest.approx([4.0, 2.5], abs=1e-9)
    is_bound(hands.part)
    assert f"{name}'" in {piece.id for piece in whole(hands.part)}
    hands.board.bench.undo()
    assert hands.part is before


def test_the_chamfer_waits_for_both_legs_and_enter() -> None:
    hands = Hands(wing())
    hands.use("chamfer", "e1", "e2")
    assert "Type the leg on e1" in hands.board.prompt
    hands.type("4", "leg")
    assert len(hands.part.curves) == 6
    hands.type("2", "other leg")
    assert "Enter cuts" in hands.board.prompt
    assert {ghost.mood for ghost in hands.board.preview.curves} == {"leaves", "new", "image"}
    hands.board.key("enter")
    assert len(hands.part.curves) == 7
    hands.use("chamfer")
    assert hands.board.tool.rows()[1].held
    hands.board.key("backspace")
    assert not hands.board.tool.rows()[1].held


def test_the_preview_is_what_the_press_makes() -> None:
    hands = Hands(wing())
    hands.use("fillet")
    hands.type("5")
    hands.move(60.2, 0.1)
    shown = [ghost.curve for ghost in hands.board.preview.curves if ghost.mood == "new"]
    assert hands.board.preview.lit == ("e1", "e2")
    hands.press(60.2, 0.1)
    assert set(shown) <= set(half(hands.part).values())
    assert sum(isinstance(curve, Arc) for curve in shown) == 1


def test_what_does_not_fit_is_said_beside_the_pointer_and_changes_nothing() -> None:
    hands = Hands(wing())
    before = hands.part
    hands.use("fillet")
    hands.type("500")
    hands.move(60, 30)
    (word,) = hands.board.preview.words
    assert is_line(word.text)
    hands.press(60, 30)
    assert hands.part is before
    assert hands.board.bench.message.severity == "error"
    hands.board.key("escape")  # the radius, then the corner
    hands.board.key("escape")
    hands.press(200, 200)
    assert hands.board.bench.message.severity == "note"
    assert hands.part is before


def test_the_radius_stays_for_the_next_corner_and_the_next_time() -> None:
    hands = Hands(wing())
    hands.use("fillet")
    hands.type("2")
    hands.press(60, 0)
    hands.press(60, 30)
    hands.board.use("pick")
    hands.use("fillet")
    hands.press(20, 30)
    arcs = [c for c in half(hands.part).values() if isinstance(c, Arc)]
    assert sorted(round(arc.radius, 9) for arc in arcs) == [2, 2, 2, 25, 25]
    is_bound(hands.part)
    hands.board.load(wing())
    hands.use("fillet")
    assert not hands.board.tool.rows()[0].held  # another part may be in another unit


def test_a_dimension_to_the_lost_corner_still_drives() -> None:
    hands = Hands(wing())
    hands.use("fillet")
    hands.type("3")
    hands.press(60, 0)
    length = next(n for n, b in hands.part.bindings.items()
                  if b.kind == "distance" and b.value == "60")
    from sketcher.board.ledger.ledger_edits import set_cell

    assert set_cell(hands.board.bench, length, "value", "70") == ""
    arc = next(c for c in half(hands.part).values() if isinstance(c, Arc) and c.radius < 20)
    assert arc.center == pytest.approx((67, 3), abs=1e-9)


def test_dropped_bindings_are_named_in_the_status_line() -> None:
    hands = Hands(wing())
    hands.board.bench.select(("e1", "a1"))
    hands.use("move", "e2")
    hands.type("5", "run")
    hands.board.key("enter")
    assert "dropped" in hands.board.bench.message.text
    gone = [n for n in wing().bindings if n not in hands.part.bindings]
    assert gone
    kinds = wing().bindings
    assert all(f"{n} ({kinds[n].kind})" in hands.board.bench.message.text for n in gone)


@pytest.mark.parametrize(
    ("curves", "keep", "expected"),
    [
        # Two lines that cross, then stop short; a line and an arc; two arcs of radius 5.
        ((((0, 0), (10, 0)), ((4, -5), (4, 5))), ((1, 0), (4, 4)), (4, 0)),
        ((((0, 0), (10, 0)), ((14, 3), (14, 9))), ((1, 0), (14, 8)), (14, 0)),
        ((((-9, 3), (6, 3)), ((5, 0), (0, -5), (0, 0))), ((-8, 3), (3, 4)), (4, 3)),
        ((((5, 0), (0, -5), (0, 0)), ((6, 5), (6, -5), (6, 0))), ((0, 5), (2, 3)), (3, 4)),
    ],
)
def test_a_sharp_corner_keeps_the_side_that_was_pressed(curves, keep, expected) -> None:
    from sketcher.part.edits.draft import Draft

    draft = Draft(Part())
    for curve in curves:
        if len(curve) == 2:
            draft.line(*curve)
        else:
            draft.arc(*curve)
    hands = Hands(draft.done())
    before = hands.part
    hands.use("corner")
    hands.press(*keep[0])
    hands.press(*keep[1])
    one, other = hands.part.curves.values()
    (shared,) = set(one.points[:2]) & set(other.points[:2])
    assert hands.part.points[shared] == pytest.approx(expected, abs=1e-12)
    hands.board.bench.undo()
    assert hands.part is before


def test_split_and_join_come_back_through_the_board() -> None:
    for at, name in (((30, 0), "e1"), ((60, 15), "e2"), ((40, 40), "a1")):
        hands = Hands(wing())
        before = half(hands.part)
        hands.use("split")
        hands.press(*at)
        assert len(hands.part.curves) == 7
        new = new_curve(wing(), hands.part)
        value = hands.part.curves[new]
        (shared,) = set(value.points[:2]) & set(hands.part.curves[name].points[:2])
        assert hands.part.points[shared] == pytest.approx(at, abs=1e-9)
        if isinstance(value, ArcCurve):
            assert value.center == hands.part.curves[name].points[2]
        hands.use("join")
        hands.press(*at)
        assert half(hands.part).keys() == before.keys()
        assert half(hands.part)[name] == before[name]


def test_splitting_at_the_middle_binds_it_there() -> None:
    hands = Hands(wing())
    hands.use("split")
    hands.move(30.3, 0.1)
    assert "midpoint" in hands.board.preview.words[0].text
    hands.press(30.3, 0.1)
    is_bound(hands.part)
    length = next(n for n, b in hands.part.bindings.items() if b.value == "60"
                  and b.kind == "distance")
    from sketcher.board.ledger.ledger_edits import set_cell

    assert set_cell(hands.board.bench, length, "value", "80") == ""
    assert (40.0, 0.0) in [pytest.approx(at) for at in hands.part.points.values()]


def test_a_circle_splits_at_two_places() -> None:
    hands = Hands(wing(repeated=False))
    hands.use("split")
    hands.press(32, 10)
    assert "second place" in hands.board.prompt
    hands.press(30, 12)
    new = new_curve(wing(), hands.part)
    assert isinstance(curve_value(hands.part, hands.part.curves[new]), Arc)
    assert isinstance(hands.part.curves["h1"], ArcCurve)


def test_cut_back_and_extend_by_pressing_the_span() -> None:
    from sketcher.part.edits.draft import Draft

    draft = Draft(Part())
    draft.line((0, 0), (20, 0), name="base")
    draft.line((5, -4), (5, 8), name="post")
    draft.arc((20, 6), (14, 12), (14, 6), name="round")
    draft.line((0, 9), (3, 9), name="short")
    hands = Hands(draft.done())
    before = hands.part
    hands.use("cut back")
    hands.move(5, -3)
    moods = [ghost.mood for ghost in hands.board.preview.curves]
    assert moods == ["leaves", "new"]
    hands.press(5, -3)
    # Nothing is left under the pointer, and that is no trouble to tell.
    message = hands.board.bench.message
    assert (message.severity, message.text.lower()) == ("done", "cut post back")
    assert half(hands.part)["post"] == Line((5, 0), (5, 8))
    hands.use("extend")
    hands.press(0.5, 9)
    message = hands.board.bench.message
    assert (message.severity, message.place) == ("error", "short")
    hands.press(2.8, 9)
    assert half(hands.part)["short"].end == pytest.approx(  # type: ignore[union-attr]
        (14 + float(sympy.sqrt(27)), 9), abs=1e-12)
    hands.press(200, 200)
    assert hands.board.bench.message.severity == "note"
    hands.board.bench.undo()
    hands.board.bench.undo()
    assert hands.part is before


def test_selected_curves_are_the_only_edges() -> None:
    from sketcher.part.edits.draft import Draft

    draft = Draft(Part())
    draft.line((0, 0), (20, 0), name="base")
    for k, at in enumerate((4, 8, 12)):
        draft.line((at, -5), (at, 5), name=f"post{k}")
    hands = Hands(draft.done())
    hands.use("cut back", "post2")
    assert "Only post2" in hands.board.prompt
    hands.press(1, 0)
    assert half(hands.part)["base"] == Line((12, 0), (20, 0))
    assert hands.board.tool.lit() == ("post2",)  # type: ignore[attr-defined]
    hands.board.key("escape")
    assert "Press a span" in hands.board.prompt
    hands.board.key("escape")
    assert hands.board.tool.name == "pick"


def test_deleting_with_healing_brings_every_corner_back() -> None:
    from sketcher.board.action_table import perform
    from tests.hosts import AnsweringHost

    for corner in CORNERS.values():
        hands = Hands(wing())
        before = half(hands.part)
        hands.use("fillet")
        hands.type("3")
        hands.press(*corner)
        hands.board.bench.select((new_curve(wing(), hands.part),))
        assert perform("edit.delete_heal", hands.board, AnsweringHost())
        after = half(hands.part)
        assert after.keys() == before.keys()
        for name, curve in after.items():
            was = before[name]
            for end in ("start", "end"):
                if hasattr(curve, end):
                    assert getattr(curve, end) == pytest.approx(getattr(was, end), abs=1e-9)
        is_bound(hands.part)


def test_what_was_dropped_is_told_even_beside_trouble() -> None:
    from sketcher.part.edited import Edited
    from sketcher.part.edits.draft import Draft

    hands = Hands(wing())

    def edit(part: Part) -> Edited:
        draft = Draft(part)
        draft.drop("b14")
        draft.bind("distance", ("e1",), "60")
        return Edited(draft.done(), "done", tuple(draft.dropped))

    hands.board.bench.do("Spoil", edit)
    message = hands.board.bench.message
    assert (message.severity, message.place) == ("warning", "b17")
    assert re.findall(r"\bb\d+\b", message.text) == ["b17", "b14"]


def test_a_press_on_a_reflection_or_a_repeat_says_where_to_press() -> None:
    hands = Hands(wing())
    before = hands.part
    for tool in ("fillet", "cut back", "extend", "split"):
        hands.use(tool)
        hands.press(-60, 15)
        assert re.findall(r"\b[aeh]\d\b", hands.board.bench.message.text) == ["e2"]
        hands.press(40, 10)
        assert re.findall(r"\b[aeh]\d\b", hands.board.bench.message.text) == ["h1"]
        hands.press(300, 300)
        assert re.findall(r"\b[aeh]\d\b", hands.board.bench.message.text) == []
        assert hands.board.bench.message.severity == "note"
    assert hands.part is before


def test_a_corner_waits_for_a_radius_that_fits() -> None:
    hands = Hands(wing())
    hands.use("fillet")
    hands.type("500")
    hands.press(60, 0)
    assert hands.board.bench.message.severity == "error"
    hands.type("5")
    arc = next(c for c in half(hands.part).values() if isinstance(c, Arc) and c.radius < 20)
    assert arc.center == pytest.approx((55, 5), abs=1e-9)
