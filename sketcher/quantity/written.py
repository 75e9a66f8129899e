"""What a person writes off a paper drawing, where that is not what the signs alone say.

A fraction alone is an inch size whatever the unit of the part, for on paper millimetres are
decimal. Typed in millimetres without a unit (``9/32``, ``1 5/8``, denominators of a rule) it is
refused; ``85/2`` and ``3 - 1/2`` are sums. Files keep what they hold, and a parameter may be a
ratio.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

from sketcher.errors import QuantityError
from sketcher.quantity.parse import evaluate
from sketcher.quantity.physical_dimension import Value
from sketcher.quantity.spelling import spelled
from sketcher.quantity.tokens import TRADE_DENOMINATORS

FRACTION = re.compile(r"[\s(+-]*((?:[0-9]+(?: +|-))?([0-9]+)/([0-9]{1,3}))[\s)]*")


def evaluate_written(
    text: str,
    quantity: str,
    unit: str,
    names: Mapping[str, Value] | None = None,
    place: str = "",
) -> float:
    """Evaluate what was typed or written into a form; `evaluate` with one thing more refused.

    A fraction of a rule that stands alone (``9/32``, ``1 5/8``, ``1-5/8``) is an inch size on every
    paper drawing; millimetres are decimal (ASME Y14.5M-1994, 1.6.1). In millimetres it is refused
    without a unit: as 0.28 mm it would be wrong without a word. Files are read with `evaluate`,
    so that an older one can still be opened.

    Raises
    ------
    QuantityError
        As `evaluate`, and for such a fraction.
    """
    amount = evaluate(text, quantity, unit, names, place)
    if quantity == "length" and unit == "mm":
        refuse_inch_fraction(text, place)
    return amount


def refuse_inch_fraction(text: str, place: str) -> None:
    """Raise a QuantityError when a length in millimetres is written as inches are."""
    found = FRACTION.fullmatch(spelled(text))
    if found and int(found[2]) < int(found[3]) and int(found[3]) in TRADE_DENOMINATORS:
        raise QuantityError(
            place, f"'{found[1]}' is a fraction without a unit, and the unit is mm",
            f"write {found[1]} in, or the millimetres as a decimal",
        )
