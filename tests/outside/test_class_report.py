"""Written reports of a class read back by pdfplumber; its figures by Python's `statistics`."""

from __future__ import annotations

import math
import statistics
from dataclasses import replace

import pytest

from sketcher.marking.class_report import CopiesFlagged, class_report
from sketcher.marking.class_statistics import (
    failed_places,
    hard_dimensions,
    histogram,
    points_spread,
    rule_tallies,
)
from sketcher.marking.marks import FAULT, Marks, ungraded
from sketcher.marking.rubric import Rubric
from sketcher.part.value import frozen
from tests.marked_pages import assert_tidy, read, text_of
from tests.marked_views import given
from tests.ready_keys import demo_solved


@pytest.fixture(scope="module")
def strap():
    return demo_solved("gate-strap").part


def a_class(count: int) -> list[tuple[str, Marks]]:
    """Hand-in k has k modulo 5 deductions, the first always near one place; 7 tell not all."""
    found = []
    for k in range(count):
        places = [(0.1 * (k % 3), 30.0), *((12.0 * n - 20.0, 8.0) for n in range(1, k % 5))]
        undecided = frozen({"lettering": "has no dimensions"} if k < 7 else {})
        found.append((str(100 + k), given(places[:k % 5], points=4.0, undecided=undecided)))
    return found


def test_the_report_says_all_figures(strap) -> None:
    results = [*a_class(40), ("140", ungraded("x", "no outline fits the key", Rubric()))]
    copies = [CopiesFlagged(("103", "108"), ("the same file, byte for byte",))]
    sheets = read(class_report(results, strap, Rubric(), copies))
    for sheet in sheets:
        assert_tidy(sheet)
    said = text_of(sheets)
    points = [marks.points for _, marks in results[:40]]
    for figure in (statistics.fmean(points), statistics.median(points), statistics.stdev(points)):
        assert f"{figure:.1f}".removesuffix(".0") in said.split()
    for text in ("Not decided in 7 of 40: the height of lettering",
                 "41 hand-ins, 40 graded", "no outline fits the key", "the same file, byte",
                 *(label for label, _ in results)):
        assert text in said, text
    assert "x.dxf" not in said


def test_the_place_where_most_failed_is_ringed_with_its_count(strap) -> None:
    sheets = read(class_report(a_class(40), strap, Rubric()))
    said = text_of(sheets)
    assert "A:32" in said.split()  # of 40 hand-ins 8 have no deduction
    assert "B:24" in said.split()  # and 24 have two or more


@pytest.mark.parametrize("count", [0, 1])
def test_a_class_of_one_and_of_none_has_a_report(strap, count: int) -> None:
    sheets = read(class_report(a_class(count), strap, Rubric()))
    for sheet in sheets:
        assert_tidy(sheet)
    assert ("100 of 100" in text_of(sheets)) == (count == 1)


def test_quartiles_and_spread_are_those_of_the_library() -> None:
    some = [marks for _, marks in a_class(23)]
    points = [marks.points for marks in some]
    found = points_spread(some)
    assert found.middle == tuple(statistics.quantiles(points, n=4, method="inclusive")[::2])
    assert math.isclose(found.spread, statistics.stdev(points))


def test_the_histogram_counts_everybody_once() -> None:
    """100 points stand with those from 90 on; what is below zero stands with the lowest."""
    some = [Marks("", points, 100.0) for points in (0.0, 9.99, 10.0, 89.0, 90.0, 100.0)]
    assert histogram(some, 100.0) == (2, 1, 0, 0, 0, 0, 0, 0, 1, 2)


def test_waived_deductions_count_nowhere() -> None:
    marks = given([(0.0, 0.0), (50.0, 0.0)], points=4.0)
    waived = replace(marks, deductions=tuple(
        replace(each, ruling="waived") for each in marks.deductions))
    assert rule_tallies([marks])[0].points == 8.0
    assert rule_tallies([waived]) == ()
    assert failed_places([waived], 100.0) == ()


def test_a_hand_in_counts_once_at_a_place() -> None:
    some = [given([(0.0, 0.0), (0.5, 0.0)]), given([(0.0, 0.5)]), given([(60.0, 0.0)])]
    found = failed_places(some, 100.0)
    assert [(place.hand_ins, place.rules) for place in found] == [
        (2, (("wrong-value", 2),)), (1, (("wrong-value", 1),))]


def test_a_rule_that_failed_is_told_before_the_rules(strap) -> None:
    broken = given([(0.0, 30.0)], undecided=frozen({"lettering": f"{FAULT}KeyError: 1"}))
    said = text_of(read(class_report([("1", broken), *a_class(3)], strap, Rubric())))
    assert "A fault of the program" in said
    assert "The height of lettering: not decided in 1 of 4, nothing taken off" in said
    assert "fault of the program" not in text_of(read(class_report(a_class(3), strap, Rubric())))


def test_the_dimension_that_a_mistake_names_is_counted_whatever_the_words() -> None:
    """Two lengths of 12 are two dimensions, and one told in two ways is one."""
    def drawn(of: str, text: str) -> Marks:
        return replace(marks, deductions=tuple(replace(each, mistake=replace(
            each.mistake, of=of, text=text, wanted="12")) for each in marks.deductions))

    marks = given([(0.0, 0.0)])
    some = [drawn("b1", "the wall"), drawn("b2", "the wall"), drawn("b1", "the other wall")]
    assert [(each.text, each.hand_ins) for each in hard_dimensions(some)] == [
        ("the wall", 2), ("the wall", 1)]
