"""Reads the numbers of a drawing without the program: fractions, sums, angles, named values.

A small evaluator of its own, so that what the program says of a number is judged by another reader.
It knows what the parts of the tests use: decimals, ``1 1/2``, ``15°30'20"``, units of length behind
a number, ``+ - * / ^`` and parentheses, roots and functions of degrees, and names of parameters.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from mpmath import mp, mpf

mp.dps = 40  # digits: a construction of thousands of strokes stays exact far below 1e-9

MILLIMETRES = {"mm": mpf(1), "cm": mpf(10), "m": mpf(1000), "in": mpf("25.4"),
               "inch": mpf("25.4"), '"': mpf("25.4")}
"""The inch is 25.4 mm (international yard and pound agreement of 1959, from memory)."""

SIGNS = str.maketrans("×·÷−–′″", "**/--'\"")

_TOKEN = re.compile(r"""\s*(?:
    (?P<dms>[\d.]+\s*°\s*[\d.]+\s*'(?:\s*[\d.]+\s*")?)
    | (?P<mixed>\d+(?:\s+|-)\d+/\d+(?![\d.]))
    | (?P<number>(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)
    | (?P<unit>(?:mm|cm|m|inch|in|deg)(?!\w)|"|°)
    | (?P<size>[ØR](?=[\s\d.(]))
    | (?P<name>[^\W\d]\w*)
    | (?P<sign>[-+*/^()])
)""", re.VERBOSE)

_FUNCTIONS = {
    "sqrt": mp.sqrt,
    "sin": lambda x: mp.sin(mp.radians(x)), "cos": lambda x: mp.cos(mp.radians(x)),
    "tan": lambda x: mp.tan(mp.radians(x)), "asin": lambda x: mp.degrees(mp.asin(x)),
    "acos": lambda x: mp.degrees(mp.acos(x)), "atan": lambda x: mp.degrees(mp.atan(x))}


class UnreadNumber(ValueError):
    """A text is no number of a drawing."""


def number_of(text: str, part: Mapping[str, Any]) -> mpf:
    """Return what a text comes to, in the unit of a part's file, or in degrees."""
    reader = _NumberReader(text.replace(" x ", " * ").translate(SIGNS), part)
    found = reader.total()
    if reader.at < len(reader.tokens):
        raise UnreadNumber(f"'{text}': what is '{reader.tokens[reader.at][1]}'?")
    return found


def is_number(text: str, part: Mapping[str, Any]) -> bool:
    """Whether a text can be read as a number of a drawing."""
    try:
        number_of(text, part)
    except UnreadNumber:
        return False
    return True


class _NumberReader:
    """Recursive descent over the tokens of one text."""

    def __init__(self, text: str, part: Mapping[str, Any]) -> None:
        self.part, self.text, self.at = part, text, 0
        self.tokens: list[tuple[str, str]] = []
        end = 0
        text = text.strip()
        while end < len(text):
            found = _TOKEN.match(text, end)
            if not found:
                raise UnreadNumber(f"'{text}': cannot read '{text[end:]}'")
            what = str(found.lastgroup)
            if what != "size":  # R30 and Ø24 are 30 and 24
                self.tokens.append((what, found[what]))
            end = found.end()

    def peek(self) -> tuple[str, str]:
        return self.tokens[self.at] if self.at < len(self.tokens) else ("end", "")

    def takes(self, *signs: str) -> str:
        """Pass over a sign if it is one of these."""
        what, text = self.peek()
        if what == "sign" and text in signs:
            self.at += 1
            return text
        return ""

    def total(self) -> mpf:
        found = self.product()
        while sign := self.takes("+", "-"):
            more = self.product()
            found = found + more if sign == "+" else found - more
        return found

    def product(self) -> mpf:
        found = self.signed()
        while sign := self.takes("*", "/"):
            more = self.signed()
            if sign == "/" and not more:
                raise UnreadNumber(f"'{self.text}' divides by nothing")
            found = found * more if sign == "*" else found / more
        return found

    def signed(self) -> mpf:
        if sign := self.takes("+", "-"):
            return self.signed() if sign == "+" else -self.signed()
        base = self.with_unit(self.single())
        return base ** self.signed() if self.takes("^") else base

    def with_unit(self, amount: mpf) -> mpf:
        what, text = self.peek()
        if what != "unit":
            return amount
        self.at += 1
        if text in ("°", "deg"):
            return amount
        return amount * MILLIMETRES[text] / MILLIMETRES[str(self.part["unit"])]

    def single(self) -> mpf:
        what, text = self.peek()
        self.at += 1
        if what == "number":
            return mpf(text)
        if what == "mixed":
            whole, above, below = re.split(r"[\s/-]+", text)
            return mpf(whole) + mpf(above) / mpf(below)
        if what == "dms":
            parts = [mpf(each) for each in re.findall(r"[\d.]+", text)]
            return sum((each / 60 ** k for k, each in enumerate(parts)), mpf(0))
        if what == "name":
            return self.named(text)
        if (what, text) == ("sign", "("):
            found = self.total()
            if not self.takes(")"):
                raise UnreadNumber(f"'{self.text}' lacks a )")
            return found
        raise UnreadNumber(f"'{self.text}': no number before '{text}'")

    def named(self, name: str) -> mpf:
        if name == "pi":
            return +mp.pi
        if name in _FUNCTIONS:
            if not self.takes("("):
                raise UnreadNumber(f"'{self.text}': {name} of what?")
            self.at -= 1
            return mpf(_FUNCTIONS[name](self.single()))
        if name not in self.part.get("parameters", {}):
            raise UnreadNumber(f"'{self.text}': nothing is called '{name}'")
        return number_of(self.part["parameters"][name], self.part)
