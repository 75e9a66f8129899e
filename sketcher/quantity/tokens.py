"""From text to tokens: numbers, mixed fractions, degrees-minutes-seconds, units, names, signs."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import pi
from typing import Literal

from sketcher.errors import QuantityError
from sketcher.quantity.physical_dimension import ANGLE, BARE, LENGTH, PhysicalDimension
from sketcher.quantity.spelling import spelled
from sketcher.quantity.units import SPELLINGS, exact_length

MAX_TEXT = 400
MAX_DIGITS = 40
MAX_EXPONENT = 30

FUNCTIONS = frozenset({"sqrt", "sin", "cos", "tan", "asin", "acos", "atan"})
RESERVED = FUNCTIONS | {"pi", "deg", "rad"} | {s for s in SPELLINGS if s.isalpha()}
"""Words that cannot name a parameter."""

CONTROLS = re.compile(r"[\x00-\x1f\x7f-\x9f\ud800-\udfff]")
NUMBER = re.compile(r"(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?")
NAME = re.compile(r"[^\W\d]\w*")
MIXED = re.compile(r"([0-9]+)(?: +|(-))([0-9]+)/([0-9]+)(?![0-9.])")
FRACTION = re.compile(r"([0-9]+)/([0-9]+)(?![0-9.])")
LENGTH_UNIT = re.compile(r" *(mm|cm|m|inches|inch|in|\"|″|”|'')(?!\w)")
DEGREES = re.compile(r" *(?:°|deg(?![^\W\d])) *")
RADIANS = re.compile(r" *rad(?!\w)")
MINUTES = re.compile(r" *(?:'(?!')|′|’) *")
SECONDS = re.compile(r" *(?:''|\"|″|”) *")
SIXTIETHS = re.compile(r"([0-9]+):([0-9]+(?:\.[0-9]+)?)(?::([0-9]+(?:\.[0-9]+)?))?")
LETTERS = re.compile(r" *[dms](?![^\W\d])")
SIGNS = {"×": "*", "·": "*", "÷": "/", "−": "-", "–": "-"}
TRADE_DENOMINATORS = frozenset({2, 4, 8, 16, 32, 64, 128})


@dataclass(frozen=True, slots=True)
class Token:
    """One token: what it is, its text, where it begins; for a number its amount and dimension."""

    what: Literal["number", "name", "sign", "unit", "end"]
    text: str
    at: int
    amount: Fraction = Fraction(0)
    dimension: PhysicalDimension = BARE


class Reader:
    """Reads the tokens of one text.

    Parameters
    ----------
    text : str
        What was typed.
    quantity : str
        ``"length"``, ``"angle"``, ``"number"`` or ``"any"``: tells what a lone ' or " means.
    unit : str
        The part's unit.
    """

    def __init__(self, text: str, quantity: str, unit: str) -> None:
        if len(text) > MAX_TEXT:
            raise QuantityError(
                "", f"the text has {len(text)} characters", f"use at most {MAX_TEXT}"
            )
        if CONTROLS.search(text):
            raise QuantityError("", "the text holds a control character", "type it on one line")
        self._text = spelled(text)
        self._quantity = quantity
        self._unit = unit
        self._at = 0
        self._depth = 0

    def __iter__(self) -> Iterator[Token]:
        before: Token | None = None
        while True:
            while self._at < len(self._text) and self._text[self._at].isspace():
                self._at += 1
            if self._at == len(self._text):
                yield Token("end", "", self._at)
                return
            before = self._token(before)
            self._depth += {"(": 1, ")": -1}.get(before.text, 0)
            yield before

    def _token(self, before: Token | None) -> Token:
        text, at = self._text, self._at
        char = text[at]
        char = SIGNS.get(char, char)
        if char in "+-*/^()":
            self._at += 1
            return Token("sign", char, at)
        number = self._mixed(before) or self._simple()
        if number:
            return number
        unit = LENGTH_UNIT.match(text, at) if before and before.text == ")" else None
        if unit or (char in "\"″”" and before):
            self._at = unit.end() if unit else at + 1
            return Token("unit", SPELLINGS[unit.group(1) if unit else char], at)
        name = NAME.match(text, at)
        if name:
            self._at = name.end()
            word = name.group()
            is_unit = word in SPELLINGS and before is not None and before.what == "name"
            return Token("unit" if is_unit else "name", SPELLINGS[word] if is_unit else word, at)
        raise self._stranger(char)

    def _stranger(self, char: str) -> QuantityError:
        remedy = {
            ",": "write the decimal mark as a comma or a point, and part no thousands",
            ":": "write an angle of degrees, minutes and seconds as 30:15:00 or 30°15'00\"",
            "'": "feet are not read, write inches; minutes need a degree mark, as in 15°30'",
            "=": "write the expression alone",
        }.get(char, "use numbers, units, names of parameters, + - * / ^ and parentheses")
        problem = f"'{char}' at character {self._at + 1} has no meaning here"
        return QuantityError("", problem, remedy)

    # Numbers.

    def _mixed(self, before: Token | None) -> Token | None:
        """Read ``1 5/8`` or ``1-5/8``; the second only where the hyphen joins."""
        found = MIXED.match(self._text, self._at)
        if not found:
            return None
        whole, hyphen, top, bottom = found.groups()
        fraction = self._fraction(top, bottom)
        if hyphen and not self._hyphen_joins(found, before):
            return None
        if before and before.text == "/":
            raise QuantityError("", f"'{found.group()}' stands behind a division sign",
                                "put a sign between two fractions, or one in parentheses")
        if fraction >= 1:
            if hyphen:
                return None
            raise QuantityError("", f"{top}/{bottom} is not a proper fraction",
                                "write the sum with a plus sign")
        return self._with_unit(found.end(), self._digits(whole) + fraction)

    def _hyphen_joins(self, found: re.Match[str], before: Token | None) -> bool:
        """Tell whether a hyphen joins a whole number and a fraction, as inch drawings write it.

        It does in inches (the part's unit, or an inch sign behind), outside parentheses, for the
        denominators of a rule (2 to 128), when nothing multiplies, divides or raises either side.
        """
        bottom = int(found.group(4)[:4])
        if bottom not in TRADE_DENOMINATORS or self._depth or self._quantity in ("angle", "number"):
            return False
        if before and before.text in ("*", "/", "^"):
            return False
        unit = LENGTH_UNIT.match(self._text, found.end())
        if unit:
            return SPELLINGS[unit.group(1)] == "in"
        rest = self._text[found.end():].lstrip()
        return self._unit == "in" and rest[:1] not in ("*", "/", "^", "×", "·", "÷")

    def _simple(self) -> Token | None:
        fraction = FRACTION.match(self._text, self._at)
        if fraction and LENGTH_UNIT.match(self._text, fraction.end()):
            return self._with_unit(fraction.end(), self._fraction(*fraction.groups()))
        number = NUMBER.match(self._text, self._at)
        if not number:
            return None
        return self._sixtieths() or self._with_unit(number.end(), self._decimal(number.group()))

    def _sixtieths(self) -> Token | None:
        """Read an angle with colons: ``30:15:20`` is 30 degrees, 15 minutes and 20 seconds."""
        found = SIXTIETHS.match(self._text, self._at)
        if not found:
            return None
        at, self._at = self._at, found.end()
        degrees, minutes, seconds = found.groups()
        amount = self._digits(degrees) + self._sixtieth(self._decimal(minutes), minutes, 60)
        if seconds is not None:
            amount += self._sixtieth(self._decimal(seconds), seconds, 3600)
        return Token("number", found.group(), at, amount, ANGLE)

    def _with_unit(self, end: int, amount: Fraction) -> Token:
        """Finish a number with the unit or the degree marks behind it."""
        at = self._at
        degrees = DEGREES.match(self._text, end)
        if degrees:
            self._at = degrees.end()
            amount += self._minutes_and_seconds()
            return Token("number", self._text[at:self._at].strip(), at, amount, ANGLE)
        if self._quantity == "angle":
            self._refuse_letters(end)
            for mark, share in ((MINUTES, 60), (SECONDS, 3600)):
                found = mark.match(self._text, end)
                if found:
                    self._at = end
                    amount = self._minutes_and_seconds_from(amount, share, found.end())
                    return Token("number", self._text[at:self._at].strip(), at, amount, ANGLE)
        radians = RADIANS.match(self._text, end)
        if radians:
            self._at = radians.end()
            degrees_in = amount * Fraction(180.0 / pi)
            return Token("number", self._text[at:self._at], at, degrees_in, ANGLE)
        unit = LENGTH_UNIT.match(self._text, end)
        if unit:
            self._at = unit.end()
            amount = exact_length(amount, SPELLINGS[unit.group(1)], self._unit)
            return Token("number", self._text[at:self._at], at, amount, LENGTH)
        self._at = end
        return Token("number", self._text[at:end], at, amount, BARE)

    def _minutes_and_seconds(self) -> Fraction:
        """Read ``30'20"`` behind a degree mark; return degrees."""
        total = Fraction(0)
        for mark, share in ((MINUTES, 60), (SECONDS, 3600)):
            number = NUMBER.match(self._text, self._at)
            if number:
                self._refuse_letters(number.end())
            found = number and mark.match(self._text, number.end())
            if number and found:
                total += self._sixtieth(self._decimal(number.group()), number.group(), share)
                self._at = found.end()
        return total

    def _refuse_letters(self, end: int) -> None:
        """Raise where d, m or s stands for degrees, minutes or seconds: m is a length, too."""
        found = LETTERS.match(self._text, end)
        if found:
            raise QuantityError(
                "", f"the letter '{found.group().strip()}' marks no part of an angle",
                "write degrees, minutes and seconds as 30°15'20\" or 30:15:20",
            )

    def _minutes_and_seconds_from(self, amount: Fraction, share: int, end: int) -> Fraction:
        """Read an angle that begins with minutes or seconds."""
        self._at = end
        total = amount / share
        if share == 60:
            number = NUMBER.match(self._text, end)
            found = number and SECONDS.match(self._text, number.end())
            if number and found:
                total += self._sixtieth(self._decimal(number.group()), number.group(), 3600)
                self._at = found.end()
        return total

    def _sixtieth(self, amount: Fraction, text: str, share: int) -> Fraction:
        if amount >= 60:
            what = "minutes" if share == 60 else "seconds"
            raise QuantityError("", f"{text} {what} are a whole turn of the count",
                                f"write {what} below 60")
        return amount / share

    def _fraction(self, top: str, bottom: str) -> Fraction:
        divisor = self._digits(bottom)
        if divisor == 0:
            raise QuantityError("", f"{top}/{bottom} divides by zero", "")
        return self._digits(top) / divisor

    def _digits(self, text: str) -> Fraction:
        if len(text) > MAX_DIGITS:
            raise QuantityError("", f"a number has {len(text)} digits",
                                f"use at most {MAX_DIGITS}")
        return Fraction(int(text))

    def _decimal(self, text: str) -> Fraction:
        mantissa, _, exponent = text.lower().partition("e")
        if len(mantissa) > MAX_DIGITS:
            raise QuantityError("", f"a number has {len(mantissa)} digits",
                                f"use at most {MAX_DIGITS}")
        if len(exponent) > 4 or (exponent and abs(int(exponent)) > MAX_EXPONENT):
            raise QuantityError("", f"{text} is out of range",
                                f"use exponents up to {MAX_EXPONENT}")
        return Fraction(text)
