"""What the lettering of a dimension says: count, sign, value, and the last digit that it tells."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

NUMBER = r"(?:\d+[ -]\d+/\d+|\d+/\d+|\d*\.\d+|\d+)"
COUNT = re.compile(r"(\d+) ?[x×X] ?(?=[RØ⌀SC(\d.])")
VALUE = re.compile(rf"(?P<sign>SR|R|Ø|⌀)? ?(?P<number>{NUMBER})(?P<degree> ?°)?"
                   r"(?:(?P<minutes>\d+)[′'])?(?:(?P<seconds>\d+)[″\"])?")
BEVEL = re.compile(rf"(?:(?P<count>\d+) ?[x×X] )?(?P<number>{NUMBER}) ?[x×X] ?"
                   r"(?P<angle>\d+(?:\.\d+)?) ?°")
TOTAL = re.compile(rf"\( ?=? ?({NUMBER}) ?°?\)")


@dataclass(frozen=True)
class Said:
    """A dimension's wording: `last` is half of the last printed digit, 0 for a fraction."""

    count: int
    sign: str
    value: float
    last: float
    number: str
    degrees: bool
    reference: bool
    whole: float | None = None
    """What a row of equal steps comes to, where it stands behind them in parentheses."""
    bevel: float | None = None
    """The angle of a chamfer whose leg is the value, as in 4 × 45°."""


def said(text: str) -> Said | None:
    """Read count, sign and first value; None where nothing is said in figures."""
    plain = text.strip()
    reference = plain.startswith("(") and plain.endswith(")")
    plain = plain.strip("()").strip() if reference else plain
    bevel = BEVEL.fullmatch(plain)
    if bevel:
        number = bevel["number"]
        return Said(int(bevel["count"] or 1), "", figure(number), last_digit(number), number, False,
                    reference, bevel=float(bevel["angle"]))
    count = 1
    times = COUNT.match(plain)
    if times:
        rest = plain[times.end():].strip()
        count, plain = int(times[1]), rest
        reference = reference or (rest.startswith("(") and rest.endswith(")"))
        plain = plain.strip("()") if reference else plain
    found = VALUE.search(plain)
    if not found:
        return None
    number = found["number"]
    value = figure(number)
    last = last_digit(number)
    if found["degree"]:
        value += int(found["minutes"] or 0) / 60.0 + int(found["seconds"] or 0) / 3600.0
        if found["minutes"]:
            last = 0.5 / 60.0 if not found["seconds"] else 0.5 / 3600.0
    total = TOTAL.search(plain)
    return Said(count, found["sign"] or "", value, last, number, bool(found["degree"]), reference,
                figure(total[1]) if total else None)


def last_digit(number: str) -> float:
    """Half of the last printed digit; 0 for a fraction."""
    places = len(number.partition(".")[2]) if "." in number else 0
    return 0.0 if "/" in number else 0.5 * 10.0**-places


def figure(number: str) -> float:
    """The value of 12.5, .5, 3/4 or 2 3/4."""
    if "/" in number:
        return float(sum(Fraction(word) for word in re.split(r"[ -]", number)))
    return float(number)
