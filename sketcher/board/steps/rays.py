"""Lines that a typed direction needs to be a dimension: scribed from a center to a place.

On paper an angle stands between lines. Where a direction or a sweep is typed and no line runs
there, one is scribed, as somebody at a drawing board would.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from sketcher.board.places.pending_bindings import Tie
from sketcher.part.edits.draft import Draft
from sketcher.part.value import ArcCurve, LineCurve


def on_rays(draft: Draft, tie: Tie, of: tuple[str, ...]) -> tuple[Tie, tuple[str, ...]]:
    """Return a binding to be as kind and operands that a part can hold.

    The angle of two points becomes that of the line between them, the sweep of an arc the angle
    between the lines from its center to its ends; lines that are not there are scribed.
    """
    if tie.kind == "angle" and len(of) == 2 and set(of) <= draft.points.keys():
        return tie, (ray(draft, of),)
    if tie.kind == "sweep":
        arc = draft.curves[of[0]]
        assert isinstance(arc, ArcCurve)
        rays = tuple(ray(draft, (arc.center, end)) for end in arc.ends)
        return replace(tie, kind="angle"), rays
    return tie, of


def ray(draft: Draft, ends: Sequence[str]) -> str:
    """Return the line between two points, scribed where there is none."""
    for name, curve in draft.curves.items():
        if isinstance(curve, LineCurve) and set(curve.ends) == set(ends):
            return name
    start, end = ends
    return draft.line(start, end, "layout")
