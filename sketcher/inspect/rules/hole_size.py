"""Smallest hole against the thickness."""

from __future__ import annotations

from collections.abc import Iterator

from sketcher.inspect.stock import Advice, Rule, Stock, reason

NAME = "hole size"
WHY = "a smaller hole blows out"
MEND = "drill it instead"
TIMES = {"laser": 1.0, "plasma": 1.5}
LEAST_MM = {"laser": 1.0, "plasma": 0.0}


def least(stock: Stock, process: str) -> float:
    """Return the smallest diameter that cuts well, in the part's unit."""
    return max(TIMES[process] * stock.thickness, stock.mm(LEAST_MM[process]))


def check(stock: Stock) -> Iterator[Advice]:
    """Yield the holes whose diameter is below that."""
    for contour in stock.contours:
        circle = contour.circle
        if circle is None or not contour.hole:
            continue
        for process in stock.processes:
            wanted = least(stock, process)
            if stock.short(2.0 * circle.radius, wanted):
                yield Advice(
                    NAME, process, contour.ids[0], 2.0 * circle.radius, wanted, contour.ids,
                    circle.center, reason(WHY, MEND),
                )


RULE = Rule(
    NAME,
    "diameter at least 1 x thickness and 1 mm (laser), 1.5 x thickness (plasma)",
    "fabricators' design pages",
    check,
    WHY,
    MEND,
)
