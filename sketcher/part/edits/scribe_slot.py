"""Scribe the path of a curved slot with its two edges and its round ends."""

from __future__ import annotations

from math import dist
from typing import Literal, NamedTuple

from sketcher.errors import EditError
from sketcher.geometry.curves import XY
from sketcher.part.edited import Edited
from sketcher.part.edits.draft import Draft
from sketcher.part.scribing import bind_direction, point_named, positive_length, unit
from sketcher.part.splice import amount, finished, tie
from sketcher.part.value import Part


class SlotEnd(NamedTuple):
    """An end of the path in the direction of a point of the part; `shared` makes it that point."""

    point: str
    shared: bool = False


Direction = str | float | SlotEnd
"""Degrees against level, or a point."""


def scribe_slot(
    part: Part,
    center: str,
    radius: str | float,
    angles: tuple[Direction, Direction],
    half_width: str | float,
    by: Literal["offset", "radius", "diameter", "width"] = "offset",
) -> Edited:
    """Scribe a curved slot: two rays, the path between them, its two offsets and its end circles.

    The path's radius, both angles and the offset of the outer edge are dimensions; the ends touch
    both edges. Tracing the region between them makes the slot.

    Parameters
    ----------
    part : Part
        The part.
    center : str
        Point that the path runs round.
    radius : str or float
        Radius of the path; no dimension where the first end is a point of the part, for it follows
        from that.
    angles : tuple of (str, float or SlotEnd)
        Directions of the two ends in degrees, or points in those directions; the path runs
        counter-clockwise from the first.
    half_width : str or float
        Half of the slot's width, which is the radius of its ends; all of it by ``"diameter"`` and
        ``"width"``.
    by : {"offset", "radius", "diameter", "width"}
        The dimension that says so: the offset of the outer edge, the size of an end, or the offset
        of the two edges.

    Returns
    -------
    Edited
        `made` holds the path, the outer and the inner edge, the two end circles and the two rays,
        then the bindings.

    Raises
    ------
    EditError
        When the slot is wider than its path allows, or its ends lie in one direction.
    """
    x, y = point_named(part, center)
    size, size_text = positive_length(part, radius, "radius")
    width, width_text = positive_length(part, half_width, "half width")
    if by in ("diameter", "width"):
        width *= 0.5
    if width >= size:
        raise EditError("half width", f"{width_text} reaches the center", "give a smaller one")
    draft = Draft(part)
    rays, ends, made = [], [], []
    for angle in angles:
        if isinstance(angle, SlotEnd):
            ends.append(_toward(draft, (x, y), size, angle))
        else:
            turn, text = amount(part, angle, "angle", "angle")
            ux, uy = unit(turn)
            ends.append(draft.point((x + size * ux, y + size * uy)))
        rays.append(draft.line(center, ends[-1], "layout"))
        if not isinstance(angle, SlotEnd):
            made.append(bind_direction(draft, rays[-1], turn, text))
        elif not angle.shared:
            made.append(tie(draft, "on", (angle.point, rays[-1])))
    if dist(*(draft.points[end] for end in ends)) <= 1e-9 * size:
        raise EditError("angles", "both ends lie in one direction", "give two different angles")
    if not (isinstance(angles[0], SlotEnd) and angles[0].shared):
        made.append(tie(draft, "distance", (rays[0],), size_text))
    path = draft.arc(ends[0], ends[1], center, "ccw", "layout")
    outer = draft.circle(center, size + width, "layout")
    inner = draft.circle(center, size - width, "layout")
    caps = [draft.circle(end, width, "layout") for end in ends]
    kind, sized = {"offset": ("offset", (path, outer)), "width": ("offset", (outer, inner))}.get(
        by, (by, (caps[0],)))
    made.append(tie(draft, kind, sized, width_text))
    made += [tie(draft, "tangent", (outer, caps[0])), tie(draft, "tangent", (caps[0], inner)),
             tie(draft, "equal", caps)]
    said = f"scribed the slot center line {path} with its edges {outer} and {inner}"
    return finished(draft, said, path, outer, inner, *caps, *rays, *made)


def _toward(draft: Draft, center: XY, size: float, end: SlotEnd) -> str:
    """Return the point of an end: the one named, or a new one on the path in its direction."""
    at = draft.points.get(end.point)
    if at is None:
        raise EditError(end.point, "no point with this id", "choose a point")
    away = dist(center, at)
    if not away > 0.0:
        raise EditError("angles", "the end lies on the center", "choose another point")
    if end.shared:
        return end.point
    share = size / away
    return draft.point((center[0] + (at[0] - center[0]) * share,
                        center[1] + (at[1] - center[1]) * share))
