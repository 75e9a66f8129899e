"""What each dimension should be, what it is, and whether that is within its limits.

A reference value agrees as far as it is printed: half of its last decimal; of whole numbers and
expressions half of `LAST_PLACE`. One without a value follows the part and always agrees.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import degrees
from typing import TypeAlias

from sketcher.geometry.curves import Curve, Line
from sketcher.interrupt import check
from sketcher.part.kinds import KINDS, measure, residual, wanted
from sketcher.part.limits import limits
from sketcher.part.value import Binding, Part
from sketcher.part.whole import half

LAST_PLACE = {"length mm": 0.005, "length in": 0.0005, "angle": 0.005}
"""Agreement asked of a reference value that is printed without decimals or as an expression.

Half of the last place that a drawing in that unit usually prints (common practice, no source).
"""

_DECIMAL = re.compile(r"\s*[+-]?\d*\.(\d+)\s*\Z")


@dataclass(frozen=True, slots=True)
class MeasuredDimension:
    """One row of the dimension table; lengths in the part's unit, angles in degrees.

    What follows has what it measures for its wanted value. `limits` holds the lower and the upper
    limit, by the dimension's own tolerance or the drawing's general one, or None where neither
    gives any; `own_limits` tells which. `slack` is the agreement that was asked for where it has
    none.
    """

    id: str
    kind: str
    of: tuple[str, ...]
    quantity: str | None
    wanted: float
    actual: float
    residual: float
    drives: bool
    limits: tuple[float, float] | None
    within: bool
    slack: float
    own_limits: bool

    def as_dict(self) -> dict[str, object]:
        """Return the entry of the inspection file."""
        return {
            "id": self.id,
            "kind": self.kind,
            "of": list(self.of),
            "wanted": self.wanted,
            "actual": self.actual,
            "residual": self.residual,
            "drives": self.drives,
            "limits": list(self.limits) if self.limits else None,
            "within": self.within,
        }


@dataclass(frozen=True, slots=True)
class MeasuredCondition:
    """A binding without a value: its residual as a length, and whether it holds."""

    id: str
    kind: str
    of: tuple[str, ...]
    residual: float
    holds: bool


def dimensions_of(part: Part, tol: float) -> tuple[MeasuredDimension, ...]:
    """Return one row for each binding with a value, in the order of the ledger.

    A driving dimension without limits has to hold to `tol` (an angle, to the turn that `tol` gives
    the shortest line it binds). A reference value has to agree with the part as far as it is
    printed: ``34.6`` agrees with 34.641.
    """
    shapes = half(part)
    given = _given(part)
    return tuple(
        _row(part, name, binding, tol, shapes, given)
        for name, binding in part.bindings.items()
        if KINDS[binding.kind].quantity is not None
    )


def conditions_of(part: Part, tol: float) -> tuple[MeasuredCondition, ...]:
    """Return one row for each binding without a value, in the order of the ledger."""
    rows = []
    for name, binding in part.bindings.items():
        if KINDS[binding.kind].quantity is None:
            off = residual(part, binding)
            rows.append(MeasuredCondition(name, binding.kind, binding.of, off, abs(off) <= tol))
    return tuple(rows)


def reference_differs(part: Part, name: str) -> bool:
    """Tell whether a binding is a reference that does not agree with the part as far as printed."""
    binding = part.bindings[name]
    if binding.drives or binding.value is None:
        return False
    return not _row(part, name, binding, 0.0, {}, {}).within


Given: TypeAlias = dict[str, tuple[float, tuple[float, float] | None]]
"""Wanted value and limits by binding."""

_last: tuple[tuple[object, ...], Given] | None = None


def _given(part: Part) -> Given:
    """What is known of the values before anything is measured.

    Kept from one inspection to the next as long as nobody changes a value: while geometry is
    dragged the same bindings are measured again and again.
    """
    global _last
    key = (part.bindings, part.parameters, part.drawing, part.unit)
    last = _last  # another thread may put its own part there
    if last is None or any(a is not b for a, b in zip(last[0], key, strict=True)):
        last = _last = (key, {})
    return last[1]


def _row(
    part: Part, name: str, binding: Binding, tol: float, shapes: Mapping[str, Curve], given: Given
) -> MeasuredDimension:
    check()
    quantity = KINDS[binding.kind].quantity
    actual = measure(part, binding)
    if binding.follows:
        aim, allowed = actual, None
    else:
        # General limits of an angle depend on the lengths of its sides, so they are not kept.
        if name not in given or quantity == "angle":
            aim = wanted(part, binding) or 0.0
            given[name] = (aim, _limits(part, binding, aim))
        aim, allowed = given[name]
    off = actual - aim
    slack = _slack(part, binding, quantity, tol, shapes)
    if allowed:
        # The limits themselves belong to the range: rounding may not push a value out of it.
        within = allowed[0] - slack <= actual <= allowed[1] + slack
    else:
        within = abs(off) <= slack
    return MeasuredDimension(
        name, binding.kind, binding.of, quantity, aim, actual, off, binding.drives, allowed, within,
        slack, binding.tolerance is not None,
    )


def _limits(part: Part, binding: Binding, aim: float) -> tuple[float, float] | None:
    """The dimension's own limits, else the drawing's general ones; a reference has only its own."""
    if not binding.drives and binding.tolerance is not None:
        return (aim + min(binding.tolerance), aim + max(binding.tolerance))
    return limits(part, binding)


def _slack(
    part: Part, binding: Binding, quantity: str | None, tol: float, shapes: Mapping[str, Curve]
) -> float:
    if binding.drives or binding.tolerance is not None:
        return degrees(tol / _shortest(binding, shapes)) if quantity == "angle" else tol
    printed = _DECIMAL.match(binding.value or "")
    if printed:
        return 0.5 * 10.0 ** -len(printed.group(1)) + tol
    return LAST_PLACE["angle" if quantity == "angle" else f"length {part.unit}"] + tol


def _shortest(binding: Binding, shapes: Mapping[str, Curve]) -> float:
    return min(_lengths(binding, shapes), default=1.0) or 1.0


def _lengths(binding: Binding, shapes: Mapping[str, Curve]) -> Iterator[float]:
    for name in binding.of:
        curve = shapes.get(name)
        if isinstance(curve, Line) and curve.length:
            yield curve.length
