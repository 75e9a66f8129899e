"""A file for those who make the part."""

from __future__ import annotations

from sketcher.board.tour.half_view import HalfView
from sketcher.board.tour.tour_prompt import Prompt


def missing(half: HalfView) -> str:
    """Say whether anything was exported."""
    return "" if "exported" in half.deeds else "no file is exported yet"


PROMPT = Prompt(
    10, "Export it",
    "In the File menu, {file_export_cut} writes the contours for a laser or plasma cutter; "
    "{file_export_sheet} writes the dimensioned drawing. Take either.",
    missing,
)
