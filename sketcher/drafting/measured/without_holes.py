"""What of the dimensions stays on the view where a table says sizes and places of the holes.

A hole is dimensioned in one place: on the view, or in the table. What has a tolerance of its own
for where a hole lies stays, for the table cannot say it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import dist

from sketcher.drafting.hole_list import Hole, holes_of
from sketcher.drafting.measured.paper_measures import Measured, MeasuredLength, MeasuredRound
from sketcher.drafting.paper_view import View
from sketcher.geometry.curves import XY, Line
from sketcher.part.value import Part
from sketcher.part.whole import Piece


def without_holes(
    part: Part, view: View, pieces: Sequence[Piece], found: Sequence[Measured], near: float
) -> tuple[Measured, ...]:
    """Return the dimensions that no table of holes says; `near` is in mm on paper."""
    holes = holes_of(pieces)
    inner = {source for hole in holes for source in hole.sources}
    rest = [p.curve for p in pieces if p.role == "outline" and p.source not in inner]
    corners = [view.point(at) for curve in rest
               for at in ((curve.start, curve.end) if isinstance(curve, Line) else ())]
    centers = [view.point(hole.at) for hole in holes]
    every = [view.point(at) for hole in holes for at in hole.centers]
    return tuple(one for one in found
                 if not _is_size(part, view, one, holes, centers, near)
                 and not _is_place(part, one, every, corners, near))


def _is_size(
    part: Part, view: View, one: Measured, holes: Iterable[Hole], centers: Sequence[XY],
    near: float,
) -> bool:
    """Tell whether a callout is the size of a hole, of a slot, or the circle that holes lie on."""
    named = one.stands_for or (one.id,)
    of = {source for name in named if name in part.bindings for source in part.bindings[name].of}
    if isinstance(one, MeasuredRound) and one.label:
        return False  # the letter by which a note names it
    if isinstance(one, MeasuredRound):
        (cx, cy), r = one.curve.center, one.curve.radius
        on = sum(abs(dist(at, (cx, cy)) - r) < near for at in centers)
        if one.diameter and on > 1:
            return True
        return any(_lies_on(view, one, hole, near) for hole in holes)
    if isinstance(one, MeasuredLength):
        return any(hole.length and not of.isdisjoint(hole.sources)
                   and of <= hole.sources for hole in holes)
    return False


def _lies_on(view: View, one: MeasuredRound, hole: Hole, near: float) -> bool:
    """Tell whether a round is the circle of a hole, or an end of a slot."""
    radius = one.curve.radius / view.factor
    if abs(2.0 * radius - hole.width) > near:
        return False
    reach = 0.5 * (hole.length - hole.width) if hole.length else 0.0
    return abs(dist(one.curve.center, view.point(hole.at)) - reach * view.factor) < near


def _is_place(
    part: Part, one: Measured, centers: Sequence[XY], corners: Sequence[XY], near: float
) -> bool:
    """Tell whether a length goes to the center of a hole, from wherever."""
    if not isinstance(one, MeasuredLength) or one.inline:
        return False
    binding = part.bindings.get(one.id)
    if binding is not None and binding.tolerance is not None:
        return False
    x, y = one.direction
    levels = [cx * x + cy * y for cx, cy in centers]

    def is_hole(side: Sequence[XY]) -> bool:
        if any(dist(at, center) < near for at in side for center in centers):
            return True
        if any(dist(at, corner) < near for at in side for corner in corners):
            return False
        return any(abs(side[0][0] * x + side[0][1] * y - level) < near for level in levels)

    return is_hole(one.first) or is_hole(one.second)
