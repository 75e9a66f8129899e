"""Tolerances that are closer than a thermal cut holds."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Mapping, Sequence
from types import MappingProxyType
from typing import NamedTuple

from sketcher.inspect.measured_dimensions import MeasuredDimension
from sketcher.inspect.stock import Advice, Process, Remark, Rule, Stock, reason
from sketcher.inspect.words import bare_length, length, listed, plural, some

NAME = "tolerance"
WHY = "the cut alone does not hold it"
MEND = "leave stock and machine or ream to size"
CLASSES: Mapping[Process, int] = MappingProxyType({"laser": 1, "plasma": 2})

SIZES = (3.0, 10.0, 35.0, 125.0, 315.0, 1000.0, 2000.0, 4000.0)
"""Upper bounds of the nominal sizes in mm; a size belongs to the range that it begins."""

Rows = tuple[tuple[float, tuple[float | None, ...]], ...]

_OVER_TEN = (None, 1.8, 1.8, 1.8, 1.9, 2.3, 3.0, 4.2)
DEVIATIONS: Mapping[Process, Rows] = MappingProxyType({
    "laser": (
        (1.0, (0.075, 0.1, 0.1, 0.2, 0.2, 0.3, 0.4, 0.65)),
        (3.15, (0.1, 0.15, 0.2, 0.25, 0.25, 0.35, 0.4, 0.65)),
        (6.3, (0.2, 0.2, 0.25, 0.25, 0.3, 0.4, 0.45, 0.7)),
        (10.0, (None, 0.25, 0.3, 0.3, 0.35, 0.45, 0.55, 0.75)),
        (15.0, (None, 0.3, 0.35, 0.4, 0.45, 0.55, 0.65, 0.85)),
        (20.0, (None, 0.4, 0.4, 0.45, 0.55, 0.75, 0.85, 1.2)),
        (25.0, (None, 0.45, 0.5, 0.6, 0.7, 0.9, 1.1, 1.6)),
        (32.0, (None, None, 0.7, 0.7, 0.8, 1.0, 1.6, 2.25)),
    ),
    "plasma": (
        (1.0, (0.5, 0.6, 0.6, 0.7, 0.7, 0.8, 0.9, 0.9)),
        (3.15, (0.6, 0.6, 0.7, 0.7, 0.8, 0.9, 1.0, 1.1)),
        (6.3, (0.7, 0.8, 0.9, 0.9, 1.1, 1.2, 1.3, 1.3)),
        (10.0, (None, 1.0, 1.1, 1.3, 1.4, 1.5, 1.6, 1.7)),
        (15.0, _OVER_TEN), (20.0, _OVER_TEN), (25.0, _OVER_TEN),
    ),
})
"""Limit deviations in mm by thickness (upper bound, mm): class 1 for laser, class 2 for plasma.

ISO 9013:2017 as printed on a trade page (the first columns of the thick rows are unsure); the first
and the last two rows of class 2 and the last of class 1 from a second such chart. None is a dash.
"""


def deviation(process: Process, thickness: float, size: float) -> float | None:
    """Return plus and minus in mm that the process holds, or None outside the table.

    Parameters
    ----------
    process : "laser" or "plasma"
    thickness, size : float
        Of the plate and of what is measured, in mm.
    """
    rows = DEVIATIONS[process]
    row = bisect_left([bound for bound, _ in rows], thickness)
    column = bisect_right(SIZES, size)
    if row == len(rows) or column == len(SIZES):
        return None
    return rows[row][1][column]


class _Limited(NamedTuple):
    """A dimension with plus and minus asked for and held (None: no row); in the part's unit."""

    row: MeasuredDimension
    given: float
    holds: float | None

    @property
    def close(self) -> bool:
        return self.holds is not None and self.given < self.holds * (1.0 - 1e-9)


def _asked(stock: Stock, process: Process) -> Iterator[_Limited]:
    """Yield the lengths that have limits, with what the process holds of them."""
    for row in stock.dimensions:
        if row.limits is None or row.quantity != "length" or not (row.own_limits or row.drives):
            continue
        holds = deviation(process, stock.in_mm(stock.thickness), stock.in_mm(abs(row.wanted)))
        yield _Limited(row, 0.5 * (row.limits[1] - row.limits[0]),
                     None if holds is None else stock.mm(holds))


def check(stock: Stock) -> Iterator[Advice]:
    """Yield the dimensions with limits of their own that are closer than that."""
    for process in stock.processes:
        for row, given, holds in filter(_closer, _asked(stock, process)):
            if row.own_limits and holds is not None:
                yield Advice(NAME, process, row.id, given, holds, (row.id, *row.of), None,
                             reason(WHY, MEND))


def _closer(asked: _Limited) -> bool:
    return asked.close


def remark(stock: Stock) -> Iterator[Remark]:
    """Yield where the table ends, and in one line what the general tolerances ask too much."""
    closer: dict[Process, list[_Limited]] = {}
    for process in stock.processes:
        asked = tuple(_asked(stock, process))
        silent = [each.row.id for each in asked if each.holds is None]
        most = stock.mm(DEVIATIONS[process][-1][0])
        if asked and stock.short(most, stock.thickness):
            yield Remark(NAME, (process,), _table(process, f"ends at {length(most, stock.unit)}"))
        elif silent:
            yield Remark(NAME, (process,), _table(process, f"has no value for {some(silent)}"))
        closer[process] = [each for each in asked if each.close and not each.row.own_limits]
    minding = tuple(process for process, found in closer.items() if found)
    if minding:
        yield Remark(NAME, minding, _general(stock, {each: closer[each] for each in minding}))


def _table(process: Process, words: str) -> str:
    return (f"the table of ISO 9013, class {CLASSES[process]}, {words}: "
            "ask the shop what it holds there")


def _general(stock: Stock, closer: Mapping[Process, Sequence[_Limited]]) -> str:
    """Return what is said of the general tolerances; the worst of them stands for all."""
    counts = listed(f"{process} at {plural(len(found), 'size')}"
                    for process, found in closer.items())
    _, process, worst = min(
        ((each.given / (each.holds or 1.0), process, each)
         for process, found in closer.items() for each in found), key=lambda each: each[0])
    held = bare_length(worst.holds or 0.0, stock.unit)
    named = "of the title block" if "," in stock.general else stock.general
    return (f"the general tolerances ({named}) are closer than the cut holds: {counts}; "
            f"{worst.row.id} has ±{bare_length(worst.given, stock.unit)} where {process} holds "
            f"±{held}: allow more there, or {MEND}")


RULE = Rule(
    NAME,
    "plus and minus at least that of class 1 (laser) or class 2 (plasma)",
    "ISO 9013:2017, limit deviations, as printed on a trade page",
    check,
    WHY,
    MEND,
    remark=remark,
)
