"""The second value that is held: the height."""

from __future__ import annotations

from sketcher.board.tour.half_view import HalfView
from sketcher.board.tour.tour_prompt import Prompt

HEIGHT = 60.0
LENGTHS = 2


def missing(half: HalfView) -> str:
    """Say how high the half is, where that is not what is asked for, and held."""
    high = half.size[1]
    if abs(high - HEIGHT) > half.slack:
        off = f"the half is {high:.4g} mm high and should be {HEIGHT:g}"
        return f"{off}; {half.leaning} leans: {half.straighten(half.leaning)}" if half.leaning \
            else off
    lengths = [b for b in half.driving if b.kind not in ("radius", "diameter", "angle")]
    return "" if len(lengths) >= LENGTHS else f"it is {HEIGHT:g} mm high, but nothing holds it"


PROMPT = Prompt(
    4, "Hold the height",
    f"Press the edge at the right, type {HEIGHT:g} and press Enter. A value can be a sum, too: "
    "45+15 is as good.",
    missing, "dimension",
)
