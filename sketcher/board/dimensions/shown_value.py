"""The value of a dimension as it is shown: across the axis where it is bound on the drawn side.

What is reflected is dimensioned across, on the desk as on the sheet; its binding holds half of it.
A value that is typed into such a dimension is meant as it is shown.
"""

from __future__ import annotations

import re

from sketcher.part.edited import Edited
from sketcher.part.edits.set_value import set_value
from sketcher.part.printed import FRACTION
from sketcher.part.value import Part
from sketcher.quantity.format import exact, fraction
from sketcher.quantity.parse import evaluate
from sketcher.quantity.spelling import spelled

HALVED = re.compile(r"^\s*(?:\((?P<inner>[^()]*)\)|(?P<plain>[\w.,]+))\s*/\s*2\s*$")
NUMBER = re.compile(r"^\s*\d*\.?\d+\s*$")


def half_of(text: str) -> str:
    """Return half of a typed value as an expression: ``120/2``."""
    text = text.strip()
    plain = text.replace(",", "", 1).replace(".", "", 1).isdigit()
    # Two small whole numbers would read as the fraction of a rule: 1/2 is half an inch.
    small = plain and text.isdigit() and int(text) < 2
    return f"{text}/2" if plain and not small else f"({text})/2"


def whole_of(text: str, unit: str) -> str:
    """Return twice a typed value as an expression, as short as it can be.

    >>> whole_of("120/2", "mm"), whole_of("60", "mm"), whole_of("wall + 3", "mm")
    ('120', '120', '2*(wall + 3)')
    """
    found = HALVED.match(text)
    if found and not (unit == "in" and FRACTION.match(spelled(text))):
        return (found["inner"] or found["plain"]).strip()
    typed = spelled(text)
    if NUMBER.match(typed):
        return exact(2.0 * float(typed))
    if unit == "in" and FRACTION.match(typed):
        return fraction(2.0 * evaluate(typed, "length", unit, {}))
    return f"2*{text.strip()}" if text.strip().isidentifier() else f"2*({text.strip()})"


def is_doubled(part: Part, name: str) -> bool:
    """Tell whether a dimension is shown twice as large as its binding's value."""
    from sketcher.drafting.measured import shown_factor

    return shown_factor(part, name) == 2.0


def shown_text(part: Part, name: str) -> str:
    """Return the expression of a dimension's value as it is shown, to be changed."""
    text = part.bindings[name].value or ""
    return whole_of(text, part.unit) if text and is_doubled(part, name) else text


def set_shown(part: Part, name: str, text: str) -> Part | Edited:
    """Give a dimension a value that is meant as it is shown."""
    if not is_doubled(part, name):
        return set_value(part, name, text)
    if text.strip() == shown_text(part, name):
        return part
    return set_value(part, name, half_of(text))
