"""Lengths and angles as text, by the practice of the unit; rounding as ISO 80000-1, rule A.

Millimetres: a leading zero, no trailing zeros (ASME Y14.5M-1994, 1.6.1). Inches: no leading zero,
and as many decimals as asked for, zeros added (ASME Y14.5M-1994, 1.6.2 and 2.3.2). Ties go to the
even digit (ISO 80000-1:2009, Annex B, rule A; wording from memory).
"""

from __future__ import annotations

from decimal import ROUND_HALF_EVEN, Context, Decimal
from fractions import Fraction

from sketcher.quantity.tokens import MAX_EXPONENT

DEFAULT_PLACES = 4
CONTEXT = Context(prec=60, rounding=ROUND_HALF_EVEN)


def rounded(value: float | Decimal, places: int) -> Decimal:
    """Round the decimal number that `value` prints as; ties go to the even digit.

    The shortest decimal text of the float is rounded, not its binary value: 2.675 gives 2.68.
    """
    exact = value if isinstance(value, Decimal) else Decimal(repr(float(value)))
    result = exact.quantize(Decimal(1).scaleb(-places), context=CONTEXT)
    return abs(result) if result == 0 else result


def length(
    value: float | Decimal, unit: str, places: int | None = None, zeros: bool | None = None
) -> str:
    """Return a length as the unit's practice prints it, without the unit.

    Parameters
    ----------
    value : float or Decimal
        Length in the part's unit.
    unit : {"mm", "in"}
        The part's unit.
    places : int, optional
        Decimals: at most so many in mm, exactly so many in inches. Left out: at most 4 in both.
    zeros : bool, optional
        Whether trailing zeros stay; left out, the unit's practice decides.
    """
    digits = DEFAULT_PLACES if places is None else places
    text = f"{rounded(value, digits):f}"
    if zeros is None:
        zeros = unit == "in" and places is not None
    if not zeros:
        text = _trimmed(text)
    return _bare(text) if unit == "in" else text


def fraction(value: float, denominator: int = 64) -> str:
    """Return a length in inches as a whole number and a fraction, ``1 5/8``.

    With ``~`` in front when the value is not exactly so many parts of `denominator`. Ties between
    two fractions go to the even numerator.
    """
    exact = Fraction(value)
    count = round(abs(exact) * denominator)  # Fraction rounds a tie to even
    nearest = Fraction(count, denominator)
    whole, rest = divmod(nearest, 1)
    if rest and whole:
        text = f"{whole} {rest.numerator}/{rest.denominator}"
    elif rest:
        text = f"{rest.numerator}/{rest.denominator}"
    else:
        text = f"{whole}"
    sign = "-" if exact < 0 and nearest else ""
    return f"{'' if nearest == abs(exact) else '~'}{sign}{text}"


def angle(degrees: float, places: int | None = None, dms: bool = False) -> str:
    """Return an angle as ``22.5°``, or with `dms` as ``15°30'20"``.

    Parameters
    ----------
    degrees : float
        Angle in degrees.
    places : int, optional
        Most decimals of the degrees, or of the seconds; left out: 4 and 2.
    dms : bool
        Degrees, minutes and seconds; parts that are zero at the end are left out, and an angle
        below one degree keeps its ``0°`` (ASME Y14.5M-1994, 1.5.4).
    """
    if not dms:
        return _trimmed(f"{rounded(degrees, DEFAULT_PLACES if places is None else places):f}") + "°"
    digits = 2 if places is None else places
    exact = Decimal(repr(abs(float(degrees))))
    # In seconds first, so that 59.999 carries into the minutes and these into the degrees.
    total = rounded(CONTEXT.multiply(exact, Decimal(3600)), digits)
    minutes, seconds = divmod(total, 60)
    whole, minutes = divmod(minutes, 60)
    text = f"{whole:f}°"
    if minutes or seconds:
        text += f"{minutes:f}'"
    if seconds:
        text += _trimmed(f"{seconds:f}") + '"'
    return f"-{text}" if degrees < 0 and total else text


LEAST = 10.0 ** -MAX_EXPONENT
"""A number nearer to zero cannot be read back; no length and no angle is meant by it."""


def exact(value: float) -> str:
    """Return the shortest decimal text that evaluates to the very same float.

    What is smaller than any text may say is nothing.
    """
    text = repr((float(value) if abs(value) >= LEAST else 0.0) + 0.0)
    return text.removesuffix(".0")


def _trimmed(text: str) -> str:
    return text.rstrip("0").rstrip(".") if "." in text else text


def _bare(text: str) -> str:
    """Take the zero in front of the decimal point away."""
    sign = "-" if text.startswith("-") else ""
    digits = text.removeprefix("-")
    return sign + digits[1:] if digits.startswith("0.") else text
