"""Plate that the process can cut."""

from __future__ import annotations

from collections.abc import Iterator

from sketcher.inspect.stock import Advice, Rule, Stock, reason

NAME = "thickness"
WHY = "the standard for thermal cuts does not cover it"
MEND = "ask the shop"
RANGE_MM = {"laser": (0.5, 32.0), "plasma": (0.5, 150.0)}


def check(stock: Stock) -> Iterator[Advice]:
    """Yield the processes for whose quality classes the plate is too thin or too thick."""
    for process in stock.processes:
        low, high = (stock.mm(bound) for bound in RANGE_MM[process])
        if not low <= stock.thickness <= high:
            yield Advice(
                NAME, process, "plate", stock.thickness,
                low if stock.thickness < low else high, (), None,
                reason(WHY, MEND),
                most=stock.thickness > high,
            )


RULE = Rule(
    NAME,
    "0.5 to 32 mm (laser), 0.5 to 150 mm (plasma)",
    "ISO 9013:2017, scope",
    check,
    WHY,
    MEND,
)
