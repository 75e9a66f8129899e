"""The axis that the half is drawn beside."""

from __future__ import annotations

from sketcher.board.tour.half_view import HalfView
from sketcher.board.tour.tour_prompt import Prompt


def missing(half: HalfView) -> str:
    """Say whether there is an axis that stands or lies."""
    if not half.axis:
        return "there is no axis yet"
    if not (half.stands or half.lies):
        return f"{half.axis} leans: select it and bind it plumb"
    return ""


PROMPT = Prompt(
    1, "Draw the axis",
    "Take {axis}. Press the ringed cross, the zero of the sheet, then a place straight above it. "
    "The word beside the pointer tells what a press would bind.",
    missing, "axis",
)
