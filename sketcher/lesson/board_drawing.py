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
from sketcher.lesson.constructions.bisect import midpoint
from sketcher.lesson.constructions.image_about import beyond, image
from sketcher.lesson.constructions.parallel_through import parallel_at, parallel_through
from sketcher.lesson.constructions.set_off import set_off
from sketcher.lesson.constructions.square_at import square_through
from sketcher.lesson.constructions.sum_of_lengths import compass
from sketcher.lesson.line_drawing import draw_line
from sketcher.lesson.round_drawing import draw_round
from sketcher.lesson.slate import NotDrawn, Slate
from sketcher.part.loci import (
    Along,
    Beside,
    BesideLocus,
    Halfway,
    ImageOf,
    Locus,
    OnCurve,
    Opposite,
    RoundAbout,
    SameAs,
    SquareOver,
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
                draw_line(self, name)
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
            if isinstance(first, OnCurve) and isinstance(second, Beside) and (
                    second.amount is not None and self._measured_along(first.curve, second)):
                set_off(slate, first.curve, second.point, compass(slate, second.amount), at, name)
                return
            if isinstance(second, RoundAbout) and not isinstance(first, RoundAbout):
                line = self.locus(first, at)
                if line in slate.lines and slate.lies_on(line, second.point):
                    set_off(slate, line, second.point, compass(slate, second.amount), at, name)
                    return
        names = self.locus(one, at), self.locus(other, at)
        if name not in slate.points:
            slate.cross(*names, at, name)
            slate.say(f"{name} is where {self.called(names[0])} and {self.called(names[1])} "
                      "cross.")

    def _measured_along(self, line: str, beside: Beside) -> bool:
        """Whether a run or rise is measured along a line that its point lies on."""
        slate = self.slate
        way = slate.lines[line].along if line in slate.lines else (0.0, 0.0)
        return (abs(way[beside.axis]) >= 1.0 - 1e-12
                and slate.lies_on(line, beside.point))

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
            across = self.locus(second, at)
            if name not in slate.points:
                slate.cross(line, across, at, name)
                slate.say(f"{name} is where {line} and {across} cross.")
            return
        foot = slate.lines[line].foot(slate.points[second.point])
        start = slate.point_at(foot)
        if not start:
            across = self.straight(second.point, second.axis)
            start = slate.cross(line, across, foot)
            slate.say(f"{across} cuts {line} at {start}.")
        if name not in slate.points:
            set_off(slate, line, start, compass(slate, second.amount), at, name)

    # Loci.

    def locus(self, locus: Locus, at: XY, name: str = "") -> str:
        """Draw a locus and return its name; `at` is a place on it."""
        slate = self.slate
        match locus:
            case OnCurve(curve):
                if curve not in slate.lines and curve not in slate.rings:
                    raise NotDrawn(f"{curve} is not drawn")
                if not name:
                    return curve
                made = slate.rule(*slate.two_on(curve), name)
                slate.say(f"Draw {made} along {curve}.")
                return made
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
