"""Places on paper that get a center line: centers, paths of slots, pitch circles; in mm."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from math import cos, pi, sin, tau
from typing import TypeAlias

from sketcher.geometry.curves import XY, Arc, Circle
from sketcher.geometry.project import in_sweep

SAME = 0.02
"""Places closer than this on paper, in mm, are one: a tenth of the thinnest line."""

SLANT = 0.03
"""An arc that ends within this angle, in radians, of a line through its center is not crossed by
it, unless it reaches as far on the other side: a tick is even."""

HALF = pi - 0.01
"""From here on, in radians, an arc has a center mark of its own, and its lines run past it."""

Away: TypeAlias = tuple[int, bool]
"""How far an image is from the drawn curve, as `ImageId.away` tells."""

DRAWN: Away = (0, False)


@dataclass(slots=True)
class Center:
    """A place that gets a mark.

    `rounds` are the circles and arcs about it, `turn` the angle of its first line in radians;
    a `polar` center has its pattern's center instead of a second line; `slot` is the direction, in
    radians, of the straight slot that it is an end of, and `loop` its outline; `points` are the
    drawn points that it stands on; `away` is how far the curve that names it is from a drawn one.
    """

    id: str
    at: XY
    rounds: list[tuple[str, Arc | Circle]] = field(default_factory=list)
    turn: float = 0.0
    polar: XY | None = None
    path: XY | None = None
    slot: float | None = None
    loop: frozenset[str] = frozenset()
    points: set[str] = field(default_factory=set)
    away: Away = DRAWN

    def reach(self, angle: float) -> float:
        """Return the greatest radius about the center that a line in a direction runs past.

        0 for none. A round of less than half a turn is passed only where it lies on both sides: a
        line then runs past the hole in it both ways, and not once past the hole, once the round.
        """
        return max((radius for radius, arcs in self.by_radius().items() if self._met(arcs, angle)),
                   default=0.0)

    def by_radius(self) -> dict[float, list[Arc | Circle]]:
        """Return the rounds that have one radius together: an arc may be drawn in pieces."""
        found: dict[float, list[Arc | Circle]] = {}
        for _, curve in self.rounds:
            same = next((r for r in found if abs(r - curve.radius) < SAME), curve.radius)
            found.setdefault(same, []).append(curve)
        return found

    def _met(self, arcs: Sequence[Arc | Circle], angle: float) -> bool:
        if all(any(covers(arc, self.at, way) for arc in arcs) for way in (angle, angle + pi)):
            return True
        if swept(arcs) <= HALF:
            return False
        seam = sum(covers(arc, self.at, angle) for arc in arcs) > 1  # drawn in two pieces
        return seam or any(covers(arc, self.at, angle, -SLANT) for arc in arcs)

    @property
    def least_radius(self) -> float:
        """Smallest radius about the center; 0 where there is none."""
        return min((r.radius for _, r in self.rounds), default=0.0)


@dataclass(frozen=True, slots=True)
class Path:
    """The middle of a curved slot: an arc about `center` between two slot ends, and its reach."""

    id: str
    center: XY
    radius: float
    start: float
    end: float
    reach: float
    away: Away


@dataclass(frozen=True, slots=True)
class Pitch:
    """The circle on which the holes of a polar pattern sit; `closed` for a full turn."""

    id: str
    center: XY
    radius: float
    holes: tuple[XY, ...]
    closed: bool
    reach: float
    away: Away


def swept(rounds: Iterable[Arc | Circle]) -> float:
    """Return the angle that pieces of one circle sweep together, in radians."""
    return sum(tau if isinstance(curve, Circle) else abs(curve.sweep) for curve in rounds)


def covers(curve: Arc | Circle, center: XY, angle: float, beyond: float = 1e-4) -> bool:
    """Tell whether a circle or arc is met by the ray from its center, `beyond` radians past it."""
    if isinstance(curve, Circle):
        return True
    at = (center[0] + curve.radius * cos(angle), center[1] + curve.radius * sin(angle))
    return in_sweep(curve, at, beyond * curve.radius)
