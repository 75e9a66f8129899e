"""The reflection: geometry of mirror axes, and what a mirror takes along."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import dist

from sketcher.errors import GeometryError
from sketcher.geometry.bounds import RELATIVE
from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.part.part_size import part_size
from sketcher.part.value import LineCurve, Mirror, Part


@dataclass(frozen=True, slots=True)
class Reflector:
    """Reflection about the unbounded line through `axis`.

    What lies within `tolerance` (a length) of the axis stays bit by bit where it is, so that an
    edge that ends on the axis meets its own reflection exactly.
    """

    axis: Line
    tolerance: float = 0.0

    def __post_init__(self) -> None:
        if self.axis.direction == (0.0, 0.0):
            raise GeometryError("mirror", "the axis has no length", "move its ends apart")

    def height(self, at: XY) -> float:
        """Return the signed distance of a point from the axis, positive to its left."""
        (x0, y0), (dx, dy) = self.axis.start, self.axis.direction
        return dx * (at[1] - y0) - dy * (at[0] - x0)

    def on_axis(self, at: XY) -> bool:
        """Tell whether a point lies on the axis, within the tolerance."""
        return abs(self.height(at)) <= self.tolerance

    def point(self, at: XY) -> XY:
        """Return the reflection of a point."""
        height = self.height(at)
        if abs(height) <= self.tolerance:
            return at
        dx, dy = self.axis.direction
        return (at[0] + 2.0 * height * dy, at[1] - 2.0 * height * dx)

    def curve(self, curve: Curve) -> Curve:
        """Return the reflection of a curve, from the image of its start to that of its end."""
        if isinstance(curve, Line):
            return Line(self.point(curve.start), self.point(curve.end))
        if isinstance(curve, Arc):
            center, start, end = map(self.point, (curve.center, curve.start, curve.end))
            return Arc(center, start, end, not curve.ccw)
        return Circle(self.point(curve.center), curve.radius)

    def keeps(self, curve: Curve) -> bool:
        """Tell whether a curve is its own reflection: on the axis, centered on it or across it."""
        return same_place(curve, self.curve(curve), self.tolerance)


def same_place(a: Curve, b: Curve, tolerance: float) -> bool:
    """Tell whether two curves cover the same places within `tolerance`, in either direction."""
    if isinstance(a, Circle) or isinstance(b, Circle):
        return (
            isinstance(a, Circle)
            and isinstance(b, Circle)
            and dist(a.center, b.center) <= tolerance
            and abs(a.radius - b.radius) <= tolerance
        )
    if isinstance(a, Line) and isinstance(b, Line):
        return _ends_agree(a, b, tolerance) != 0
    if isinstance(a, Arc) and isinstance(b, Arc) and dist(a.center, b.center) <= tolerance:
        if abs(a.radius - b.radius) > tolerance:
            return False
        if a.start == a.end and b.start == b.end:  # full turns may begin anywhere
            return True
        agree = _ends_agree(a, b, tolerance)
        # The same two ends bound two arcs of a circle; the turn tells which one is meant.
        return agree != 0 and a.ccw == (b.ccw if agree > 0 else not b.ccw)
    return False


def _ends_agree(a: Line | Arc, b: Line | Arc, tolerance: float) -> int:
    """Return 1 where ends agree, -1 where they agree the other way round, 0 where they do not."""
    if dist(a.start, b.start) <= tolerance and dist(a.end, b.end) <= tolerance:
        return 1
    if dist(a.start, b.end) <= tolerance and dist(a.end, b.start) <= tolerance:
        return -1
    return 0


def axis_line(part: Part, mirror: Mirror) -> Line:
    """Return the geometry of a mirror's axis."""
    curve = part.curves[mirror.axis]
    if not isinstance(curve, LineCurve):
        raise GeometryError(f"mirror.axis {mirror.axis}", "the axis is not a line", "choose a line")
    return Line(part.points[curve.ends[0]], part.points[curve.ends[1]])


def reflector(part: Part, mirror: Mirror) -> Reflector:
    """Return the reflection that a mirror of the part makes."""
    return Reflector(axis_line(part, mirror), RELATIVE * part_size(part))


def taken(part: Part, mirror: Mirror) -> frozenset[str]:
    """Return the ids of the drawn curves that a mirror reflects."""
    return frozenset(
        name
        for name, curve in part.curves.items()
        if name != mirror.axis and _takes(mirror.curves, name, curve.role)
    )


def _takes(wanted: str | Iterable[str], name: str, role: str) -> bool:
    return role == "outline" if wanted == "outline" else name in wanted
