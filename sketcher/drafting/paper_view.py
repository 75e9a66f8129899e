"""Where the part lies on the paper: from the part's unit to mm on the sheet, whole or broken."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from sketcher.geometry.curves import XY, Circle, Curve, Line
from sketcher.geometry.evaluate import moved, scaled, start_of
from sketcher.quantity.units import MM_PER_INCH

MM_PER = {"mm": 1.0, "in": MM_PER_INCH}


@dataclass(frozen=True, slots=True)
class Cut:
    """A stretch of a long part that the paper leaves out.

    Parameters
    ----------
    along : {0, 1}
        Whether it is cut along x or along y.
    low, high : float
        Where it begins and ends, in the part's unit.
    gap : float
        What is left of it on paper, in mm.
    """

    along: int
    low: float
    high: float
    gap: float


@dataclass(frozen=True, slots=True)
class View:
    """Paper point = factor x part point + (dx, dy); y up, origin at the sheet's lower left.

    Parameters
    ----------
    factor : float
        Millimetres on paper for one unit of the part.
    dx, dy : float
        Place of the part's origin in mm.
    cuts : tuple of Cut
        Stretches that are left out; what lies beyond one comes nearer. Nothing of the part lies
        within them but straight lines along them.
    """

    factor: float = 1.0
    dx: float = 0.0
    dy: float = 0.0
    cuts: tuple[Cut, ...] = ()

    def point(self, at: XY) -> XY:
        """Return the place on paper."""
        x, y = self.factor * at[0] + self.dx, self.factor * at[1] + self.dy
        for cut in self.cuts:
            short = self._shortened(cut, at[cut.along])
            x, y = (x - short, y) if cut.along == 0 else (x, y - short)
        return (x, y)

    def _shortened(self, cut: Cut, at: float) -> float:
        """Return by how many mm a place comes nearer for a cut."""
        share = min(1.0, max(0.0, (at - cut.low) / (cut.high - cut.low)))
        return share * (self.factor * (cut.high - cut.low) - cut.gap)

    def curve(self, curve: Curve) -> Curve:
        """Return the curve on paper."""
        if not self.cuts:
            if isinstance(curve, Circle):
                return Circle(self.point(curve.center), self.factor * curve.radius)
            return moved(scaled(curve, self.factor), self.dx, self.dy)
        if isinstance(curve, Line):
            return Line(self.point(curve.start), self.point(curve.end))
        at = start_of(curve)  # a round lies on one side of every cut
        (x, y), grown = self.point(at), scaled(curve, self.factor)
        return moved(grown, x - self.factor * at[0], y - self.factor * at[1])

    def back(self, at: XY) -> XY:
        """Return the place in the part's unit."""
        found = [(at[0] - self.dx) / self.factor, (at[1] - self.dy) / self.factor]
        for cut in sorted(self.cuts, key=lambda cut: cut.low):
            # The cuts before it have been put back: it begins where it does on the part.
            beyond = self.factor * (found[cut.along] - cut.low)
            if beyond >= cut.gap:
                found[cut.along] += cut.high - cut.low - cut.gap / self.factor
            elif beyond > 0.0:
                found[cut.along] = cut.low + beyond / cut.gap * (cut.high - cut.low)
        return (found[0], found[1])

    def shifted(self, dx: float, dy: float) -> View:
        """Return the view moved on the sheet by mm."""
        return replace(self, dx=self.dx + dx, dy=self.dy + dy)

    def whole(self) -> View:
        """Return the view as if nothing were left out."""
        return replace(self, cuts=())

    def gaps(self) -> Iterator[tuple[int, float, float]]:
        """Give the gaps on paper: along x or y, from where to where in mm."""
        for cut in self.cuts:
            ends = [self.point((at, at))[cut.along] for at in (cut.low, cut.high)]
            yield cut.along, ends[0], ends[1]
