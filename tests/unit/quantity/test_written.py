"""Fractions as paper drawings write them: inches, whatever the unit of the part."""

from __future__ import annotations

import pytest

from sketcher.errors import QuantityError
from sketcher.quantity.parse import evaluate
from sketcher.quantity.physical_dimension import Value
from sketcher.quantity.written import evaluate_written


@pytest.mark.parametrize("text", ["9/32", "1 5/8", "1-5/8", " 1/2 ", "(3/16)", "-3/4", "+ 7 1/128"])
def test_a_fraction_alone_needs_a_unit_in_millimetres(text: str) -> None:
    with pytest.raises(QuantityError) as told:
        evaluate_written(text, "length", "mm", {}, "readout.x")
    assert told.value.place == "readout.x"
    assert " in" in told.value.remedy
    # A file that holds it can still be read, and in inches it is what it says.
    evaluate(text, "length", "mm")
    assert evaluate_written(text, "length", "in") == evaluate(text, "length", "in")


@pytest.mark.parametrize(
    ("text", "amount"),
    [("9/32 in", 7.14375), ('9/32"', 7.14375), ("9/32 mm", 0.28125), ("1 5/8 in", 41.275)],
)
def test_with_a_unit_it_is_that(text: str, amount: float) -> None:
    """An inch is 25.4 mm (international yard and pound agreement, 1959)."""
    assert evaluate_written(text, "length", "mm") == pytest.approx(amount, abs=1e-12)


@pytest.mark.parametrize("text", [
    "85/2", "18/2", "10/3", "1/3", "5/6", "1/256", "wall/2", "60 + 1/2", "2*1/2", "60 - 1/2",
    "(9/32)/2", "4/4",
])
def test_sums_and_quotients_are_no_fractions_of_a_rule(text: str) -> None:
    names = {"wall": Value(3.0)}
    assert evaluate_written(text, "length", "mm", names) == evaluate(text, "length", "mm", names)


@pytest.mark.parametrize("quantity", ["angle", "number"])
def test_angles_and_numbers_may_be_fractions(quantity: str) -> None:
    assert evaluate_written("22 1/2", quantity, "mm") == 22.5


@pytest.mark.parametrize("unit", ["mm", "in"])
@pytest.mark.parametrize("text", ["1/2 1/4", "10/2 1/2", "wall/2 1/4", "1 ÷ 2 1/4", '1/2 1/4"'])
def test_a_mixed_fraction_behind_a_division_sign_is_refused(text: str, unit: str) -> None:
    with pytest.raises(QuantityError) as told:
        evaluate(text, "length", unit, {"wall": Value(3.0)}, "b1")
    assert told.value.place == "b1"


@pytest.mark.parametrize(("text", "amount"), [("1/(2 1/4)", 4.0 / 9.0), ("2*1 1/4", 2.5)])
def test_elsewhere_a_mixed_fraction_is_a_number(text: str, amount: float) -> None:
    assert evaluate(text, "number", "in") == pytest.approx(amount, abs=1e-15)
