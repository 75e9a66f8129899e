"""Where the part lies on the paper: from the part's unit to mm on the sheet."""

from __future__ import annotations

from dataclasses import dataclass

from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.geometry.evaluate import moved, scaled
from sketcher.quantity.units import MM_PER_INCH

MM_PER = {"mm": 1.0, "in": MM_PER_INCH}


@dataclass(frozen=True, slots=True)
class View:
    """Paper point = factor x part point + (dx, dy); y up, origin at the sheet's lower left.

    Parameters
    ----------
    factor : float
        Millimetres on paper for one unit of the part.
    dx, dy : float
        Place of the part's origin in mm.
    """

    factor: float = 1.0
    dx: float = 0.0
    dy: float = 0.0

    def point(self, at: XY) -> XY:
        """Return the place on paper."""
        return (self.factor * at[0] + self.dx, self.factor * at[1] + self.dy)

    def curve(self, curve: Curve) -> Curve:
        """Return the curve on paper."""
        if isinstance(curve, Line):
            return moved(scaled(curve, self.factor), self.dx, self.dy)
        if isinstance(curve, Arc):
            return moved(scaled(curve, self.factor), self.dx, self.dy)
        return Circle(self.point(curve.center), self.factor * curve.radius)

    def back(self, at: XY) -> XY:
        """Return the place in the part's unit."""
        return ((at[0] - self.dx) / self.factor, (at[1] - self.dy) / self.factor)

    def shifted(self, dx: float, dy: float) -> View:
        """Return the view moved on the sheet by mm."""
        return View(self.factor, self.dx + dx, self.dy + dy)
