"""Limits of a dimension by its own tolerance or the general one, and how a chain adds up."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from math import isfinite, sqrt

from sketcher.errors import QuantityError
from sketcher.part.general_tolerances import General, general, standard_table
from sketcher.part.kind_base import Feature
from sketcher.part.kinds import KINDS
from sketcher.part.printed import nominal, printed
from sketcher.part.value import Binding, Part
from sketcher.part.whole import curve_value
from sketcher.quantity.units import convert

DECIMALS = re.compile(r"\d*\.(\d+)")


def deviation(nominal_size: float, grade: str, feature: Feature = "linear") -> float | None:
    """Return plus and minus by ISO 2768-1:1989, or None where the table has no value.

    Parameters
    ----------
    nominal_size : float
        Size in mm; for an angle the length of its shorter side in mm.
    grade : {"f", "m", "c", "v"}
        Tolerance class.
    feature : {"linear", "radius", "angle"}
        Tables 1, 2 (external radii and chamfer heights) and 3 (degrees).
    """
    table = standard_table("iso2768.toml")[feature]
    if nominal_size < table["from"]:
        return None
    for bound, value in zip(table["up_to"], table[grade], strict=True):
        if nominal_size <= bound:
            return float(value) if isfinite(value) else None
    return None


def limits(part: Part, binding: Binding) -> tuple[float, float] | None:
    """Return the least and the greatest size that pass, in the part's unit or in degrees.

    A binding's own tolerance holds first, then the drawing's general one. None for a reference
    dimension, for a kind without a value, and where the general tolerance has no entry.
    """
    deviations = deviations_of(part, binding)
    if deviations is None:
        return None
    size = nominal(part, binding)
    return (size + deviations[1], size + deviations[0])


def deviations_of(part: Part, binding: Binding) -> tuple[float, float] | None:
    """Return the upper and the lower deviation of a dimension, or None as `limits` does."""
    if KINDS[binding.kind].quantity is None or not binding.drives:
        return None
    if binding.tolerance is not None:
        return (max(binding.tolerance), min(binding.tolerance))
    rules = general(part)
    spread = _by_class(part, binding, rules.grade) if rules.grade else _by_places(
        part, binding, rules)
    return None if spread is None else (spread, -spread)


def general_deviation(part: Part, size: float, feature: Feature, printed: str) -> float | None:
    """Return plus and minus by the drawing's general tolerance, or None where it has no entry.

    Parameters
    ----------
    part : Part
    size : float
        In the part's unit; for an angle the length of its shorter side in mm.
    feature : {"linear", "radius", "angle"}
    printed : str
        The number as the sheet prints it: title block tolerances go by its decimals.
    """
    rules = general(part)
    if feature == "angle":
        return deviation(size, rules.grade, "angle") if rules.grade else rules.other.get("angle")
    if rules.grade:
        found = deviation(convert(size, part.unit, "mm"), rules.grade, feature)
        return None if found is None else convert(found, "mm", part.unit)
    if "/" in printed:
        return rules.other.get("fraction")
    number = DECIMALS.search(printed)
    return rules.places.get(len(number[1]) if number else 0)


@dataclass(frozen=True, slots=True)
class Stack:
    """How the deviations of a chain add up, in the part's unit.

    `worst` is the least and the greatest sum that can occur, `likely` the root-sum-square band
    about the same middle (independent deviations, limits at the same number of sigmas).
    """

    nominal: float
    worst: tuple[float, float]
    likely: tuple[float, float]


def stack(part: Part, chain: Iterable[tuple[str, int]]) -> Stack:
    """Add up a chain of dimensions.

    Parameters
    ----------
    part : Part
    chain : iterable of (str, int)
        Binding ids, each with 1 where the chain runs with the dimension and -1 against it.

    Raises
    ------
    QuantityError
        For an unknown id, a binding that is no length, or one without limits.

    Notes
    -----
    Worst case and root sum of squares as in *Machinery's Handbook*, tolerance stack-up; the
    root-sum-square band is centred on the middle of the limits (from memory).
    """
    middle = total = squares = size = 0.0
    for name, sign in chain:
        binding = part.bindings.get(name)
        if binding is None or KINDS[binding.kind].quantity != "length":
            raise QuantityError(f"bindings.{name}", "is no length of this part",
                                "choose dimensions that measure along one line")
        band = limits(part, binding)
        if band is None:
            raise QuantityError(f"bindings.{name}", "has no limits",
                                "give it a tolerance, or choose a general one")
        width = 0.5 * (band[1] - band[0])
        size += sign * nominal(part, binding)
        middle += sign * 0.5 * (band[0] + band[1])
        total += width
        squares += width * width
    likely = sqrt(squares)
    return Stack(size, (middle - total, middle + total), (middle - likely, middle + likely))


def _by_class(part: Part, binding: Binding, grade: str) -> float | None:
    feature = KINDS[binding.kind].feature
    if feature == "angle":
        return deviation(_shorter_side(part, binding), grade, feature)
    size = convert(abs(nominal(part, binding)), part.unit, "mm")
    found = deviation(size, grade, feature)
    return None if found is None else convert(found, "mm", part.unit)


def _by_places(part: Part, binding: Binding, rules: General) -> float | None:
    if KINDS[binding.kind].quantity == "angle":
        return rules.other.get("angle")
    places = printed(part, binding).places
    return rules.other.get("fraction") if places is None else rules.places.get(places)


def _shorter_side(part: Part, binding: Binding) -> float:
    """Length of the shorter of an angle's lines, in mm."""
    lengths = [curve_value(part, part.curves[name]).length for name in binding.of]
    return convert(min(lengths), part.unit, "mm")
