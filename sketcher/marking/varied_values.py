"""What varies from student to student: a parameter or a dimension, through a range in steps."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import prod

from sketcher.errors import EditError, QuantityError
from sketcher.part.kinds import KINDS
from sketcher.part.printed import DECIMAL, FRACTION
from sketcher.part.value import Part
from sketcher.quantity.format import exact, fraction, length
from sketcher.quantity.parameters import evaluate_all
from sketcher.quantity.parse import names_in, value_of
from sketcher.quantity.physical_dimension import ANGLE, LENGTH, PhysicalDimension, Value
from sketcher.quantity.spelling import spelled

MOST_VALUES = 10_000
"""Values that one name may take."""
FORM = "NAME=FROM..TO:STEP"
WITH_UNIT = re.compile(r"(.*\d)\s*(mm|in|inch|inches|\"|″|”)\s*")
WHOLE = re.compile(r"\s*\d+\s*")


@dataclass(frozen=True, slots=True)
class VariedName:
    """A parameter or a dimension, and the expressions that it may have."""

    name: str
    is_parameter: bool
    texts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class DrawSpace:
    """All draws that there are: every value of each name with every value of the others."""

    varied: tuple[VariedName, ...]

    @property
    def count(self) -> int:
        """How many draws there are."""
        return prod(len(each.texts) for each in self.varied)

    def draw(self, index: int) -> Mapping[str, str]:
        """Return the expressions of a draw by name; `index` counts the draws from 0."""
        found = {}
        for each in self.varied:
            index, place = divmod(index, len(each.texts))
            found[each.name] = each.texts[place]
        return found

    def parted(self, draw: Mapping[str, str]) -> tuple[dict[str, str], dict[str, str]]:
        """Return the expressions of a draw for parameters, and those for dimensions."""
        parameters = {each.name for each in self.varied if each.is_parameter}
        return ({name: text for name, text in draw.items() if name in parameters},
                {name: text for name, text in draw.items() if name not in parameters})


def draw_space(part: Part, options: Sequence[str]) -> DrawSpace:
    """Return the draws that options such as ``wall=10..14:1`` leave.

    Parameters
    ----------
    part : Part
    options : sequence of str
        Bounds and step are expressions, in which parameters have the part's own values; a number
        without a unit is in the part's unit, or in degrees.

    Raises
    ------
    EditError
        For an option that is no such text, an unknown name, or a range that has no values.
    QuantityError
        For an expression that cannot be evaluated; the place is the option.
    """
    values = evaluate_all(part.parameters, part.unit)
    found: dict[str, VariedName] = {}
    for option in options:
        each = _varied(part, option, values)
        if each.name in found:
            raise EditError(f"--vary {option}", f"'{each.name}' is varied twice", "say it once")
        found[each.name] = each
    return DrawSpace(tuple(found.values()))


def _varied(part: Part, option: str, values: Mapping[str, Value]) -> VariedName:
    place = f"--vary {option}"
    name, _, span = option.partition("=")
    low, _, rest = span.partition("..")
    high, _, step = rest.rpartition(":")
    texts = tuple(text.strip() for text in (low, high, step))
    name = name.strip()
    if not name or not all(texts):
        raise EditError(place, f"is not {FORM}", "write it like --vary wall=10..14:1")
    own: PhysicalDimension | None = None
    if name in part.parameters:
        quantity, own = "any", values[name].dimension
    else:
        quantity = _quantity(part, name, place)
    return VariedName(name, name in part.parameters,
                      tuple(_texts(part, place, texts, quantity, own, values)))


def _quantity(part: Part, name: str, place: str) -> str:
    """Return what a dimension measures."""
    binding = part.bindings.get(name)
    quantity = None if binding is None else KINDS[binding.kind].quantity
    if binding is None or quantity is None:
        driving = (each for each, b in part.bindings.items()
                   if KINDS[b.kind].quantity is not None and b.drives)
        known = ", ".join((*part.parameters, *driving))
        raise EditError(place, f"no parameter or dimension named '{name}'",
                        f"there are {known or 'none'}")
    if not binding.drives:
        raise EditError(place, f"'{name}' is a reference dimension and drives nothing",
                        "vary one that drives")
    return quantity


def _texts(
    part: Part, place: str, typed: tuple[str, ...], quantity: str,
    own: PhysicalDimension | None, names: Mapping[str, Value],
) -> Iterator[str]:
    """Yield the values from the first to the second of three expressions by the third."""
    unit = _unit(part, typed, quantity)
    found = [value_of(text, quantity, unit, names if unit == part.unit else {}, place)
             for text in typed]
    dimension = _dimension(place, [value.dimension for value in found], quantity, own)
    low, high, step = (Fraction(repr(value.amount)) for value in found)
    if step <= 0:
        raise EditError(place, "its step is not above zero", "write it like --vary wall=10..14:1")
    if high < low:
        raise EditError(place, "ends before it begins", "write the smaller value first")
    count = int((high - low) / step + Fraction(1, 10**9)) + 1
    if count > MOST_VALUES:
        raise EditError(place, f"has {count} values", f"take a larger step: {MOST_VALUES} at most")
    suffix = ""
    if dimension == LENGTH and (own is not None or unit != part.unit):
        suffix = f" {unit}"
    elif dimension == ANGLE and own is not None:
        suffix = "°"
    for number in range(count):
        yield _written(float(low + number * step), unit, typed, dimension) + suffix


def _unit(part: Part, typed: tuple[str, ...], quantity: str) -> str:
    """Return the unit to count in: that of the bounds where all name one and nothing else."""
    found = [WITH_UNIT.fullmatch(text) for text in typed]
    if quantity == "angle" or any(names_in(text, part.unit) for text in typed):
        return part.unit
    units = {"mm" if each[2] == "mm" else "in" for each in found if each is not None}
    return units.pop() if len(units) == 1 and all(found) else part.unit


def _dimension(
    place: str, found: Sequence[PhysicalDimension], quantity: str, own: PhysicalDimension | None
) -> PhysicalDimension | None:
    """Return what all three expressions measure; None for plain numbers."""
    wanted = {"length": LENGTH, "angle": ANGLE}.get(quantity, own)
    said = {each for each in found if not each.bare}
    if wanted is not None and not wanted.bare:
        said.add(wanted)
    if len(said) > 1:
        raise QuantityError(place, f"mixes {' and '.join(sorted(map(str, said)))}",
                            "give all three the same unit")
    return said.pop() if said else None


def _written(
    value: float, unit: str, typed: tuple[str, ...], dimension: PhysicalDimension | None
) -> str:
    """Return a value as it would be typed: a fraction, or with as many decimals, as the bounds."""
    plain = [spelled(WITH_UNIT.sub(r"\1", text)) for text in typed]
    if unit == "in" and dimension != ANGLE:
        if any(FRACTION.match(text) for text in plain):
            text = fraction(value)
            if not text.startswith("~"):
                return text
        decimals = [DECIMAL.match(text) for text in plain]
        if any(decimals) and all(found or WHOLE.fullmatch(text)
                                 for found, text in zip(decimals, plain, strict=True)):
            return length(value, "in", max(len(found[1]) for found in decimals if found))
    return exact(value)
