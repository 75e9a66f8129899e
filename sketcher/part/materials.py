"""What plate can be of: density, usual thicknesses, what heat does to it; found by a name.

The table is ``resources/standards/plate_materials.toml``; the sources stand beside its values.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cache, lru_cache
from typing import Any, Literal, TypeAlias

from sketcher.part.general_tolerances import standard_table
from sketcher.part.value import Material
from sketcher.quantity.parse import evaluate
from sketcher.quantity.units import convert

Laser: TypeAlias = Literal["yes", "poor", "never", "unknown"]
DANGEROUS: frozenset[Laser] = frozenset({"never", "unknown"})
"""What is not to be burnt, and what nobody knows of: a laser's heat may set poison free."""

SAME_GAUGE = 0.0008
"""Inches in which a thickness is still that of a gauge: neighbors lie at least 0.004 apart."""

SAME_STOCK = 0.02
"""Share by which two thicknesses may differ and be one: 3/16 in is ordered as 4.8 mm."""

_WORD = re.compile(r"[^\W_]+")


@dataclass(frozen=True, slots=True)
class PlateMaterial:
    """An entry of the table.

    Parameters
    ----------
    names : tuple of str
        By which it is known; the first is the one to show.
    conducts : bool
        A plasma arc needs it.
    laser : "yes", "poor", "never" or "unknown"
        How it takes a laser.
    density : float or None
        Kilograms per cubic meter at room temperature; None of what has no one density.
    why : str
        The reason, where `laser` is not ``yes``; a clause.
    mind : str
        What else there is to mind, a clause; often empty.
    mm : tuple of float
        Usual thicknesses in mm.
    inches : tuple of str
        Usual thicknesses in inches, as fractions.
    gauges : mapping of str to float
        Thickness in inches by the number of the gauge.
    """

    names: tuple[str, ...]
    conducts: bool
    laser: Laser
    density: float | None = None
    why: str = ""
    mind: str = ""
    mm: tuple[float, ...] = ()
    inches: tuple[str, ...] = ()
    gauges: Mapping[str, float] = field(default_factory=dict)

    @property
    def name(self) -> str:
        """The name to show."""
        return self.names[0]

    def thicknesses(self, unit: str) -> tuple[str, ...]:
        """Return the usual thicknesses in a unit as they are typed, the thinnest first."""
        if unit == "mm":
            return tuple(f"{each:g}" for each in self.mm)
        return (*(f"{each:g}" for each in sorted(self.gauges.values())), *self.inches)

    def beside(self, thickness: float, unit: str) -> tuple[float, float] | None:
        """Return the usual thicknesses below and above one that is not usual, in that unit.

        None of a usual one, in whichever unit it is sold, and of one beyond the list: thicker plate
        than it names is sold too.
        """
        sold = [convert(size, "mm", unit) for size in self.mm]
        sold += [convert(size, "in", unit) for size in
                 (*self.gauges.values(), *(float(Fraction(text)) for text in self.inches))]
        if any(abs(size - thickness) <= SAME_STOCK * size for size in sold):
            return None
        own = [evaluate(text, "length", unit, {}) for text in self.thicknesses(unit)]
        below = [size for size in own if size < thickness]
        above = [size for size in own if size > thickness]
        return (max(below), min(above)) if below and above else None


@cache
def plate_materials() -> tuple[PlateMaterial, ...]:
    """Return every material of the table, in its order."""
    return tuple(_material(entry) for entry in standard_table("plate_materials.toml").values()
                 if isinstance(entry, dict))


def _material(entry: Mapping[str, Any]) -> PlateMaterial:
    given: dict[str, Any] = {key: tuple(value) if isinstance(value, list) else value
                             for key, value in entry.items()}
    return PlateMaterial(inches=given.pop("in", ()), **given)


@lru_cache(maxsize=64)
def plate_material(name: str) -> PlateMaterial | None:
    """Return the entry that a material's name means, or None.

    The words of the longest matching name have to stand in it one after another. What must not be
    burnt goes before all others, so that ``vinyl coated steel`` is taken for vinyl.
    """
    said = _words(name)
    found = [(kind.laser in DANGEROUS, len(words), kind) for kind in plate_materials()
             for words in map(_words, kind.names) if _holds(said, words)]
    sure = [each for each in found if each[2].laser != "unknown"] or found
    return max(sure, key=lambda each: each[:2])[2] if sure else None


def coatings_of(name: str) -> Iterator[str]:
    """Yield what there is to mind about what the name says of a coating."""
    said = _words(name)
    for entry in standard_table("plate_materials.toml")["coating"]:
        if any(_holds(said, _words(words)) for words in entry["words"]):
            yield str(entry["mind"])


def gauge_of(name: str, thickness: float, unit: str) -> str:
    """Return the number of the gauge that a plate has, or nothing.

    Parameters
    ----------
    name : str
        Of the material: each metal has gauges of its own.
    thickness : float
        Of the plate, in the unit.
    unit : str
        ``mm`` or ``in``.
    """
    kind, inches = plate_material(name), convert(thickness, unit, "in")
    near = [(abs(size - inches), number) for number, size in (kind.gauges if kind else {}).items()]
    return min(near)[1] if near and min(near)[0] <= SAME_GAUGE else ""


def density_of(name: str) -> float | None:
    """Return the density of a material by its name, in kg per cubic meter; None of an unknown one.

    Grades may stand beside it, as in ``6061-T6 aluminum``.
    """
    kind = plate_material(name)
    return float(kind.density) if kind is not None and kind.density is not None else None


def material_named(name: str, thickness: float, density: float | None = None,
                   written: str = "") -> Material:
    """Return a material; without a density it has that of its name, 0 where that is not known."""
    return Material(name, thickness, density_of(name) or 0.0 if density is None else density,
                    written)


def density_for(before: Material, name: str) -> float:
    """Return the density that goes with a new name, in kg per cubic meter.

    That of the name where it is known and the one before was the former material's; else it stays.
    """
    known, former = density_of(name), density_of(before.name)
    return known if known is not None and former in (None, before.density) else before.density


def odd_density(before: Material, after: Material) -> str:
    """Return what has to be known of a density that stayed while the name changed; mostly nothing.

    Parameters
    ----------
    before, after : Material
        As it was, and as it was typed.
    """
    known, former = density_of(after.name), density_of(before.name)
    if after.name == before.name or after.density != before.density or known == after.density:
        return ""
    if not after.density:
        return ""
    whose = f"that of {before.name}" if former == before.density else "as it was"
    own = f"; {after.name} has {known:g}" if known is not None else ""
    return f"density stays {after.density:g}, {whose}{own}"


def _words(text: str) -> tuple[str, ...]:
    return tuple(_WORD.findall(text.casefold()))


def _holds(said: Sequence[str], words: Sequence[str]) -> bool:
    """Tell whether some words stand in others one after another."""
    return any(tuple(said[k : k + len(words)]) == tuple(words)
               for k in range(len(said) - len(words) + 1))
