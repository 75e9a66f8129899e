"""The inspection, read."""

from __future__ import annotations

from sketcher.board.tour.half_view import HalfView
from sketcher.board.tour.tour_prompt import Prompt


def missing(half: HalfView) -> str:
    """Say what the inspection found, or that nobody has looked at it."""
    if half.inspection is None:
        return "the inspection is being made"
    if not half.inspection.sound:
        return str(half.inspection.findings[0].text)
    return "" if "inspected" in half.deeds else "open Joints and touches, or Profile"


PROMPT = Prompt(
    9, "Inspect it",
    "The inspection at the right has measured the whole part. Open Joints and touches, or Profile: "
    "a sound part has no gap and no break, and a mass once its material is named.",
    missing,
)
