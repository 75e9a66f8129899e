"""The inspection record: every dimension with its limits, a place for what was measured, a verdict.

Limits come from the dimension's own tolerance or the drawing's general one. A measured value passes
when it lies on or between the limits: all limits are absolute (ASME Y14.5M-1994, 2.4).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from sketcher.drafting.measured import not_shown
from sketcher.inspect.detached import without_detached
from sketcher.part.kinds import KINDS, measure
from sketcher.part.limits import limits
from sketcher.part.printed import nominal, printed
from sketcher.part.value import Binding, Part
from sketcher.part.whole import whole
from sketcher.quantity.format import angle, length

PASS, FAIL = "pass", "fail"

MEASURED_PLACES = 9
"""Decimals of a measured value: read back, it must get the verdict that it had."""


@dataclass(frozen=True, slots=True)
class RecordRow:
    """One dimension: nominal and limits in the part's unit or in degrees, and the verdict.

    `drawn` is what the drawing's own geometry has; `verdict` is empty until something is measured,
    and for a reference dimension, which has no limits.
    """

    id: str
    what: str
    nominal: float
    lower: float | None
    upper: float | None
    drawn: float
    measured: float | None
    verdict: str
    angular: bool = False


def record(part: Part, measured: Mapping[str, float] | None = None) -> tuple[RecordRow, ...]:
    """Return the record of all dimensions, in the part's order; none of what is not made.

    Parameters
    ----------
    part : Part
        The solved part.
    measured : mapping of str to float, optional
        Measured values by binding id, in the part's unit or in degrees.
    """
    values = measured or {}
    gone = not_shown(part, without_detached(whole(part)))
    return tuple(
        _row(part, name, binding, values.get(name))
        for name, binding in part.bindings.items()
        if KINDS[binding.kind].quantity is not None and gone.isdisjoint(binding.of)
    )


def _row(part: Part, name: str, binding: Binding, found: float | None) -> RecordRow:
    band = limits(part, binding)
    verdict = ""
    if found is not None and band is not None:
        slack = 1e-9 * max(1.0, abs(band[1]))
        verdict = PASS if band[0] - slack <= found <= band[1] + slack else FAIL
    what = f"{binding.kind} {' '.join(binding.of)}"
    if not binding.drives:
        what += " (reference)"
    low, high = band if band is not None else (None, None)
    return RecordRow(name, what, nominal(part, binding), low, high, measure(part, binding), found,
               verdict, KINDS[binding.kind].quantity == "angle")


def cells(part: Part, row: RecordRow) -> tuple[str, ...]:
    """Return a row as text: id, dimension, nominal, lower, upper, drawn, measured, verdict."""
    binding = part.bindings[row.id]

    def said(value: float | None, places: int, zeros: bool | None = None) -> str:
        if value is None:
            return ""
        return angle(value, places) if row.angular else length(value, part.unit, places, zeros)

    places = 3 if part.unit == "mm" else 4
    measured = said(row.measured, places)
    if row.measured is not None and round(row.measured, places) != row.measured:
        measured = said(row.measured, MEASURED_PLACES, False)
    return (row.id, row.what, printed(part, binding).text, said(row.lower, places),
            said(row.upper, places), said(row.drawn, places + 1), measured, row.verdict)


COLUMNS = ("id", "dimension", "nominal", "lower", "upper", "as drawn", "measured", "verdict")
