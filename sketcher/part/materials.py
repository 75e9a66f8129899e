"""Densities of plate by the name of what it is of, and what a new name means for the density."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from sketcher.part.value import Material

STEEL = 7850.0  # EN 1993-1-1 takes it for all structural steel; from memory

DENSITIES: Mapping[str, float] = MappingProxyType({
    "steel": STEEL, "mild steel": STEEL, "carbon steel": STEEL, "structural steel": STEEL,
    "galvanised steel": STEEL, "galvanized steel": STEEL,
    "stainless steel": 7900.0,  # EN 10088-1, 1.4301; from memory
    "cast iron": 7200.0,  # grey iron, handbooks; from memory
    "aluminium": 2700.0, "aluminum": 2700.0,  # EN 1999-1-1; from memory
    "brass": 8440.0,  # CuZn37, data sheets of the trade; from memory
    "copper": 8940.0,  # Cu-ETP, data sheets of the trade; from memory
    "titanium": 4510.0,  # grade 2, handbooks; from memory
    "acrylic": 1190.0,  # ISO 7823-1, cast sheet; from memory
    "polycarbonate": 1200.0,  # ISO 7391, general; from memory
    "acetal": 1410.0,  # copolymer, handbooks; from memory
    "plywood": 680.0, "birch plywood": 680.0,  # birch, handbook of the Finnish mills; from memory
    "mdf": 750.0,  # boards of 9 to 19 mm, handbooks; from memory
})
"""Kilograms per cubic metre at room temperature."""


def density_of(name: str) -> float | None:
    """Return the density of a material by its name, in kg per cubic metre; None of an unknown one.

    Grades are passed over: words with a digit in them, as in ``6061-T6 aluminum``.
    """
    words = name.casefold().split()
    plain = " ".join(word for word in words if not any(map(str.isdigit, word)))
    return DENSITIES.get(plain)


def density_for(before: Material, name: str) -> float:
    """Return the density that goes with a new name, in kg per cubic metre.

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
    whose = f"that of {before.name}" if former == before.density else "as it was"
    own = f"; {after.name} has {known:g}" if known is not None else ""
    return f"density stays {after.density:g}, {whose}{own}"
