"""Radius of inside corners."""

from __future__ import annotations

from collections.abc import Iterator

from sketcher.inspect.stock import Advice, Rule, Stock, reason

NAME = "inside corner"
WHY = "the cut leaves about that radius anyway"
MEND = "draw it with Fillet, or file it"
LEAST_MM = {"laser": 0.1, "plasma": 1.0}  # half of a laser's kerf; what a torch can turn


def check(stock: Stock) -> Iterator[Advice]:
    """Yield the inside corners that are sharp, or rounded to less than that."""
    for contour in stock.contours:
        for corner in contour.inside_corners:
            for process in stock.processes:
                wanted = stock.mm(LEAST_MM[process])
                if stock.short(corner.radius, wanted):
                    yield Advice(
                        NAME, process, " to ".join(corner.ids), corner.radius, wanted, corner.ids,
                        corner.at, reason(WHY, MEND),
                    )


RULE = Rule(
    NAME,
    "radius at least 0.1 mm (laser: half of the kerf), 1 mm (plasma)",
    "common practice, no source (laser); fabricators' design pages (plasma)",
    check,
    WHY,
    MEND,
)
