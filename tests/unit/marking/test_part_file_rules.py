"""Rules of part files: what is loose, copied or tangent by chance, with one binding taken away."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from functools import cache

import pytest

from sketcher.inspect.sketched import solve_sketch
from sketcher.marking.comparison import Comparison
from sketcher.marking.marking_rule import Undecided
from sketcher.part.value import Binding, Part
from tests.ready_keys import key_ready
from tests.unit.marking.sheet_hand_ins import found_by, laid, plain

STRAP = "gate-strap"
RULES = ("loose", "copied-decimals", "tangency-unbound")


def handed(part: Part) -> Comparison:
    """A part file as a hand-in: the same outline, these bindings."""
    solution = solve_sketch(part)
    return laid(STRAP, (), part=solution.part, report=solution.report)


def texts(rule: str, comparison: Comparison) -> list[str]:
    found = found_by(rule, comparison)
    assert not isinstance(found, Undecided)
    return [each.text for each in found]


def bound(changes: Mapping[str, Binding | None]) -> Comparison:
    """The gate strap with some bindings changed, or (None) taken away."""
    part = key_ready(STRAP).part
    bindings = {**part.bindings, **changes}
    return handed(part.having(bindings={k: b for k, b in bindings.items() if b is not None}))


@cache
def kept() -> Comparison:
    return handed(key_ready(STRAP).part)


def test_a_part_that_is_bound_has_nothing_wrong() -> None:
    assert {rule: found_by(rule, kept()) for rule in RULES} == dict.fromkeys(RULES, ())


def test_a_drawing_is_not_judged_as_a_part_file() -> None:
    assert {rule: found_by(rule, plain(STRAP)) for rule in RULES} == dict.fromkeys(
        RULES, Undecided("is no part file"))


def test_what_moves_together_is_loose_once() -> None:
    """Without its radius a fillet takes its center and both of its ends with it."""
    fillet = bound({"b7": None})
    assert texts("loose", fillet) == ["the arc R8 at the lower right can still move"]
    assert texts("tangency-unbound", fillet) == []
    hole, size = bound({"b22": None}), bound({"b24": None})
    assert texts("loose", hole) == ["the hole Ø9 at the lower right can still move"]
    assert texts("loose", size) == ["the size of the hole Ø9 at the lower right is still free"]
    two = bound({"b7": None, "b24": None})
    assert len(texts("loose", two)) == 2


@pytest.mark.parametrize(("tangency", "one", "other"), [
    ("b8", "the bottom edge", "the arc R8 at the lower right"),
    ("b15", "the slanting edge at the lower right", "the arc R12 at the right"),
    ("b31", "the arc R36 of the opening", "the arc R8 of the opening")])
def test_edges_that_touch_smoothly_are_bound_tangent(
    tangency: str, one: str, other: str
) -> None:
    comparison = bound({tangency: None})
    found = found_by("tangency-unbound", comparison)
    assert not isinstance(found, Undecided)
    assert [each.count for each in found] == [2]  # it and its reflection
    assert one in found[0].text
    assert other in found[0].text
    # that its end can slide along is the same mistake, not another
    assert texts("loose", comparison) == []


def test_a_corner_needs_no_tangency_and_a_reflection_is_one() -> None:
    """The side and the slope meet at 60°; the end at the top runs across the axis by reflection."""
    assert all("e3" not in text and "a3'" not in text
               for text in texts("tangency-unbound", bound({"b8": None})))


@pytest.mark.parametrize(("value", "wrong"), [
    ("100.0003", True), ("99.999", True), ("100", False), ("100.00", False), ("200/2", False),
    ("2*50", False), ("99.99", False), ("100.125", False)])
def test_decimals_that_no_paper_has_were_copied(value: str, wrong: bool) -> None:
    """An eighth has three decimals and is exact; two decimals a paper may have."""
    assert len(texts("copied-decimals", bound({
        "b19": replace(key_ready(STRAP).part.bindings["b19"], value=value)}))) == int(wrong)


def test_a_copied_value_is_told_in_words_of_the_paper() -> None:
    """The axis goes from the bottom edge; the round at the top has its center 100 above that."""
    text, = texts("copied-decimals", bound({
        "b19": replace(key_ready(STRAP).part.bindings["b19"], value="100.0003")}))
    assert text == ("the rise from the bottom edge to the arc R22 at the top has the value "
                    "100.0003, computed by hand and not taken from the paper")
