"""What the wording of a dimension says, read back from its text.

Forms: ASME Y14.5M-1994, 1.5 to 1.9 (R, Ø, ``4X``, reference dimensions in parentheses); ISO 129-1
(``4x``, ``2 x 45°``), from memory.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from sketcher.errors import SketcherError
from sketcher.quantity.parse import evaluate

_COUNT = re.compile(r"^(\d+)\s?[xX×]\s?(?P<rest>.+)$")
_CHAMFER = re.compile(r"^(?P<size>[\d./\- ]*\d\.?)\s*[xX×]\s*(?P<angle>[\d.]+)°$")
_TOTAL = re.compile(r"^(?P<one>.*\S)\s*\(\s*=?\s*(?P<all>[^()]+)\)$")
_TOLERANCE = re.compile(r"\s*±.*$|\s(?:[+-][\d.°'′″]+/[+-]?[\d.°'′″]+|[\d.°'′″]+/[+-][\d.°'′″]+)$")
_NUMBER = re.compile(r"^[\d.][\d./°'′\"″ \-]*$")
_ANGLE = re.compile("[°'′]")
_PRIMES = str.maketrans("′″", "'\"")
_WORDS = re.compile(r"\s+(?P<note>[A-Za-z][A-Za-z ]*)$")


@dataclass(frozen=True, slots=True)
class ReadWording:
    """One dimension as a reader reads it.

    Parameters
    ----------
    value : float or None
        In the sheet's unit or in degrees; None for a sign without a number (``2x R``).
    sign : str
        ``R``, ``Ø`` or nothing.
    count : int
        DrawnPlaces at which it holds.
    angle : bool
        Whether the value is in degrees.
    reference : bool
        In parentheses: for information, not to be made by.
    total : float or None
        Of equal steps all together: ``3x 30 (90)``.
    bevel : float or None
        The angle of a chamfer in degrees: ``2 x 45°``.
    note : str
        Words behind, such as ``EQ SP``.
    """

    value: float | None
    sign: str = ""
    count: int = 1
    angle: bool = False
    reference: bool = False
    total: float | None = None
    bevel: float | None = None
    note: str = ""

    @property
    def spaced(self) -> bool:
        """Whether the features are equally spaced about their center."""
        return self.note.casefold().endswith(("eq sp", "equally spaced"))


def read_wording(text: str, unit: str) -> ReadWording | None:
    """Return what a dimension's text says, None where it cannot be read.

    Parameters
    ----------
    text : str
        The whole wording on one line.
    unit : {"mm", "in"}
        The sheet's unit.
    """
    text = text.strip()
    reference = text.startswith("(") and text.endswith(")")
    if reference:
        text = text[1:-1].strip()
    note = ""
    words = _WORDS.search(text)
    if words is not None and words["note"] not in ("R",):
        note, text = words["note"].strip(), text[: words.start()].strip()
    text = _TOLERANCE.sub("", text).strip()
    count, text = _counted(text)
    bevel = _CHAMFER.match(text)
    if bevel is not None:
        size = _number(bevel["size"], "length", unit)
        return None if size is None else ReadWording(size, "", count, False, reference, None,
                                              float(bevel["angle"]), note)
    total = _TOTAL.match(text)
    whole = None
    if total is not None:
        text, whole = total["one"], total["all"]
    sign = text[:1].replace("⌀", "Ø") if text[:1] in ("R", "Ø", "⌀") else ""
    text = text[len(sign):].strip()
    if not text:
        return ReadWording(None, sign, count, False, reference, None, None, note) if sign else None
    angle = _ANGLE.search(text) is not None
    quantity = "angle" if angle else "length"
    value = _number(text, quantity, unit)
    amount = None if whole is None else _number(whole, quantity, unit)
    if value is None or (whole is not None and amount is None):
        return None
    return ReadWording(value, sign, count, angle, reference, amount, None, note)


def _counted(text: str) -> tuple[int, str]:
    """Part ``4x R8`` into 4 and ``R8``; a chamfer's ``2 x 45°`` has no count of its own."""
    found = _COUNT.match(text)
    if found is None or (_CHAMFER.match(text) and not _CHAMFER.match(found["rest"].strip())):
        return 1, text
    return int(found[1]), found["rest"].strip()


def _number(text: str, quantity: str, unit: str) -> float | None:
    text = text.strip().translate(_PRIMES)
    if not _NUMBER.match(text):
        return None
    try:
        return evaluate(text, quantity, unit)
    except SketcherError:
        return None
