"""Distance between separate pieces in one drawing."""

from __future__ import annotations

from collections.abc import Iterator

from sketcher.inspect.stock import Advice, Rule, Stock

NAME = "gap between pieces"
TIMES = {"laser": 1.0, "plasma": 0.0}
LEAST_MM = {"laser": 3.0, "plasma": 5.0}


def check(stock: Stock) -> Iterator[Advice]:
    """Yield the pieces that lie nearer to each other on the sheet than that."""
    for neck in stock.necks:
        one, two = (stock.contours[number] for number in neck.contours)
        if neck.material or one is two or one.hole or two.hole:
            continue
        for process in stock.processes:
            wanted = max(TIMES[process] * stock.thickness, stock.mm(LEAST_MM[process]))
            if stock.short(neck.place.width, wanted):
                yield Advice(
                    NAME, process, " to ".join(neck.ids), neck.place.width, wanted, neck.ids,
                    neck.place.middle, "the strip between two pieces moves in the heat",
                )


RULE = Rule(
    NAME,
    "at least 1 x thickness and 3 mm (laser), 5 mm (plasma)",
    "fabricators' design pages",
    check,
)
