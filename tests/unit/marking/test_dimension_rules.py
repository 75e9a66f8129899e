"""Rules of dimensions: single dimensions of a complete sheet left out, added and changed.

Wanted are the changes that were made; what is a fault is named beside each (ISO 129-1 and ASME
Y14.5, from memory, where nothing else stands). Numbers are those of the paper of the gate strap in
millimetres and of the shelf bracket in inches.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from math import cos, radians, sin

import pytest

from sketcher.exchange.dxf_content import FileDimension, FileWords
from sketcher.geometry.curves import Line
from sketcher.inspect.sketched import solve_sketch
from sketcher.marking.hand_in import HandCurve
from sketcher.marking.marking_rule import Mistake, Undecided
from sketcher.marking.poses import Pose
from sketcher.marking.rules import marking_rules
from tests.ready_keys import key_ready
from tests.unit.marking.sheet_hand_ins import (
    drawn_dimensions,
    edges_of,
    found_by,
    laid,
    sheet_dimensions,
)

STRAP, BRACKET = "gate-strap", "shelf-bracket"
RULES = [name for name, rule in marking_rules().items() if rule.group == "dimensions"]
SHARP = (36.0, 24.0 + 24.0 * 3.0 ** 0.5 / 3.0)
"""Lost corner of the gate strap: 24 in from its edge, on a line at 30°."""


def said(text: str, name: str = STRAP, number: int = 0) -> FileDimension:
    """The dimension of a sheet that says a text, of several the one with a number."""
    found = [each for each in sheet_dimensions(name) if each.text == text]
    return found[number]


def without(*gone: FileDimension, name: str = STRAP) -> tuple[FileDimension, ...]:
    return tuple(each for each in sheet_dimensions(name) if each not in gone)


def changed(each: FileDimension, name: str = STRAP, **how: object) -> tuple[FileDimension, ...]:
    """A sheet with one dimension changed."""
    other = replace(each, **how)
    return tuple(other if one is each else one for one in sheet_dimensions(name))


def mistakes(rule: str, dimensions: tuple[FileDimension, ...], name: str = STRAP, **more: object
             ) -> tuple[Mistake, ...]:
    found = found_by(rule, laid(name, dimensions, **more))
    assert not isinstance(found, Undecided)
    return found


def shown_corner(short: float = 0.0) -> tuple[HandCurve, ...]:
    """The gate strap with the edge at 30° drawn on to its lost corner as a thin line."""
    x, y = SHARP
    end = (x + short * cos(radians(30.0)), y - short * sin(radians(30.0)))
    line = Line((40.0, y - 4.0 / 3.0 ** 0.5), end)
    return (*edges_of(key_ready(STRAP).part), HandCurve(line, 900, "dimension"))


def test_a_hand_in_without_dimensions_is_not_judged_by_them() -> None:
    comparison = laid(STRAP, ())
    assert {name: found_by(name, comparison) for name in RULES} == dict.fromkeys(
        RULES, Undecided("has no dimensions"))


@pytest.mark.parametrize("name", [STRAP, BRACKET])
def test_a_finished_sheet_has_nothing_wrong(name: str) -> None:
    more = {"curves": shown_corner()} if name == STRAP else {}
    comparison = laid(name, sheet_dimensions(name), **more)
    assert {rule: found_by(rule, comparison) for rule in RULES} == dict.fromkeys(RULES, ())


@pytest.mark.parametrize("name", [STRAP, BRACKET])
def test_each_dimension_that_is_left_out_is_missing_and_no_other(name: str) -> None:
    for each in sheet_dimensions(name):
        found = mistakes("dimension-missing", without(each, name=name), name)
        wanted = [] if each.text.startswith("(") else [each.text.partition(" ±")[0]]
        assert [mistake.wanted for mistake in found] == wanted, each.text


def test_another_complete_set_of_dimensions_is_right() -> None:
    hole, top = said("14"), said("100")
    spacing = replace(hole, number=1, points=((-46.0, 12.0), (46.0, 12.0)), text="92",
                      measured=92.0)
    whole_height = replace(said("(122)"), text="122")
    for gone, instead in ((hole, spacing), (top, whole_height)):
        dimensions = (*without(gone, said("(122)")), instead)
        assert mistakes("dimension-missing", dimensions) == ()
        assert mistakes("dimension-twice", dimensions) == ()
    # both of one chain are one too few
    both = (*without(said("14"), said("120"), said("(122)")), spacing)
    assert [each.wanted for each in mistakes("dimension-missing", both)] == ["120"]


def test_what_is_not_drawn_need_not_be_dimensioned() -> None:
    holes = [said("12", number=1), said("14"), said("2x Ø9")]
    assert len(mistakes("dimension-missing", without(*holes))) == 3
    plates = tuple(each for each in shown_corner()
                   if getattr(each.curve, "radius", 0.0) != 4.5)
    assert len(plates) == len(shown_corner()) - 2
    assert mistakes("dimension-missing", without(*holes), curves=plates) == ()


def test_a_note_states_sizes_too() -> None:
    note = FileWords("ALL OTHER FILLETS R8", (0.0, -60.0))
    gone = without(said("4x R8"))
    assert mistakes("dimension-missing", gone, words=(note,)) == ()
    assert len(mistakes("dimension-missing", gone, words=(replace(note, text="R9"),))) == 1


def test_what_says_a_size_again_is_there_twice_unless_in_parentheses() -> None:
    again = replace(said("100"), number=1, line_at=(95.0, 0.0), text_at=(92.0, 50.0))
    found = mistakes("dimension-twice", (*sheet_dimensions(STRAP), again))
    assert [(each.found, each.entities) for each in found] == [("100", (1,))]
    bracketed = replace(again, text="(100)")
    assert mistakes("dimension-twice", (*sheet_dimensions(STRAP), bracketed)) == ()
    # 122 is 100 and the radius of the end, which Ø20 and the web of 12 say
    closed = changed(said("(122)"), text="122")
    assert [each.found for each in mistakes("dimension-twice", closed)] == ["122"]
    again = replace(said("2x Ø9"), number=1)
    assert len(mistakes("dimension-twice", (*sheet_dimensions(STRAP), again))) == 1


def test_both_sides_of_a_part_may_be_measured_from_one_edge() -> None:
    """Measured from the left edge the right hole is at 106: from symmetry it would follow."""
    far = FileDimension(1, "linear", "DIMENSION", ((-60.0, 8.0), (46.0, 12.0)), (0.0, -30.0),
                        (0.0, -28.0), "106", measured=106.0)
    near = replace(far, number=2, points=((-60.0, 8.0), (-46.0, 12.0)), text="14", measured=14.0)
    assert mistakes("dimension-twice", (*without(said("14")), far, near)) == ()


@pytest.mark.parametrize(("top", "wrong"), [(100.5, True), (100.004, False)])
def test_a_dimension_says_what_was_to_be_drawn(top: float, wrong: bool) -> None:
    each = said("100")
    dimensions = changed(each, points=((0.0, 0.0), (0.0, top)), text=f"{top:g}", measured=top)
    found = mistakes("dimension-value", dimensions)
    assert [(m.found, m.wanted) for m in found] == ([("100.5", "100")] if wrong else [])


def test_a_length_factor_makes_a_dimension_say_another_size() -> None:
    found = mistakes("dimension-value", changed(said("100"), text="200", measured=200.0))
    assert [(m.found, m.wanted) for m in found] == [("200", "100")]


@cache
def thick_wall() -> tuple[tuple[HandCurve, ...], tuple[FileDimension, ...]]:
    """The gate strap with a wall of 14, and what its own sheet truly says of it."""
    part = key_ready(STRAP).part
    thick = solve_sketch(part.having(parameters={**part.parameters, "wall": "14"})).part
    return edges_of(thick), drawn_dimensions(thick)


def test_a_wrong_value_that_is_dimensioned_truly_is_no_wrong_dimension() -> None:
    curves, dimensions = thick_wall()
    comparison = laid(STRAP, dimensions, curves=curves)
    assert [change.name for change in comparison.changes] == ["wall"]
    for rule in ("dimension-value", "dimension-missing", "typed-over", "dimension-twice",
                 "decimals", "count-missing"):
        assert found_by(rule, comparison) == (), rule


@pytest.mark.parametrize(("typed", "wrong"), [
    ("101", True), ("100.1", True), ("99.94", True), ("100.0", False), ("100 mm", False),
    ("<> TYP", False), ("2x 50", False)])
def test_a_typed_text_says_what_is_measured(typed: str, wrong: bool) -> None:
    each = changed(said("100"), typed=typed, text=typed.replace("<>", "100"))
    found = mistakes("typed-over", each)
    assert [(m.found, m.wanted) for m in found] == ([(typed, "100")] if wrong else [])
    assert mistakes("dimension-value", each) == ()


@pytest.mark.parametrize("text", ["R10", "R10.0"])
def test_a_hole_has_its_diameter(text: str) -> None:
    each = said("Ø20 ±0.1")
    center = (0.0, 100.0)
    dimensions = changed(each, kind="radius", points=(center, each.points[1]), text=text,
                         measured=10.0)
    found = mistakes("radius-for-diameter", dimensions)
    assert [(m.found, m.wanted) for m in found] == [(text, "Ø20")]
    written = changed(each, kind="radius", points=(center, each.points[1]), text="Ø20",
                      typed="Ø20", measured=10.0)
    assert mistakes("radius-for-diameter", written) == ()
    assert mistakes("typed-over", written) == ()


@pytest.mark.parametrize(("text", "wrong"), [
    ("R8", True), ("3x R8", True), ("5x R8", True), ("4X R8", False), ("R8 TYP", False)])
def test_equal_rounds_are_counted(text: str, wrong: bool) -> None:
    found = mistakes("count-missing", changed(said("4x R8"), text=text))
    assert [(m.found, m.wanted) for m in found] == ([(text, "4x R8")] if wrong else [])


def test_each_of_equal_rounds_may_be_called_out_by_itself() -> None:
    hole = said("2x Ø9")
    right = replace(hole, text="Ø9")
    left = replace(right, number=1, points=tuple((-x, y) for x, y in right.points))
    assert len(mistakes("count-missing", (*without(hole), right))) == 1
    both = (*without(hole), right, left)
    assert mistakes("count-missing", both) == ()
    assert mistakes("dimension-twice", both) == ()


@pytest.mark.parametrize(("up", "wrong"), [(1.0, True), (1.1, False)])
def test_no_edge_runs_through_a_number(up: float, wrong: bool) -> None:
    """Lettering of 3.5 mm reaches 1.75 mm from its middle; 60 % of that are surely ink."""
    found = mistakes("text-on-line", changed(said("120"), text_at=(0.0, up)))
    assert [m.found for m in found] == (["an edge"] if wrong else [])


@pytest.mark.parametrize(("low", "wrong"), [(-18.4, False), (-18.7, True)])
def test_extension_lines_keep_off_dimension_lines(low: float, wrong: bool) -> None:
    """The line of 120 stands at -18.05: that of 14 within it must not be beyond."""
    found = mistakes("dimension-crossing", changed(said("14"), line_at=(46.0, low)))
    assert [m.at for m in found] == ([(46.0, pytest.approx(-18.05, abs=0.01))] if wrong else [])


@pytest.mark.parametrize(("gap", "wrong"), [
    (0.0, True), (0.49, True), (0.5, False), (3.0, False), (3.1, True)])
def test_extension_lines_leave_a_gap(gap: float, wrong: bool) -> None:
    dimensions = tuple(replace(each, extension_gap=gap) for each in sheet_dimensions(STRAP))
    found = mistakes("extension-gap", dimensions)
    lengths = sum(each.kind == "linear" for each in dimensions)
    assert [m.count for m in found] == ([lengths] if wrong else [])


@pytest.mark.parametrize(("turn", "wrong"), [(9.9, True), (10.1, False), (80.1, True), (45, False)])
def test_leaders_are_slanted(turn: float, wrong: bool) -> None:
    t, each = radians(turn), said("R36")
    end = (36.0 * cos(t), 26.0 + 36.0 * sin(t))
    found = mistakes("leader-angle", changed(each, points=((0.0, 26.0), end)))
    assert [m.entities for m in found] == ([(each.number,)] if wrong else [])


@pytest.mark.parametrize(("name", "text", "instead", "words"), [
    (STRAP, "100", "100.00", "more"), (STRAP, "100", "100.0", "more"), (STRAP, "100", "100", ""),
    (BRACKET, "Ø.375 ±.005", "Ø.38", "fewer"), (BRACKET, "Ø.375 ±.005", "Ø.3750", "more"),
    (BRACKET, "Ø.375 ±.005", "Ø.375", "")])
def test_numbers_have_the_decimals_of_the_paper(name: str, text: str, instead: str, words: str
                                                ) -> None:
    found = mistakes("decimals", changed(said(text, name), name, text=instead), name)
    assert [words in m.text for m in found] == ([True] if words else [])


@pytest.mark.parametrize(("short", "wrong"), [(0.0, False), (0.009, False), (0.02, True)])
def test_a_lost_corner_that_is_measured_is_drawn(short: float, wrong: bool) -> None:
    found = mistakes("sharp-not-shown", sheet_dimensions(STRAP), curves=shown_corner(short))
    assert [m.at for m in found] == ([pytest.approx(SHARP)] if wrong else [])


def test_dimensions_in_inches_on_a_key_in_millimetres_are_read_in_inches() -> None:
    def small(at: tuple[float, float]) -> tuple[float, float]:
        return at[0] / 25.4, at[1] / 25.4

    curves = tuple(HandCurve(Pose(1.0 / 25.4).curve(each.curve), each.entity)
                   for each in shown_corner() if each.role == "outline")
    dimensions = tuple(replace(
        each, points=tuple(map(small, each.points)), line_at=small(each.line_at),
        text_at=small(each.text_at), measured=(each.measured or 0.0) / 25.4,
        text=f"{(each.measured or 0.0) / 25.4:.4f}", text_height=0.125, extension_gap=0.0625)
        for each in sheet_dimensions(STRAP) if each.kind != "angular" and each.text[0] != "(")
    comparison = laid(STRAP, dimensions, curves=curves, unit="in")
    assert comparison.pose.scale == pytest.approx(25.4)
    for rule in ("dimension-value", "typed-over", "extension-gap"):
        assert found_by(rule, comparison) == (), rule
    missing = found_by("dimension-missing", comparison)
    assert not isinstance(missing, Undecided)
    assert [each.wanted for each in missing] == ["30°"]
    assert found_by("lettering", comparison) == ()
    assert isinstance(found_by("decimals", comparison), Undecided)
