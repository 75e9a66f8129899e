"""Width of slots and cut-outs."""

from __future__ import annotations

from collections.abc import Iterator

from sketcher.inspect.stock import Advice, Rule, Stock

NAME = "slot width"
TIMES = {"laser": 1.0, "plasma": 1.5}


def check(stock: Stock) -> Iterator[Advice]:
    """Yield the slots, closed or open to the edge, that are narrower than that."""
    for neck in stock.necks:
        one, two = neck.contours
        if neck.material or one != two or stock.contours[one].circle:
            continue
        for process in stock.processes:
            wanted = TIMES[process] * stock.thickness
            if stock.short(neck.place.width, wanted):
                yield Advice(
                    NAME, process, " to ".join(neck.ids), neck.place.width, wanted, neck.ids,
                    neck.place.middle, "both cuts heat the same strip, and dross bridges the slot",
                )


RULE = Rule(
    NAME,
    "at least 1 x thickness (laser), 1.5 x thickness (plasma)",
    "fabricators' design pages",
    check,
)
