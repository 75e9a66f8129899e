"""The other half, by reflection."""

from __future__ import annotations

from sketcher.board.tour.half_view import HalfView
from sketcher.board.tour.tour_prompt import Prompt


def missing(half: HalfView) -> str:
    """Say whether the half is reflected about an axis, or was made whole from one."""
    made_whole = "mirrored" in half.deeds and not half.open_ends
    return "" if half.part.mirrors or made_whole else "nothing is reflected yet"


PROMPT = Prompt(
    8, "Mirror the half",
    "Take {mirror}, press the axis and press Enter. The other half follows from now on: change a "
    "value in the ledger and look.",
    missing, "mirror",
)
