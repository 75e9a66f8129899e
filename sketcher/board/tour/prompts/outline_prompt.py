"""One half of the outline, from the axis back to the axis."""

from __future__ import annotations

from sketcher.board.tour.half_view import HalfView
from sketcher.board.tour.tour_prompt import Prompt

LEAST = 3


def missing(half: HalfView) -> str:
    """Say what keeps the half from being closed by its axis."""
    edges, ends = len(half.edge), half.open_ends
    if not half.axis or not edges:
        return "there is no outline yet"
    if half.along_axis:
        return (f"{half.along_axis[0]} lies along the axis, where no edge is cut: delete it, or "
                "make it a layout line")
    if edges < LEAST:
        return f"the outline needs at least {LEAST} edges and has {edges}"
    if not ends:
        return "the outline should begin and end on the axis, which closes it"
    off = [end for end in ends if half.from_axis(half.part.points[end]) > half.slack]
    if off:
        return f"{off[0]} is open: an end has to lie on the axis or on another end"
    leaning = half.leaning
    return f"{leaning} leans: {half.straighten(leaning)}" if leaning else ""


PROMPT = Prompt(
    2, "Draw half of the outline",
    "Take {outline}. Press the lower end of the axis, a place level with it at the right, one "
    "above that and level with the axis' upper end, and that end. {outline_ends}",
    missing, "outline",
)
