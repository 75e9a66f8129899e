"""What the words of a dimension or a note in a hand-in say, however they were typed."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from functools import lru_cache

from sketcher.drafting.rebuild.read_wording import ReadWording, read_wording
from sketcher.part.value import Unit

_CODES = (("%%c", "Ø"), ("%%C", "Ø"), ("%%d", "°"), ("%%D", "°"), ("%%p", "±"), ("%%P", "±"),
          ("⌀", "Ø"), ("∅", "Ø"), ("ø", "Ø"), ("ϕ", "Ø"), ("φ", "Ø"), ("º", "°"), ("−", "-"))
_UNIT = re.compile(r"(?<=\d)\s?(?:mm|MM|in\.?|IN\.?)(?![A-Za-z])")
_INCH = re.compile(r"(?<=\d)\s?\"")
_ALL = re.compile(r"\b(?:all|typ\.?|typical)\b|\bu\.?o\.?s\.?\b|\bunless\b", re.IGNORECASE)
_NAMED = re.compile(r"\b(?:fillets?|rounds?|radi(?:i|us)|holes?|drill(?:ed)?|dia(?:meter)?\.?|"
                    r"thru|through|and|are|corners?|is|otherwise|specified|stated|noted|other|"
                    r"edges|chamfers?|equally|spaced|on)\b[ :.,]*", re.IGNORECASE)
_ROUND = re.compile(r"\b(?:fillets?|radi(?:i|us))\b", re.IGNORECASE)
_DIAMETER = re.compile(r"\b(?:dia(?:meter)?|drill(?:ed)?)\b", re.IGNORECASE)
_DIGITS = re.compile(r"\d*\.(\d+)")
_COMMA = re.compile(r"(?<=\d),(?=\d)")
_PLACES = re.compile(r"^(\d+)\s*(?:[*]|off|holes?|pl(?:aces)?\.?)\s+(?=[A-ZØ\d.])", re.IGNORECASE)
_FIT = re.compile(r"(?<=\d)\s+[A-Za-z]{1,2}\d{1,2}$")
_DEVIATION = re.compile(r"\s*±.*$|\s[+-][\d.].*$")


@dataclass(frozen=True, slots=True)
class FileWording:
    """What a text says, and how it writes its number.

    Parameters
    ----------
    said : ReadWording
        ``count`` is 1 where no count is written.
    everywhere : bool
        Holds wherever it fits: ``TYP``, ``ALL FILLETS R5``.
    decimals : int or None
        Decimals that are written; None for a fraction or in degrees and minutes.
    """

    said: ReadWording
    everywhere: bool
    decimals: int | None

    @property
    def value(self) -> float | None:
        """The number, of equal steps all together; None for a sign without one."""
        return self.said.value if self.said.total is None else self.said.total


@lru_cache(maxsize=4096)
def file_wording(text: str, unit: Unit) -> FileWording | None:
    """Return what a text says as a dimension; None where it says no size.

    Parameters
    ----------
    text : str
        On one line or several; codes such as ``%%c`` are read.
    unit : {"mm", "in"}
        In which a fraction is read.
    """
    plain = " ".join(text.split())
    for code, sign in _CODES:
        plain = plain.replace(code, sign)
    plain = _COMMA.sub(".", _UNIT.sub("", plain))
    if unit == "in":
        plain = _INCH.sub("", plain)
    everywhere = _ALL.search(plain) is not None
    sign = "R" if _ROUND.search(plain) else "Ø" if _DIAMETER.search(plain) else ""
    bare = _PLACES.sub(r"\1x ", " ".join(_ALL.sub(" ", plain).split()))
    bare = _FIT.sub("", " ".join(_NAMED.sub(" ", bare).split()).strip(" :.,;="))
    number = _DEVIATION.sub("", bare)
    said = read_wording(bare, unit) or read_wording(number, unit) or read_wording(plain, unit)
    if said is None:
        return None
    if sign and not said.sign and not said.angle and said.bevel is None:
        said = replace(said, sign=sign)
    found = _DIGITS.search(number)
    whole = said.value is None or any(sign in number for sign in "/'′")
    return FileWording(said, everywhere, None if whole else len(found[1]) if found else 0)
