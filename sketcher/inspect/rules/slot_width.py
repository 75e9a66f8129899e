"""Width of slots and cut-outs."""

from __future__ import annotations

from collections.abc import Iterator

from sketcher.inspect.necks import Neck
from sketcher.inspect.stock import Advice, Rule, Stock, reason

NAME = "slot width"
WHY = "both cuts heat the same strip, and dross bridges the slot"
MEND = "make the slot wider, or mill it"
TIMES = {"laser": 1.0, "plasma": 1.5}


def check(stock: Stock) -> Iterator[Advice]:
    """Yield the slots, closed or open to the edge, that are narrower than that."""

    def kept(neck: Neck) -> bool:
        one, two = neck.contours
        return not neck.material and one == two and not stock.contours[one].circle

    yield from stock.too_narrow(
        NAME, filter(kept, stock.necks), lambda process: TIMES[process] * stock.thickness,
        reason(WHY, MEND))


RULE = Rule(
    NAME,
    "at least 1 x thickness (laser), 1.5 x thickness (plasma)",
    "fabricators' design pages",
    check,
    WHY,
    MEND,
)
