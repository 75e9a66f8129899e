"""Holes that a plasma cutter leaves rough."""

from __future__ import annotations

from collections.abc import Iterator

from sketcher.inspect.stock import Advice, Rule, Stock, reason

NAME = "drill or ream"
WHY = "the wall of a small plasma hole is tapered and hard"
MEND = "drill or ream it to size"
TIMES = 2.0


def check(stock: Stock) -> Iterator[Advice]:
    """Yield the holes that can be cut by plasma, but are better drilled or reamed."""
    from sketcher.inspect.rules.hole_size import least

    if "plasma" not in stock.processes:
        return
    for contour in stock.contours:
        circle = contour.circle
        if circle is None or not contour.hole:
            continue
        diameter, wanted = 2.0 * circle.radius, TIMES * stock.thickness
        if stock.short(diameter, wanted) and not stock.short(diameter, least(stock, "plasma")):
            yield Advice(
                NAME, "plasma", contour.ids[0], diameter, wanted, contour.ids, circle.center,
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
