"""The hole diameters of the standards: `resources/standards/hole_sizes.toml`."""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from math import inf

from sketcher.part.general_tolerances import standard_table
from sketcher.part.value import Unit


@dataclass(frozen=True, slots=True)
class NamedHole:
    """A diameter of a table: exact, in the unit of its list, and the row that names it."""

    diameter: Fraction
    row: str


@lru_cache(maxsize=2)
def named_holes(unit: Unit) -> tuple[NamedHole, ...]:
    """Return the diameters that are named in a unit, rising; each once, by the first that names it.

    Clearance holes come before drills: a drawing gives a hole for what goes through it.
    """
    table = standard_table("hole_sizes.toml")
    rows: dict[Fraction, str] = {}
    if unit == "mm":
        for screw, sizes in table["clearance_mm"].items():
            for fit, size in zip(("fine", "medium", "coarse"), sizes, strict=True):
                rows.setdefault(Fraction(size), f"ISO 273, {screw}, {fit}")
    else:
        for screw, sizes in table["clearance_in"].items():
            for fit, size in zip(("close", "normal", "loose"), sizes, strict=True):
                rows.setdefault(Fraction(size), f"ASME B18.2.8, {screw}, {fit}")
        for name in ("number", "letter"):
            for drill, size in table[f"{name}_drills"].items():
                rows.setdefault(Fraction(size), f"{name} drill {drill}")
    return tuple(NamedHole(size, rows[size]) for size in sorted(rows))


def nearest_hole(diameter: float, unit: Unit) -> tuple[NamedHole, float]:
    """Return the named diameter next to one, and how far its own nearest neighbor is from it."""
    sizes = named_holes(unit)
    keys = _keys(unit)
    after = bisect_left(keys, diameter)
    index = min((i for i in (after - 1, after) if 0 <= i < len(keys)),
                key=lambda i: abs(keys[i] - diameter))
    gaps = (keys[index] - keys[index - 1] if index else inf,
            keys[index + 1] - keys[index] if index + 1 < len(keys) else inf)
    return sizes[index], min(gaps)


@lru_cache(maxsize=2)
def _keys(unit: Unit) -> tuple[float, ...]:
    return tuple(float(each.diameter) for each in named_holes(unit))
