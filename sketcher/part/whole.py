"""From the drawn half to the whole part: geometry values, pattern instances and the reflection."""

from __future__ import annotations

from dataclasses import dataclass

from sketcher.geometry.curves import Arc, Circle, Curve, Line
from sketcher.part.value import ArcCurve, LineCurve, Part, PartCurve, Role


@dataclass(frozen=True, slots=True)
class Piece:
    """One curve of the whole part.

    `id` is the drawn curve's own id, or that of an image (``h1#3`` the third further instance of a
    pattern, ``e1'`` the reflection of ``e1``); `source` is always the drawn curve's id.
    """

    id: str
    source: str
    curve: Curve
    role: Role

    @property
    def drawn(self) -> bool:
        """True for a curve of the half, False for an image."""
        return self.id == self.source


def curve_value(part: Part, curve: PartCurve) -> Curve:
    """Return the geometry of a document curve."""
    at = part.points
    if isinstance(curve, LineCurve):
        return Line(at[curve.ends[0]], at[curve.ends[1]])
    if isinstance(curve, ArcCurve):
        return Arc(at[curve.center], at[curve.ends[0]], at[curve.ends[1]], curve.turn == "ccw")
    return Circle(at[curve.center], curve.radius)


def half(part: Part) -> dict[str, Curve]:
    """Return the geometry of every drawn curve by id, in the part's order."""
    return {name: curve_value(part, curve) for name, curve in part.curves.items()}
