"""Tolerances: the drawing's general ones, limits of a dimension, and how a chain adds up.

`Drawing.tolerance` is one of ``""`` (the unit's usual: ISO 2768-m in mm, places in inches),
``"none"``, ``"ISO 2768-f"`` (f, m, c or v), or title block places such as
``".XX 0.01, .XXX 0.005, fraction 1/64, angle 0.5"``.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from math import inf, isfinite, sqrt
from typing import Any

from sketcher.errors import QuantityError
from sketcher.part.kind_base import Feature
from sketcher.part.kinds import KINDS
from sketcher.part.printed import nominal, printed
from sketcher.part.value import Binding, Part
from sketcher.part.whole import curve_value
from sketcher.quantity.units import convert
from sketcher.shipped import shipped

ISO = re.compile(r"^\s*(?:ISO\s*)?2768\s*-\s*([fmcv])\s*$", re.IGNORECASE)
ENTRY = re.compile(r"^\s*(\.X{1,4}|fraction|angle)\s+(\S+)\s*$", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class General:
    """The tolerance that holds for every dimension without its own.

    `grade` is an ISO 2768-1 class or None; `places` maps a number of decimals, and `other` the
    words ``fraction`` and ``angle``, to plus and minus in inches and degrees.
    """

    grade: str | None
    places: Mapping[int, float]
    other: Mapping[str, float]

    @property
    def note(self) -> str:
        """What the title block says."""
        if self.grade:
            return f"ISO 2768-{self.grade}"
        entries = [f".{'X' * count} ±{_bare(t)}" for count, t in sorted(self.places.items())]
        if "fraction" in self.other:
            entries.append(f"fractions ±{Fraction(self.other['fraction']).limit_denominator(128)}")
        if "angle" in self.other:
            entries.append(f"angles ±{self.other['angle']:g}°")
        return ", ".join(entries) or "as given at each dimension"


def general(part: Part) -> General:
    """Return the general tolerance of a part's drawing.

    Raises
    ------
    QuantityError
        When `Drawing.tolerance` is none of the forms above.
    """
    text = part.drawing.tolerance.strip()
    if text.lower() == "none":
        return General(None, {}, {})
    if not text:
        if part.unit == "mm":
            return General("m", {}, {})
        table = _table("inch_places.toml")
        places = {int(count): float(t) for count, t in table["places"].items()}
        return General(None, places, table["other"])
    found = ISO.match(text)
    return General(found[1].lower(), {}, {}) if found else _entries(text)


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
    table = _table("iso2768.toml")[feature]
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


@cache
def _table(name: str) -> Mapping[str, Any]:
    import tomllib  # its patterns are compiled as it is loaded

    return tomllib.loads(shipped("resources", f"standards/{name}").read_text(encoding="utf-8"))


def _entries(text: str) -> General:
    places: dict[int, float] = {}
    other: dict[str, float] = {}
    for entry in text.split(","):
        found = ENTRY.match(entry)
        try:
            amount = float(Fraction(found[2])) if found else -inf
        except (ValueError, ZeroDivisionError):
            amount = -inf
        if found is None or not 0.0 < amount < inf:
            raise QuantityError("drawing.tolerance", f"{entry.strip()!r} is no general tolerance",
                                "write 'ISO 2768-m', '.XX 0.01, .XXX 0.005, angle 0.5' or 'none'")
        word = found[1].lower()
        if word.startswith("."):
            places[len(word) - 1] = amount
        else:
            other[word] = amount
    return General(None, places, other)


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
    found = rules.other.get("fraction") if places is None else rules.places.get(places)
    return found if found is None or part.unit == "in" else convert(found, "in", part.unit)


def _shorter_side(part: Part, binding: Binding) -> float:
    """Length of the shorter of an angle's lines, in mm."""
    lengths = [curve_value(part, part.curves[name]).length for name in binding.of]
    return convert(min(lengths), part.unit, "mm")


def _bare(amount: float) -> str:
    return f"{amount:g}".removeprefix("0")
