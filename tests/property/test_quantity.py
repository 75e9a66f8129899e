"""What is printed reads back: parse after format is the identity, within the rounding asked for."""

from __future__ import annotations

from decimal import Decimal

from hypothesis import given, settings
from hypothesis import strategies as st

from sketcher.errors import QuantityError
from sketcher.quantity.format import angle, exact, fraction, length, rounded
from sketcher.quantity.parse import evaluate
from sketcher.quantity.units import convert

UNITS = st.sampled_from(["mm", "in"])
LENGTHS = st.floats(-1e5, 1e5, allow_nan=False)


@given(LENGTHS, UNITS)
@settings(max_examples=300)
def test_exact_text_is_the_very_same_number(value: float, unit: str) -> None:
    if value == 0.0 or abs(value) > 1e-25:
        assert evaluate(exact(value), "length", unit) == value


@given(LENGTHS, UNITS, st.integers(0, 6))
@settings(max_examples=300)
def test_a_printed_length_is_the_rounded_one(value: float, unit: str, places: int) -> None:
    text = length(value, unit, places)
    assert Decimal(repr(evaluate(text, "length", unit))) == rounded(value, places)
    assert abs(evaluate(text, "length", unit) - value) <= 0.5000001 * 10.0**-places


@given(st.integers(-64 * 400, 64 * 400), UNITS)
@settings(max_examples=300)
def test_a_printed_fraction_is_exact(count: int, unit: str) -> None:
    text = fraction(count / 64)
    assert "~" not in text
    inches = evaluate(f"{text} in", "length", "in")
    assert inches == count / 64
    assert evaluate(f"{text} in", "length", unit) == convert(count / 64, "in", unit)


@given(st.floats(0, 1000), st.sampled_from([2, 4, 8, 16, 32, 64, 128]))
@settings(max_examples=300)
def test_a_fraction_is_the_nearest(value: float, denominator: int) -> None:
    text = fraction(value, denominator)
    assert abs(evaluate(text.lstrip("~"), "length", "in") - value) <= 0.5 / denominator
    assert text.startswith("~") == ((value * denominator) % 1.0 != 0.0)


@given(st.floats(-360, 360), st.booleans())
@settings(max_examples=300)
def test_a_printed_angle_reads_back(degrees: float, dms: bool) -> None:
    step = 0.01 / 3600 if dms else 1e-4
    assert abs(evaluate(angle(degrees, dms=dms), "angle", "mm") - degrees) <= 0.5001 * step


@given(st.text(alphabet="0123456789.+-*/^() '\"°mincdegsqrtpa,", max_size=24), UNITS,
       st.sampled_from(["length", "angle", "number"]))
@settings(max_examples=800)
def test_any_text_is_a_number_or_one_error(text: str, unit: str, quantity: str) -> None:
    try:
        value = evaluate(text, quantity, unit)
    except QuantityError:
        return
    assert abs(value) <= 1e12


@given(st.floats(0.01, 1e4), st.floats(0.01, 1e4), st.sampled_from("+-*/"))
@settings(max_examples=200)
def test_arithmetic_is_that_of_floats(a: float, b: float, sign: str) -> None:
    wanted = {"+": a + b, "-": a - b, "*": a * b, "/": a / b}[sign]
    assert evaluate(f"{a!r} {sign} {b!r}", "number", "mm") == wanted
