"""Tolerance stacks of selected dimensions, against sums done by hand."""

from __future__ import annotations

from dataclasses import replace
from math import sqrt

import pytest

from sketcher.board.action_table import perform
from sketcher.board.board import Board
from sketcher.board.ledger.tolerance_stack import added, chain_of, lengths_of
from sketcher.errors import QuantityError
from sketcher.part.value import Binding, LineCurve, Part, frozen
from tests.hosts import AnsweringHost
from tests.refusals import refused


def ladder() -> Part:
    """Four points on a level line: 10, 30 and 25 further, 65 over all; all invented."""
    places = (0.0, 10.0, 40.0, 65.0)
    points = {f"p{k}": (x, 0.0) for k, x in enumerate(places)}
    curves = {f"e{k}": LineCurve((f"p{k}", f"p{k + 1}")) for k in range(3)}
    bindings = {
        "z": Binding("fixed", ("p0",)),
        "level": Binding("level", ("e0",)),
        "a": Binding("run", ("p0", "p1"), "10", tolerance=(0.1, -0.1)),
        "b": Binding("run", ("p1", "p2"), "30", tolerance=(0.2, 0.0)),
        "c": Binding("run", ("p2", "p3"), "25", tolerance=(0.0, -0.3)),
        "all": Binding("run", ("p0", "p3"), "65", drives=False),
        "far": Binding("run", ("p0", "p2"), "40", tolerance=(0.05, -0.05)),
    }
    return Part(points=frozen(points), curves=frozen(curves), bindings=frozen(bindings))


def test_a_row_counts_all_ways_with_it_whatever_the_order_of_picking() -> None:
    assert dict(chain_of(ladder(), ("c", "a", "b"))) == {"a": 1, "b": 1, "c": 1}


def test_a_step_back_counts_against_the_chain() -> None:
    # From p1 to p3: back to p0 (10), on to p2 (40), on to p3 (25).
    assert dict(chain_of(ladder(), ("a", "far", "c"))) == {"a": -1, "far": 1, "c": 1}


def test_what_makes_no_row_is_left_to_the_person() -> None:
    assert chain_of(ladder(), ("a", "c")) == (("a", 1), ("c", 1))


def test_sums_by_hand() -> None:
    found = added(ladder(), {"a": "+", "b": "+", "c": "+"})
    assert found.nominal == pytest.approx(65.0)
    assert found.worst == pytest.approx((9.9 + 30.0 + 24.7, 10.1 + 30.2 + 25.0))
    middle, half = 10.0 + 30.1 + 24.85, sqrt(0.1**2 + 0.1**2 + 0.15**2)
    assert found.likely == pytest.approx((middle - half, middle + half))
    back = added(ladder(), {"far": "+", "a": "-", "b": ""})
    assert back.worst == pytest.approx((39.95 - 10.1, 40.05 - 9.9))


@pytest.mark.parametrize("signs", [{"a": "perhaps"}, {"a": ""}, {}])
def test_signs_that_say_nothing_are_refused(signs: dict[str, str]) -> None:
    with pytest.raises(QuantityError):
        added(ladder(), signs)


def test_the_action_takes_what_is_selected_and_tells_both_bands() -> None:
    board = Board(ladder())
    host = AnsweringHost(form={})
    assert not perform("bind.stack", board, host)
    board.bench.select(("a", "level", "all", "b"))
    assert lengths_of(board.part, board.bench.selection.bindings(board.part)) == ("a", "b")
    assert perform("bind.stack", board, host)
    (asked,) = [what for name, what in host.calls if name == "ask_form"]
    assert asked == ("a", "b")
    (text,) = [what for name, what in host.calls if name == "tell"]
    assert "39.9 to 40.3" in text
    assert "worst" in text.lower()
    assert "hurt" in text  # the caution stands with the numbers


def test_a_dimension_without_limits_is_named() -> None:
    part = ladder()
    bare = part.having(drawing=replace(part.drawing, tolerance="none"),
                       bindings={**part.bindings, "a": Binding("run", ("p0", "p1"), "10")})
    with refused("bindings.a", QuantityError):
        added(bare, {"a": "+"})
