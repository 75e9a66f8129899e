"""Rounding the corner that a curve makes with its own reflection, against sympy."""

from __future__ import annotations

import pytest
import sympy

from sketcher.errors import EditError, GeometryError
from sketcher.geometry.curves import Arc
from sketcher.geometry.loops import find_loops
from sketcher.part.edits import EDITS
from sketcher.part.edits.draft import Draft
from sketcher.part.file_text import read, write
from sketcher.part.value import Mirror, Part
from sketcher.part.whole import half, whole
from sketcher.solve import solve
from tests.refusals import refused


def nose(round_side: bool) -> Part:
    """Half of a plate whose side runs from (30, 0) to (0, 40) on the axis, straight or round."""
    draft = Draft(Part())
    origin, corner, tip = (draft.point(at) for at in ((0, 0), (30, 0), (0, 40)))
    base = draft.line(origin, corner)
    axis = draft.line(origin, draft.point((0, 60)), "axis", name="axis")
    for kind, of, value in (("fixed", (origin,), None), ("level", (base,), None),
                            ("plumb", (axis,), None), ("rise", (origin, "p4"), "60"),
                            ("distance", (base,), "30"), ("on", (tip, axis), None),
                            ("rise", (origin, tip), "40")):
        draft.bind(kind, of, value)
    if round_side:
        # On the bisector of both ends at x = -14, so that these lie on one circle.
        center = draft.point((-14.0, 20.0 - 29.0 * 30.0 / 40.0))
        draft.arc(corner, tip, center, name="side")
        draft.bind("rise", (origin, center), repr(abs(draft.points[center][1])))
    else:
        draft.line(corner, tip, name="side")
    draft.set_mirrors((Mirror(axis),))
    return draft.done()


@pytest.mark.parametrize("round_side", [False, True])
def test_the_center_is_where_sympy_puts_it(round_side: bool) -> None:
    part = solve(nose(round_side)).part
    edited = EDITS["fillet_on_axis"](part, "side", "axis", "4")
    arc = half(edited.part)[edited.made[0]]
    assert isinstance(arc, Arc)
    k = sympy.symbols("k", real=True)
    if round_side:
        x, y = -14, sympy.Rational(20) + sympy.Rational(-29 * 30, 40)
        radius = sympy.sqrt((30 - x) ** 2 + y**2)
        solutions = sympy.solve(x**2 + (k - y) ** 2 - (radius - 4) ** 2, k)
    else:
        # Distance of (0, k) from the line 4 x + 3 y = 120 is 4.
        solutions = sympy.solve((120 - 3 * k) / 5 - 4, k)
    want = max(float(s) for s in solutions)
    assert arc.center == pytest.approx((0, want), abs=1e-9)
    assert arc.end == pytest.approx((0, want + 4), abs=1e-9)
    report = solve(edited.part).report
    assert (report.state, report.doubled) == ("bound", ())
    loops = find_loops([(p.id, p.curve) for p in whole(edited.part) if p.role == "outline"])
    assert loops.sound
    assert read(write(edited.part)) == edited.part


def test_the_lost_corner_still_drives() -> None:
    part = EDITS["fillet_on_axis"](nose(False), "side", "axis", 4).part
    height = next(n for n, b in part.bindings.items() if b.value == "40")
    solution = solve(EDITS["set_value"](part, height, "50").part)
    arc = next(c for c in half(solution.part).values() if isinstance(c, Arc))
    k = float((150 - 4 * sympy.sqrt(34)) / 3)  # distance of (0, k) from 5 x + 3 y = 150 is 4
    assert arc.center == pytest.approx((0, k), abs=1e-9)


@pytest.mark.parametrize("round_side", [False, True])
def test_deleting_with_healing_gives_the_corner_back(round_side: bool) -> None:
    part = solve(nose(round_side)).part
    edited = EDITS["fillet_on_axis"](part, "side", "axis", "4")
    healed = EDITS["delete"](edited.part, edited.made[0], heal=True)
    assert healed.part.points == part.points
    assert half(healed.part) == half(part)
    report = solve(healed.part).report
    assert (report.state, report.doubled) == ("bound", ())


def test_an_end_on_the_axis_is_healed_without_a_lost_corner() -> None:
    """A flat across the axis is deleted: the side runs on to the axis."""
    draft = Draft(Part())
    a, b, c = (draft.point(at) for at in ((30, 0), (6, 32), (0, 32)))
    axis = draft.line((0, -5), (0, 60), "axis")
    draft.line(a, b, name="side")
    flat = draft.line(b, c)
    draft.bind("on", (c, axis))
    draft.set_mirrors((Mirror(axis),))
    healed = EDITS["delete"](draft.done(), flat, heal=True).part
    assert healed.points[healed.curves["side"].points[1]] == pytest.approx((0, 40), abs=1e-12)
    loops = find_loops([(p.id, p.curve) for p in whole(healed) if p.role == "outline"])
    assert loops.strays == ("side", "side'")  # open at the bottom, joined at the tip
    assert not loops.crossings


def test_what_cannot_be_done_says_so() -> None:
    part = nose(False)
    draft = Draft(part)
    draft.circle((3, 3), 1.0, name="h1")
    for place, *arguments in (("e1", "side", "e1", 4), ("radius", "side", "axis", 0),
                              ("radius", "side", "axis", "-2"), ("h1", "h1", "axis", 4)):
        with refused(place, EditError):
            EDITS["fillet_on_axis"](draft.done(), *arguments)
    with refused("e1, e1'", EditError):
        EDITS["fillet_on_axis"](part, "e1", "axis", 4)  # it crosses the axis squarely
    with refused("fillet", GeometryError):
        EDITS["fillet_on_axis"](part, "side", "axis", 400)


def test_by_events() -> None:
    from tests.shaped import Hands

    hands = Hands(nose(False))
    before = hands.part
    hands.use("fillet")
    hands.type("4")
    hands.move(0, 40)
    assert any(ghost.mood == "image" for ghost in hands.board.preview.curves)
    hands.press(0, 40)
    arc = next(c for c in half(hands.part).values() if isinstance(c, Arc))
    assert arc.center == pytest.approx((0, 100 / 3), abs=1e-9)
    assert hands.board.report.state == "bound"
    hands.board.bench.undo()
    assert hands.part is before
    hands.press(15, 20)
    hands.press(0, 55)
    assert sum(isinstance(c, Arc) for c in half(hands.part).values()) == 1


def test_a_fillet_of_half_a_turn_ends_square_over_its_center() -> None:
    # A circle of radius 25 inside one of radius 40 about (40, 0) touches it at (40, 40).
    draft = Draft(Part())
    ends = [draft.point(at) for at in ((60, 30), (20, 30))]
    draft.arc(*ends, draft.point((40, 15)), name="side")
    axis = draft.line(draft.point((0, 0)), draft.point((60, 0)), "axis", name="axis")
    draft.set_mirrors((Mirror(axis),))
    edited = EDITS["fillet_on_axis"](draft.done(), "side", "axis", "40")
    arc = half(edited.part)[edited.made[0]]
    assert isinstance(arc, Arc)
    assert arc.center == pytest.approx((40.0, 0.0), abs=1e-9)
    on_axis = min(arc.start, arc.end, key=lambda at: abs(at[1]))
    contact = max(arc.start, arc.end, key=lambda at: abs(at[1]))
    assert abs(on_axis[1]) < 1e-9
    assert abs(on_axis[0] - 40.0) == pytest.approx(40.0)
    assert contact == pytest.approx((40.0, 40.0))


def chamfered_by_sympy(round_side: bool, leg: int) -> tuple[float, float]:
    """Return where the cut meets the side: `leg` away from the corner (0, 40), on the side."""
    x, y = sympy.symbols("x y", real=True)
    if round_side:
        cx, cy = -14, sympy.Rational(20) + sympy.Rational(-29 * 30, 40)
        side = (x - cx) ** 2 + (y - cy) ** 2 - cx**2 - (40 - cy) ** 2
    else:
        side = 4 * x + 3 * y - 120
    found = sympy.solve([side, x**2 + (y - 40) ** 2 - leg**2], [x, y])
    return max(((float(a), float(b)) for a, b in found), key=lambda at: at[0])


@pytest.mark.parametrize("round_side", [False, True])
def test_the_cut_across_the_axis_is_where_sympy_puts_it(round_side: bool) -> None:
    part = solve(nose(round_side)).part
    edited = EDITS["chamfer_on_axis"](part, "side", "axis", "5")
    cut = half(edited.part)[edited.made[0]]
    contact = chamfered_by_sympy(round_side, 5)
    assert cut.start == pytest.approx(contact, abs=1e-9)
    assert cut.end == pytest.approx((0.0, contact[1]), abs=1e-9)
    report = solve(edited.part).report
    assert (report.state, report.doubled) == ("bound", ())
    loops = find_loops([(p.id, p.curve) for p in whole(edited.part) if p.role == "outline"])
    assert loops.sound
    assert read(write(edited.part)) == edited.part
    healed = EDITS["delete"](edited.part, edited.made[0], heal=True)
    assert half(healed.part) == half(part)
    assert solve(healed.part).report.state == "bound"


def test_the_corner_cut_on_the_axis_still_drives() -> None:
    part = EDITS["chamfer_on_axis"](nose(False), "side", "axis", 5).part
    height = next(n for n, b in part.bindings.items() if b.value == "40")
    solution = solve(EDITS["set_value"](part, height, "50").part)
    # The side runs from (30, 0) to (0, 50) now: 5 along it from the corner.
    at = next(c for n, c in half(solution.part).items() if n not in nose(False).curves).start
    share = 5.0 / (30.0**2 + 50.0**2) ** 0.5
    assert at == pytest.approx((30.0 * share, 50.0 - 50.0 * share), abs=1e-9)


def test_a_cut_that_cannot_be_made_on_the_axis_says_so() -> None:
    part = nose(False)
    for place, *arguments in (("e1", "side", "e1", 4), ("leg", "side", "axis", 0)):
        with refused(place, EditError):
            EDITS["chamfer_on_axis"](part, *arguments)
    with refused("chamfer", GeometryError):
        EDITS["chamfer_on_axis"](part, "side", "axis", 400)


def test_a_cut_on_the_axis_by_events() -> None:
    from tests.shaped import Hands

    hands = Hands(nose(False))
    before = hands.part
    hands.use("chamfer")
    hands.type("5")
    hands.move(0, 40)
    assert any(ghost.mood == "image" for ghost in hands.board.preview.curves)
    hands.press(0, 40)
    assert len(hands.part.curves) == len(before.curves) + 1
    assert hands.board.report.state == "bound"
    hands.board.bench.undo()
    assert hands.part is before


def test_two_legs_that_differ_are_told_on_the_axis() -> None:
    from tests.shaped import Hands

    hands = Hands(nose(False))
    before = hands.part
    hands.use("chamfer")
    for row, text in (("leg", "5"), ("other leg", "3")):
        hands.board.typing.open_row(row)
        hands.type(text)
    hands.move(0, 40)
    (word,) = hands.board.preview.words
    assert "as long as the leg" in word.text
    hands.press(0, 40)
    assert hands.part is before
    assert hands.board.bench.message.severity == "error"
