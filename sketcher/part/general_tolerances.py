"""The tolerance that holds for every dimension without its own, and how it is written.

`Drawing.tolerance` is one of ``""`` (the usual: ISO 2768-m in mm by ISO, whose tables are in mm; a
block by decimals in inches and by ASME), ``"none"``, ``"ISO 2768-f"`` (f, m, c or v), or a block
of the drawing's own such as ``".XX 0.01, .XXX 0.005, fraction 1/64, angle 0.5"`` or
``"X 0.5, X.X 0.2"``, in the part's unit.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache, lru_cache
from math import inf
from typing import Any

from sketcher.errors import QuantityError
from sketcher.part.value import Part, Unit
from sketcher.quantity.format import angle, length
from sketcher.shipped import shipped

ISO = re.compile(r"^\s*(?:ISO\s*)?2768\s*-\s*([fmcv])\s*$", re.IGNORECASE)
ENTRY = re.compile(r"^\s*(X?\.X{1,4}|X|fraction|angle)\s+(\S+)\s*$", re.IGNORECASE)
PLACES = 5  # decimals of a tolerance in a block: half of the last place of a number with four


@dataclass(frozen=True, slots=True)
class General:
    """The tolerance that holds for every dimension without its own.

    `grade` is an ISO 2768-1 class or None; `places` maps a number of decimals, and `other` the
    words ``fraction`` and ``angle``, to plus and minus in `unit` and in degrees.
    """

    grade: str | None
    places: Mapping[int, float]
    other: Mapping[str, float]
    unit: Unit = "mm"

    @property
    def entries(self) -> tuple[tuple[str, str], ...]:
        """The lines of the block: what is toleranced, and plus and minus."""
        whole = "" if self.unit == "in" else "X"
        found = [(f"{whole}.{'X' * count}" if count else "X",
                  f"±{length(amount, self.unit, PLACES, False)}")
                 for count, amount in sorted(self.places.items())]
        if "fraction" in self.other:
            found.append(("fractions",
                          f"±{Fraction(self.other['fraction']).limit_denominator(128)}"))
        if "angle" in self.other:
            found.append(("angles", f"±{angle(self.other['angle'])}"))
        return tuple(found)

    @property
    def fractions(self) -> bool:
        """Whether a number may be written as a fraction: a block by decimals says none for it."""
        return not self.places or "fraction" in self.other

    @property
    def note(self) -> str:
        """What the title block says, on one line."""
        if self.grade:
            return f"ISO 2768-{self.grade}"
        return ", ".join(" ".join(entry) for entry in self.entries) or "as given at each dimension"


def general(part: Part) -> General:
    """Return the general tolerance of a part's drawing.

    Raises
    ------
    QuantityError
        When `Drawing.tolerance` is none of the forms above.
    """
    return _general(part.drawing.tolerance.strip(), part.drawing.practice, part.unit)


@cache
def standard_table(name: str) -> Mapping[str, Any]:
    """Return a table of `resources/standards`."""
    import tomllib  # its patterns are compiled as it is loaded

    return tomllib.loads(shipped("resources", f"standards/{name}").read_text(encoding="utf-8"))


@lru_cache(maxsize=64)
def _general(text: str, practice: str, unit: Unit) -> General:
    if text.lower() == "none":
        return General(None, {}, {}, unit)
    if not text:
        if practice == "ISO" and unit == "mm":
            return General("m", {}, {}, unit)
        table = standard_table("block_places.toml")[unit]
        places = {int(count): float(t) for count, t in table["places"].items()}
        return General(None, places, table["other"], unit)
    found = ISO.match(text)
    return General(found[1].lower(), {}, {}, unit) if found else _entries(text, unit)


def _entries(text: str, unit: Unit) -> General:
    places: dict[int, float] = {}
    other: dict[str, float] = {}
    for entry in text.split(","):
        found = ENTRY.match(entry)
        try:
            amount = float(Fraction(found[2])) if found else -inf
        except (ValueError, ZeroDivisionError):
            amount = -inf
        if found is None or not 0.0 < amount < inf:
            raise QuantityError("drawing.tolerance", f"{entry.strip()!r} is no general tolerance",
                                "write 'ISO 2768-m', '.XX 0.01, .XXX 0.005, angle 0.5' or 'none'")
        word = found[1].lower()
        if word.startswith(("x", ".")):
            places[len(word.partition(".")[2])] = amount
        else:
            other[word] = amount
    return General(None, places, other, unit)
