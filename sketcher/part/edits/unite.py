"""Make one line or arc of two that overlap."""

from __future__ import annotations

from math import dist, tau

from sketcher.errors import EditError
from sketcher.geometry.curves import Arc, Circle, Line
from sketcher.geometry.meet import overlap, same_carrier
from sketcher.geometry.project import parameter_at
from sketcher.part.edited import Edited
from sketcher.part.edits.draft import Draft
from sketcher.part.part_size import part_size
from sketcher.part.splice import CLOSE, finished, leave, put_end, two_curves
from sketcher.part.value import CircleCurve, Part


def unite(part: Part, keep: str, gone: str) -> Edited:
    """Let a line or an arc reach over all that it and another one on its carrier cover.

    Parameters
    ----------
    part : Part
        The part.
    keep, gone : str
        Ids of the curve that stays and of the one that goes; they overlap.

    Raises
    ------
    EditError
        When they do not overlap, or together would be a full circle.
    """
    draft = Draft(part)
    one, two = two_curves(draft, keep, gone)
    reach = CLOSE * part_size(draft)
    goes = draft.curves[gone]
    if isinstance(one, Circle) or isinstance(two, Circle) or isinstance(goes, CircleCurve):
        raise EditError(f"{keep}, {gone}", "a circle has no ends",
                        "delete the one that is too much")
    if not same_carrier(one, two, reach) or not overlap(one, two, reach):
        raise EditError(f"{keep}, {gone}", "do not overlap", "join curves that share an end")
    if isinstance(one, Arc) and isinstance(two, Arc):
        shared = sum(abs(p.sweep) for p in overlap(one, two, reach) if isinstance(p, Arc))
        if abs(one.sweep) + abs(two.sweep) - shared >= tau - 1e-9:
            raise EditError(f"{keep}, {gone}", "together are a full circle",
                            "draw a circle instead")
    ends = list(goes.ends)
    draft.take_curve(gone)
    for end in ends:
        _reach_out(draft, keep, one, end, reach)
    for end in (*ends, *goes.points[2:]):
        if end in draft.points and end not in draft.curves[keep].points:
            leave(draft, end, keep)
    return finished(draft, f"{keep} reaches over {gone}", keep)


def _reach_out(draft: Draft, keep: str, curve: Line | Arc, end: str, reach: float) -> None:
    """Let the kept curve end at a point that lies past one of its ends."""
    at = draft.points[end]
    t = parameter_at(curve, at)
    if 0.0 <= t <= 1.0:
        return
    index = 0 if t < 0.0 else 1
    old = curve.start if index == 0 else curve.end
    if dist(at, old) > reach:
        put_end(draft, keep, index, end)
