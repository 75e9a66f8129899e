"""Expressions against sympy, and printed lengths against the rounding of ISO 80000-1."""

from __future__ import annotations

import re
from decimal import ROUND_HALF_EVEN, Decimal

import pytest
import sympy
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from sketcher.quantity.format import length
from sketcher.quantity.parse import evaluate

NUMBERS = st.integers(1, 40).map(str) | st.decimals("1", "99", places=2).map(str)


def joined(inner: st.SearchStrategy[str]) -> st.SearchStrategy[str]:
    """Larger expressions over smaller ones."""
    pair = st.tuples(inner, st.sampled_from([" + ", " - ", "*"]), inner).map("".join)
    return (
        pair
        | st.tuples(inner, NUMBERS).map(" / ".join)
        | inner.map(lambda text: f"({text})")
        | inner.map(lambda text: f"-({text})")
        | inner.map(lambda text: f"sqrt(({text})^2)")
        | st.tuples(inner, st.sampled_from("23")).map(lambda two: f"({two[0]})^{two[1]}")
    )


@given(st.recursive(NUMBERS, joined, max_leaves=12))
@settings(max_examples=250)
def test_arithmetic_against_sympy(text: str) -> None:
    exact = sympy.sympify(text.replace("^", "**"), rational=True)
    # Every sign made a plus and nothing divided: no value on the way is larger than this, but for
    # the squares below the roots. Rounding errors are measured by it.
    grown = re.sub(r" / [0-9.]+", "", text.replace("^", "**").replace("-", "+"))
    size = float(sympy.sympify(grown, rational=True))
    assume(size < 1e6)  # the reader's bound is 1e12
    # 12 operations, each off by half a unit in the last place at most, powers by three times that.
    assert evaluate(text, "number", "mm") == pytest.approx(float(exact), abs=1e-14 * size)


@pytest.mark.parametrize("degrees", [0, 15, 30, 36, 45, 54, 60, 72, 90, 105, 120, 150, 210, 330])
def test_functions_against_sympy(degrees: int) -> None:
    angle = sympy.pi * sympy.Rational(degrees, 180)
    for name, function in (("sin", sympy.sin), ("cos", sympy.cos), ("tan", sympy.tan)):
        exact = function(angle)
        if exact.is_infinite:
            continue
        value = evaluate(f"{name}({degrees})", "number", "mm")
        assert value == pytest.approx(float(exact), rel=4e-15, abs=1e-16)


@pytest.mark.parametrize(
    ("value", "printed"), [(12.25, "12.2"), (12.35, "12.4"), (-12.25, "-12.2"), (0.05, "0")]
)
def test_ties_by_rule_a(value: float, printed: str) -> None:
    # ISO 80000-1:2009, Annex B, rule A: a tie goes to the even multiple (wording from memory).
    assert length(value, "mm", 1) == printed


@given(st.decimals(-9999, 9999, places=5), st.integers(0, 5))
@settings(max_examples=300)
def test_rounding_against_decimal(value: Decimal, places: int) -> None:
    wanted = value.quantize(Decimal(1).scaleb(-places), ROUND_HALF_EVEN)
    assert Decimal(length(value, "mm", places)) == wanted
    assert Decimal(length(float(value), "mm", places)) == wanted
