"""Lengths and angles as drawings print them.

Practice: ASME Y14.5M-1994 1.6.1 (mm), 1.6.2 and 2.3.2 (inch), 1.5.4 (angles). Rounding: ISO 80000-1
rule A (ties to even) with the values 12.25 -> 12.2, 12.35 -> 12.4 (computed).
"""

from __future__ import annotations

from decimal import Decimal

import pytest

from sketcher.quantity.format import angle, exact, fraction, length, rounded
from sketcher.quantity.parse import evaluate


@pytest.mark.parametrize(
    ("value", "places", "mm", "inch"),
    [
        (12.0, None, "12", "12"),
        (12.5, None, "12.5", "12.5"),
        (0.5, None, "0.5", ".5"),
        (-0.5, None, "-0.5", "-.5"),
        (0.5, 3, "0.5", ".500"),
        (12.0, 2, "12", "12.00"),
        (20500.0, 1, "20500", "20500.0"),
        (-0.00001, None, "0", "0"),
        (-0.00001, 2, "0", ".00"),
        (2.675, 2, "2.68", "2.68"),
        (12.25, 1, "12.2", "12.2"),
        (12.35, 1, "12.4", "12.4"),
        (1e-5, 5, "0.00001", ".00001"),
        (1234567.875, 0, "1234568", "1234568"),
    ],
)
def test_lengths_follow_the_unit(value, places, mm: str, inch: str) -> None:
    assert length(value, "mm", places) == mm
    assert length(value, "in", places) == inch


def test_zeros_can_be_asked_for() -> None:
    assert length(12.5, "mm", 2, zeros=True) == "12.50"
    assert length(12.5, "in", 3, zeros=False) == "12.5"


def test_ties_go_to_the_even_digit_both_ways() -> None:
    assert str(rounded(Decimal("12.25"), 1)) == "12.2"
    assert str(rounded(-12.25, 1)) == "-12.2"
    assert str(rounded(-12.35, 1)) == "-12.4"
    assert str(rounded(0.5, 0)) == "0"
    assert str(rounded(1.5, 0)) == "2"


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (1.625, "1 5/8"),
        (0.375, "3/8"),
        (3.0, "3"),
        (0.0, "0"),
        (0.5, "1/2"),  # 32/64 reduced
        (-1.625, "-1 5/8"),
        (0.3, "~19/64"),
        (0.1, "~3/32"),
        (1 / 3, "~21/64"),
        (10 / 25.4, "~25/64"),
        (1.999, "~2"),
        (0.001, "~0"),
        (-0.001, "~0"),
        (1 / 128, "~0"),  # a tie: the even numerator
        (3 / 128, "~1/32"),
    ],
)
def test_fractions(value: float, text: str) -> None:
    assert fraction(value) == text


def test_other_rules() -> None:
    assert fraction(0.5625, 16) == "9/16"
    assert fraction(0.5625, 8) == "~1/2"  # a tie between 4/8 and 5/8


@pytest.mark.parametrize(
    ("degrees", "decimal", "sexagesimal"),
    [
        (15.0, "15°", "15°"),
        (22.5, "22.5°", "22°30'"),
        (0.5, "0.5°", "0°30'"),
        (15 + 1820 / 3600, "15.5056°", "15°30'20\""),
        (15 + 20 / 3600, "15.0056°", "15°0'20\""),
        (14.9999999999, "15°", "15°"),
        (29.99999, "30°", "29°59'59.96\""),
        (-22.5, "-22.5°", "-22°30'"),
        (0.0, "0°", "0°"),
        (-1e-9, "0°", "0°"),
    ],
)
def test_angles(degrees: float, decimal: str, sexagesimal: str) -> None:
    assert angle(degrees) == decimal
    assert angle(degrees, dms=True) == sexagesimal


@pytest.mark.parametrize("value", [1e-30, -1e-30, 1.5e-30, 9.9e-31, -1.38e-149, 5e-324])
def test_the_smallest_exact_texts_can_be_read_back(value: float) -> None:
    read = evaluate(exact(value), "angle", "mm")
    assert read == (value if abs(value) >= 1e-30 else 0.0)


def test_exact_text() -> None:
    assert [exact(v) for v in (12.0, 0.1, -0.0, 1e22, 34.925)] == [
        "12", "0.1", "0", "1e+22", "34.925"
    ]
