"""Expressions: what is read, in which unit, and what each mistake says."""

from __future__ import annotations

from fractions import Fraction
from math import acos, degrees, sqrt

import pytest

from sketcher.errors import QuantityError
from sketcher.quantity.parse import evaluate, names_in, value_of
from sketcher.quantity.physical_dimension import ANGLE, LENGTH, Value

NAMES = {"wall": Value(8.0), "t": Value(2.0, LENGTH), "slope": Value(15.0, ANGLE)}


@pytest.mark.parametrize(
    ("text", "mm", "inch"),
    [
        ("12.5", 12.5, 12.5),
        (".5", 0.5, 0.5),
        ("5.", 5.0, 5.0),
        ("1e-3", 0.001, 0.001),
        (" 7 ", 7.0, 7.0),
        ("1 5/8", 1.625, 1.625),
        ("1-5/8", 0.375, 1.625),  # an inch drawing joins, a metric one subtracts
        ("1 - 5/8", 0.375, 0.375),
        ('1-5/8"', 41.275, 1.625),
        ("1 5/8 in", 41.275, 1.625),
        ('3/8"', 9.525, 0.375),
        ("3/8", 0.375, 0.375),
        ("3.5-0.56", 2.94, 2.94),
        ("8-1/3", 23 / 3, 23 / 3),  # no rule has thirds
        ("8-5/4", 6.75, 6.75),
        ("2*3-1/2", 5.5, 5.5),
        ("3-1/2*2", 2.0, 2.0),
        ("(3-1/2)", 2.5, 2.5),
        ("wall-1/2", 7.5, 7.5),
        ("10-3/8-1/8", 9.5, 10.25),
        ("25.4 mm", 25.4, 1.0),
        ("34.925mm", 34.925, 1.375),
        ("2 cm", 20.0, 20 / 25.4),
        ("0.5 m", 500.0, 500 / 25.4),
        ("1 in + 2", 27.4, 3.0),
        ("96 + 2*wall", 112.0, 112.0),
        ("wall in", 203.2, 8.0),
        ("(3+4) in", 177.8, 7.0),
        ("t*2", 4.0, 4.0),
        ("-2^2", -4.0, -4.0),
        ("2^3^2", 512.0, 512.0),
        ("2^-1", 0.5, 0.5),
        ("--3", 3.0, 3.0),
        ("2+3*4", 14.0, 14.0),
        ("12/4/3", 1.0, 1.0),
        ("10-4-3", 3.0, 3.0),
        ("sqrt(3^2+4^2)", 5.0, 5.0),
        ("sqrt(t*t)", 2.0, 2.0),
        ("(t^3)^(1/3)", 2.0, 2.0),
        ("10*sin(30)", 5.0, 5.0),
        ("10*cos(slope*4)", 5.0, 5.0),
        ("10*tan(45°)", 10.0, 10.0),
        ("20*(1-cos(60))", 10.0, 10.0),
        ("t*sin(atan(3/4))", 1.2, 1.2),
        ("2×3−1", 5.0, 5.0),
    ],
)
def test_lengths(text: str, mm: float, inch: float) -> None:
    assert evaluate(text, "length", "mm", NAMES) == pytest.approx(mm, rel=1e-15)
    assert evaluate(text, "length", "in", NAMES) == pytest.approx(inch, rel=1e-15)


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("15", 15.0),
        ("15.5°", 15.5),
        ("15 deg", 15.0),
        ("15°30'", 15.5),
        ("15°30'20\"", 15 + 1820 / 3600),
        ("15° 30′ 20″", 15 + 1820 / 3600),
        ("15:30:20", 15 + 1820 / 3600),
        ("15:30", 15.5),
        ("2*15:30 + 1°", 32.0),
        ("15°20\"", 15 + 20 / 3600),
        ("30'", 0.5),
        ("30'20\"", 1820 / 3600),
        ("36\"", 0.01),
        ("-15°30'", -15.5),
        ("90-15°30'", 74.5),
        ("45-1/2", 44.5),
        ("slope*2", 30.0),
        ("atan(3/12)", 14.036243467926479),  # a rise of 3 in 12
        ("asin(0.5)", 30.0),
        ("acos(t/(2*t))", 60.0),
        ("1 rad", degrees(1.0)),
    ],
)
def test_angles(text: str, wanted: float) -> None:
    assert evaluate(text, "angle", "mm", NAMES) == pytest.approx(wanted, rel=4e-16)


def test_conversions_are_rounded_once() -> None:
    for n in range(1, 640):
        text = f"{n / 64 * 25.4!r} mm"
        exact = Fraction(repr(n / 64 * 25.4)) / Fraction("25.4")
        assert evaluate(text, "length", "in") == float(exact)


@pytest.mark.parametrize(
    ("text", "quantity", "says"),
    [
        ("", "length", "nothing was given"),
        ("   ", "length", "nothing was given"),
        ("12 +", "length", "ends too early"),
        ("(2", "length", "character 1 stays open"),
        ("2)", "length", "')' at character 2"),
        ("()", "length", "')' at character 2"),
        ("2 3", "length", "'3' at character 3"),
        ("2wall", "length", "'wall' at character 2"),
        ("1,234.5", "length", "part no thousands"),
        ("1,234,567", "length", "part no thousands"),
        ("15d30m20s", "angle", "as 30°15'20\" or 30:15:20"),  # an m is a length
        ("15d", "angle", "the letter 'd' marks no part of an angle"),
        ("30 m", "angle", "the letter 'm' marks no part of an angle"),
        ("15°30m", "angle", "the letter 'm' marks no part of an angle"),
        ("20s", "angle", "the letter 's' marks no part of an angle"),
        ("15:30", "length", "an angle, not a length"),
        ("15:70", "angle", "write minutes below 60"),
        ("15:", "angle", "as 30:15:00"),
        ("5'", "length", "feet are not read"),
        ("5$", "length", "'$' at character 2"),
        ("1/0", "length", "division by zero"),
        ('1/0"', "length", "divides by zero"),
        ("1 9/8", "length", "not a proper fraction"),
        ("wal", "length", "did you mean 'wall'"),
        ("height", "length", "no parameter named 'height'"),
        ("sin", "length", "sin needs parentheses"),
        ("sqrt(-1)", "length", "root of a negative"),
        ("(-8)^(1/3)", "length", "root of a negative"),
        ("tan(90)", "number", "tan(90) has no value"),
        ("asin(2)", "angle", "from -1 to 1"),
        ("sin(t)", "number", "sin of a length"),
        ("atan(t)", "angle", "atan of a length"),
        ("8 mm*8 mm", "length", "an area, not a length"),
        ("t/t", "length", "a plain number, not a length"),
        ("t + slope", "length", "an angle cannot be added to a length"),
        ("t - 15°", "length", "an angle cannot be subtracted from a length"),
        ("t + t/t", "length", "a plain number cannot be added to a length"),
        ("15°", "length", "an angle, not a length"),
        ("5 mm", "angle", "a length, not an angle"),
        ("5 mm", "number", "a length, not a plain number"),
        ("t mm", "length", "'mm' stands behind a length"),
        ("2^t", "length", "the exponent is a length"),
        ("t^0.3", "length", "cannot be raised"),
        ("9^9^9^9", "length", "out of range"),
        ("0^-1", "length", "out of range"),
        ("1e31", "length", "out of range"),
        ("1e9*1e9", "length", "out of range"),
        ("1" * 41, "length", "41 digits"),
        ("1" * 401, "length", "401 characters"),
        ("15°70'", "angle", "write minutes below 60"),
        ("15°30'60\"", "angle", "write seconds below 60"),
        ("(" * 60 + "1" + ")" * 60, "length", "nested too deep"),
        ("2" + "^2" * 100, "length", "nested too deep"),
        ("__import__('os')", "length", "no parameter named '__import__'"),
        ("a.b", "length", "'.' at character 2"),
        ("8\n", "length", "control character"),
        ("8\t+ 2", "length", "control character"),
    ],
)
def test_mistakes_say_what_and_how_to_mend(text: str, quantity: str, says: str) -> None:
    with pytest.raises(QuantityError) as caught:
        evaluate(text, quantity, "mm", NAMES, "bindings.b1.value")
    told = str(caught.value)
    assert says in told
    assert told.startswith("bindings.b1.value: ")


def test_bare_numbers_become_what_is_asked() -> None:
    assert value_of("8", "any", "mm").dimension.bare
    assert value_of("2*8", "any", "mm").dimension.bare
    assert not value_of("8 mm / 2 mm", "any", "mm").dimension.bare
    assert value_of("8 mm / 2", "any", "mm").dimension == LENGTH


def test_names_are_listed_once_in_order() -> None:
    assert names_in("2*wall + sin(slope)*wall - pi") == ("wall", "slope")


def test_no_text_crashes_the_reader() -> None:
    pieces = ["1", "/", "2", "-", "'", '"', "°", "mm", "(", ")", "^", "x", " ", "e", "."]
    for a in pieces:
        for b in pieces:
            for c in pieces:
                for quantity in ("length", "angle"):
                    try:
                        value = evaluate(a + b + c, quantity, "in")
                    except QuantityError:
                        continue
                    assert isinstance(value, float)


def test_functions_agree_with_the_library() -> None:
    assert evaluate("sqrt(2)", "number", "mm") == sqrt(2.0)
    assert evaluate("acos(0.3)", "angle", "mm") == degrees(acos(0.3))


def test_dimensions_are_named_in_words() -> None:
    names = {
        "8 mm * 8 mm": "an area", "8 mm * 8 mm * 8 mm": "a volume", "8 mm / 2°": "length^1",
        "sqrt(8 mm)": "length^1/2", "3° * 3°": "angle^2", "1 / 3 mm": "length^-1",
    }
    for text, words in names.items():
        assert words in str(value_of(text, "any", "mm").dimension)


@pytest.mark.parametrize(
    ("text", "unit", "wanted"),
    [
        ("12,5", "mm", 12.5), (",5", "mm", 0.5), ("-0,25", "mm", -0.25), ("12,5 - 1,5", "mm", 11.0),
        ("sqrt(2,25)", "mm", 1.5), ("1,5e1", "mm", 15.0), ("2,54 cm", "mm", 25.4),
        ("3½", "in", 3.5), ("3 ½", "in", 3.5), ("3-½", "in", 3.5), ("½", "in", 0.5),
        ("⅛ + ⅜ + ⅝ + ⅞ + ¼ + ¾", "in", 3.0), ("1/½", "in", 2.0), ("½^2", "in", 0.25),
        ("½ in", "mm", 12.7), ('½"', "mm", 12.7), ("1¼ in", "mm", 31.75), ("2*¾", "in", 1.5),
    ],
)
def test_a_decimal_comma_and_the_signs_of_fractions(text: str, unit: str, wanted: float) -> None:
    # Unicode, Latin-1 Supplement and Number Forms: what each sign of a fraction stands for.
    assert evaluate(text, "length", unit) == wanted


def test_a_fraction_sign_behind_a_division_is_refused_as_the_written_fraction_is() -> None:
    for text in ("7/3½", "7/3 1/2"):
        with pytest.raises(QuantityError, match="behind a division sign"):
            evaluate(text, "length", "in")
