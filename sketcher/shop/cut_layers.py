"""Names of the layers of a cutting file; a contour that is offset for the kerf carries it.

A file whose contours carry a kerf is the way of the torch and never offset again. The names keep to
what the oldest readers take: capitals, digits, ``$``, ``-`` and ``_``, 31 characters at most (DXF
reference of R12, from memory), so that ``_`` stands for the decimal point: ``OUTSIDE_KERF_1_5MM``.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

from sketcher.part.value import Unit
from sketcher.quantity.units import convert

INSIDE, OUTSIDE, MARK, LEAD = "INSIDE", "OUTSIDE", "MARK", "LEAD"

MOST_DIGITS = 6
"""Decimals of a kerf in a name: a millionth of a millimeter or of an inch."""

CARRIED = re.compile(rf"(?:{INSIDE}|{OUTSIDE})_KERF_([0-9]+)(?:_([0-9]+))?(MM|IN)", re.IGNORECASE)


def kerf_layer(name: str, kerf: float, unit: str) -> str:
    """Return the layer of a contour offset by half of a kerf in `unit`; `name` itself without."""
    if not kerf:
        return name
    whole, _, part = f"{kerf:.{MOST_DIGITS}f}".rstrip("0").partition(".")
    return f"{name}_KERF_{whole}{'_' if part else ''}{part}{unit.upper()}"


def kerf_of_layer(layer: str, unit: str) -> float:
    """Return the kerf that the name of a layer carries, in `unit`; 0 where it carries none."""
    found = CARRIED.fullmatch(layer)
    if found is None:
        return 0.0
    return convert(float(f"{found[1]}.{found[2] or 0}"), found[3].lower(), unit)


def beside_contours(layers: Iterable[str]) -> frozenset[str]:
    """Return the layers of a cutting file on which there is no contour: its leads, its marks.

    None of a file without a layer of outside contours: there the names mean something else.
    """
    names = set(layers)
    if not any(name == OUTSIDE or CARRIED.fullmatch(name) for name in names):
        return frozenset()
    return frozenset(names & {MARK, LEAD})


def unit_of_layer(layer: str) -> Unit | None:
    """Return the unit in which the name of a layer carries a kerf; None where it carries none."""
    found = CARRIED.fullmatch(layer)
    return None if found is None else "in" if found[3].lower() == "in" else "mm"
