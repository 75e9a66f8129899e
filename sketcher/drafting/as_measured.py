"""A part whose dimensions say nothing that it does not have, as paper needs it.

A dimension that the part does not have, for instance a reference that differs or one of a clash,
would be printed with a number that is false: here it says what it measures. On a part that is sound
nothing changes.
"""

from __future__ import annotations

from dataclasses import replace

from sketcher.inspect.measured_dimensions import reference_differs
from sketcher.part.kinds import KINDS, measure, residual
from sketcher.part.value import Binding, Part
from sketcher.quantity.format import exact

MOST_PLACES = 6
"""More decimals than a sheet prints."""

SLACK = {"mm": 0.0005, "in": 0.00005, "angle": 0.005}
"""Half of the last decimal that a sheet prints of a length in a unit, and of an angle."""


def as_measured(part: Part) -> Part:
    """Return the part with every dimension that it does not have saying what it measures."""
    off = {name: replace(binding, value=_measured(part, binding) if binding.drives else None)
           for name, binding in part.bindings.items()
           if binding.value is not None and _is_off(part, name, binding)}
    return part.having(bindings={**part.bindings, **off}) if off else part


def _measured(part: Part, binding: Binding) -> str:
    return exact(round(abs(measure(part, binding)), MOST_PLACES))


def _is_off(part: Part, name: str, binding: Binding) -> bool:
    if not binding.drives:
        return reference_differs(part, name)
    key = "angle" if KINDS[binding.kind].quantity == "angle" else part.unit
    return abs(residual(part, binding)) > SLACK[key]
