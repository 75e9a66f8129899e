"""What is seen of a construction, stroke by stroke: what each draws, with which tool, how long.

There are two tellings of one construction: its steps alone, in which every curve grows at once as
it is in the part; and the hand moves, in which each stroke of compass and straightedge is shown. A
step without moves is told by its curves in both.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, dist, sin, tau
from typing import Literal, TypeAlias

from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.geometry.evaluate import end_of, piece, start_of

Tool: TypeAlias = Literal["pencil", "straightedge", "protractor", "compass"]
Weight: TypeAlias = Literal["helper", "thin", "axis", "full"]
"""How it is drawn: to get at something else; for later to go over; as center line; as outline."""

POINT = 0.45
LEAST, MOST = 0.5, 2.0
"""Seconds that a point takes, and a curve at least and at most."""
TAKING = 0.7
"""Seconds in which a compass is opened between two points, or a protractor is laid down."""
ROUNDING = 1e-9
"""Share of a curve below which a piece of it is none."""


@dataclass(frozen=True, slots=True)
class Beat:
    """One stroke.

    Parameters
    ----------
    step : int
        Index of the step that it belongs to.
    name : str
        What it draws: an id of the part, of an image, or a helper's name.
    curves : tuple of Curve
        They grow one after the other from their starts; none where a point is marked.
    at_once : bool
        They grow all at the same time: images.
    at : (float, float), optional
        The point that is marked.
    tool : Tool
    weight : Weight
    uses : tuple of str
        What was drawn before and is used.
    note : str
        What the tool is set to, as the paper has it.
    taken : pair of (float, float), optional
        Two places between which the compass is opened first.
    foot : (float, float), optional
        Where the middle of a protractor lies.
    base, degrees : float
        Direction of the line that it lies along, in radians, and the angle laid off from there.
    lasts : float
        Seconds at the plain speed.
    """

    step: int
    name: str
    curves: tuple[Curve, ...] = ()
    at_once: bool = False
    at: XY | None = None
    tool: Tool = "pencil"
    weight: Weight = "thin"
    uses: tuple[str, ...] = ()
    note: str = ""
    taken: tuple[XY, XY] | None = None
    foot: XY | None = None
    base: float = 0.0
    degrees: float = 0.0
    lasts: float = POINT

    def grown(self, share: float) -> tuple[Curve, ...]:
        """Return what is drawn of its curves when a share of its time is over."""
        done = self.swung(share)
        if self.at_once and 0.0 < done < 1.0:
            return tuple(piece(curve, 0.0, done) for curve in self.curves)
        left = done * sum(curve.length for curve in self.curves)
        seen: list[Curve] = []
        for curve in self.curves:
            if left >= curve.length or done == 1.0:
                seen.append(curve)
            elif left > ROUNDING * curve.length:
                seen.append(piece(curve, 0.0, left / curve.length))
            left -= curve.length
        return tuple(seen)

    @property
    def waits(self) -> float:
        """Seconds in which the tool is set before it draws."""
        return TAKING if self.taken is not None or self.foot is not None else 0.0

    def swung(self, share: float) -> float:
        """Return how much of the drawing is done: nothing while the tool is set."""
        wait = self.waits / self.lasts if self.lasts else 0.0
        return min(1.0, max(0.0, (share - wait) / (1.0 - wait)))

    def tip(self, share: float) -> XY | None:
        """Return where the lead is."""
        if not self.curves:
            return self.at
        seen = self.grown(share)
        return end_of(seen[-1]) if seen else start_of(self.curves[0])


def line_seconds(length: float, size: float) -> float:
    """Return how long a line is drawn; `size` is that of the part."""
    return min(MOST, LEAST + 1.2 * length / size)


def round_seconds(turn: float) -> float:
    """Return how long the compass swings by a turn in radians."""
    return min(MOST, LEAST + 1.5 * abs(turn) / tau)


def seconds_for(curve: Curve, size: float) -> float:
    """Return how long a curve is drawn."""
    if isinstance(curve, Line):
        return line_seconds(curve.length, size)
    return round_seconds(curve.sweep if isinstance(curve, Arc) else tau)


def swing(center: XY, radius: float, start: float, turn: float) -> Curve:
    """Return as much of a circle as a turn in radians from an angle covers."""
    if abs(turn) >= tau:
        return Circle(center, radius)
    (x, y), stop = center, start + turn
    return Arc(center, (x + radius * cos(start), y + radius * sin(start)),
               (x + radius * cos(stop), y + radius * sin(stop)), turn > 0.0)


def ran_out(line: Line, by: float) -> Line:
    """Return a line that runs a length beyond both of its ends."""
    if dist(line.start, line.end) == 0.0:
        return line
    (x0, y0), (x1, y1), (dx, dy) = line.start, line.end, line.direction
    return Line((x0 - by * dx, y0 - by * dy), (x1 + by * dx, y1 + by * dy))
