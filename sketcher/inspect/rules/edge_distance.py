"""Edge of a hole to the edge of the part."""

from __future__ import annotations

from collections.abc import Iterator

from sketcher.inspect.necks import Neck
from sketcher.inspect.stock import Advice, Rule, Stock, reason

NAME = "hole to edge"
WHY = "the edge bulges or breaks out where so little is left"
MEND = "move the hole further in, or widen the part there"
TIMES = {"laser": 1.0, "plasma": 1.5}
LEAST_MM = {"laser": 0.0, "plasma": 2.0}  # as of a web, which it is too


def check(stock: Stock) -> Iterator[Advice]:
    """Yield the holes and cut-outs that come nearer to the outside edge than that."""

    def kept(neck: Neck) -> bool:
        one, two = (stock.contours[number] for number in neck.contours)
        return neck.material and one.hole != two.hole

    yield from stock.too_narrow(
        NAME, filter(kept, stock.necks),
        lambda process: max(TIMES[process] * stock.thickness, stock.mm(LEAST_MM[process])),
        reason(WHY, MEND))


RULE = Rule(
    NAME,
    "at least 1 x thickness (laser), 1.5 x thickness and 2 mm (plasma)",
    "fabricators' design pages",
    check,
    WHY,
    MEND,
    serious=True,
)
