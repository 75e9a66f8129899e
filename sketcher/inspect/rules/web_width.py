"""Smallest web: material left between two cuts."""

from __future__ import annotations

from collections.abc import Iterator

from sketcher.inspect.necks import Neck
from sketcher.inspect.stock import Advice, Rule, Stock, reason

NAME = "web"
WHY = "a narrow web warps or burns away"
MEND = "make it wider, or cut it last"
TIMES = {"laser": 1.0, "plasma": 1.5}
LEAST_MM = {"laser": 0.0, "plasma": 2.0}


def check(stock: Stock) -> Iterator[Advice]:
    """Yield the webs between holes, and across one contour, that are narrower than that."""

    def kept(neck: Neck) -> bool:
        one, two = (stock.contours[number] for number in neck.contours)
        return neck.material and (one is two or (one.hole and two.hole))

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
