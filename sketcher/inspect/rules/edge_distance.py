"""Edge of a hole to the edge of the part."""

from __future__ import annotations

from collections.abc import Iterator

from sketcher.inspect.stock import Advice, Rule, Stock

NAME = "hole to edge"
TIMES = {"laser": 1.0, "plasma": 1.5}


def check(stock: Stock) -> Iterator[Advice]:
    """Yield the holes and cut-outs that come nearer to the outside edge than that."""
    for neck in stock.necks:
        one, two = (stock.contours[number] for number in neck.contours)
        if not neck.material or one.hole == two.hole:
            continue
        for process in stock.processes:
            wanted = TIMES[process] * stock.thickness
            if stock.short(neck.place.width, wanted):
                yield Advice(
                    NAME, process, " to ".join(neck.ids), neck.place.width, wanted, neck.ids,
                    neck.place.middle, "the edge bulges or breaks out where so little is left",
                )


RULE = Rule(
    NAME,
    "at least 1 x thickness (laser), 1.5 x thickness (plasma)",
    "fabricators' design pages",
    check,
)
