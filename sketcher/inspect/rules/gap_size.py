"""Gaps that a cutter may or may not close by itself."""

from __future__ import annotations

from collections.abc import Iterator

from sketcher.inspect.stock import Advice, Rule, Stock, reason

NAME = "gap size"
WHY = "an open contour is not cut, or is cut on the line without offset"
MEND = "join the two ends, as Clean up does"
MOST_MM = 0.01


def check(stock: Stock) -> Iterator[Advice]:
    """Yield the gaps of the outline that are too wide for a machine to close."""
    for joint in stock.joints:
        if joint.state in {"gap", "overrun"} and joint.gap > stock.mm(MOST_MM):
            yield Advice(
                NAME, ", ".join(stock.processes), " to ".join(joint.between), joint.gap,
                stock.mm(MOST_MM), joint.between, joint.at,
                reason(WHY, MEND), most=True,
            )


RULE = Rule(NAME, "at most 0.01 mm", "common practice, no source", check, WHY, MEND)
