"""Center lines as the eye sees them: straight ones, and rings on which holes sit."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import combinations
from math import dist

from sketcher.drafting.rebuild.drawn_outline import along, off_line
from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line


@dataclass(frozen=True, slots=True)
class DrawnMarks:
    """Straight center lines from end to end, and the circles of round ones."""

    lines: tuple[Line, ...]
    rings: tuple[Circle, ...]
    tol: float

    def through(self, at: XY) -> tuple[int, ...]:
        """Return the straight center lines that run over a place."""
        return tuple(k for k, line in enumerate(self.lines) if self.runs_over(line, at))

    def runs_over(self, line: Line, at: XY) -> bool:
        """Tell whether a center line runs over a place."""
        return (off_line(line, at) < self.tol
                and -self.tol < along(line, at) < line.length + self.tol)

    def marked(self, at: XY) -> bool:
        """Tell whether a place is marked as a center: two center lines cross there."""
        rings = sum(abs(dist(ring.center, at) - ring.radius) < self.tol for ring in self.rings)
        return len(self.through(at)) + rings >= 2


def read_marks(
    strokes: Iterable[tuple[Curve, str, str]], windows: Mapping[str, Circle], tol: float
) -> DrawnMarks:
    """Return the center lines of strokes.

    Parameters
    ----------
    strokes : iterable of (Curve, str, str)
        Each with the name of the line that it is a dash of, and of its view.
    windows : mapping of str to Circle
        What each detail shows: where it cuts a line off, that line runs on in the whole view.
    tol : float
        Places nearer than this are one, in the unit of the strokes.
    """
    groups: dict[tuple[str, str], list[Curve]] = {}
    for curve, name, view in strokes:
        groups.setdefault((name, view), []).append(curve)
    straight: dict[str, list[Line]] = {}
    rings: list[Circle] = []
    for (_, view), group in groups.items():
        dashes = [curve for curve in group if isinstance(curve, Line)]
        if dashes:
            straight.setdefault(view, []).append(_whole(dashes))
        for curve in group:
            if isinstance(curve, Arc | Circle) and not any(
                    dist(ring.center, curve.center) < tol and abs(ring.radius - curve.radius) < tol
                    for ring in rings):
                rings.append(Circle(curve.center, curve.radius))
    outside = [line for view, some in straight.items() if view not in windows for line in some]
    lines = [_run_on(line, windows[view], outside, tol) if view in windows else line
             for view, some in straight.items() for line in some]
    return DrawnMarks(tuple(lines), tuple(rings), tol)


def _run_on(line: Line, window: Circle, outside: Iterable[Line], tol: float) -> Line:
    """Join a center line that the edge of a detail cuts off to those that go on outside."""
    places = [0.0, line.length]
    for other in outside:
        if off_line(line, other.start) > tol or off_line(line, other.end) > tol:
            continue
        low, high = sorted(along(line, at) for at in (other.start, other.end))
        if low < line.length + window.radius and high > -window.radius:
            places += [low, high]
    (ux, uy), (x, y) = line.direction, line.start
    low, high = min(places), max(places)
    return Line((x + low * ux, y + low * uy), (x + high * ux, y + high * uy))


def _whole(dashes: list[Line]) -> Line:
    first = dashes[0]
    ends = [p for line in dashes for p in (line.start, line.end)]
    if len(ends) > 2:
        first = max((Line(a, b) for a, b in combinations(ends[:4], 2)), key=lambda m: m.length)
    low, high = (pick(ends, key=lambda p: along(first, p)) for pick in (min, max))
    return Line(low, high)
