"""Marks given again: by another rubric, and by what a person said."""

from __future__ import annotations

from dataclasses import replace

from sketcher.marking.hand_rulings import (
    HandRuling,
    needs_comparing,
    remarked,
    ruled,
    with_all_rules,
)
from sketcher.marking.marking_rule import Mistake
from sketcher.marking.marks import Deduction, Marks
from sketcher.marking.rubric import Rubric, RuleSetting
from sketcher.part.value import frozen

RULE = "wrong-value"


def marks_of(*places: float, rule: str = RULE) -> Marks:
    """Marks with a mistake at each place along x, as nobody has priced them yet."""
    return Marks("7.dxf", 0.0, 100.0, tuple(
        Deduction(number, rule, 0.0, Mistake((x, 0.0), "9", f"{x:g}", "is wrong"))
        for number, x in enumerate(places, 1)))


def rubric_of(points: float, cap: float, on: bool = True) -> Rubric:
    return Rubric(frozen({RULE: RuleSetting(points, cap, on=on)}))


def test_points_and_caps_are_those_of_the_rubric() -> None:
    given = remarked(marks_of(10, 20, 30), rubric_of(3, 7))
    assert [each.points for each in given.deductions] == [3, 3, 1]
    assert given.points == 93
    assert [each.number for each in given.deductions] == [1, 2, 3]


def test_a_rule_that_is_off_takes_nothing_and_is_not_told() -> None:
    marks = replace(marks_of(10), undecided=frozen({RULE: "cannot be told"}))
    given = remarked(marks, rubric_of(3, 7, on=False))
    assert (given.points, given.deductions, dict(given.undecided)) == (100, (), {})


def test_what_is_waived_leaves_its_share_of_the_cap_to_others() -> None:
    waive = HandRuling(RULE, (10.0, 0.0), "10", "waived")
    given = remarked(marks_of(10, 20, 30), rubric_of(3, 5), (waive,))
    assert [each.points for each in given.deductions] == [0, 3, 2]
    assert given.deductions[0].ruling == "waived"


def test_changed_points_stand_as_said_and_a_comment_with_them() -> None:
    change = HandRuling(RULE, (20.0, 0.0), "20", "changed", 6.5, "see page 3")
    given = remarked(marks_of(10, 20, 30), rubric_of(3, 7), (change,))
    assert [each.points for each in given.deductions] == [3, 6.5, 0]
    assert (given.deductions[1].ruling, given.deductions[1].comment) == ("changed", "see page 3")


def test_a_ruling_finds_its_mistake_again_by_what_was_wanted_and_then_by_its_place() -> None:
    two = marks_of(10.0, 10.2)
    said = HandRuling(RULE, (10.0, 0.0), "10.2", "waived")
    assert ruled(two.deductions, (said,)) == {1: said}
    moved = HandRuling(RULE, (10.19, 0.0), "other", "waived")
    assert ruled(two.deductions, (moved,)) == {1: moved}
    assert ruled(two.deductions, (replace(said, at=(11.0, 0.0)),)) == {}
    assert ruled(two.deductions, (replace(said, rule="stray"),)) == {}


def test_two_rulings_do_not_share_a_mistake() -> None:
    one, other = (HandRuling(RULE, (10.0, y), "10", "waived") for y in (0.0, 0.1))
    assert ruled(marks_of(10.0).deductions, (other, one)) == {0: one}


def test_an_ungraded_hand_in_stays_so() -> None:
    bare = Marks("7.dxf", 0.0, 100.0, ungraded="no outline")
    assert remarked(bare, Rubric(base=50.0)) == replace(bare, of=50.0)


def test_only_limits_tolerances_and_layers_ask_for_a_new_comparing() -> None:
    usual = Rubric()
    assert not needs_comparing(usual, rubric_of(1, 2, on=False))
    assert not needs_comparing(usual, Rubric(base=50.0, comments=("so",)))
    assert needs_comparing(usual, Rubric(tolerance=0.1))
    assert needs_comparing(usual, Rubric(layers=frozen({"0": "center"})))
    assert needs_comparing(usual, Rubric(frozen({RULE: RuleSetting(4, 16, 0.3)})))


def test_a_class_is_compared_with_every_rule_on() -> None:
    assert with_all_rules(rubric_of(3, 7, on=False)).setting(RULE) == RuleSetting(3, 7)
