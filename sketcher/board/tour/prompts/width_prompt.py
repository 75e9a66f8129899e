"""The first value that is held: half of the width."""

from __future__ import annotations

from sketcher.board.tour.half_view import HalfView
from sketcher.board.tour.tour_prompt import Prompt

WIDTH = 40.0


def missing(half: HalfView) -> str:
    """Say how wide the half is, where that is not what is asked for, and held."""
    wide = half.size[0]
    if abs(wide - WIDTH) > half.slack:
        return f"the half is {wide:.4g} mm wide and should be {WIDTH:g}"
    return "" if half.has_length(WIDTH) else f"it is {WIDTH:g} mm wide, but no dimension holds it"


PROMPT = Prompt(
    3, "Hold the width",
    f"Take {{pick}} and press the lower edge. Type {WIDTH:g} and press Enter: the value becomes a "
    "dimension, and the ledger at the left lists it.",
    missing, "dimension",
)
