"""Where the readout counts from: the sheet's own zero, a place, or a point of the part."""

from __future__ import annotations

from dataclasses import dataclass, replace

from sketcher.geometry.curves import XY
from sketcher.part.value import Part


@dataclass(frozen=True, slots=True)
class Zero:
    """Zero of the readout; with `point` it follows that point."""

    at: XY = (0.0, 0.0)
    point: str | None = None

    def place(self, part: Part) -> XY:
        """Return where it stands now."""
        return part.points.get(self.point, self.at) if self.point is not None else self.at

    def living(self, part: Part) -> Zero:
        """Return a zero whose point the part still holds, else one that stays where it was."""
        if self.point is None:
            return self
        if self.point in part.points:
            return replace(self, at=part.points[self.point])
        return replace(self, point=None)


def zero_point(part: Part, zero: Zero, within: float = 1e-9) -> str | None:
    """Return the id of the point at the zero: the one it follows, or a fixed one there."""
    if zero.point is not None and zero.point in part.points:
        return zero.point
    x, y = zero.place(part)
    fixed = {b.of[0] for b in part.bindings.values() if b.kind == "fixed"}
    for name in sorted(fixed):
        px, py = part.points.get(name, (float("inf"), 0.0))
        if abs(px - x) <= within and abs(py - y) <= within:
            return name
    return None
