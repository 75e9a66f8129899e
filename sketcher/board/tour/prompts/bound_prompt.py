"""Nothing left that can move."""

from __future__ import annotations

from sketcher.board.tour.half_view import HalfView
from sketcher.board.tour.tour_prompt import Prompt

MOST = 4


def missing(half: HalfView) -> str:
    """Say what can still move, and what is caught in bindings that cannot all hold."""
    report = half.report
    if report.clashes:
        return f"{', '.join(report.clashes[0])} cannot all hold: take one of them away"
    if report.freedoms:
        some = ", ".join(half.loose[:MOST])
        ways = "freedom" if report.freedoms == 1 else "freedoms"
        return f"{report.freedoms} {ways} left, at {some}: drag there to see what moves"
    return "" if half.driving else "no dimension is held"


PROMPT = Prompt(
    7, "Hold the hole in its place",
    "What is dashed can still move. Take {pick} and press an empty place: nothing is selected "
    "then. Take {dimension}; press the axis and the hole's center, type 25; press the lower edge "
    "and the center, type 15.",
    missing, "dimension",
)
