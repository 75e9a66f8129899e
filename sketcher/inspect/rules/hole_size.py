"""Smallest hole against the thickness."""

from __future__ import annotations

from collections.abc import Iterator

from sketcher.inspect.stock import Advice, Process, Rule, Stock, reason
from sketcher.quantity.units import convert

NAME = "hole size"
WHY = "a smaller hole blows out"
MEND = "drill it instead"
TIMES = {"laser": 1.0, "plasma": 1.5}
LEAST_MM = {"laser": 1.0, "plasma": 3.0}
KERFS = 2.0  # so much is left of the diameter once half of the kerf is offset all round


def least_diameter(process: Process, thickness: float, kerf: float, unit: str) -> float:
    """Return the smallest diameter that a process cuts well; all lengths in the unit."""
    return max(TIMES[process] * thickness, KERFS * kerf, convert(LEAST_MM[process], "mm", unit))


def least(stock: Stock, process: Process) -> float:
    """Return the smallest diameter that cuts well, in the part's unit."""
    return least_diameter(process, stock.thickness, stock.kerf(process), stock.unit)


def check(stock: Stock) -> Iterator[Advice]:
    """Yield the holes whose diameter is below that, less those that the cut alone fills."""
    for contour in stock.contours:
        circle = contour.circle
        if circle is None or not contour.hole:
            continue
        for process in stock.processes:
            wanted = least(stock, process)
            diameter = 2.0 * circle.radius
            if stock.short(diameter, wanted) and not stock.swallowed(diameter, process):
                yield Advice(
                    NAME, process, contour.ids[0], diameter, wanted, contour.ids,
                    circle.center, reason(WHY, MEND),
                )


RULE = Rule(
    NAME,
    "diameter at least 1 x thickness and 1 mm (laser), 1.5 x thickness and 3 mm (plasma)",
    "fabricators' design pages; the 3 mm, two kerfs, common practice, no source",
    check,
    WHY,
    MEND,
)
