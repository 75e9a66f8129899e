"""The paper while a construction is made on it: what is drawn so far, and the strokes to come.

Nothing is put on the slate but by strokes, so whatever has a name on it can be used by the next
one. What is there already is not drawn twice: a line or circle that lies where one of its kind lies
is found again under the name it has.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from itertools import combinations
from math import atan2, dist, hypot
from string import ascii_uppercase
from typing import Any

from sketcher.geometry.curves import XY
from sketcher.lesson.board_lines import (
    BoardLine,
    Ring,
    crossings,
    ends_in_picture,
    straight,
)
from sketcher.lesson.slate_grid import SlateGrid, place_of_line
from sketcher.lesson.strokes import (
    Angled,
    Compass,
    Crossed,
    GivenLine,
    GivenPoint,
    GoneOver,
    Move,
    Named,
    Ruled,
    Stroke,
    Swung,
    Which,
    Word,
)
from sketcher.lesson.which_words import with_which

ALIKE = 1e-9  # of the size: what lies there is there already
CLEAR = 0.2  # of what parts two crossings: so much of it must lie along a word to be told by it
REACH = 0.1617  # of the size: any opening; an odd share, so that the paper's numbers differ from it
CELL = 1e-3  # of the size: cells by which what is there is looked up
MARK = 0.12  # radians to either side of a crossing: how much of an arc is struck


class NotDrawn(Exception):
    """A construction does not get there: two things do not cross, or two places are one."""


@dataclass
class Slate:
    """What is drawn.

    Parameters
    ----------
    size : float
        Of the part, in its unit; positive.
    """

    size: float
    points: dict[str, XY] = field(default_factory=dict)
    lines: dict[str, BoardLine] = field(default_factory=dict)
    rings: dict[str, Ring] = field(default_factory=dict)
    on: dict[str, list[str]] = field(default_factory=dict)
    """Names of the points that were found on, or used for, each line."""
    moves: list[Move] = field(default_factory=list)
    step: int = 1
    wanted: dict[str, XY] = field(default_factory=dict)
    """Points of the part that this step finds too: a crossing at such a place has its name."""
    _strokes: list[Stroke] = field(default_factory=list)
    _letters: int = 0
    _arcs: int = 0
    _points_at: SlateGrid = field(init=False)
    _lines_at: SlateGrid = field(init=False)
    _rings_at: SlateGrid = field(init=False)
    _through: dict[str, dict[str, None]] = field(default_factory=dict)
    """The lines of `on` by point."""

    def __post_init__(self) -> None:
        self._points_at, self._lines_at, self._rings_at = (
            SlateGrid(CELL * self.size) for _ in range(3))

    # Names and sentences.

    def begin(self, step: int) -> None:
        """Start the moves of a step; helpers are named anew."""
        self.step, self._letters, self._arcs = step, 0, 0
        self.moves, self._strokes = [], []

    def letter(self) -> str:
        """Name for the next helper point or line."""
        self._letters += 1
        return f"{self.step}{_lettered(self._letters - 1)}"

    def _arc(self) -> str:
        """Name for the next helper circle, which no sentence speaks of by name."""
        self._arcs += 1
        return f"{self.step}{_lettered(self._arcs - 1).lower()}"

    def say(self, text: str) -> None:
        """Close a move with its sentence; nothing is said where nothing was drawn."""
        if self._strokes:
            self.moves.append(Move(with_which(text, self._strokes), tuple(self._strokes)))
            self._strokes = []

    @property
    def idle(self) -> bool:
        """Whether nothing was drawn since the last sentence."""
        return not self._strokes

    @property
    def near(self) -> float:
        """Distance within which two places are one."""
        return ALIKE * self.size

    @contextmanager
    def trying(self) -> Iterator[None]:
        """Take back whatever was drawn when a construction does not get there.

        Raises
        ------
        NotDrawn
            What was raised within, also where a thing was used that is not drawn.
        """
        held: tuple[dict[str, Any] | list[Any], ...] = (
            self.points, self.lines, self.rings, self.on, self.moves, self._strokes)
        counts, letters = [len(each) for each in held], self._letters
        strokes, moves = list(self._strokes), list(self.moves)
        try:
            yield
        except (NotDrawn, KeyError, ZeroDivisionError, ValueError) as error:
            for each, count in zip(held[:4], counts[:4], strict=True):
                assert isinstance(each, dict)
                while len(each) > count:
                    each.popitem()
            for known in self.on.values():
                while known and known[-1] not in self.points:
                    known.pop()
            self._through = {
                point: {line: None for line in lines if line in self.lines}
                for point, lines in self._through.items() if point in self.points}
            self.moves[:], self._strokes[:], self._letters = moves, strokes, letters
            raise NotDrawn(str(error)) from error

    # Strokes.

    def go_over(
        self, name: str, on: str, ends: tuple[str, ...], way: str, shape: tuple[XY, ...]
    ) -> None:
        """Draw a curve out heavily."""
        self._strokes.append(GoneOver(name, on, ends, way, shape))

    def mark(self, name: str, at: XY) -> str:
        """Mark a given point."""
        self._strokes.append(GivenPoint(name, at))
        self._place(name, at)
        return name

    def call(self, name: str, of: str) -> str:
        """Give a point another name as well."""
        self._strokes.append(Named(name, of))
        self._place(name, self.points[of])
        for line in tuple(self._through.get(of, ())):
            self._note(line, name)
        return name

    def base(self, name: str, through: str) -> str:
        """Draw the first level line."""
        line = BoardLine(self.points[through], (1.0, 0.0))
        self._keep(name, line, (through,))
        ends = ends_in_picture(self.size, line, self.points[through])
        self._strokes.append(GivenLine(name, through, ends))
        return name

    def rule(self, one: str, other: str, name: str = "") -> str:
        """Draw a line through two points; without a name one that is there is taken."""
        p, q = self.points[one], self.points[other]
        if dist(p, q) <= self.near:
            raise NotDrawn(f"{one} and {other} are one place")
        line = straight(p, q)
        known = "" if name else self.line_at(line)
        if known:
            self._note(known, one, other)
            return known
        name = name or self.letter()
        self._keep(name, line, (one, other))
        self._strokes.append(Ruled(name, (one, other), ends_in_picture(self.size, line, p, q)))
        return name

    def protract(
        self, at: str, base: str, degrees: float, text: str, along: XY, name: str = ""
    ) -> str:
        """Lay a line off at a measured angle; `along` is where that leads."""
        line = BoardLine(self.points[at], along)
        name = name or self.letter()
        self._keep(name, line, (at,))
        ends = ends_in_picture(self.size, line, self.points[at])
        self._strokes.append(Angled(name, at, base, degrees, text, ends))
        return name

    def swing(self, center: str, opening: Compass, *towards: XY, name: str = "") -> str:
        """Swing a circle; without a name one that is there is taken.

        Parameters
        ----------
        center : str
        opening : Compass
        *towards : (float, float)
            Where its arcs are wanted; the whole circle without any.
        name : str
        """
        at = self.points[center]
        if opening.amount <= self.near:
            raise NotDrawn(f"no opening about {center}")
        known = "" if name else self.ring_at(Ring(center, at, opening.amount, opening.free))
        if known:
            return known
        name = name or self._arc()
        self.rings[name] = ring = Ring(center, at, opening.amount, opening.free)
        self._rings_at.put(name, ring.rightmost)
        spans = tuple((atan2(y - at[1], x - at[0]) - MARK, 2.0 * MARK) for x, y in towards)
        self._strokes.append(Swung(name, center, opening, at, spans))
        return name

    def cross(self, one: str, other: str, near: XY, name: str = "", by: str = "") -> str:
        """Find where two things cross, nearest to a place; `by` a point to tell it from.

        Without a name a point that is there is taken.
        """
        places = self.crossings(one, other)
        if not places:
            raise NotDrawn(f"{one} and {other} do not cross")
        places.sort(key=lambda p: dist(p, near))
        at = places[0]
        if name in self.points:  # found on the way, under its name among those that are wanted
            if dist(self.points[name], at) > self.near:
                raise NotDrawn(f"{name} is elsewhere")
            return name
        known = "" if name else self.point_at(at)
        if known:
            self._note(one, known)
            self._note(other, known)
            return known
        name = name or next((known for known, place in self.wanted.items()
                             if known not in self.points and dist(place, at) <= self.near), "")
        name = name or self.letter()
        which = Which() if len(places) == 1 else self.told_apart(at, places[1], by)
        self._place(name, at)
        self._note(one, name)
        self._note(other, name)
        self._strokes.append(Crossed(name, (one, other), which, at))
        return name

    # What is there.

    def span(self, one: str, other: str) -> Compass:
        """Compass between two points."""
        return Compass(dist(self.points[one], self.points[other]), f"{one}-{other}", (one, other))

    def any_opening(self, least: float = 0.0) -> Compass:
        """Some convenient opening, no smaller than `least`."""
        return Compass(max(REACH * self.size, least), "any opening", free=True)

    def line_at(self, line: BoardLine) -> str:
        """Name of a line that lies where this one does, else empty."""
        far = line.beyond(line.at, self.size)
        for at in place_of_line(line.along, line.offset(self._anchor), self.size):
            for name in self._lines_at.around(at):
                known = self.lines.get(name)  # None where it was taken back
                if (known is not None and abs(known.offset(line.at)) <= self.near
                        and abs(known.offset(far)) <= self.near):
                    return name
        return ""

    def point_at(self, place: XY) -> str:
        """Name of a point at a place, else empty."""
        return next((name for name in self._points_at.around(place)
                     if name in self.points and dist(self.points[name], place) <= self.near), "")

    def ring_at(self, ring: Ring) -> str:
        """Name of a circle that lies where this one does and is as free, else empty."""
        for name in self._rings_at.around(ring.rightmost):
            known = self.rings.get(name)
            if (known is not None and known.free == ring.free
                    and abs(known.radius - ring.radius) <= self.near
                    and dist(known.at, ring.at) <= self.near):
                return name
        return ""

    def lies_on(self, line: str, point: str) -> bool:
        """Whether a point lies on a line."""
        return abs(self.lines[line].offset(self.points[point])) <= self.near

    def crossings(self, one: str, other: str) -> list[XY]:
        """Places where two named things cross, none where they only touch or miss."""
        return crossings(*(self.lines.get(name) or self.rings[name] for name in (one, other)))

    def told_apart(self, meant: XY, other: XY, by: str = "") -> Which:
        """Words for one of two places."""
        if by:
            near, far = dist(meant, self.points[by]), dist(other, self.points[by])
            if abs(near - far) > CLEAR * dist(meant, other):
                return Which("nearer" if near < far else "farther", by)
        return Which(told_apart(meant, other))

    def two_on(self, line: str) -> tuple[str, str]:
        """Two points of a line that lie far from each other; one more is found where need be."""
        known = list(dict.fromkeys(self.on[line]))
        pairs = [(dist(self.points[a], self.points[b]), a, b)
                 for a, b in combinations(known[:12], 2)]
        if pairs:
            apart, one, other = max(pairs)
            if apart > 0.02 * self.size:
                return one, other
        at = self.points[known[0]]
        opening = self.any_opening()
        there = self.lines[line].beyond(at, opening.amount)
        other = self.cross(line, self.swing(known[0], opening, there), there)
        self.say(f"About {known[0]}, with any opening, cut {line} at {other}.")
        return known[0], other

    # Keeping.

    @property
    def _anchor(self) -> XY:
        """Place from which lines are measured: the first point."""
        return next(iter(self.points.values()))

    def _place(self, name: str, at: XY) -> None:
        self.points[name] = at
        self._points_at.put(name, at)

    def _keep(self, name: str, line: BoardLine, points: tuple[str, ...]) -> None:
        self.lines[name] = line
        self._lines_at.put(name, place_of_line(line.along, line.offset(self._anchor),
                                               self.size)[0])
        self.on[name] = []
        self._note(name, *points)

    def _note(self, line: str, *points: str) -> None:
        if line not in self.on:
            return
        for point in points:
            through = self._through.setdefault(point, {})
            if line not in through:
                through[line] = None
                self.on[line].append(point)


def _lettered(number: int) -> str:
    """Letters for a number from 0: A to Z, then AA, AB and so on."""
    text = ""
    while number >= 0:
        text = ascii_uppercase[number % 26] + text
        number = number // 26 - 1
    return text


def told_apart(meant: XY, other: XY) -> Word:
    """Return the word for one of two places: upper, lower, left or right."""
    dx, dy = meant[0] - other[0], meant[1] - other[1]
    apart = hypot(dx, dy)
    if abs(dy) >= abs(dx) and abs(dy) > CLEAR * apart:
        return "upper" if dy > 0.0 else "lower"
    return "right" if dx > 0.0 else "left"
