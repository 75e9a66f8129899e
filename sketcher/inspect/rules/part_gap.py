"""Distance between separate pieces in one drawing."""

from __future__ import annotations

from collections.abc import Iterator

from sketcher.inspect.stock import Advice, Neck, Rule, Stock

NAME = "gap between pieces"
TIMES = {"laser": 1.0, "plasma": 0.0}
LEAST_MM = {"laser": 3.0, "plasma": 5.0}


def check(stock: Stock) -> Iterator[Advice]:
    """Yield the pieces that lie nearer to each other on the sheet than that."""

    def kept(neck: Neck) -> bool:
        one, two = (stock.contours[number] for number in neck.contours)
        return not (neck.material or one is two or one.hole or two.hole)

    yield from stock.too_narrow(
        NAME, filter(kept, stock.necks),
        lambda process: max(TIMES[process] * stock.thickness, stock.mm(LEAST_MM[process])),
        "the strip between two pieces moves in the heat")


RULE = Rule(
    NAME,
    "at least 1 x thickness and 3 mm (laser), 5 mm (plasma)",
    "fabricators' design pages",
    check,
)
