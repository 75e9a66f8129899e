"""Faults planted in outlines that are drawn by hand: each costs once, by its own rule alone.

What is planted is what must be found; the places and sizes are those of the papers' dimensions.
"""

from __future__ import annotations

from collections.abc import Callable
from math import cos, hypot, pi, radians, sin, sqrt, tau
from typing import NamedTuple

import pytest

from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.geometry.evaluate import moved
from sketcher.marking.marks import Deduction
from tests.unit.marking.by_hand import (
    Outline,
    along,
    arc_through,
    but,
    chords,
    gate_strap,
    marks_of,
    pump_flange,
    shelf_bracket,
    turned,
)

DRAWN: dict[str, Callable[[], Outline]] = {
    "gate-strap": gate_strap, "pump-flange": pump_flange, "shelf-bracket": shelf_bracket}
STRAP, FLANGE, BRACKET = gate_strap(), pump_flange(), shelf_bracket()
OPENING = ("lintel", "sill", "blend", "jamb", "l_blend", "l_jamb")


class Case(NamedTuple):
    """An outline with a fault, and the one deduction that it costs."""

    key: str
    drawn: Outline
    rule: str
    at: XY
    found: str = ""
    wanted: str = ""
    entities: int = 1
    count: int = 1


def strap(**others: Curve | None) -> Outline:
    return but(STRAP, **others)


def bracket(**others: Curve | None) -> Outline:
    return but(BRACKET, **others)


def flange(**others: Curve | None) -> Outline:
    return but(FLANGE, **others)


def without(outline: Outline, name: str, curves: list[Curve]) -> Outline:
    """An outline with several curves in place of one."""
    return {**but(outline, **{name: None}), **{f"{name}{k}": c for k, c in enumerate(curves)}}


def strap_half(move: Callable[[Curve], Curve]) -> Outline:
    """The gate strap with its left half moved; edges across the axis in two pieces."""
    drawn: Outline = {}
    for name, curve in STRAP.items():
        if name in ("bottom", "sill"):
            assert isinstance(curve, Line)
            y = curve.start[1]
            drawn[name] = Line((0.0, y), curve.end)
            drawn[f"l_{name}"] = move(Line(curve.start, (0.0, y)))
        elif name in ("eye", "lintel"):
            assert isinstance(curve, Arc)
            top = (0.0, curve.center[1] + curve.radius)
            drawn[name] = Arc(curve.center, curve.start, top)
            drawn[f"l_{name}"] = move(Arc(curve.center, top, curve.end))
        else:
            drawn[name] = move(curve) if name.startswith("l_") else curve
    return drawn


def fillet_off() -> Outline:
    """The strap's fillet with its radius, cut into both edges 1 further out at one of them."""
    slope, fillet, flank = STRAP["slope"], STRAP["fillet"], STRAP["flank"]
    assert isinstance(slope, Line)
    assert isinstance(flank, Line)
    assert isinstance(fillet, Arc)
    start = along(slope.end, slope.direction, -1.0)
    return strap(slope=Line(slope.start, start), fillet=arc_through(start, fillet.end, 12.0, False))


def flank_off() -> Outline:
    """The strap's flank drawn from the fillet's end to a place on the eye 2 beside the tangent."""
    flank, eye = STRAP["flank"], STRAP["eye"]
    assert isinstance(flank, Line)
    assert isinstance(eye, Arc)
    turn = eye.start_angle + 2.0 / 22.0
    foot = (22.0 * cos(turn), 100.0 + 22.0 * sin(turn))
    return strap(flank=Line(flank.start, foot), eye=Arc(eye.center, foot, eye.end))


def inner_turned() -> Outline:
    """The bracket's inner edge turned by 2° about its upper end, the fillet fitted to it."""
    t, top, r = radians(2.0), (2.0, 4.375), 0.75
    n = (cos(t), sin(t))
    x = top[0] + (r - (3.0 - top[1]) * n[1]) / n[0]
    foot = along((x, 3.0), n, -r)
    return bracket(inner=Line(foot, top), shelf=Line((5.5, 2.25), (x, 2.25)),
                   fillet=Arc((x, 3.0), (x, 2.25), foot, False))


def bulging() -> Outline:
    fillet = STRAP["fillet"]
    assert isinstance(fillet, Arc)
    middle = tuple(0.5 * (a + b) for a, b in zip(fillet.start, fillet.end, strict=True))
    center = (2.0 * middle[0] - fillet.center[0], 2.0 * middle[1] - fillet.center[1])
    return strap(fillet=Arc(center, fillet.start, fillet.end, True))


def middle(line: Curve) -> XY:
    assert isinstance(line, Line)
    return 0.5 * (line.start[0] + line.end[0]), 0.5 * (line.start[1] + line.end[1])


FILLET = STRAP["fillet"]
assert isinstance(FILLET, Arc)
SEEN = along(FILLET.center, (cos(FILLET.start_angle + 0.5 * FILLET.sweep),
                             sin(FILLET.start_angle + 0.5 * FILLET.sweep)), 12.0)
S = sqrt(0.5)

CASES = {
    # open-gap
    "corner open": Case("gate-strap", strap(side=Line((60.0, 8.0), (60.0, 23.98))), "open-gap",
                        (60.0, 24.0), "gap of 0.02", "closed", 2),
    "tangent joint open": Case("gate-strap", strap(side=Line((60.0, 9.0), (60.0, 24.0))),
                               "open-gap", (60.0, 8.0), "gap of 1", "closed", 2),
    "edge broken": Case("gate-strap", but(STRAP, bottom=Line((-52.0, 0.0), (10.0, 0.0)),
                                          rest=Line((12.0, 0.0), (52.0, 0.0))),
                        "open-gap", (11.0, 0.0), "gap of 2", "closed", 2),
    "hole open": Case("pump-flange", flange(bore=Arc(
        (0.0, 0.0), (18.0, 0.0), (18.0 * cos(0.1), -18.0 * sin(0.1)))), "open-gap",
        (18.0 * cos(0.05), -18.0 * sin(0.05)), "gap of 1.8", "closed", 1),
    # stray
    "line": Case("gate-strap", strap(x=Line((10.0, 80.0), (17.0, 85.0))), "stray", (13.5, 82.5),
                 "8.6"),
    "chain": Case("gate-strap", strap(x=Line((10.0, 80.0), (17.0, 85.0)),
                                      y=Line((17.0, 85.0), (9.0, 93.0))), "stray", (13.0, 89.0),
                  "19.92", "", 2),
    "specks": Case("gate-strap", strap(x=Line((5.0, 5.0), (5.0, 5.0)),
                                       y=Line((60.0, 24.0), (60.0, 24.005))), "stray", (5.0, 5.0),
                   "", "", 2, 2),
    # doubled
    "twice": Case("gate-strap", strap(x=STRAP["bottom"]), "doubled", (0.0, 0.0), "twice", "once",
                  2),
    "twice in pieces": Case("gate-strap", strap(x=Line((10.0, 0.0), (-52.0, 0.0)),
                                                y=Line((10.0, 0.0), (52.0, 0.0))),
                            "doubled", (0.0, 0.0), "twice", "once", 3),
    "twice within tolerance": Case("gate-strap", strap(x=Line((-52.0, 0.005), (52.0, 0.005))),
                                   "doubled", (0.0, 0.0), "twice", "once", 2),
    "twice beside": Case("gate-strap", strap(x=Line((-52.0, 0.05), (52.0, 0.05))), "doubled",
                         (0.0, 0.05), "twice", "once"),
    "hole twice": Case("gate-strap", strap(x=Circle((46.0, 12.0), 4.5)), "doubled",
                       (41.5, 12.0), "twice", "once", 2),
    "all of it twice": Case("pump-flange", {
        **FLANGE, **{f"{name}_": curve for name, curve in FLANGE.items()}}, "doubled",
        (-78.0, 0.0), "twice", "once", 34, 17),
    # missing-feature
    "no edge": Case("gate-strap", strap(side=None), "missing-feature", (60.0, 16.0), "none", "",
                    0),
    "no fillet": Case("gate-strap", strap(
        corner=None, bottom=Line((-52.0, 0.0), (60.0, 0.0)), side=Line((60.0, 0.0), (60.0, 24.0))),
        "missing-feature", (52.0 + 8.0 * S, 8.0 - 8.0 * S), "none", "R8", 0),
    "no hole": Case("gate-strap", strap(hole=None), "missing-feature", (46.0, 12.0), "none", "Ø9",
                    0),
    "no holes": Case("gate-strap", strap(hole=None, l_hole=None), "missing-feature", (46.0, 12.0),
                     "none", "Ø9", 0, 2),
    "no opening": Case("gate-strap", but(STRAP, **dict.fromkeys(OPENING)), "missing-feature",
                       (0.0, 62.0), "none", "", 0),
    "no screw": Case("pump-flange", flange(screw2=None), "missing-feature",
                     (-30.0 * cos(pi / 6.0), -15.0), "none", "Ø6.6", 0),
    "no chamfer": Case("shelf-bracket", bracket(chamfer=None), "missing-feature",
                       (1.6875, 4.6875), "none", "", 0),
    # extra-feature
    "hole too many": Case("gate-strap", strap(x=Circle((10.0, 80.0), 3.0)), "extra-feature",
                          (10.0, 80.0), "Ø6", "none"),
    "opening too many": Case("shelf-bracket", bracket(
        x=Line((3.0, 1.2), (4.0, 1.2)), y=Line((4.0, 1.2), (4.0, 1.5)),
        z=Line((4.0, 1.5), (3.0, 1.2))), "extra-feature", (3.5, 1.35), "", "none", 3),
    "bevel too many": Case("shelf-bracket", bracket(
        top=Line((1.375, 5.0), (0.25, 5.0)), back=Line((0.0, 4.75), (0.0, 0.0)),
        x=Line((0.25, 5.0), (0.0, 4.75))), "extra-feature", (0.125, 4.875), "", "none"),
    "notch too many": Case("shelf-bracket", bracket(
        bottom=Line((0.0, 0.0), (1.0, 0.0)), rest=Line((1.5, 0.0), (5.0, 0.0)),
        x=Line((1.0, 0.0), (1.0, 0.3)), y=Line((1.0, 0.3), (1.5, 0.3)),
        z=Line((1.5, 0.3), (1.5, 0.0))), "extra-feature", (1.25, 0.3), "", "none", 3),
    # misplaced
    "one of two holes": Case("gate-strap", strap(hole=Circle((47.3, 12.0), 4.5)), "misplaced",
                             (47.3, 12.0), "(47.3, 12)", "(46, 12)"),
    "one of a pattern": Case("shelf-bracket", bracket(hole3=Circle((4.3, 1.6875), 9.0 / 64.0)),
                             "misplaced", (4.3, 1.6875), "(4.3, 1.688)", "(4.25, 1.688)"),
    "hole of an axis": Case("pump-flange", flange(bore=Circle((0.4, 0.0), 18.0)), "misplaced",
                            (0.4, 0.0), "(0.4, 0)", "(0, 0)"),
    # wrong-size
    "one hole": Case("gate-strap", strap(hole=Circle((46.0, 12.0), 5.0)), "wrong-size",
                     (46.0, 12.0), "Ø10", "Ø9"),
    "two holes of four": Case("shelf-bracket", bracket(
        hole0=Circle((2.75, 0.5625), 10.0 / 64.0), hole1=Circle((4.25, 0.5625), 10.0 / 64.0)),
        "wrong-size", (2.75, 0.5625), "Ø5/16", "Ø9/32", 2, 2),
    "fillet between its ends": Case("gate-strap", strap(
        fillet=arc_through(FILLET.start, FILLET.end, 14.0, False)), "wrong-size", SEEN, "R14",
        "R12"),
    # not-tangent
    "fillet": Case("gate-strap", fillet_off(), "not-tangent", SEEN, "a corner", "tangent"),
    "flank": Case("gate-strap", flank_off(), "not-tangent", middle(flank_off()["flank"]),
                  "a corner", "tangent"),
    # wrong-angle
    "edge": Case("shelf-bracket", bracket(
        back=Line((0.0, 5.0), (0.05, 0.0)), bottom=Line((0.05, 0.0), (5.0, 0.0))), "wrong-angle",
        (0.025, 2.5), "90.57°", "90°"),
    "edge with its fillet": Case("shelf-bracket", inner_turned(), "wrong-angle",
                                 middle(inner_turned()["inner"]), "92°", "90°"),
    "edge alone": Case("shelf-bracket", bracket(inner=Line((2.1, 3.0), (2.0, 4.375))),
                       "wrong-angle", (2.05, 3.69), "94.16°", "90°"),
    "opening": Case("gate-strap", {
        name: turned(curve, 1.0, (0.0, 40.0)) if name in OPENING else curve
        for name, curve in STRAP.items()}, "wrong-angle", (0.0, 42.0), "", "", 6),
    # chords-for-arc
    "fine chords": Case("gate-strap", without(STRAP, "fillet", chords(FILLET, 9)),
                        "chords-for-arc", SEEN, "9 chords", "an arc", 9),
    "one chord": Case("gate-strap", without(STRAP, "fillet", chords(FILLET, 1)),
                      "chords-for-arc", SEEN, "1 chord", "an arc", 1),
    "hole in chords": Case("pump-flange", without(FLANGE, "bore", chords(
        Circle((0.0, 0.0), 18.0), 48)), "chords-for-arc", (0.0, 0.0), "48 chords", "an arc", 48),
    "two holes in chords": Case("gate-strap", without(without(
        STRAP, "hole", chords(Circle((46.0, 12.0), 4.5), 24)),
        "l_hole", chords(Circle((-46.0, 12.0), 4.5), 24)), "chords-for-arc", (-46.0, 12.0),
        "24 chords", "an arc", 48, 2),
    # construction-left
    "axis": Case("gate-strap", strap(x=Line((0.0, -5.0), (0.0, 130.0))), "construction-left",
                 (0.0, 62.5)),
    "line beneath": Case("gate-strap", strap(x=Line((-70.0, 0.0), (70.0, 0.0))),
                         "construction-left", (70.0, 0.0)),
    "circle beneath": Case("gate-strap", strap(x=Circle((52.0, 8.0), 8.0)), "construction-left",
                           (52.0 - 8.0 * S, 8.0 + 8.0 * S)),
    "pitch circle": Case("pump-flange", flange(x=Circle((0.0, 0.0), 30.0)), "construction-left",
                         (0.0, 0.0)),
    "line of centers": Case("pump-flange", flange(x=Line((0.0, 0.0), (62.0, 0.0))),
                            "construction-left", (31.0, 0.0)),
    # overrun
    "one edge": Case("gate-strap", strap(side=Line((60.0, 8.0), (60.0, 26.0))), "overrun",
                     (60.0, 26.0), "2 too far", "", 1),
    "both edges": Case("shelf-bracket", bracket(
        right=Line((5.5, 0.5), (5.5, 2.35)), shelf=Line((5.6, 2.25), (2.75, 2.25))), "overrun",
        (5.5, 2.35), ".1 too far", "", 2),
    "past the tangent": Case("gate-strap", strap(side=Line((60.0, 6.0), (60.0, 24.0))), "overrun",
                             (60.0, 6.0), "2 too far", "", 1),
    "corner beside its fillet": Case("gate-strap", strap(
        bottom=Line((-52.0, 0.0), (60.0, 0.0)), side=Line((60.0, 0.0), (60.0, 24.0))), "overrun",
        (60.0, 0.0), "8 too far", "", 2),
    "untrimmed": Case("gate-strap", strap(corner=Circle((52.0, 8.0), 8.0)), "overrun",
                      (52.0 - 8.0 * S, 8.0 + 8.0 * S), "37.7 too far", "", 1),
    # wrong-branch
    "bulge": Case("gate-strap", bulging(), "wrong-branch", (38.57, 39.73), "the other side"),
    "long way round": Case("gate-strap", strap(
        corner=Arc((52.0, 8.0), (52.0, 0.0), (60.0, 8.0), False)), "wrong-branch",
        (52.0 - 8.0 * S, 8.0 - 8.0 * S), "the other side"),
    "five of six": Case("pump-flange", {
        **{name: curve for name, curve in FLANGE.items() if not name.startswith("screw")},
        **{f"screw{k}": Circle((-30.0 * sin(k * tau / 5.0), 30.0 * cos(k * tau / 5.0)), 3.3)
           for k in range(5)}}, "wrong-branch", (0.0, 30.0), "5", "6", 0),
    # not-mirrored
    "half turned": Case("gate-strap", strap_half(lambda curve: turned(curve, 1.0)),
                        "not-mirrored", (-31.39, 29.85), "axis turned by 0.5°", "reflected", 0),
}


@pytest.mark.parametrize("name", CASES)
def test_a_planted_fault_costs_once(name: str) -> None:
    case = CASES[name]
    deductions = marks_of(case.key, case.drawn).deductions
    assert [each.rule for each in deductions] == [case.rule], deductions
    mistake = deductions[0].mistake
    tolerance = 0.02 if case.key == "shelf-bracket" else 0.6  # it is a place to look at
    assert hypot(mistake.at[0] - case.at[0], mistake.at[1] - case.at[1]) < tolerance
    assert (mistake.found, mistake.wanted) == (case.found, case.wanted)
    assert (len(mistake.entities), mistake.count) == (case.entities, case.count)
    assert mistake.text.count(",") <= 2
    assert not mistake.text.endswith(".")


@pytest.mark.parametrize(("name", "move", "found"), [
    ("apart", (-1.0, 0.0), "axis moved by 0.5"), ("near", (-0.8, 0.0), "axis moved by 0.4"),
    ("along", (0.0, 0.6), "half slid along the axis by 0.6")])
@pytest.mark.whole
def test_a_half_moved_costs_once(name: str, move: XY, found: str) -> None:
    marks = marks_of("gate-strap", strap_half(lambda curve: moved(curve, *move)))
    assert [each.rule for each in marks.deductions] == ["not-mirrored"], name
    assert marks.deductions[0].mistake.found == found


CLEAN: dict[str, tuple[str, Outline]] = {
    "as the paper has it": ("gate-strap", STRAP),
    "two axes": ("pump-flange", FLANGE),
    "in inches": ("shelf-bracket", BRACKET),
    "an edge in two pieces": ("gate-strap", strap(bottom=Line((-52.0, 0.0), (10.0, 0.0)),
                                                  rest=Line((10.0, 0.0), (52.0, 0.0)))),
    "a hole in two arcs": ("pump-flange", flange(
        bore=Arc((0.0, 0.0), (18.0, 0.0), (-18.0, 0.0)),
        rest=Arc((0.0, 0.0), (-18.0, 0.0), (18.0, 0.0)))),
    "a gap just within": ("gate-strap", strap(side=Line((60.0, 8.0), (60.0, 23.991)))),
    "an overlap just within": ("gate-strap", strap(bottom=Line((-52.0, 0.0), (10.0, 0.0)),
                                                   rest=Line((9.991, 0.0), (52.0, 0.0)))),
    "an overrun just within": ("gate-strap", strap(side=Line((60.0, 8.0), (60.0, 24.009)))),
    "a hole just within": ("gate-strap", strap(hole=Circle((46.009, 12.0), 4.5))),
    "a size just within": ("gate-strap", strap(hole=Circle((46.0, 12.0), 4.509))),
    "a turn just within": ("shelf-bracket", bracket(
        back=Line((0.0, 5.0), (0.0009, 0.0)), bottom=Line((0.0009, 0.0), (5.0, 0.0)))),
    "hundredths": ("gate-strap", {
        name: curve if isinstance(curve, Circle | Arc) else Line(
            (round(curve.start[0], 2), round(curve.start[1], 2)),
            (round(curve.end[0], 2), round(curve.end[1], 2)))
        for name, curve in STRAP.items()}),
    "other order and directions": ("gate-strap", {
        name: curve if isinstance(curve, Circle) else Line(curve.end, curve.start)
        if isinstance(curve, Line) else Arc(curve.center, curve.end, curve.start, not curve.ccw)
        for name, curve in reversed(STRAP.items())}),
}


@pytest.mark.parametrize("name", CLEAN)
def test_what_is_right_costs_nothing(name: str) -> None:
    marks = marks_of(*CLEAN[name])
    assert marks.deductions == ()
    assert marks.points == 100.0


@pytest.mark.parametrize(("name", "drawn", "rule"), [
    ("gap", strap(side=Line((60.0, 8.0), (60.0, 23.989))), "open-gap"),
    ("overlap", strap(bottom=Line((-52.0, 0.0), (10.0, 0.0)),
                      rest=Line((9.989, 0.0), (52.0, 0.0))), "doubled"),
    ("overrun", strap(side=Line((60.0, 8.0), (60.0, 24.011))), "overrun"),
    ("hole", strap(hole=Circle((46.011, 12.0), 4.5)), "misplaced"),
    ("size", strap(hole=Circle((46.0, 12.0), 4.511)), "wrong-size"),
])
def test_just_beyond_the_tolerance_it_costs(name: str, drawn: Outline, rule: str) -> None:
    assert [each.rule for each in marks_of("gate-strap", drawn).deductions] == [rule], name


def deduction(drawn: Outline, key: str = "gate-strap") -> Deduction:
    marks = marks_of(key, drawn)
    assert len(marks.deductions) == 1, marks.deductions
    return marks.deductions[0]


@pytest.mark.parametrize(("drawn", "at", "found", "wanted", "text"), [
    (gate_strap(k1=(46.0, 13.0)), (46.0, 13.0), "13", "12",
     "the offset of 12 from the bottom edge to the hole Ø9 at the lower right is drawn 13"),
    (gate_strap(fillet=10.0), (36.76, 38.41), "R10", "R12",
     "the arc at the right is drawn R10, not R12"),
    (gate_strap(wall=10.0, k1=(44.0, 12.0)), (12.55, 115.57), "10", "12",
     "the wall, 12, is drawn 10"),
])
def test_a_wrong_value_is_told_as_the_paper_has_it(
        drawn: Outline, at: XY, found: str, wanted: str, text: str) -> None:
    told = deduction(drawn)
    assert told.rule == "wrong-value"
    assert told.mistake.at == pytest.approx(at, abs=0.01)
    assert (told.mistake.found, told.mistake.wanted) == (found, wanted)
    assert told.mistake.text == text
    assert told.mistake.entities


def test_a_hole_of_another_size_is_one_wrong_value_though_two_dimensions_reach_it() -> None:
    told = deduction(strap(bore=Circle((0.0, 100.0), 9.0)))
    assert (told.rule, told.mistake.found, told.mistake.wanted) == ("wrong-value", "Ø18", "Ø20")
    assert told.mistake.text == "the hole at the top is drawn Ø18, not Ø20"
    both = deduction(flange(bolt=Circle((62.0, 0.0), 7.0), l_bolt=Circle((-62.0, 0.0), 7.0)),
                     "pump-flange")
    assert (both.rule, both.mistake.found, both.mistake.count) == ("wrong-value", "Ø14", 2)


def test_two_values_of_one_hole_are_two() -> None:
    marks = marks_of("gate-strap", gate_strap(k1=(46.5, 13.0)))
    assert [each.mistake.found for each in marks.deductions] == ["13", "13.5"]


@pytest.mark.whole
def test_an_opening_moved_as_a_whole_is_one_mistake() -> None:
    told = deduction({name: moved(curve, 1.5, 0.0) if name in OPENING else curve
                      for name, curve in STRAP.items()})
    assert told.rule == "misplaced"
    assert told.mistake.text == "the opening lies 1.5 to the right of its place"


def test_an_outer_contour_turned_about_its_holes_is_no_opening() -> None:
    told = deduction({name: curve if isinstance(curve, Circle) else turned(curve, 3.0)
                      for name, curve in FLANGE.items()}, "pump-flange")
    assert told.rule == "wrong-angle"
    assert told.mistake.text == "the outer contour is turned by 3° counter-clockwise"


def test_a_pattern_of_another_step_is_one_wrong_value() -> None:
    wide = bracket(hole1=Circle((4.125, 0.5625), 9.0 / 64.0),
                   hole3=Circle((4.125, 1.6875), 9.0 / 64.0))
    told = deduction(wide, "shelf-bracket")
    assert told.rule == "wrong-value"
    assert (told.mistake.found, told.mistake.wanted) == ("1 3/8", "1 1/2")
    assert told.mistake.text == (
        "the step of 1 1/2 from the hole Ø9/32 at the bottom to the next in its row "
        "is drawn 1 3/8")


def test_what_hangs_on_a_wrong_value_is_judged_by_that_value() -> None:
    wrong = gate_strap(wall=10.0, k1=(44.0, 12.0))
    gap = but(wrong, side=Line((58.0, 8.0), (58.0, 23.5)))
    assert [each.rule for each in marks_of("gate-strap", gap).deductions] == [
        "wrong-value", "open-gap"]


def test_a_part_that_is_open_because_a_neighbor_is_missing_is_missing_alone() -> None:
    both = strap(side=None, slope=None)
    assert [each.rule for each in marks_of("gate-strap", both).deductions] == [
        "missing-feature", "missing-feature"]


def test_strays_are_not_taken_for_edges_of_an_opening_that_is_missing() -> None:
    none = but(STRAP, **dict.fromkeys(OPENING))
    beside = but(none, x=Line((-52.0, 0.05), (52.0, 0.05)))
    assert [each.rule for each in marks_of("gate-strap", beside).deductions] == [
        "doubled", "missing-feature"]
    chord = without(none, "fillet", chords(FILLET, 1))
    assert [each.rule for each in marks_of("gate-strap", chord).deductions] == [
        "missing-feature", "chords-for-arc"]
