"""A rounded corner, tangent to both of its edges."""

from __future__ import annotations

from sketcher.board.tour.half_view import HalfView
from sketcher.board.tour.tour_prompt import Prompt
from sketcher.part.value import ArcCurve

TOUCHES = 2


def missing(half: HalfView) -> str:
    """Say whether an arc of the outline is held by a radius and two tangencies."""
    arcs = [name for name in half.edge if isinstance(half.part.curves[name], ArcCurve)]
    if not arcs:
        return "no corner is rounded yet"
    name = arcs[-1]
    touches = sum(b.kind == "tangent" and name in b.of for b in half.part.bindings.values())
    if touches < TOUCHES:
        return f"{name} is bound tangent to {touches} of its two edges"
    return "" if half.round_held(name) else f"the radius of {name} is not held"


PROMPT = Prompt(
    5, "Round a corner",
    "Take {fillet}, press the corner at the upper right, type 8 and press Enter. The arc is "
    "tangent to both edges and stays so.",
    missing, "fillet",
)
