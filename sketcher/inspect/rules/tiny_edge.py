"""Edges shorter than the cut is wide."""

from __future__ import annotations

from collections.abc import Iterator

from sketcher.inspect.stock import Advice, Rule, Stock, reason

NAME = "tiny edge"
WHY = "the machine slows down for an edge that the cut swallows"
MEND = "leave it out"


def check(stock: Stock) -> Iterator[Advice]:
    """Yield the edges that are shorter than the kerf."""
    for contour in stock.contours:
        for name, curve in zip(contour.ids, contour.shapes, strict=True):
            for process in stock.processes:
                wanted = stock.kerf(process)
                if curve.length < wanted and len(contour.ids) > 1:
                    at = curve.center if not hasattr(curve, "start") else curve.start
                    yield Advice(
                        NAME, process, name, curve.length, wanted, (name,), at,
                        reason(WHY, MEND),
                    )


RULE = Rule(
    NAME,
    "longer than the kerf: 0.2 mm (laser), 1.5 mm (plasma)",
    "common practice, no source",
    check,
    WHY,
    MEND,
)
