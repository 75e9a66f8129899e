"""A part as it was meant: its whole outline as plain strokes, and what its paper says."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from math import dist
from pathlib import Path

import shapely

from sketcher.geometry.curves import Circle, Curve, Line
from sketcher.inspect.sketched import solve_sketch
from sketcher.part.store import load
from sketcher.part.value import Part
from sketcher.part.whole import whole
from tests.damage.strokes import (
    Loop,
    Ring,
    Straight,
    Stroke,
    enclosed,
    length_of,
    places,
    reversed_stroke,
    through,
)
from tests.demo_parts import SOUND
from tests.shared_files import shared


@dataclass(frozen=True)
class Original:
    """What a drawing began as: the solved part and its contours, the outside first."""

    name: str
    part: Part
    loops: tuple[Loop, ...]

    @property
    def strokes(self) -> tuple[Stroke, ...]:
        """All strokes of the outline."""
        return tuple(stroke for loop in self.loops for stroke in loop)

    @property
    def area(self) -> float:
        """Area of the outside less the holes."""
        first, *rest = (abs(enclosed(loop)) for loop in self.loops)
        return first - sum(rest)

    @property
    def perimeter(self) -> float:
        """Length of all edges."""
        return length_of(self.strokes)


def plain(curve: Curve) -> Stroke:
    """A curve of the program as a plain stroke."""
    if isinstance(curve, Line):
        return Straight(curve.start, curve.end)
    if isinstance(curve, Circle):
        return Ring(curve.center, curve.radius)
    return through(curve.center, curve.start, curve.end, curve.ccw)


def outline(part: Part) -> list[Stroke]:
    """The outline of a whole part as plain strokes."""
    return [plain(piece.curve) for piece in whole(part) if piece.role == "outline"]


def chained(strokes: Sequence[Stroke], reach: float) -> tuple[Loop, ...]:
    """Contours of strokes whose ends meet within `reach`, the largest first."""
    loops: list[Loop] = [(stroke,) for stroke in strokes if isinstance(stroke, Ring)]
    rest = [stroke for stroke in strokes if not isinstance(stroke, Ring)]
    while rest:
        loop = [rest.pop(0)]
        while dist(loop[-1].b, loop[0].a) > reach or len(loop) == 1:
            near, number = min((min(dist(loop[-1].b, s.a), dist(loop[-1].b, s.b)), k)
                               for k, s in enumerate(rest))
            assert near <= reach, f"open at {loop[-1].b} by {near}"
            found = rest.pop(number)
            loop.append(found if dist(loop[-1].b, found.a) <= reach
                        else reversed_stroke(found))  # type: ignore[arg-type]
        loops.append(tuple(loop))
    return tuple(sorted(loops, key=lambda loop: -abs(enclosed(loop))))


@cache
def original(path: Path) -> Original:
    """Solve a part and take its outline apart."""
    part = solve_sketch(load(path)).part
    strokes = outline(part)
    box = shapely.MultiPoint([at for s in strokes for at in places(s, 0.1)]).bounds
    reach = 1e-9 * (box[2] - box[0] + box[3] - box[1])
    return Original(path.name.removesuffix(".profile.json"), part, chained(strokes, reach))


def originals() -> list[Path]:
    """The sound demo parts, and two more where they are there."""
    return [*SOUND, *shared("cases", "bracket-in.profile.json"),
            *shared("cases", "grid-plate.profile.json")]
