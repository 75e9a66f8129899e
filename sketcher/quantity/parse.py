"""Lengths, angles and numbers from what a person typed: a small recursive-descent reader, no eval.

What it reads
-------------
- decimals ``12.5``, ``12,5``, ``.5``, ``5.``, ``1e-3``; a comma is a decimal mark where a digit
  follows at once, no function takes two values;
- mixed fractions ``1 5/8`` in every unit, though not behind a division sign (``1/2 1/4``);
  ``1-5/8`` where a hyphen without spaces joins a whole number and a proper fraction with a
  denominator of a rule (2, 4, 8 ... 128) in an inch part or before an inch sign, outside
  parentheses, and nothing multiplies, divides or raises it. Anywhere else, and always with spaces
  around it, the hyphen subtracts. ``½ ¼ ¾ ⅛ ⅜ ⅝ ⅞`` are such fractions: ``3½``, ``3-½``;
- length units ``mm cm m in inch "`` behind a number, a fraction, a name or parentheses, in a part
  of either unit; a number without a unit is in the part's unit (in degrees for an angle);
- angles ``15.5``, ``15.5°``, ``15.5 deg``, ``15°30'20"``, ``15:30:20``, ``0.5 rad``; no letters
  for minutes and seconds, as an m is a length; in a field for an angle also ``30'`` and
  ``30'20"``. A length field reads a lone ``"`` as inches;
- parameters by name, ``+ - * / ^``, parentheses, ``sqrt sin cos tan`` (of degrees),
  ``asin acos atan`` (in degrees), ``pi``.

A sign binds looser than a power (``-2^2`` is -4) and a power groups from the right.

Why the hyphen is read so: a rule by the part's unit alone would turn ``wall-1/2`` or ``8-1/3`` into
sums, and a rule by spaces alone would cut metric ``8-1/2``.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from fractions import Fraction
from math import acos, asin, atan, degrees, isfinite, pi, sqrt

from sketcher.errors import QuantityError
from sketcher.quantity.exact_angles import cosine, sine, tangent
from sketcher.quantity.physical_dimension import (
    ANGLE,
    BARE,
    LENGTH,
    NUMBER,
    PhysicalDimension,
    Value,
)
from sketcher.quantity.tokens import FUNCTIONS, Reader, Token
from sketcher.quantity.units import exact_length

MAX_DEPTH = 40
MAX_AMOUNT = 1e12
PLAIN = re.compile(r"[0-9]{1,9}(?:\.[0-9]{1,9})?")
"""Most values of most parts: read without the reader, in a tenth of its time."""
WANTED = {"length": LENGTH, "angle": ANGLE, "number": NUMBER, "any": None}


def hyphen_joins(text: str, unit: str) -> bool:
    """Tell whether a hyphen in a length joins a whole number and a fraction, as in ``4-5/8``.

    Parameters
    ----------
    text : str
        As typed; what cannot be read joins nothing.
    unit : str
        ``"mm"`` or ``"in"``: that of the part.
    """
    if "-" not in text:
        return False
    try:
        read, apart = (evaluate(each, "length", unit) for each in (text, text.replace("-", " - ")))
    except QuantityError:
        return False
    return read != apart


def evaluate(
    text: str,
    quantity: str,
    unit: str,
    names: Mapping[str, Value] | None = None,
    place: str = "",
) -> float:
    """Evaluate an expression to a length, an angle or a number.

    Parameters
    ----------
    text : str
        What was typed.
    quantity : {"length", "angle", "number", "any"}
        What the field wants.
    unit : {"mm", "in"}
        The part's unit.
    names : mapping of str to Value, optional
        Evaluated parameters.
    place : str, optional
        Put into the error: ``bindings.b4.value``.

    Returns
    -------
    float
        In the part's unit for a length, in degrees for an angle.

    Raises
    ------
    QuantityError
        When the text cannot be understood or measures something else.
    """
    value = value_of(text, quantity, unit, names, place)
    dimension = value.dimension
    wanted = WANTED[quantity]
    if wanted is None or dimension.bare:
        return value.amount
    if (dimension.length, dimension.angle) != (wanted.length, wanted.angle):
        raise QuantityError(
            place, f"'{text.strip()}' is {dimension}, not {wanted}", _remedy(dimension, wanted)
        )
    return value.amount


def value_of(
    text: str,
    quantity: str,
    unit: str,
    names: Mapping[str, Value] | None = None,
    place: str = "",
) -> Value:
    """Evaluate an expression and tell what it measures; parameters as in `evaluate`."""
    if PLAIN.fullmatch(text):
        return Value(float(text), BARE)
    try:
        return _Parser(text, quantity, unit, names or {}).value()
    except QuantityError as error:
        raise QuantityError(place, error.problem, error.remedy) from None


def names_in(text: str, unit: str = "mm") -> tuple[str, ...]:
    """Return the parameters that an expression names, in order, each once.

    Raises
    ------
    QuantityError
        When a sign in the text has no meaning.
    """
    found: dict[str, None] = {}
    for token in Reader(text, "any", unit):
        if token.what == "name" and token.text not in FUNCTIONS and token.text != "pi":
            found[token.text] = None
    return tuple(found)


def _remedy(found: PhysicalDimension, wanted: PhysicalDimension) -> str:
    if found.plain:
        return "give it a unit"
    if wanted.plain:
        return "divide it by one of its kind"
    return ""


class _Parser:
    """Walks the tokens of one expression from left to right and computes on the way."""

    def __init__(
        self, text: str, quantity: str, unit: str, names: Mapping[str, Value]
    ) -> None:
        if not text.strip():
            raise QuantityError("", "nothing was given", "type a value")
        self._names = names
        self._unit = unit
        self._tokens = iter(Reader(text, quantity, unit))
        self._token = next(self._tokens)
        self._depth = 0

    def value(self) -> Value:
        value = self._sum()
        if self._token.what != "end":
            raise self._unexpected(self._token)
        return value

    def _step(self) -> Token:
        token = self._token
        self._token = next(self._tokens, token)  # the end stays the end
        return token

    def _sign(self, signs: str) -> bool:
        return self._token.what == "sign" and self._token.text in signs

    def _sum(self) -> Value:
        self._depth += 1
        if self._depth > MAX_DEPTH:
            raise QuantityError("", "the parentheses are nested too deep",
                                f"use at most {MAX_DEPTH} levels")
        value = self._product()
        while self._sign("+-"):
            sign = self._step().text
            value = _added(value, self._product(), 1.0 if sign == "+" else -1.0)
        self._depth -= 1
        return value

    def _product(self) -> Value:
        value = self._signed()
        while self._sign("*/"):
            multiplies = self._step().text == "*"
            other = self._signed()
            value = _multiplied(value, other) if multiplies else _divided(value, other)
        return value

    def _signed(self) -> Value:
        sign = 1.0
        while self._sign("+-"):
            if self._step().text == "-":
                sign = -sign
        value = self._power()
        return value if sign > 0 else Value(-value.amount, value.dimension)

    def _power(self) -> Value:
        base = self._primary()
        if not self._sign("^"):
            return base
        self._step()
        self._depth += 1
        if self._depth > MAX_DEPTH:
            raise QuantityError("", "the powers are nested too deep", "use parentheses less")
        exponent = self._signed()
        self._depth -= 1
        return _raised(base, exponent)

    def _primary(self) -> Value:
        token = self._step()
        if token.what == "number":
            value = Value(_bounded(float(token.amount)), token.dimension)
        elif token.what == "name":
            value = self._named(token)
        elif token.text == "(":
            value = self._sum()
            self._close(token)
        else:
            raise self._unexpected(token)
        if self._token.what == "unit":
            value = self._in_unit(value, self._step().text)
        return value

    def _close(self, opened: Token) -> None:
        if not self._sign(")"):
            if self._token.what == "end":
                raise QuantityError("", f"the parenthesis at character {opened.at + 1} stays open",
                                    "close it")
            raise self._unexpected(self._token)
        self._step()

    def _named(self, token: Token) -> Value:
        if token.text == "pi":
            return Value(pi, BARE)
        if token.text in FUNCTIONS:
            opened = self._step()
            if opened.text != "(":
                raise QuantityError("", f"{token.text} needs parentheses",
                                    f"write {token.text}(30)")
            argument = self._sum()
            self._close(opened)
            return _applied(token.text, argument)
        if token.text not in self._names:
            raise _unknown(token.text, self._names)
        return self._names[token.text]

    def _in_unit(self, value: Value, unit: str) -> Value:
        if not value.dimension.plain:
            raise QuantityError("", f"'{unit}' stands behind {value.dimension}",
                                "leave the unit out")
        factor = exact_length(Fraction(1), unit, self._unit)
        amount = value.amount * factor.numerator / factor.denominator
        return Value(_bounded(amount), LENGTH)

    def _unexpected(self, token: Token) -> QuantityError:
        if token.what == "end":
            return QuantityError("", "the expression ends too early", "finish it")
        return QuantityError("", f"'{token.text}' at character {token.at + 1} is not expected",
                             "put a sign + - * / between two values")


def _unknown(name: str, names: Mapping[str, Value]) -> QuantityError:
    import difflib

    near = difflib.get_close_matches(name, list(names), 1)
    remedy = f"did you mean '{near[0]}'" if near else "add it to the parameters"
    return QuantityError("", f"no parameter named '{name}'", remedy)


def _bounded(amount: float) -> float:
    if not isfinite(amount) or abs(amount) > MAX_AMOUNT:
        raise QuantityError("", "the result is out of range", f"stay below {MAX_AMOUNT:g}")
    return amount


def _added(a: Value, b: Value, sign: float) -> Value:
    one, two = a.dimension, b.dimension
    if (one.length, one.angle) == (two.length, two.angle):
        dimension = PhysicalDimension(one.length, one.angle, one.bare and two.bare)
    elif one.bare and two in (LENGTH, ANGLE):
        dimension = two
    elif two.bare and one in (LENGTH, ANGLE):
        dimension = one
    else:
        word = "added to" if sign > 0 else "subtracted from"
        first, second = (two, one)
        raise QuantityError("", f"{first} cannot be {word} {second}", "use values of one kind")
    return Value(_bounded(a.amount + sign * b.amount), dimension)


def _multiplied(a: Value, b: Value) -> Value:
    return Value(_bounded(a.amount * b.amount), a.dimension.times(b.dimension))


def _divided(a: Value, b: Value) -> Value:
    if b.amount == 0.0:
        raise QuantityError("", "a division by zero", "")
    return Value(_bounded(a.amount / b.amount), a.dimension.over(b.dimension))


def _raised(base: Value, exponent: Value) -> Value:
    if not exponent.dimension.plain:
        raise QuantityError("", f"the exponent is {exponent.dimension}", "use a plain number")
    power = Fraction(exponent.amount).limit_denominator(4)
    if base.dimension.plain:
        dimension = base.dimension
    elif float(power) != exponent.amount or abs(power) > 6:
        raise QuantityError("", f"{base.dimension} cannot be raised to {exponent.amount:g}",
                            "use a small whole exponent")
    else:
        dimension = base.dimension.power(power)
    try:
        amount = base.amount ** exponent.amount
    except (OverflowError, ZeroDivisionError):
        raise QuantityError("", "the power is out of range", "use smaller numbers") from None
    if isinstance(amount, complex):
        raise QuantityError("", "a root of a negative number", "")
    return Value(_bounded(amount), dimension)


def _applied(name: str, argument: Value) -> Value:
    dimension, x = argument.dimension, argument.amount
    if name == "sqrt":
        if x < 0.0:
            raise QuantityError("", "a root of a negative number", "")
        return Value(sqrt(x), dimension.power(Fraction(1, 2)))
    if name in ("sin", "cos", "tan"):
        if dimension != ANGLE and not dimension.bare:
            raise QuantityError("", f"{name} of {dimension}", "give it an angle in degrees")
        try:
            return Value(_bounded(TURNS[name](x)), NUMBER)
        except ZeroDivisionError:
            raise QuantityError("", f"{name}({x:g}) has no value", "") from None
    if not dimension.plain:
        raise QuantityError("", f"{name} of {dimension}", "give it a ratio")
    if name != "atan" and abs(x) > 1.0:
        raise QuantityError("", f"{name}({x:g}) has no value", "use a ratio from -1 to 1")
    return Value(degrees(RATIOS[name](x)), ANGLE)


TURNS: dict[str, Callable[[float], float]] = {"sin": sine, "cos": cosine, "tan": tangent}
RATIOS: dict[str, Callable[[float], float]] = {"asin": asin, "acos": acos, "atan": atan}

__all__ = ["Value", "evaluate", "names_in", "value_of"]
