"""What each dimension of the part measures, on paper: points, directions, arcs, and its wording."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations
from math import acos, cos, degrees, dist, pi, radians, sin
from typing import TypeAlias

from sketcher.drafting.dimension_text import Wording, repeated, wording
from sketcher.drafting.paper_view import View
from sketcher.drafting.traced import Traced
from sketcher.geometry.curves import XY, Arc, Circle, Line
from sketcher.geometry.evaluate import midpoint
from sketcher.geometry.meet import meet
from sketcher.inspect.detached import without_detached
from sketcher.part.curve_questions import center_of
from sketcher.part.dimension_form import Angular, Linear, Radial, unknown_form
from sketcher.part.instances import places
from sketcher.part.kinds import KINDS
from sketcher.part.mirror import Reflector, reflector, taken
from sketcher.part.printed import nominal
from sketcher.part.value import ArcCurve, Binding, GridPattern, Part, PolarPattern
from sketcher.part.whole import Piece, curve_value, whole

NEAR_ANGLE = 0.05  # degrees
MOST_IMAGES = 5


@dataclass(frozen=True, slots=True)
class MeasuredLength:
    """A length along `direction` between two sides; each side has one or more places to start."""

    id: str
    direction: XY
    first: tuple[XY, ...]
    second: tuple[XY, ...]
    wording: Wording
    inline: tuple[tuple[XY, XY], ...] = ()


@dataclass(frozen=True, slots=True)
class MeasuredRound:
    """A radius or diameter: a circle or an arc, or one of its images, shown by a leader."""

    id: str
    curve: Arc | Circle
    diameter: bool
    wording: Wording
    images: tuple[Arc | Circle, ...] = ()


@dataclass(frozen=True, slots=True)
class MeasuredAngle:
    """An angle: possible places, each a vertex, two rays and where the drawn lines end on them."""

    id: str
    options: tuple[Wedge, ...]
    wording: Wording


@dataclass(frozen=True, slots=True)
class Wedge:
    """A vertex and two unit rays; `spans` are the pieces of each ray that a drawn line covers."""

    vertex: XY
    rays: tuple[XY, XY]
    spans: tuple[tuple[float, float], tuple[float, float]]


Measured: TypeAlias = MeasuredLength | MeasuredRound | MeasuredAngle


def measured(part: Part, view: View) -> tuple[Measured, ...]:
    """Return everything that the sheet dimensions: bindings with a value, then pattern steps.

    What says where something detached lies, or how large it is, is not drawn, nor is the thing.
    """
    pieces = without_detached(whole(part))
    measurer = _Measurer(part, view, pieces)
    gone = not_shown(part, pieces)
    found: list[Measured] = []
    traced = Traced(part)
    for name, binding in part.bindings.items():
        if KINDS[binding.kind].quantity is not None and gone.isdisjoint(binding.of):
            shown = traced.shown(binding)
            found += () if shown is None else measurer.binding(name, shown)
    for name, pattern in part.patterns.items():
        if not gone.isdisjoint(pattern.curves):
            continue
        if isinstance(pattern, GridPattern):
            found += measurer.grid(name, pattern)
        elif abs(measurer.value(pattern.span, "angle")) != 360.0:
            found += measurer.sector(name, pattern)
    driving = [m for m in found if not _is_reference(part, m)]
    return tuple(m for m in found if not _is_reference(part, m)
                 or not any(_says_the_same(m, other) for other in driving))


def not_shown(part: Part, pieces: Sequence[Piece]) -> frozenset[str]:
    """Return the drawn curves that are not among the pieces, and the points that only they have."""
    there = {piece.id for piece in pieces}
    gone = {name for name in part.curves if name not in there}
    kept = _points_of(part, part.curves.keys() - gone)
    return frozenset(gone | (_points_of(part, gone) - kept))


def _is_reference(part: Part, measure: Measured) -> bool:
    binding = part.bindings.get(measure.id)
    return binding is not None and not binding.drives


def _says_the_same(one: Measured, other: Measured) -> bool:
    """Tell whether two lengths run between the same two levels: said once is enough."""
    if not isinstance(one, MeasuredLength) or not isinstance(other, MeasuredLength):
        return False
    (ux, uy), (vx, vy) = one.direction, other.direction
    if abs(ux * vy - uy * vx) > 1e-9:
        return False
    ends = [sorted(p[0][0] * ux + p[0][1] * uy for p in (m.first, m.second))
            for m in (one, other)]
    return all(abs(a - b) < 0.01 for a, b in zip(*ends, strict=True))


class _Measurer:
    """Reads one part; keeps what all its dimensions ask for."""

    def __init__(self, part: Part, view: View, pieces: Sequence[Piece]) -> None:
        self.part, self.view, self.pieces = part, view, pieces
        self.curves = {name: curve_value(part, curve) for name, curve in part.curves.items()}
        halved = part.drawing.show_half or not any(piece.image.mirrors for piece in pieces)
        self.mirrors = () if halved else tuple(
            (reflector(part, mirror), _points_of(part, taken(part, mirror)))
            for mirror in part.mirrors)
        self.alike = _alike(part)

    def value(self, text: str, quantity: str) -> float:
        """Evaluate an expression of a pattern."""
        from sketcher.quantity.parameters import evaluate_all
        from sketcher.quantity.parse import evaluate

        return evaluate(text, quantity, self.part.unit,
                        evaluate_all(self.part.parameters, self.part.unit))

    def binding(self, name: str, binding: Binding) -> Iterator[Measured]:
        """Read one dimension by its form; a degenerate one is left out.

        Raises
        ------
        TypeError
            For a form that is not known here.
        """
        form = KINDS[binding.kind].dimension(self.part, binding.of)
        match form:
            case None:
                return
            case Radial():
                yield from self._round(name, binding, form)
            case Angular():
                yield from self._angle(name, binding, form)
            case Linear(around=Arc() | Circle() as around):
                yield self._step(name, binding, form, around)
            case Linear():
                yield from self._length(name, binding, form)
            case _:
                raise unknown_form(form)

    def _round(self, name: str, binding: Binding, form: Radial) -> Iterator[Measured]:
        curve = self.view.curve(form.curve)
        if not isinstance(curve, Line):
            note = self._spacing(form.source) if form.diameter else ""
            said = wording(self.part, binding, self._count(form.source), note=note)
            yield MeasuredRound(name, curve, form.diameter, said, self._images(form.source))

    def _slot_path(self, ends: tuple[str, str]) -> Arc | None:
        """A distance from the center of a curved slot to its end is the radius of its path."""
        arcs = [(c, v) for c, v in ((c, self.curves[n]) for n, c in self.part.curves.items())
                if isinstance(c, ArcCurve) and isinstance(v, Arc)]
        for middle, end in (ends, ends[::-1]):
            caps = [v for c, v in arcs if c.center == end and abs(abs(v.sweep) - pi) < 0.01]
            bodies = [v for c, v in arcs if c.center == middle]
            if not caps or len(bodies) < 2:
                continue
            radius = dist(self.part.points[middle], self.part.points[end])
            sides = sorted(b.radius for b in bodies)
            wide = any(abs(abs(b.radius - radius) - caps[0].radius) < 1e-6 * radius
                       for b in bodies)
            if wide and sides[0] < radius < sides[-1]:
                body = min(bodies, key=lambda b: abs(b.radius - radius))
                path = self.view.curve(_at_radius(body, radius))
                return path if isinstance(path, Arc) else None
        return None

    def _count(self, name: str) -> int:
        """Places of a round: its images and those of the rounds bound equal to it."""
        alike = self.alike.get(name, frozenset({name}))
        centers: list[XY] = []
        tolerance = 1e-6 * max(1.0, *(abs(v) for at in self.part.points.values() for v in at))
        for piece in self.pieces:
            if piece.source in alike and not isinstance(piece.curve, Line):
                center = piece.curve.center
                if not any(dist(center, other) < tolerance for other in centers):
                    centers.append(center)
        return len(centers)

    def _images(self, name: str) -> tuple[Arc | Circle, ...]:
        """Images of a round that the sheet shows, a few of them."""
        half = self.part.drawing.show_half
        curves = [self.view.curve(p.curve) for p in self.pieces
                  if p.source == name and not p.drawn and not (half and p.image.mirrors)]
        return tuple(c for c in curves[:MOST_IMAGES] if not isinstance(c, Line))

    def _spacing(self, name: str) -> str:
        for pattern in self.part.patterns.values():
            if (isinstance(pattern, PolarPattern) and name in pattern.curves
                    and abs(self.value(pattern.span, "angle")) == 360.0):
                return "EQ SP" if self.part.drawing.practice == "ASME" else "equally spaced"
        return ""

    def _pitch_circle(self, ends: tuple[str, str]) -> Circle | None:
        """A distance from a polar pattern's center to its hole is the pitch circle's radius."""
        for pattern in self.part.patterns.values():
            if isinstance(pattern, PolarPattern) and pattern.center in ends:
                other = ends[ends[0] == pattern.center]
                if any(center_of(self.part.curves[c]) == other for c in pattern.curves):
                    center, hole = (self.part.points[p] for p in (pattern.center, other))
                    circle = self.view.curve(Circle(center, dist(center, hole)))
                    return circle if isinstance(circle, Circle) else None
        return None

    def _length(self, name: str, binding: Binding, form: Linear) -> Iterator[Measured]:
        ends = _true_ends(form)
        if ends is not None:
            pitch, path = self._pitch_circle(ends), self._slot_path(ends)
            if pitch is not None:
                said = wording(self.part, binding, factor=2.0, sign="Ø")
                yield MeasuredRound(name, pitch, True, said)
                return
            if path is not None:
                yield MeasuredRound(name, path, False, wording(self.part, binding, sign="R"))
                return
        sides, factor = self._whole_sides(form)
        first, second = (tuple(self.view.point(p) for p in side) for side in sides)
        yield MeasuredLength(name, upright(form.direction), first, second,
                             wording(self.part, binding, factor=factor))

    def _whole_sides(self, form: Linear) -> tuple[list[tuple[XY, ...]], float]:
        """Places on both sides as the whole shows them, and by what the length grows."""
        for mirror, points in self.mirrors:
            doubled = self._doubled(form, mirror, points)
            if doubled is not None:
                return doubled, 2.0
        return self._both_ways(form), 1.0

    def _doubled(
        self, form: Linear, mirror: Reflector, points: frozenset[str]
    ) -> list[tuple[XY, ...]] | None:
        """Sides of the whole where one side lies on the axis and the other is reflected."""
        dx, dy = mirror.axis.direction
        if abs(dx * form.direction[0] + dy * form.direction[1]) > 1e-6:
            return None
        one, other = (bool(side.points) and all(mirror.on_axis(p) for p in side.places)
                      for side in (form.first, form.second))
        if one == other:
            return None
        off = form.second if one else form.first
        if not off.points or not set(off.points) <= points:
            return None
        return [tuple(mirror.point(p) for p in off.places), off.places]

    def _both_ways(self, form: Linear) -> list[tuple[XY, ...]]:
        """Sides with their reflection, where a length along the axis is the same on both sides."""
        both = [form.first.places, form.second.places]
        for mirror, points in self.mirrors:
            dx, dy = mirror.axis.direction
            if abs(dx * form.direction[1] - dy * form.direction[0]) > 1e-6:
                continue
            for number, side in enumerate((form.first, form.second)):
                if side.points and set(side.points) <= points:
                    both[number] += tuple(mirror.point(p) for p in side.places)
        return both

    def _step(
        self, name: str, binding: Binding, form: Linear, around: Arc | Circle
    ) -> MeasuredLength:
        """Radial distance of concentric rounds, drawn straight across where both of them are."""
        return across(name, form, around, self.view, wording(self.part, binding))

    def _angle(
        self, name: str, binding: Binding, form: Angular
    ) -> Iterator[Measured]:
        straight = [c for c in map(self.view.curve, form.lines) if isinstance(c, Line)]
        wanted = abs(nominal(self.part, binding))
        wanted = min(wanted % 360.0, 360.0 - wanted % 360.0)
        found: Iterable[Wedge]
        found = (against_level(straight[0], form.drawn[0]) if len(straight) == 1
                 else between_lines(*straight))
        fitting = [w for w in found if abs(opening(w) - wanted) < NEAR_ANGLE]
        if fitting and wanted > NEAR_ANGLE:
            yield MeasuredAngle(name, tuple(fitting), wording(self.part, binding))

    def grid(self, name: str, pattern: GridPattern) -> Iterator[Measured]:
        """Read the steps of a grid, along the row and up the column of the drawn feature."""
        turn = radians(self.value(pattern.angle, "angle"))
        start = _center(self.curves[pattern.curves[0]])
        ways = ((cos(turn), sin(turn)), (-sin(turn), cos(turn)))
        for number, (way, text, count) in enumerate(
            zip(ways, pattern.step, pattern.count, strict=True)
        ):
            if count < 2:
                continue
            step = self.value(text, "length")
            far = step * (count - 1)
            end = (start[0] + far * way[0], start[1] + far * way[1])
            yield MeasuredLength(
                f"{name}.step{number + 1}", upright(way), (self.view.point(start),),
                (self.view.point(end),), repeated(self.part, step, count - 1, text))

    def sector(self, name: str, pattern: PolarPattern) -> Iterator[Measured]:
        """Read the steps of an open polar pattern."""
        start = _center(self.curves[pattern.curves[0]])
        further = places(self.part, name)
        if not further:
            return  # a single hole has no step
        end = further[-1].point(start)
        vertex = self.view.point(self.part.points[pattern.center])
        rays = [Line(vertex, self.view.point(p)) for p in (start, end)]
        wedge = Wedge(vertex, (rays[0].direction, rays[1].direction),
                      ((0.0, rays[0].length), (0.0, rays[1].length)))
        gaps = pattern.count - 1
        span = abs(self.value(pattern.span, "angle"))
        if gaps and 0.0 < span < 180.0:
            yield MeasuredAngle(f"{name}.span", (wedge,),
                                repeated(self.part, span / gaps, gaps, "", "angle"))


def _true_ends(form: Linear) -> tuple[str, str] | None:
    """Return the two points between which a true length is taken, or None."""
    if form.coordinate or len(form.first.points) != 1 or len(form.second.points) != 1:
        return None
    return form.first.points[0], form.second.points[0]


def across(
    name: str, form: Linear, around: Arc | Circle, view: View, said: Wording
) -> MeasuredLength:
    """Return the radial distance of concentric rounds, straight across where both of them are."""
    angles = [radians(a) for a in range(15, 360, 30)] if isinstance(around, Circle) else [
        around.start_angle + t * around.sweep for t in (0.5, 0.35, 0.65, 0.2, 0.8, 0.08, 0.92)]
    cx, cy = center = view.point(around.center)
    radii = sorted(dist(center, view.point(side.places[0])) for side in (form.first, form.second))
    inline = []
    for angle in angles:
        a, b = ((cx + r * cos(angle), cy + r * sin(angle)) for r in radii)
        inline.append((a, b))
    direction = Line(*inline[0]).direction
    return MeasuredLength(name, direction, (inline[0][0],), (inline[0][1],), said, tuple(inline))


def steps_of(part: Part, view: View, name: str) -> tuple[Measured, ...]:
    """Return the steps of one pattern.

    Raises
    ------
    SketcherError
        When its numbers cannot be read.
    """
    measurer, pattern = _Measurer(part, view, ()), part.patterns[name]
    if isinstance(pattern, GridPattern):
        return tuple(measurer.grid(name, pattern))
    if abs(measurer.value(pattern.span, "angle")) == 360.0:
        return ()
    return tuple(measurer.sector(name, pattern))


def _at_radius(arc: Arc, radius: float) -> Arc:
    """Return the concentric arc of another radius over the same angle."""
    (cx, cy), share = arc.center, radius / arc.radius
    start, end = ((cx + share * (x - cx), cy + share * (y - cy)) for x, y in (arc.start, arc.end))
    return Arc(arc.center, start, end, arc.ccw)


def _center(curve: Line | Arc | Circle) -> XY:
    return midpoint(curve) if isinstance(curve, Line) else curve.center


def _points_of(part: Part, curves: Iterable[str]) -> frozenset[str]:
    return frozenset(point for name in curves for point in part.curves[name].points)


def _alike(part: Part) -> dict[str, frozenset[str]]:
    """Rounds that bindings make one size."""
    groups: dict[str, set[str]] = {}
    for binding in part.bindings.values():
        unions = KINDS[binding.kind].unions(part, binding.of)
        for (one, axis), (other, _) in unions:
            if axis != "r":
                continue
            joined = groups.get(one, {one}) | groups.get(other, {other})
            for name in joined:
                groups[name] = joined
    return {name: frozenset(group) for name, group in groups.items()}


def upright(way: XY) -> XY:
    """Turn a direction so that text along it is read from below or from the right."""
    x, y = way
    if x < -1e-9 or (abs(x) <= 1e-9 and y < 0.0):
        x, y = -x, -y
    return (x, y)


def opening(wedge: Wedge) -> float:
    """Return the angle of a wedge in degrees."""
    (ax, ay), (bx, by) = wedge.rays
    return degrees(acos(max(-1.0, min(1.0, ax * bx + ay * by))))


def against_level(line: Line, drawn: bool) -> Iterator[Wedge]:
    """Wedges at both ends of a line; a layout line is not drawn and covers only its far end."""
    for start, end in ((line.start, line.end), (line.end, line.start)):
        ray = Line(start, end)
        for level in ((1.0, 0.0), (-1.0, 0.0)):
            covered = (0.0 if drawn else ray.length, ray.length)
            yield Wedge(start, (level, ray.direction), ((0.0, 0.0), covered))


def between_lines(one: Line, other: Line) -> Iterator[Wedge]:
    """Give the wedges between two lines; where both are drawn first."""
    crossing = meet(one, other, bounded=False)
    if not crossing:
        return
    vertex = crossing[0].point
    options = []
    for first, second in combinations([*_rays(vertex, one), *_rays(vertex, other)], 2):
        if first[2] != second[2]:
            options.append((first[3] + second[3],
                            Wedge(vertex, (first[0], second[0]), (first[1], second[1]))))
    yield from (wedge for _, wedge in sorted(options, key=lambda o: o[0]))


def _rays(vertex: XY, line: Line) -> Iterator[tuple[XY, tuple[float, float], int, float]]:
    """Both rays along a line, the piece drawn on each, and 0 for the one with the line on it."""
    for sign in (1.0, -1.0):
        dx, dy = sign * line.direction[0], sign * line.direction[1]
        at = sorted((p[0] - vertex[0]) * dx + (p[1] - vertex[1]) * dy
                    for p in (line.start, line.end))
        span = (max(at[0], 0.0), max(at[1], 0.0))
        yield ((dx, dy), span, id(line), 0.0 if at[0] + at[1] > 0.0 else 1.0)
