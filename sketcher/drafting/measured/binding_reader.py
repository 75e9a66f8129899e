"""Reads what single bindings with a value measure: lengths, angles, pitch circles, slot paths."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import cached_property
from math import cos, dist, pi, radians, sin

from sketcher.drafting.dimension_text import Wording, wording
from sketcher.drafting.measured.paper_measures import (
    Measured,
    MeasuredAngle,
    MeasuredLength,
    MeasuredRound,
    Wedge,
)
from sketcher.drafting.measured.wedges import against_level, between_lines, opening, upright
from sketcher.drafting.paper_view import View
from sketcher.geometry.curves import XY, Arc, Circle, Line
from sketcher.part.curve_questions import center_of
from sketcher.part.dimension_form import Angular, DimensionForm, Linear, unknown_form
from sketcher.part.kinds import KINDS
from sketcher.part.mirror import Reflector, reflector, taken
from sketcher.part.printed import nominal
from sketcher.part.value import ArcCurve, Binding, LineCurve, Part, PolarPattern
from sketcher.part.whole import curve_value

NEAR_ANGLE = 0.05  # degrees


class BindingReader:
    """Reads the dimensions of one part that are no sizes of rounds.

    Parameters
    ----------
    part : Part
        The solved part.
    view : View
        Where it lies on the paper.
    is_mirrored : bool
        Whether anything of it is reflected; False takes every length as it is bound.
    """

    def __init__(self, part: Part, view: View, is_mirrored: bool) -> None:
        self.part, self.view = part, view
        self._is_whole = is_mirrored and not part.drawing.show_half

    @cached_property
    def mirrors(self) -> tuple[tuple[Reflector, frozenset[str]], ...]:
        """The reflections, each with the points that it takes; none for a view of the half."""
        part = self.part
        return tuple((reflector(part, mirror), _reflected(part, taken(part, mirror)))
                     for mirror in part.mirrors) if self._is_whole else ()

    def said(self, binding: Binding, factor: float = 1.0, sign: str | None = None) -> Wording:
        """Return what a dimension says."""
        return wording(self.part, binding, factor=factor, sign=sign)

    def read(self, name: str, binding: Binding, form: DimensionForm | None) -> Iterator[Measured]:
        """Read one dimension by its form; a degenerate one is left out.

        Raises
        ------
        TypeError
            For a form that is not known here; `Radial` is that of `RoundSizes`.
        """
        match form:
            case None:
                return
            case Angular():
                yield from self._angle(name, binding, form)
            case Linear(around=Arc() | Circle() as around):
                yield across(name, form, around, self.view, self.said(binding))
            case Linear():
                yield self._length(name, binding, form)
            case _:
                raise unknown_form(form)

    def factor(self, form: DimensionForm | None) -> float:
        """Return how many times what is bound a dimension shows: 2 across an axis, and for Ø."""
        if not isinstance(form, Linear) or form.around is not None:
            return 1.0
        ends = _true_ends(form)
        if ends is not None and (self._pitch_circle(ends) or self._slot_path(ends)):
            return 2.0 if self._pitch_circle(ends) else 1.0
        return self._whole_sides(form)[1]

    def _length(self, name: str, binding: Binding, form: Linear) -> Measured:
        ends = _true_ends(form)
        if ends is not None:
            pitch, path = self._pitch_circle(ends), self._slot_path(ends)
            if pitch is not None:
                return MeasuredRound(name, pitch, True, self.said(binding, 2.0, "Ø"))
            if path is not None:
                return MeasuredRound(name, path, False, self.said(binding, sign="R"))
        sides, factor = self._whole_sides(form)
        first, second = (tuple(self.view.point(p) for p in side) for side in sides)
        return MeasuredLength(name, upright(form.direction), first, second,
                              self.said(binding, factor))

    def _slot_path(self, ends: tuple[str, str]) -> Arc | None:
        """A distance from the center of a curved slot to its end is the radius of its path."""
        arcs = [(c, v) for c in self.part.curves.values() if isinstance(c, ArcCurve)
                and (c.center in ends) and isinstance(v := curve_value(self.part, c), Arc)]
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
                    both[number] += tuple(at for p in side.places
                                          if (at := mirror.point(p)) not in both[number])
        return both

    def level_wedges(self, binding: Binding, line: Line, drawn: bool) -> Iterator[Wedge]:
        """Wedges of a line against level; that of a slot or hole about its path's center only.

        At its other end the same angle would read as one of something else.
        """
        curve = self.part.curves[binding.of[0]]
        middle = None
        if not drawn and isinstance(curve, LineCurve):
            for one, other in (curve.ends, curve.ends[::-1]):
                if self._turns_about(one, other):
                    middle = self.view.point(self.part.points[one])
        for wedge in against_level(line, drawn):
            if middle is None or wedge.vertex == middle:
                yield wedge

    def _turns_about(self, middle: str, end: str) -> bool:
        """Tell whether something at an end goes round the other: by a slot's path, or a pattern."""
        around = {p.center for p in self.part.patterns.values() if isinstance(p, PolarPattern)}
        if middle in around:
            return True
        path = self._slot_path((middle, end))
        return path is not None and path.center == self.view.point(self.part.points[middle])

    def _angle(self, name: str, binding: Binding, form: Angular) -> Iterator[MeasuredAngle]:
        straight = [c for c in map(self.view.curve, form.lines) if isinstance(c, Line)]
        wanted = abs(nominal(self.part, binding))
        wanted = min(wanted % 360.0, 360.0 - wanted % 360.0)
        found: Iterable[Wedge]
        found = (self.level_wedges(binding, straight[0], form.drawn[0]) if len(straight) == 1
                 else between_lines(*straight))
        fitting = [w for w in found if abs(opening(w) - wanted) < NEAR_ANGLE]
        if fitting and wanted > NEAR_ANGLE:
            yield MeasuredAngle(name, tuple(fitting), self.said(binding))


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


def points_of(part: Part, curves: Iterable[str]) -> frozenset[str]:
    """Return every point that some of the part's curves name."""
    return frozenset(point for name in curves for point in part.curves[name].points)


def _reflected(part: Part, curves: frozenset[str]) -> frozenset[str]:
    """Return the points of reflected curves, and the sharp corners that these have lost."""
    mine = points_of(part, curves)
    others = points_of(part, part.curves.keys() - curves)
    on: dict[str, set[str]] = {}
    for binding in part.bindings.values():
        if KINDS[binding.kind].incident and binding.of[0] not in others:
            on.setdefault(binding.of[0], set()).add(binding.of[1])
    outline = {name for name, curve in part.curves.items() if curve.role == "outline"}
    return mine | {point for point, of in on.items() if of & outline and of & outline <= curves}


def _at_radius(arc: Arc, radius: float) -> Arc:
    """Return the concentric arc of another radius over the same angle."""
    (cx, cy), share = arc.center, radius / arc.radius
    start, end = ((cx + share * (x - cx), cy + share * (y - cy)) for x, y in (arc.start, arc.end))
    return Arc(arc.center, start, end, arc.ccw)
