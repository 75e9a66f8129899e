"""The inspection record: what the sheet dimensions, its limits, what was measured, a verdict.

A row is one callout of the sheet, as large as it is printed: 120 across and not 60 from an axis,
the step of a pattern, the width of a slot. Its number stands in a circle beside the dimension. Of a
callout with a count the worst place is measured. Where a table of holes says it in place of a
callout, the row stands all the same, and says so.

Limits come from the dimension's own tolerance or the drawing's general one. A measured value passes
when it lies on or between the limits: all limits are absolute (ASME Y14.5M-1994, 2.4).
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace

from sketcher.drafting.as_measured import as_measured
from sketcher.drafting.measured import (
    Measured,
    MeasuredAngle,
    MeasuredRound,
    measured,
    opening,
)
from sketcher.drafting.measured.numbers import numbered
from sketcher.drafting.paper_view import MM_PER, View
from sketcher.part.kinds import KINDS, measure
from sketcher.part.limits import deviations_of, general_deviation
from sketcher.part.printed import nominal
from sketcher.part.value import Binding, Part
from sketcher.quantity.format import angle, length

PASS, FAIL = "pass", "fail"

MEASURED_PLACES = 9
"""Decimals of a measured value: read back, it must get the verdict that it had."""

SAID = re.compile(r"\(?(?:(?P<count>\d+)[xX] )?(?P<value>[^()±]*?)(?: ±[^()]*)?(?: \(.*)?\)?$")
"""A callout's main text: count, sign and number; a tolerance or a sum behind it."""


@dataclass(frozen=True, slots=True)
class RecordRow:
    """One callout: nominal and limits in the part's unit or in degrees, and the verdict.

    `no` is its number on the drawing, `text` what it says of one place, `count` its places,
    `tolerance` what holds for it. `drawn` is what the drawing's own geometry has; `verdict` is
    empty until something is measured, and for a reference dimension, which has no limits.
    `stands_for` names the bindings that it says, `factor` how many times the binding's value.
    """

    id: str
    no: str
    what: str
    text: str
    count: int
    tolerance: str
    nominal: float
    lower: float | None
    upper: float | None
    drawn: float
    measured: float | None
    verdict: str
    angular: bool = False
    stands_for: tuple[str, ...] = ()
    factor: float = 1.0


def record(part: Part, found: Mapping[str, float] | None = None) -> tuple[RecordRow, ...]:
    """Return the record of what the sheet dimensions, in the order of its numbers.

    Parameters
    ----------
    part : Part
        The solved part.
    found : mapping of str to float, optional
        Measured values by the ids of the rows, in the part's unit or in degrees.
    """
    values = found or {}
    part = as_measured(part)
    view = View(MM_PER[part.unit])
    shown = {one.id for one in measured(part, view)} if part.drawing.hole_table else None
    part = part.having(drawing=replace(part.drawing, hole_table=False))
    callouts = measured(part, view)
    numbers = numbered(callouts)
    rows = (_row(part, view, one, numbers[one.id], values.get(one.id))
            for one in callouts if one.id in numbers)
    return tuple(row if shown is None or row.id in shown else
                 replace(row, what=f"{row.what} (table)") for row in rows)


def _row(part: Part, view: View, one: Measured, no: str, found: float | None) -> RecordRow:
    said = SAID.match(one.wording.main)
    count = int(said["count"] or 1) if said else 1
    text = said["value"] if said else one.wording.main
    drawn = _size(one, view)
    name = one.id.partition(".")[0]
    binding = part.bindings.get(name)
    if binding is None:  # of a pattern, which says its steps and in parentheses their sum
        drawn /= count
        wanted, factor, what = drawn, 1.0, "step"
    else:
        factor = _factor(drawn, measure(part, binding))
        wanted, what = factor * abs(nominal(part, binding)), KINDS[binding.kind].label
    if one.wording.main.startswith("("):
        text, band = f"({text})", None
    else:
        band = _deviations(part, one, binding, wanted, text, factor)
    low, high = (None, None) if band is None else (wanted + band[1], wanted + band[0])
    angular = isinstance(one, MeasuredAngle)
    row = RecordRow(one.id, no, what, text, count, _tolerance(part, band, angular), wanted, low,
                    high, drawn, found, "", angular, one.stands_for or (one.id,), factor)
    return replace(row, verdict=_verdict(row))


def _size(one: Measured, view: View) -> float:
    """Return what a callout measures, in the part's unit or in degrees."""
    if isinstance(one, MeasuredAngle):
        return opening(one.options[0])
    if isinstance(one, MeasuredRound):
        return (2.0 if one.diameter else 1.0) * one.curve.radius / view.factor
    (ax, ay), (bx, by) = one.first[0], one.second[0]
    return abs((bx - ax) * one.direction[0] + (by - ay) * one.direction[1]) / view.factor


def _factor(drawn: float, one: float) -> float:
    """Return 2 where the sheet shows the whole of what a binding says for the half."""
    return min((1.0, 2.0), key=lambda factor: abs(drawn - factor * abs(one)))


def _deviations(
    part: Part, one: Measured, binding: Binding | None, size: float, text: str, factor: float
) -> tuple[float, float] | None:
    """Return upper and lower deviation of a callout as large as it is printed."""
    if binding is not None and binding.tolerance is not None:
        return (factor * max(binding.tolerance), factor * min(binding.tolerance))
    if binding is not None and isinstance(one, MeasuredAngle):
        return deviations_of(part, binding)
    if isinstance(one, MeasuredAngle):
        spread = general_deviation(part, min(b for _, b in one.options[0].spans), "angle", text)
    else:
        round_one = isinstance(one, MeasuredRound) and not one.diameter
        radial = binding is not None and KINDS[binding.kind].feature == "radius"
        spread = general_deviation(part, size, "radius" if round_one and radial else "linear", text)
    return None if spread is None else (spread, -spread)


def _verdict(row: RecordRow) -> str:
    if row.measured is None or row.lower is None or row.upper is None:
        return ""
    slack = 1e-9 * max(1.0, abs(row.upper))
    return PASS if row.lower - slack <= row.measured <= row.upper + slack else FAIL


def _tolerance(part: Part, band: tuple[float, float] | None, angular: bool) -> str:
    if band is None:
        return ""
    upper, lower = (_amount(part, abs(value), angular) for value in band)
    if band[0] == -band[1]:
        return f"±{upper}"
    return " ".join(f"{'-' if value < 0.0 else '+' if value else ''}{text}"
                    for value, text in zip(band, (upper, lower), strict=True))


def _amount(part: Part, value: float, angular: bool) -> str:
    if angular:
        return in_minutes(value)
    return length(value, part.unit, 3 if part.unit == "mm" else 4, False)


def in_minutes(value: float) -> str:
    """Return an angle in degrees and minutes where it has whole minutes, else in degrees.

    ``29°40′``; less than a degree is minutes alone, with 0° in front (ASME Y14.5M-1994, 1.5.4).
    """
    minutes = round(60.0 * value)
    if abs(60.0 * value - minutes) > 1e-6:
        return angle(value, 3)
    whole, rest = divmod(minutes, 60)
    return f"{whole}°" + (f"{rest}\N{PRIME}" if rest else "")


def cells(part: Part, row: RecordRow) -> tuple[str, ...]:
    """Return a row as text, by `COLUMNS`."""

    def said(value: float | None, places: int, zeros: bool | None = None) -> str:
        if value is None:
            return ""
        return angle(value, places) if row.angular else length(value, part.unit, places, zeros)

    def limit(value: float | None) -> str:
        return in_minutes(value) if row.angular and value is not None else said(value, places)

    places = 3 if part.unit == "mm" else 4
    shown = said(row.measured, places)
    if row.measured is not None and round(row.measured, places) != row.measured:
        shown = said(row.measured, MEASURED_PLACES, False)
    count = f"{row.count}{'X' if part.drawing.practice == 'ASME' else 'x'}" if row.count > 1 else ""
    return (row.no, row.what, count, row.text, row.tolerance, limit(row.lower), limit(row.upper),
            said(row.drawn, places + 1, False), shown, row.verdict)


COLUMNS = ("no", "dimension", "count", "nominal", "tolerance", "lower", "upper", "as drawn",
           "measured", "verdict")
CSV_COLUMNS = (*COLUMNS, "id")
"""The same of a CSV file, in which the last column is what it is read back by."""

EARLIER_COLUMNS = ("id", "dimension", "nominal", "lower", "upper", "as drawn", "measured",
                   "verdict")
"""What a CSV file had before its rows were the callouts of the sheet."""
