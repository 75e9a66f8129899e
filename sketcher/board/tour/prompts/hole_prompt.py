"""A hole of a size that is held."""

from __future__ import annotations

from sketcher.board.tour.half_view import HalfView
from sketcher.board.tour.tour_prompt import Prompt


def missing(half: HalfView) -> str:
    """Say whether a hole lies in the half, and has a size."""
    holes = list(half.holes())
    if not holes:
        return "there is no hole yet"
    inside = [name for name in holes if half.inside(name)]
    if not inside:
        return f"{holes[-1]} does not lie within the outline: drag it there"
    return "" if any(map(half.round_held, inside)) else f"the size of {inside[-1]} is not held"


PROMPT = Prompt(
    6, "Make a hole",
    "Take {circle}. Press a place well inside the half, type 10 for its diameter and press Enter.",
    missing, "circle",
)
