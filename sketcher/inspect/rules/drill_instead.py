"""Holes that a plasma cutter leaves rough."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from types import MappingProxyType

from sketcher.inspect.rules.hole_size import least
from sketcher.inspect.stock import Advice, Process, Rule, Stock, reason

NAME = "drill or ream"
WHY = "the wall of a small plasma hole is tapered and hard"
MEND = "drill or ream it to size"
TIMES: Mapping[Process, float] = MappingProxyType({"plasma": 2.0})
"""Thicknesses below which the wall is so; a laser leaves it straight."""


def check(stock: Stock) -> Iterator[Advice]:
    """Yield the holes that can be cut by plasma, but are better drilled or reamed."""
    for contour in stock.contours:
        circle = contour.circle
        if circle is None or not contour.hole:
            continue
        for process in stock.processes:
            diameter, wanted = 2.0 * circle.radius, TIMES.get(process, 0.0) * stock.thickness
            if stock.short(diameter, wanted) and not stock.short(diameter, least(stock, process)):
                yield Advice(
                    NAME, process, contour.ids[0], diameter, wanted, contour.ids, circle.center,
                    reason(WHY, MEND),
                )


RULE = Rule(
    NAME,
    "diameter at least 2 x thickness (plasma)",
    "common practice, no source",
    check,
    WHY,
    MEND,
)
