"""Signs that keyboards and papers write for the same number: ``12,5`` and ``3½``."""

from __future__ import annotations

import re

GLYPHS = {
    "½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
}
"""The fractions of a rule that keyboards have as one sign (Unicode, Latin-1 and Number Forms)."""

FRACTION_SIGN = re.compile(rf"([0-9])?( *-?)([{''.join(GLYPHS)}])")
DECIMAL_COMMA = re.compile(r"(?<![0-9.,])([0-9]*),([0-9]+)(?![0-9]*[.,][0-9])")


def spelled(text: str) -> str:
    """Return text with a decimal comma as a point and fraction signs written out.

    A comma is a decimal mark where a digit follows at once; ``1,234.5`` keeps its comma and is
    refused by whoever reads it, for nobody can tell what it means.

    >>> spelled("12,5 + 3½")
    '12.5 + 3 1/2'
    """
    if "," in text:
        text = DECIMAL_COMMA.sub(r"\1.\2", text)
    return text if GLYPHS.keys().isdisjoint(text) else FRACTION_SIGN.sub(_written_out, text)


def _written_out(found: re.Match[str]) -> str:
    digit, between, sign = found.groups()
    if digit is None:
        return f"{between}({GLYPHS[sign]})"  # on its own it binds as one number
    return f"{digit}{between or ' '}{GLYPHS[sign]}"
