"""Width of slots and cut-outs."""

from __future__ import annotations

from collections.abc import Iterator

from sketcher.inspect.necks import Neck
from sketcher.inspect.stock import Advice, Process, Rule, Stock, reason

NAME = "slot width"
WHY = "both cuts heat the same strip, and dross bridges the slot"
MEND = "make the slot wider, or mill it"
TIMES = {"laser": 1.0, "plasma": 1.5}
KERFS = 2.0  # a cut along either wall


def least(stock: Stock, process: Process) -> float:
    """Return the smallest width that cuts well, in the part's unit."""
    return max(TIMES[process] * stock.thickness, KERFS * stock.kerf(process))


def is_slot(stock: Stock, neck: Neck) -> bool:
    """Tell whether a narrow place is one across a slot, closed or open to the edge."""
    one, two = neck.contours
    return not neck.material and one == two and not stock.contours[one].circle


def check(stock: Stock) -> Iterator[Advice]:
    """Yield the slots that are narrower than that, less those that the cut alone fills."""
    for neck in filter(lambda neck: is_slot(stock, neck), stock.necks):
        for process in stock.processes:
            width, wanted = neck.place.width, least(stock, process)
            if stock.short(width, wanted) and not stock.swallowed(width, process):
                yield Advice(NAME, process, " to ".join(neck.ids), width, wanted, neck.ids,
                             neck.place.middle, reason(WHY, MEND))


RULE = Rule(
    NAME,
    "at least 1 x thickness (laser), 1.5 x thickness (plasma), and two kerfs: 0.4 mm, 3 mm",
    "fabricators' design pages; the kerfs common practice, no source",
    check,
    WHY,
    MEND,
)
