"""Holes and slots that are no wider than the cut itself."""

from __future__ import annotations

from collections.abc import Iterator

from sketcher.inspect.rules import hole_size, slot_width
from sketcher.inspect.stock import Advice, Rule, Stock, reason

NAME = "room for the cut"
WHY = "it is no wider than the cut, so nothing of it is left once the kerf is offset"
MEND = "make it wider, or mark it and drill or mill it"


def check(stock: Stock) -> Iterator[Advice]:
    """Yield the holes and slots that the cut alone fills; wanted is what the process asks for."""
    for contour in stock.contours:
        circle = contour.circle
        for process in stock.processes:
            if circle and contour.hole and stock.swallowed(2.0 * circle.radius, process):
                yield Advice(NAME, process, contour.ids[0], 2.0 * circle.radius,
                             hole_size.least(stock, process), contour.ids, circle.center,
                             reason(WHY, MEND))
    for neck in filter(lambda neck: slot_width.is_slot(stock, neck), stock.necks):
        for process in stock.processes:
            if stock.swallowed(neck.place.width, process):
                yield Advice(NAME, process, " to ".join(neck.ids), neck.place.width,
                             slot_width.least(stock, process), neck.ids, neck.place.middle,
                             reason(WHY, MEND))


RULE = Rule(
    NAME,
    "wider than the kerf: 0.2 mm (laser), 1.5 mm (plasma)",
    "common practice, no source",
    check,
    WHY,
    MEND,
    serious=True,
)
