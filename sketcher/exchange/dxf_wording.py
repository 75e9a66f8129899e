"""How a dimension's wording becomes DXF's: the measured number as ``<>`` and how to format it.

A DIMENSION whose text is fixed says what was once typed, whatever its points measure. Here only
what stands around the number is text; the number itself is left to the reader, who measures it,
with the variables that make it read as on the sheet (DXF Reference, DIMSTYLE, from memory): DIMDEC,
DIMRND and DIMZIN for decimals, DIMLUNIT 5 for fractions, DIMAUNIT and DIMADEC for angles.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

MEASURED = "<>"
LEADING = 4  # bit of DIMZIN: the zero before the point is left out
CODES = (("%%", "%%%%%%"), ("Ø", "%%c"), ("\N{DIAMETER SIGN}", "%%c"), ("°", "%%d"), ("±", "%%p"),
         ("×", "x"), ("′", "'"), ("″", '"'), ("–", "-"), ("−", "-"), ("’", "'"), ("…", "..."))
SIGNS = {"radius": "R", "diameter": "Ø"}

_NUMBER = re.compile(r"""
    (?P<whole>\d+)[ ](?P<over>\d+)/(?P<under>\d+)      # 2 1/4
  | (?P<only_over>\d+)/(?P<only_under>\d+)             # 9/32
  | (?P<degrees>\d+)°[ ]?(?P<minutes>\d+)[′']          # 19°40′
  | (?P<decimal>\d*\.?\d+)(?P<degree>°?)               # 12.5, .50, 27.5°
""", re.VERBOSE)


@dataclass(frozen=True, slots=True)
class Spoken:
    """The text of a DIMENSION with ``<>`` for the number, and the variables it is formatted by."""

    text: str
    variables: Mapping[str, Any]


def dxf_text(text: str) -> str:
    """Return lettering in characters that every reader of DXF has: its codes, else plain ASCII.

    A file's code page and its bytes disagree in the eyes of some readers; the codes are the same
    in all of them.
    """
    for sign, code in CODES:
        text = text.replace(sign, code)
    return "".join(c if " " <= c <= "~" else f"\\U+{ord(c):04X}" for c in text)


def spoken(text: str, form: str, measured: float) -> Spoken | None:
    """Return a wording with its number left to the reader; None where no number is the measured.

    Parameters
    ----------
    text : str
        The wording, as ``2x R4``, ``(120)``, ``3x 20 (60)`` or ``2 1/4 ±.005``.
    form : str
        Form of the dimension; a reader itself puts R and the diameter sign.
    measured : float
        What the entity's points measure, in its unit or in degrees.
    """
    sign = SIGNS.get(form, "")
    for start, end, variables in _numbers(text, form == "angle", measured):
        head = text[:start]
        if sign:
            if not head.endswith(sign):
                continue
            head = head[:-len(sign)]
        return Spoken(dxf_text(head) + MEASURED + dxf_text(text[end:]), variables)
    return None


def _numbers(
    text: str, angular: bool, measured: float
) -> Iterator[tuple[int, int, dict[str, Any]]]:
    """Give the numbers that are the measured one as they would be formatted, the last first.

    A count stands in front of what it counts, a sum behind its steps; a tolerance is not looked at.
    """
    until = next((n for n, c in enumerate(text) if c in "±+"), len(text))
    for found in reversed(list(_NUMBER.finditer(text[:until]))):
        if text[found.end():found.end() + 1] in ("x", "X"):
            continue
        read = _angle(found, measured) if angular else _length(found, measured)
        if read is not None:
            yield found.start(), found.end(), read


def _length(found: re.Match[str], measured: float) -> dict[str, Any] | None:
    if found["decimal"] is not None:
        if found["degree"]:
            return None
        said = found["decimal"]
        places = len(said.partition(".")[2])
        zeros = LEADING if said.startswith(".") else 0
        shown = f"{measured:.{places}f}"
        if zeros:
            shown = shown.removeprefix("0")
        if shown != said:
            return None
        return {"dimlunit": 2, "dimdec": places, "dimzin": zeros, "dimrnd": 10.0**-places}
    under = int(found["under"] or found["only_under"] or 0)
    power = under.bit_length() - 1
    if found["degrees"] is not None or under != 1 << power:
        return None
    value = int(found["whole"] or 0) + int(found["over"] or found["only_over"]) / under
    # As the reader does: to the nearest of that fraction, then in lowest terms.
    if round(measured * under) != round(value * under):
        return None
    return {"dimlunit": 5, "dimfrac": 2, "dimdec": power, "dimzin": 0}


def _angle(found: re.Match[str], measured: float) -> dict[str, Any] | None:
    if found["degrees"] is not None:
        minutes = 60 * int(found["degrees"]) + int(found["minutes"])
        return {"dimaunit": 1, "dimadec": 2} if round(60.0 * measured) == minutes else None
    if not found["degree"]:
        return None
    said = found["decimal"]
    places = len(said.partition(".")[2])
    if f"{measured:.{places}f}" != said:
        return None
    return {"dimaunit": 0, "dimadec": places, "dimazin": 0}
