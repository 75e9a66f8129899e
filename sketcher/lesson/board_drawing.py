"""Each value of a condition drawn on the slate, by the construction that belongs to it.

A point is where its two loci cross; a line has a direction and a point, or two points or circles
that it goes through or touches; a round has its center and an opening of the compass.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import dist

from sketcher.geometry.curves import XY
from sketcher.lesson.board_facts import BoardFacts, PointFacts
from sketcher.lesson.board_lines import BoardLine
from sketcher.lesson.constructions.angle_at import angle_at
from sketcher.lesson.constructions.bisect import midpoint
from sketcher.lesson.constructions.common_tangent import common_tangent
from sketcher.lesson.constructions.image_about import beyond, image
from sketcher.lesson.constructions.parallel_through import parallel_at, parallel_through
from sketcher.lesson.constructions.set_off import set_off
from sketcher.lesson.constructions.square_at import square_through
from sketcher.lesson.constructions.sum_of_lengths import compass
from sketcher.lesson.constructions.tangent_from import tangent_from
from sketcher.lesson.round_drawing import draw_round
from sketcher.lesson.slate import NotDrawn, Slate
from sketcher.part.loci import (
    Along,
    AnyWay,
    AtAngle,
    Beside,
    BesideLocus,
    Clear,
    Course,
    Halfway,
    ImageOf,
    Locus,
    LyingAlong,
    OnCurve,
    Opposite,
    ParallelTo,
    Passing,
    PlumbOrLevel,
    RoundAbout,
    SameAs,
    SquareOver,
    SquareTo,
    SquareToRay,
    Through,
)
from sketcher.part.value import LineCurve


class BoardDrawing:
    """Draws the things of one part.

    Parameters
    ----------
    facts : BoardFacts
    slate : Slate
    """

    def __init__(self, facts: BoardFacts, slate: Slate) -> None:
        self.facts, self.slate, self.part = facts, slate, facts.part
        self.level = ""
        """Name of the first level line."""

    def draw(self, kind: str, name: str) -> None:
        """Draw a point, line or round.

        Raises
        ------
        NotDrawn
            When no construction with straightedge and compass is known for it, or one does not
            get where the solved geometry is.
        """
        with self.slate.trying():
            if kind == "round":
                draw_round(self.facts, self.slate, name)
            elif kind == "line":
                self.line(name)
            else:
                self.point(name)
            self._check(kind, name)

    def _check(self, kind: str, name: str) -> None:
        slate, at = self.slate, self.part.points
        curve = self.part.curves.get(name)
        if kind == "point":
            off = dist(slate.points[name], at[name])
        elif isinstance(curve, LineCurve):
            off = max(abs(slate.lines[name].offset(at[p])) for p in curve.ends)
        else:
            off = abs(slate.rings[name].radius - self.facts.words.size(name))
        if off > slate.near:
            raise NotDrawn(f"{name} comes to lie {off:.3g} off")

    # Points.

    def point(self, name: str) -> None:
        """Draw a point."""
        slate, at = self.slate, self.part.points[name]
        known = self.facts.of_point(name)
        if known.held or known.choices == 2:
            slate.mark(name, at)
            slate.say(f"Mark {name}.")
            return
        here = slate.point_at(at)
        if here:
            slate.call(name, here)
            slate.say(f"{name} is {here}.")
        elif known.found is not None:
            self._found(name, known)
        elif known.choices == 1 and len(known.loci) == 1:
            self.locus(known.loci[0], at)
            slate.mark(name, at)
            slate.say(f"Mark {name} anywhere on it.")
        else:
            self._crossing(name, known.loci, at)

    def _found(self, name: str, known: PointFacts) -> None:
        slate = self.slate
        match known.found:
            case Halfway(one, other):
                midpoint(slate, one, other, name)
            case Opposite(middle, start):
                beyond(slate, middle, start, name)
            case ImageOf(point, axis):
                image(slate, point, axis, name)
            case SameAs(point):
                slate.call(name, point)
                slate.say(f"{name} is {point}.")

    def _crossing(self, name: str, loci: Sequence[Locus], at: XY) -> None:
        slate = self.slate
        if len(loci) < 2:
            raise NotDrawn(f"{name} has no two loci")
        one, other = loci[:2]
        if isinstance(one, Beside) and isinstance(other, Beside):
            self._by_offsets(name, one, other, at)
            return
        # what is set off along a line that is drawn needs no second line
        for first, second in ((one, other), (other, one)):
            if isinstance(second, RoundAbout) and not isinstance(first, RoundAbout):
                line = self.locus(first, at)
                if line in slate.lines and slate.lies_on(line, second.point):
                    set_off(slate, line, second.point, compass(slate, second.amount), at, name)
                    return
        names = self.locus(one, at), self.locus(other, at)
        slate.cross(*names, at, name)
        slate.say(f"{name} is where {self.called(names[0])} and {self.called(names[1])} cross.")

    def called(self, name: str) -> str:
        """Return how a line or a circle on the slate is spoken of."""
        if name not in self.slate.rings:
            return name
        return f"the circle of {name}" if name in self.part.curves else f"the arc {name}"

    def _by_offsets(self, name: str, one: Beside, other: Beside, at: XY) -> None:
        """Point by its run and its rise: along one line, then square to it."""
        slate = self.slate
        first, second = (one, other) if one.axis == 0 else (other, one)
        if first.axis == second.axis:
            raise NotDrawn(f"{name} lies on two parallels")
        if first.amount is None and second.amount is not None:
            first, second = second, first
        line = self.locus(first, at)
        if second.amount is None:
            slate.cross(line, self.locus(second, at), at, name)
            slate.say(f"{name} is where they cross.")
            return
        foot = slate.lines[line].foot(slate.points[second.point])
        start = slate.point_at(foot)
        if not start:
            across = self.straight(second.point, second.axis)
            start = slate.cross(line, across, foot)
            slate.say(f"{across} cuts {line} at {start}.")
        set_off(slate, line, start, compass(slate, second.amount), at, name)

    # Loci.

    def locus(self, locus: Locus, at: XY, name: str = "") -> str:
        """Draw a locus and return its name; `at` is a place on it."""
        slate = self.slate
        match locus:
            case OnCurve(curve):
                if curve not in slate.lines and curve not in slate.rings:
                    raise NotDrawn(f"{curve} is not drawn")
                return slate.rule(*slate.two_on(curve), name) if name else curve
            case Beside():
                return self._beside(locus, at, name)
            case BesideLocus(_, line, _, amount):
                known = self.locus(line, at)
                if amount is None:
                    return self.locus(OnCurve(known), at, name)
                return parallel_at(slate, known, compass(slate, amount), at, name)
            case RoundAbout(point, amount):
                opening = compass(slate, amount)
                ring = slate.swing(point, opening, at)
                slate.say(f"About {point} with {opening.said} strike the arc {ring}.")
                return ring
            case Along(line, amount):
                return parallel_at(slate, line, compass(slate, amount), at, name)
            case SquareOver(line, point):
                return square_through(slate, line, point, name)
            case Through(one, other):
                made = slate.rule(one, other, name)
                slate.say(f"Draw {made} through {one} and {other}.")
                return made

    def straight(self, point: str, axis: int, name: str = "") -> str:
        """Draw the plumb (0) or level (1) line through a point."""
        slate = self.slate
        way = (0.0, 1.0) if axis == 0 else (1.0, 0.0)
        known = slate.line_at(BoardLine(slate.points[point], way))
        if known and not name:
            return known
        if known:
            made = slate.rule(*slate.two_on(known), name)
            slate.say(f"Draw {made} along {known}.")
            return made
        if axis == 0:
            return square_through(slate, self.level, point, name)
        return parallel_through(slate, self.level, point, name)

    def _beside(self, locus: Beside, at: XY, name: str = "") -> str:
        """Draw the plumb or level line at a distance from a point, or through it."""
        slate, axis = self.slate, locus.axis
        if locus.amount is None:
            return self.straight(locus.point, axis, name)
        way = (0.0, 1.0) if axis == 0 else (1.0, 0.0)
        there = BoardLine(at, way)
        known = slate.line_at(there)
        if known:
            return self.locus(OnCurve(known), at, name)
        x, y = slate.points[locus.point]
        step = locus.sign * locus.amount.size
        along = self.straight(locus.point, 1 - axis)
        to = (x + step, y) if axis == 0 else (x, y + step)
        start = set_off(slate, along, locus.point, compass(slate, locus.amount), to)
        return square_through(slate, along, start, name)

    # Lines.

    def line(self, name: str) -> None:
        """Draw a line of the part."""
        slate, courses = self.slate, self.facts.of_line(name)
        for course in courses:
            if isinstance(course, LyingAlong):
                self.locus(course.locus, self.part.points[course.point], name)
                if name not in slate.lines:
                    raise NotDrawn(f"{name} lies along a circle")
                slate.say(f"Draw {name} there.")
                return
        near = [c for c in courses if isinstance(c, (Passing, Clear))]
        ways = [c for c in courses if not isinstance(c, (Passing, Clear))]
        if len(near) == 2:
            self._by_two(name, near[0], near[1])
        elif len(near) == 1 and ways:
            self._by_way(name, ways[0], near[0])
        else:
            for course in ways:
                if isinstance(course, ParallelTo) and course.amount is not None:
                    parallel_at(slate, course.line, compass(slate, course.amount), course.side,
                                name)
                    return
            raise NotDrawn(f"{name} has no point to go through")

    def _by_two(self, name: str, one: Course, other: Course) -> None:
        slate = self.slate
        if isinstance(one, Passing) and isinstance(other, Passing):
            slate.rule(one.point, other.point, name)
            slate.say(f"Join {one.point} and {other.point} by {name}.")
        elif isinstance(one, Clear) and isinstance(other, Clear):
            rings = self._ring(one), self._ring(other)
            touches = self._touch(name, one), self._touch(name, other)
            common_tangent(slate, rings, touches, (one.amount.text, other.amount.text), name)
        elif isinstance(one, Clear):
            self._by_two(name, other, one)
        elif isinstance(one, Passing) and isinstance(other, Clear):
            touch = self._touch(name, other)
            ring = self._ring(other)
            if dist(slate.points[one.point], touch) <= 1e-6 * slate.size:
                # the point is where it touches: square to the radius
                square_through(slate, slate.rule(other.point, one.point), one.point, name)
                return
            tangent_from(slate, ring, one.point, touch, name)

    def _ring(self, course: Clear) -> str:
        if course.ring:
            return course.ring
        return self.slate.swing(course.point, compass(self.slate, course.amount))

    def _touch(self, line: str, course: Clear) -> XY:
        """Where a line touches a circle about a point."""
        one, other = self.facts.words.line(line)
        apart = dist(one, other)
        at = BoardLine(one, ((other[0] - one[0]) / apart, (other[1] - one[1]) / apart))
        return at.foot(self.part.points[course.point])

    def _by_way(self, name: str, way: Course, near: Course) -> None:
        """Line with a direction, through a point or clear of one."""
        slate = self.slate
        if isinstance(near, Passing):
            self.through(way, near.point, name)
            return
        assert isinstance(near, Clear)
        touch = self._touch(name, near)
        spoke = self.square_to(way, near.point)
        ring = near.ring if near.ring in slate.rings else ""
        if ring:
            foot = slate.cross(spoke, ring, touch)
            slate.say(f"{spoke} cuts the circle of {ring} at {foot}.")
        else:
            foot = set_off(slate, spoke, near.point, compass(slate, near.amount), touch)
        square_through(slate, spoke, foot, name)

    def through(self, way: Course, point: str, name: str) -> str:
        """Draw a line through a point that runs as a course says."""
        slate = self.slate
        match way:
            case PlumbOrLevel(axis):
                return self.straight(point, axis, name)
            case ParallelTo(line):
                return parallel_through(slate, line, point, name)
            case SquareTo(line):
                return square_through(slate, line, point, name)
            case SquareToRay(one, other):
                return square_through(slate, slate.rule(one, other), point, name)
            case AtAngle(line, degrees, text):
                base = line or self.level
                return angle_at(slate, base, point, degrees, text, name)
            case AnyWay():
                ends = [self.part.points[p] for p in self.part.curves[name].points]
                far = max(ends, key=lambda p: dist(p, slate.points[point]))
                other = slate.mark(slate.letter(), far)
                slate.rule(point, other, name)
                slate.say(f"Mark {other} anywhere and join {point} and {other} by {name}.")
                return name
        raise NotDrawn(f"nothing says how {name or 'a line'} runs")

    def square_to(self, way: Course, point: str) -> str:
        """Draw the line through a point square to a course."""
        slate = self.slate
        match way:
            case PlumbOrLevel(axis):
                return self.straight(point, 1 - axis)
            case ParallelTo(line):
                return square_through(slate, line, point)
            case SquareTo(line):
                return parallel_through(slate, line, point)
            case SquareToRay(one, other):
                return parallel_through(slate, slate.rule(one, other), point)
        return square_through(slate, self.through(way, point, ""), point)
