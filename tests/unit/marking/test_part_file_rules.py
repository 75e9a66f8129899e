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
    assert texts("loose", fillet) == ["p2, p3, f1 can still move"]
    assert texts("tangency-unbound", fillet) == []
    two = bound({"b7": None, "b24": None})
    assert len(texts("loose", two)) == 2


@pytest.mark.parametrize("tangency", ["b8", "b15", "b31"])
def test_edges_that_touch_smoothly_are_bound_tangent(tangency: str) -> None:
    one, other = key_ready(STRAP).part.bindings[tangency].of
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
