"""How the values of conditions are said at the drawing board."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import hypot

from sketcher.geometry.curves import XY
from sketcher.inspect.words import listed
from sketcher.lesson.board_facts import BoardFacts
from sketcher.lesson.slate import told_apart
from sketcher.part.loci import (
    Along,
    Amount,
    AnyRadius,
    AnyWay,
    AtAngle,
    Beside,
    BesideLocus,
    Clear,
    Course,
    Found,
    Halfway,
    ImageOf,
    Locus,
    LyingAlong,
    OnCurve,
    Opened,
    Opposite,
    ParallelTo,
    Passing,
    PlumbOrLevel,
    Reaching,
    RoundAbout,
    SameAs,
    SquareOver,
    SquareTo,
    SquareToRay,
    Through,
    Touching,
)

PLACES = 3  # decimals of a computed place: more than a scriber resolves
SLANT = 0.38  # sine of 22.5 degrees: below it a direction is called by one word
UPRIGHT = ("plumb", "level")


def bearing(dx: float, dy: float, what: str) -> str:
    """Return ``above e1``, ``to the left of e1`` or both for a direction, seen from `what`."""
    size = hypot(dx, dy)
    words = []
    if abs(dy) > SLANT * size:
        words.append("above" if dy > 0 else "below")
    if abs(dx) > SLANT * size:
        words.append(f"to the {'right' if dx > 0 else 'left'} of")
    return f"{' and '.join(words) or 'on'} {what}"


def named(names: Iterable[str]) -> str:
    """Return names as ``a, b and c``, each once."""
    return listed(dict.fromkeys(names))


class Phrases:
    """Sentences about the things of one part; arithmetic is said where it is used first."""

    def __init__(self, facts: BoardFacts) -> None:
        self.facts, self.part, self.words = facts, facts.part, facts.words
        self._said: set[tuple[str, str]] = set()
        self.known: set[str] = set()
        """Names of what is drawn, and of what the step in hand draws."""

    # Amounts and places.

    def amount(self, amount: Amount, sign: str = "") -> str:
        """Return an amount, with its arithmetic when it is said for the first time."""
        text = f"{sign}{amount.text}"
        reason = f" ({amount.reason})" if self._drawn(amount.reason) else ""
        if not amount.measured:
            return f"the opening {amount.text}{reason}"
        key = (amount.text, amount.made)
        if amount.made and key not in self._said:
            self._said.add(key)
            text += f" = {amount.made}"
        return text + reason

    def _drawn(self, reason: str) -> bool:
        """Whether a reason can be given: all that it names is there or comes in this step."""
        words = set(reason.replace(",", " ").split())
        return bool(reason) and all(
            name in self.known for name in words
            if name in self.part.curves or name in self.part.points)

    def place(self, point: str) -> str:
        """Coordinates of a point."""
        x, y = (self.words.number(v, places=PLACES) for v in self.part.points[point])
        return f"({x}, {y})"

    def _beside(self, line: str, at: XY) -> str:
        (ax, ay), (bx, by) = self.words.line(line)
        cross = (bx - ax) * (at[1] - ay) - (by - ay) * (at[0] - ax)
        sense = 1.0 if cross > 0 else -1.0
        return bearing(-sense * (by - ay), sense * (bx - ax), "it")

    # Points.

    def locus(self, locus: Locus, at: XY) -> str:
        """Say the line or circle on which a point lies."""
        match locus:
            case OnCurve(curve):
                return curve if self.words.is_line(curve) else f"the circle of {curve}"
            case Beside(point, axis, amount, sign):
                line = f"the {UPRIGHT[axis]} line"
                if amount is None:
                    return f"{line} through {point}"
                where = bearing(0.0, sign, point) if axis else bearing(sign, 0.0, point)
                return f"{line} {self.amount(amount)} {where}"
            case BesideLocus(point, line, axis, amount):
                where = self.locus(line, self.part.points[point])
                if amount is None:
                    return where
                x, y = self.part.points[point]
                way = (0.0, at[1] - y) if axis else (at[0] - x, 0.0)
                return f"the {UPRIGHT[axis]} line {self.amount(amount)} {bearing(*way, where)}"
            case RoundAbout(point, amount):
                return f"the circle of {self.amount(amount, 'R')} about {point}"
            case Along(line, amount):
                return f"the parallel to {line} at {self.amount(amount)} {self._beside(line, at)}"
            case SquareOver(line, point):
                return f"the square to {line} through {point}"
            case Through(one, other):
                return f"the line through {one} and {other}"

    def found(self, found: Found) -> str:
        """Say the place that one condition gives alone."""
        match found:
            case Halfway(one, other):
                return f"lies halfway between {one} and {other}"
            case Opposite(middle, start):
                return f"lies as far beyond {middle} as {start} lies before it"
            case ImageOf(point, axis):
                return f"is the reflection of {point} about {axis}"
            case SameAs(point):
                return f"is {point}: one center"

    def point(self, name: str) -> str:
        """Say where a point is."""
        known, at, place = self.facts.of_point(name), self.part.points[name], self.place(name)
        if known.held:
            return f"Mark {name}, the datum, at {place}."
        if known.choices == 2:
            return f"Choose {name}: nothing says where it is. Here it is at {place}."
        if known.found is not None:
            return f"{name} {self.found(known.found)}, at {place}."
        loci = [self.locus(locus, at) for locus in known.loci]
        if known.choices:
            return (f"{name} lies on {loci[0]}; nothing says where along it, so choose. "
                    f"Here it is at {place}.")
        for one, other in (known.loci, known.loci[::-1]) if len(loci) == 2 else ():
            if isinstance(one, OnCurve) and isinstance(other, SquareOver) and (
                    other.line == one.curve):
                return (f"{name} on {one.curve} is the foot of the square from {other.point}, "
                        f"at {place}.")
        which = self._which(known.loci, at)
        return f"{name} is where {' meets '.join(loci)}{which}, at {place}."

    def _which(self, loci: Sequence[Locus], at: XY) -> str:
        """Say which of two crossings is meant, where a circle makes two."""
        if len(loci) != 2:
            return ""
        rounds = [c for c in map(self._center, loci) if c is not None]
        lines = [d for d in map(self._direction, loci) if d is not None]
        if len(rounds) == 2:
            (ax, ay), (bx, by) = rounds
            center, (dx, dy) = (ax, ay), (bx - ax, by - ay)
        elif len(rounds) == 1 and lines:
            # the other crossing is the reflection about the square from the center
            center, (dx, dy) = rounds[0], (-lines[0][1], lines[0][0])
        else:
            return ""
        size = hypot(dx, dy)
        if not size:
            return ""
        nx, ny = -dy / size, dx / size
        off = (at[0] - center[0]) * nx + (at[1] - center[1]) * ny
        if not off:
            return ""
        word = told_apart(at, (at[0] - 2.0 * off * nx, at[1] - 2.0 * off * ny))
        return f", the {word} crossing"

    def _center(self, locus: Locus) -> XY | None:
        if isinstance(locus, RoundAbout):
            return self.part.points[locus.point]
        if isinstance(locus, OnCurve) and not self.words.is_line(locus.curve):
            return self.part.points[self.words.center(locus.curve)]
        return None

    def _direction(self, locus: Locus) -> XY | None:
        match locus:
            case Beside() | BesideLocus():
                return (0.0, 1.0) if locus.axis == 0 else (1.0, 0.0)
            case Through(one, other):
                (ax, ay), (bx, by) = self.part.points[one], self.part.points[other]
                return bx - ax, by - ay
            case OnCurve(line) | Along(line) | SquareOver(line) if self.words.is_line(line):
                (ax, ay), (bx, by) = self.words.line(line)
                way = bx - ax, by - ay
                return (-way[1], way[0]) if isinstance(locus, SquareOver) else way
        return None

    # Lines.

    def line(self, name: str) -> str:
        """Say how a line is drawn."""
        courses = self.facts.of_line(name)
        passing = [c.point for c in courses if isinstance(c, Passing)]
        if len(passing) == 2:
            return f"Join {passing[0]} and {passing[1]} by {name}."
        lying = [c for c in courses if isinstance(c, LyingAlong)]
        if lying:
            courses = (lying[0],)
        return f"Draw {name} {', '.join(self.course(c, name) for c in courses)}."

    def course(self, course: Course, name: str) -> str:
        """Say one thing about how a line runs."""
        match course:
            case PlumbOrLevel(axis):
                return UPRIGHT[axis]
            case ParallelTo(line, amount, side):
                if amount is None:
                    return f"parallel to {line}"
                return f"parallel to {line} at {self.amount(amount)} {self._beside(line, side)}"
            case SquareTo(line):
                return f"square to {line}"
            case SquareToRay(one, other):
                return f"square to {one}-{other}"
            case AtAngle():
                return self._angle(course, name)
            case Passing(point):
                return f"through {point}"
            case LyingAlong(point, locus):
                return f"along {self.locus(locus, self.part.points[point])}"
            case Clear(point, amount, ring):
                if not ring:
                    return f"at {self.amount(amount)} from {point}"
                (ax, ay), (bx, by) = self.words.line(name)
                px, py = self.part.points[point]
                cross = (bx - ax) * (py - ay) - (by - ay) * (px - ax)
                sense = -1.0 if cross > 0 else 1.0  # from the center towards the line
                return f"touching the circle of {ring} " + bearing(
                    -sense * (by - ay), sense * (bx - ax), point)
            case AnyWay():
                return "in any direction (nothing says which)"

    def _angle(self, course: AtAngle, name: str) -> str:
        to = course.line or "level"
        base = self.words.slant(course.line) if course.line else 0.0
        slant = self.words.slant(name) % 180.0
        if min(slant, 180.0 - slant, abs(slant - 90.0)) < 1e-9:
            return f"at {course.text} to {to}"
        if abs((base + 45.0) % 90.0 - 45.0) < 1e-9:
            return (f"at {course.text} to {to}, {'rising' if slant < 90.0 else 'falling'} "
                    "to the right")
        way = "counter-clockwise" if course.degrees <= 90.0 else "clockwise"
        return f"at {course.text} to {to}, turned {way} from it through the sharp angle"

    # Rounds.

    def round(self, name: str) -> str:
        """Say how a round is struck."""
        opened = self.facts.of_round(name)
        center = self.words.center(name)
        if opened is None:
            return f"Strike {name} about {center}."
        return f"Strike {name} about {center} with {self.opening(opened)}."

    def opening(self, opened: Opened) -> str:
        """Say how far the compass is opened."""
        match opened:
            case Amount():
                return self.amount(opened, "R")
            case Reaching(point):
                return f"the opening that reaches {point}"
            case Touching(curve, None):
                return f"the opening that just touches {curve}"
            case Touching(curve, web):
                assert web is not None
                return f"the opening that leaves {self.amount(web)} to {curve}"
            case AnyRadius():
                return "any opening (nothing says which)"
