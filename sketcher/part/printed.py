"""How the paper prints a number: fractions as typed, decimals by the unit's practice."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from sketcher.part.general_tolerances import general
from sketcher.part.kinds import KINDS, measure, wanted
from sketcher.part.value import Binding, Part
from sketcher.quantity.format import angle, fraction, length
from sketcher.quantity.spelling import spelled

FRACTION = re.compile(r"^\s*(?:\d+[ -])?\(?\d+\s*/\s*\d+\)?\s*$")
DECIMAL = re.compile(r"^\s*\d*\.(\d+)\s*$")
MINUTE_SIGNS = "'′’:"  # as the parser reads them
MM_PLACES, LEAST_INCH_PLACES, MOST_INCH_PLACES = 3, 2, 4

_last: tuple[Mapping[str, Binding], bool] | None = None  # asked once for each dimension of a part


@dataclass(frozen=True, slots=True)
class Number:
    """A nominal value as printed, without sign of diameter or radius.

    `places` counts its decimals; None for a fraction.
    """

    text: str
    places: int | None


def nominal(part: Part, binding: Binding) -> float:
    """Return the value that the binding wants, or the measured one where it names none."""
    value = wanted(part, binding)
    return measure(part, binding) if value is None else value


def printed(part: Part, binding: Binding, factor: float = 1.0) -> Number:
    """Return a dimension's number, times `factor`, as the paper prints it.

    A fraction needs a tolerance of fractions: beside a decimal one it is written as a decimal
    (common practice, no source).
    """
    value = abs(nominal(part, binding)) * factor
    if KINDS[binding.kind].quantity == "angle":
        return angle_number(part, value, binding.value or "", binding.tolerance)
    typed = spelled(binding.value or "")
    if binding.tolerance is not None or not general(part).fractions:
        return length_number(value, part.unit, "" if FRACTION.match(typed) else typed)
    if part.unit == "in" and not DECIMAL.match(typed) and in_fractions(part):
        typed = "1/2"  # a fraction of what it is worth, where it is one
    return length_number(value, part.unit, typed)


def angle_number(
    part: Part, value: float, typed: str = "", tolerance: tuple[float, float] | None = None
) -> Number:
    """Return an angle in degrees as printed: with minutes where its tolerance is in minutes.

    ISO 2768-1 gives its tolerances of angles in degrees and minutes; number and tolerance are in
    the same form (ASME Y14.5M-1994, 1.5.4 and 2.3; ISO 129-1, from memory). What is no whole
    minute stays decimal.
    """
    if _is_whole(60.0 * value) and in_minutes(part, typed, tolerance):
        return Number(angle(value, 0, dms=True), 0)
    text = angle(value, 2)
    return Number(text, _decimals(text.rstrip("°")))


def in_minutes(part: Part, typed: str, tolerance: tuple[float, float] | None) -> bool:
    """Tell whether an angle and its deviations are to be read in degrees and minutes."""
    if any(sign in typed for sign in MINUTE_SIGNS):
        return True
    if tolerance is None:
        return general(part).grade is not None
    return all(_is_whole(60.0 * amount) for amount in tolerance) and (
        general(part).grade is not None or not all(_is_whole(100.0 * a) for a in tolerance))


def _is_whole(value: float) -> bool:
    return abs(value - round(value)) < 1e-6


def in_fractions(part: Part) -> bool:
    """Tell whether more of a part's lengths are typed as fractions than as decimals."""
    global _last
    last = _last  # another thread may put its own part there
    if last is not None and last[0] is part.bindings:
        return last[1]
    typed = [spelled(b.value) for b in part.bindings.values() if b.value is not None]
    mostly = sum("/" in t for t in typed) > sum("." in t for t in typed)
    _last = (part.bindings, mostly)
    return mostly


def length_number(value: float, unit: str, typed: str = "") -> Number:
    """Return a length as printed; an inch length typed as a fraction stays one.

    A whole number is decimal, as its neighbours are: a sheet's tolerances go by how it is written.
    """
    if unit == "mm":
        text = length(value, "mm", MM_PLACES)
        return Number(text, _decimals(text))
    if FRACTION.match(typed):
        text = fraction(value)
        if not text.startswith("~"):
            return Number(text, None)
    found = DECIMAL.match(typed)
    places = len(found[1]) if found else _needed(value)
    places = min(max(places, LEAST_INCH_PLACES), MOST_INCH_PLACES)
    return Number(length(value, "in", places), places)


def thickness_text(part: Part) -> str:
    """Return the plate's thickness as the paper prints it: the stock's, not one to be measured.

    "Stock" sets it apart from dimensions that the general tolerances hold for (ASME Y14.5M-1994,
    1.4(a): reference, maximum, minimum and stock dimensions have none; from memory).
    """
    text = length_number(part.material.thickness, part.unit, spelled(part.material.written)).text
    unit = " mm" if part.unit == "mm" else " in" if part.drawing.practice == "ISO" else ""
    return f"{text}{unit} stock"


def _decimals(text: str) -> int:
    return len(text.partition(".")[2])


def _needed(value: float) -> int:
    """Decimals that an inch length needs, to a tenth of a thousandth."""
    return _decimals(length(value, "in", MOST_INCH_PLACES, zeros=False))
