"""Tolerances that are closer than a thermal cut holds."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Mapping
from types import MappingProxyType

from sketcher.inspect.stock import Advice, Rule, Stock, reason

NAME = "tolerance"
WHY = "the cut alone does not hold it"
MEND = "leave stock and machine or ream to size"

SIZES = (3.0, 10.0, 35.0, 125.0, 315.0, 1000.0, 2000.0, 4000.0)
"""Upper bounds of the nominal sizes in mm; a size belongs to the range that it begins."""

Rows = tuple[tuple[float, tuple[float | None, ...]], ...]

DEVIATIONS: Mapping[str, Rows] = MappingProxyType({
    "laser": (
        (1.0, (0.075, 0.1, 0.1, 0.2, 0.2, 0.3, 0.4, 0.65)),
        (3.15, (0.1, 0.15, 0.2, 0.25, 0.25, 0.35, 0.4, 0.65)),
        (6.3, (0.2, 0.2, 0.25, 0.25, 0.3, 0.4, 0.45, 0.7)),
        (10.0, (None, 0.25, 0.3, 0.3, 0.35, 0.45, 0.55, 0.75)),
        (15.0, (None, 0.3, 0.35, 0.4, 0.45, 0.55, 0.65, 0.85)),
        (20.0, (None, 0.4, 0.4, 0.45, 0.55, 0.75, 0.85, 1.2)),
        (25.0, (None, 0.45, 0.5, 0.6, 0.7, 0.9, 1.1, 1.6)),
    ),
    "plasma": (
        (3.15, (0.6, 0.6, 0.7, 0.7, 0.8, 0.9, 1.0, 1.1)),
        (6.3, (0.7, 0.8, 0.9, 0.9, 1.1, 1.2, 1.3, 1.3)),
        (10.0, (None, 1.0, 1.1, 1.3, 1.4, 1.5, 1.6, 1.7)),
        (15.0, (None, 1.8, 1.8, 1.8, 1.9, 2.3, 3.0, 4.2)),
    ),
})
"""Limit deviations in mm by thickness (upper bound, mm): class 1 for laser, class 2 for plasma.

ISO 9013:2017 as printed on a trade page; the first columns of the thick rows are unsure.
"""


def deviation(process: str, thickness: float, size: float) -> float | None:
    """Return plus and minus in mm that the process holds, or None outside the table."""
    rows = DEVIATIONS[process]
    row = bisect_left([bound for bound, _ in rows], thickness)
    column = bisect_right(SIZES, size)
    if row == len(rows) or column == len(SIZES):
        return None
    return rows[row][1][column]


def check(stock: Stock) -> Iterator[Advice]:
    """Yield the dimensions with limits of their own that are closer than that."""
    for row in stock.dimensions:
        if not row.own_limits or row.limits is None or row.quantity != "length":
            continue
        given = 0.5 * (row.limits[1] - row.limits[0])
        for process in stock.processes:
            holds = deviation(process, stock.in_mm(stock.thickness), stock.in_mm(abs(row.wanted)))
            if holds is not None and given < stock.mm(holds) - 1e-12:
                yield Advice(
                    NAME, process, row.id, given, stock.mm(holds), (row.id, *row.of), None,
                    reason(WHY, MEND),
                )


RULE = Rule(
    NAME,
    "plus and minus at least that of class 1 (laser) or class 2 (plasma)",
    "ISO 9013:2017, limit deviations, as printed on a trade page",
    check,
    WHY,
    MEND,
)
