"""A size across an axis: what stands on both sides of it, bound as half of it on the drawn side."""

from __future__ import annotations

from dataclasses import dataclass

from sketcher.errors import SketcherError
from sketcher.geometry.curves import XY, Line
from sketcher.part import kinds
from sketcher.part.curve_questions import center_of
from sketcher.part.edits.draft import Draft
from sketcher.part.mirror import Reflector, reflector, taken
from sketcher.part.value import Binding, Part
from sketcher.part.whole import curve_value
from sketcher.quantity.format import exact

SAME = 1e-9
"""Share of a size within which two are one, and sine within which directions are."""


@dataclass(frozen=True, slots=True)
class WholeSize:
    """The size between a point or curve and its reflection.

    Parameters
    ----------
    name : str
        The point or curve.
    kind, ids : str, tuple of str
        The dimension to the axis that is half of it.
    part : Part
        With the reflection in it, to measure and show the whole.
    across : tuple of str
        Kind and operands of the whole in that part.
    """

    name: str
    kind: str
    ids: tuple[str, ...]
    part: Part
    across: tuple[str, ...]

    def binding(self, text: str | None = None) -> Binding:
        """Return the whole as a dimension of `part`."""
        kind, *of = self.across
        if text is None and kind == "angle":  # which of the sectors: the one that the half opens
            half = kinds.measure(self.part, kinds.bind(self.part, self.kind, self.ids))
            text = exact(round(2.0 * half, 9))
        return kinds.bind(self.part, kind, of, text)


def across_axis(part: Part, name: str, number: int) -> WholeSize | None:
    """Return the size between a point or curve and its image about an axis; None without one.

    Parameters
    ----------
    number : int
        Which of the part's mirrors, 0 or 1.
    """
    axis = part.mirrors[number].axis
    mirror = reflector(part, part.mirrors[number])
    try:
        found = _of_point(part, name, name, axis, mirror) if name in part.points \
            else _of_curve(part, name, axis, mirror)
        if found is None:
            return None
        half = kinds.measure(part, kinds.bind(part, found.kind, found.ids))
        whole = kinds.measure(found.part, found.binding())
    except SketcherError:
        return None
    return found if half > 0.0 and abs(whole - 2.0 * half) <= SAME * max(1.0, whole) else None


def _of_point(
    part: Part, name: str, point: str, axis: str, mirror: Reflector
) -> WholeSize | None:
    if mirror.on_axis(part.points[point]):
        return None
    draft = Draft(part)
    image = draft.point(mirror.point(part.points[point]))
    return WholeSize(name, "offset", (axis, point), draft.done(), ("distance", point, image))


def _of_curve(part: Part, name: str, axis: str, mirror: Reflector) -> WholeSize | None:
    curve = curve_value(part, part.curves[name])
    center = center_of(part.curves[name])
    if center is not None:
        return _of_point(part, name, center, axis, mirror)
    assert isinstance(curve, Line)
    (ax, ay), (dx, dy) = mirror.axis.direction, curve.direction
    if abs(ax * dx + ay * dy) <= SAME:
        return _straight_through(part, name, mirror)
    draft = Draft(part)
    if abs(ax * dy - ay * dx) <= SAME:
        image = draft.point(mirror.point(curve.start))
        return WholeSize(name, "offset", (axis, name), draft.done(), ("offset", name, image))
    ends = [end if mirror.on_axis(part.points[end]) else draft.point(mirror.point(part.points[end]))
            for end in part.curves[name].points]
    line = draft.line(ends[0], ends[1], "layout")
    return WholeSize(name, "angle", (axis, name), draft.done(), ("angle", name, line))


def _straight_through(part: Part, name: str, mirror: Reflector) -> WholeSize | None:
    """Return the whole length of an edge that runs on into its own reflection."""
    ends = part.curves[name].points
    away = [end for end in ends if not mirror.on_axis(part.points[end])]
    if len(away) == len(ends):
        return None
    draft = Draft(part)
    image = draft.point(mirror.point(part.points[away[0]]))
    return WholeSize(name, "distance", (name,), draft.done(), ("distance", away[0], image))


def point_image(part: Part, point: str, at: XY, reach: float) -> int | None:
    """Return the number of the mirror whose image of a point is at a place, or None."""
    for number, mirror in enumerate(part.mirrors):
        if not any(point in part.curves[name].points for name in taken(part, mirror)):
            continue
        reflection = reflector(part, mirror)
        x, y = reflection.point(part.points[point])
        if not reflection.on_axis(part.points[point]) \
                and (x - at[0])**2 + (y - at[1])**2 <= reach * reach:
            return number
    return None
