"""A straightedge and a compass: makes the hand moves of a construction, and knows nothing else.

It reads what ``sketcher order --moves --json`` prints and shares no code with the program. It can
draw the line through two points, swing a circle about a point, find where two of them cross, and
lay off an angle by the protractor, which is counted. Of two crossings it takes the one that the
word says. Where a stroke comes to lie in a picture is not read for it (and judged afterwards). The
compass is opened between two points or to a number, which is read from its text, not from the
amount beside it; where any opening would do, it takes another one than the picture shows.

40 digits are kept, so what differs from the solved part was not constructed.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from mpmath import mp, mpf

from tests.paper_numbers import UnreadNumber, number_of

XY = tuple[mpf, mpf]

LEAST = mpf("0.05")
"""Of the distance between two crossings, by which they differ along the word that tells them apart:
3 degrees off level or plumb. A hand sees a millimetre in twenty (common practice, no source)."""
SAME = mpf(10) ** -25
"""Of the part's size: below it lies nothing but the rounding of 40 digits."""
ON = mpf(10) ** -12
"""Of the size: a given point, whose place has 16 digits, lies on a line."""
CHOSEN = mpf(10) ** -6
"""Of the size: likewise in a part that can move, where a chosen length is said with few digits."""
AGREED = mpf(10) ** -9
"""Of the part's size: how near a construction comes to the solved part, whose digits are 16."""
HELPER = re.compile(r"(\d+)(?:[A-Z]+|[a-z]+)")
IMAGE = re.compile(r"([^#']+)(?:#\d+)?'*")
"""Name of an image: h1#2 the second further instance of h1, e1' the reflection of e1."""
SENSE = {"upper": (1, 1), "lower": (1, -1), "right": (0, 1), "left": (0, -1)}


class Refused(Exception):
    """A stroke that straightedge and compass do not make, or that could be meant twice."""


@dataclass(frozen=True)
class DrawnLine:
    """A line: a place on it and its direction, of length 1."""

    at: XY
    along: XY

    def offset(self, place: XY) -> mpf:
        return self.along[0] * (place[1] - self.at[1]) - self.along[1] * (place[0] - self.at[0])


@dataclass(frozen=True)
class DrawnRing:
    """A circle."""

    at: XY
    radius: mpf


@dataclass(frozen=True)
class Heavy:
    """A curve that is gone over: the thing that it lies on, its ends, and the way of an arc."""

    name: str
    on: DrawnLine | DrawnRing
    ends: tuple[XY, ...]
    way: str


def apart(a: XY, b: XY) -> mpf:
    return mp.hypot(a[0] - b[0], a[1] - b[1])


@dataclass
class DrawingPaper:
    """What is drawn, and how.

    Where a part is loose (`loose`), a place may be chosen, and helpers too be marked anywhere.

    Parameters
    ----------
    part : mapping
        The part's file, for its typed numbers and its unit.
    size : float
        Of the part.
    given : collection of str
        Points that may be marked where they are said to be.
    stretch : number
        By which openings that may be any are taken larger than the picture has them.
    """

    part: Mapping[str, Any]
    size: mpf
    given: Iterable[str] | None = None
    stretch: mpf = field(default_factory=lambda: mpf("1.0618"))
    loose: bool = False
    contrary: bool = False
    """Takes the other one of two crossings wherever a sentence does not tell which."""
    points: dict[str, XY] = field(default_factory=dict)
    outline: list[Heavy] = field(default_factory=list)
    """What is gone over."""
    things: dict[str, DrawnLine | DrawnRing] = field(default_factory=dict)
    strokes: int = 0
    measured: int = 0
    """Angles by the protractor."""
    flattest: mpf = field(default_factory=lambda: mpf(1))
    """Least sine of an angle at which two things cross that make a point."""
    step: int = 0
    said: str = ""
    """The sentence in hand."""
    levels: int = 0

    def make(self, steps: Iterable[Mapping[str, Any]]) -> None:
        """Make every stroke of all steps; the first that cannot be made is refused by its place."""
        for step in steps:
            self.step = step["number"]
            for k, move in enumerate(step["moves"], 1):
                self.said = move["text"]
                for stroke in move["strokes"]:
                    try:
                        self.stroke(stroke)
                    except Refused as error:
                        raise Refused(f"{self.step}.{k} '{move['text']}': {error}") from None

    def stroke(self, stroke: Mapping[str, Any]) -> None:
        """Make one stroke; of the places in it only that of a given point is looked at."""
        way = getattr(self, f"_{stroke['do'].replace(' ', '_')}", None)
        if way is None:
            raise Refused(f"no hand can '{stroke['do']}'")
        if stroke["do"] != "go over":
            self._new(stroke["name"])
        way(**{key: stroke[key] for key in USED[stroke["do"]]})
        self.strokes += 1

    # What the hand can do.

    def _mark(self, name: str, at: list[float]) -> None:
        if self.given is not None and name not in self.given and not (
                self.loose and HELPER.fullmatch(name)):
            raise Refused(f"{name} is marked, and it is not given")
        self.points[name] = (mpf(at[0]), mpf(at[1]))

    def _level(self, name: str, through: str) -> None:
        self.levels += 1
        if self.levels > 1:
            raise Refused(f"{name} is a second line along the edge of the board")
        self.things[name] = DrawnLine(self.point(through), (mpf(1), mpf(0)))

    def _rule(self, name: str, through: list[str]) -> None:
        one, other = (self.point(p) for p in through)
        length = apart(one, other)
        if length <= SAME * self.size:
            raise Refused(f"{name} through one place, {' and '.join(through)}")
        self.things[name] = DrawnLine(one, ((other[0] - one[0]) / length,
                                            (other[1] - one[1]) / length))

    def _protract(self, name: str, at: str, base: str, degrees: float, text: str) -> None:
        line = self.thing(base)
        if not isinstance(line, DrawnLine):
            raise Refused(f"{base} is no line")
        if abs(line.offset(self.point(at))) > self.on:
            raise Refused(f"the protractor lies on {base} at {at}, which is not on it")
        said = self._number(text) % 180
        turn = said if re.search(r"\bcounter-clockwise\b", self.said) else 180 - said
        if "clockwise" not in self.said or abs(turn - mpf(degrees) % 180) > 1e-9:
            raise Refused(f"{name} at {degrees}, and the sentence says {text}")
        self.measured += 1
        x, y = line.along
        if x < -SAME or (abs(x) <= SAME and y < 0):
            x, y = -x, -y
        c, s = mp.cos(mp.radians(turn)), mp.sin(mp.radians(turn))
        self.things[name] = DrawnLine(self.point(at), (c * x - s * y, s * x + c * y))

    def _swing(self, name: str, center: str, opening: Mapping[str, Any]) -> None:
        self.things[name] = DrawnRing(self.point(center), self._opening(opening))

    def _opening(self, opening: Mapping[str, Any]) -> mpf:
        amount, text, span, free = (opening[key] for key in ("amount", "text", "span", "free"))
        if span is not None and free:
            raise Refused("an opening between two points, and any would do")
        if free:
            if re.search(r"\d", text):
                raise Refused(f"any opening would do, and the text says {text}")
            return self.stretch * mpf(amount)
        if span is not None:
            found = apart(*(self.point(p) for p in span))
        else:
            found = self._number(text)
        if found <= SAME * self.size:
            raise Refused(f"the compass is opened to nothing, {text}")
        return found

    def _cross(self, name: str, of: list[str], which: Mapping[str, str]) -> None:
        one, other = (self.thing(thing) for thing in of)
        places, sine = crossings(one, other)
        self.points[name] = self._chosen(places, which, " and ".join(of), self._told(name, which))
        self.flattest = min(self.flattest, sine)

    def _chosen(self, places: list[XY], which: Mapping[str, str], of: str, told: bool) -> XY:
        word, by = which["word"], which["of"]
        if word == "only":
            if len(places) != 1:
                raise Refused(f"the only crossing of {of}, and there are {len(places)}")
            return places[0]
        if len(places) != 2:
            raise Refused(f"the {word} crossing of {of}, and there are {len(places)}")
        if word in SENSE and not by:
            axis, sense = SENSE[word]
            far = [sense * place[axis] for place in places]
        elif word in ("nearer", "farther"):
            away = [apart(place, self.point(by)) for place in places]
            far = away if word == "farther" else [-each for each in away]
        else:
            raise Refused(f"which of two is '{word}' {by}?")
        if abs(far[0] - far[1]) <= LEAST * apart(*places):
            raise Refused(f"no telling which crossing of {of} is {word} {by}")
        return places[0] if (far[0] > far[1]) == (told or not self.contrary) else places[1]

    def _told(self, name: str, which: Mapping[str, str]) -> bool:
        """Whether the sentence says behind a point which of two crossings it is."""
        word = which["word"] + (f" {'to' if which['word'] == 'nearer' else 'from'} {which['of']}"
                                if which["of"] else "")
        return "beyond" in self.said or f"{name} ({word})" in self.said

    def _call(self, name: str, of: str) -> None:
        self.points[name] = self.point(of)

    @property
    def on(self) -> mpf:
        """Distance from a thing within which a point lies on it."""
        return (CHOSEN if self.loose else ON) * self.size

    def _go_over(self, name: str, on: str, ends: list[str], way: str) -> None:
        thing, places = self.thing(on), [self.point(p) for p in ends]
        for point, place in zip(ends, places, strict=True):
            off = (thing.offset(place) if isinstance(thing, DrawnLine)
                   else apart(thing.at, place) - thing.radius)
            if abs(off) > self.on:
                raise Refused(f"{name} is gone over to {point}, which is not on {on}")
        wanted = (2, ("",)) if isinstance(thing, DrawnLine) else (
            (2, ("ccw", "cw")) if ends else (0, ("",)))
        if len(ends) != wanted[0] or way not in wanted[1]:
            raise Refused(f"{name} is gone over from where to where?")
        self.outline.append(Heavy(name, thing, tuple(places), way))

    # Names.

    def _new(self, name: str) -> None:
        if name in self.points or name in self.things:
            raise Refused(f"{name} is there already")
        helper = HELPER.fullmatch(name)
        if helper and int(helper[1]) != self.step:
            raise Refused(f"{name} is a name of another step")
        image = IMAGE.fullmatch(name)
        source = image[1] if image else name
        if not helper and source not in self.part["points"] and source not in self.part["curves"]:
            raise Refused(f"{name} is no name of the part, nor one of a helper")

    def point(self, name: str) -> XY:
        if name not in self.points:
            raise Refused(f"{name} is not there yet" if name not in self.things
                          else f"{name} is no point")
        return self.points[name]

    def thing(self, name: str) -> DrawnLine | DrawnRing:
        if name not in self.things:
            raise Refused(f"{name} is not there yet" if name not in self.points
                          else f"{name} is a point")
        return self.things[name]

    def _number(self, text: str) -> mpf:
        """What a text comes to; ``70 = 52 + 18`` says one thing twice."""
        try:
            *said, found = (number_of(each, self.part) for each in text.split(" = "))
        except UnreadNumber as error:
            raise Refused(str(error)) from None
        if any(abs(one - found) > SAME * self.size for one in said):
            raise Refused(f"'{text}' is not so")
        return found


USED = {"mark": ("name", "at"), "level": ("name", "through"), "rule": ("name", "through"),
        "protract": ("name", "at", "base", "degrees", "text"),
        "swing": ("name", "center", "opening"), "cross": ("name", "of", "which"),
        "call": ("name", "of"), "go over": ("name", "on", "ends", "way")}
"""What of a stroke is looked at; the rest is for pictures."""


def crossings(one: DrawnLine | DrawnRing, other: DrawnLine | DrawnRing) -> tuple[list[XY], mpf]:
    """Places where two things cross, and the sine of the angle at which they do."""
    if isinstance(one, DrawnLine) and isinstance(other, DrawnLine):
        (ux, uy), (vx, vy) = one.along, other.along
        sine = ux * vy - uy * vx
        if abs(sine) <= SAME:
            return [], mpf(0)
        by = ((other.at[0] - one.at[0]) * vy - (other.at[1] - one.at[1]) * vx) / sine
        return [(one.at[0] + by * ux, one.at[1] + by * uy)], abs(sine)
    if isinstance(one, DrawnRing) and isinstance(other, DrawnRing):
        return _ring_crossings(one, other)
    line, ring = (one, other) if isinstance(one, DrawnLine) else (other, one)
    assert isinstance(line, DrawnLine)
    assert isinstance(ring, DrawnRing)
    away = line.offset(ring.at)
    foot = (ring.at[0] + away * line.along[1], ring.at[1] - away * line.along[0])
    return _both_sides(foot, line.along, ring.radius ** 2 - away ** 2, ring.radius, ring.radius)


def _ring_crossings(one: DrawnRing, other: DrawnRing) -> tuple[list[XY], mpf]:
    between = apart(one.at, other.at)
    if between <= SAME * one.radius:
        return [], mpf(0)
    ux, uy = ((b - a) / between for a, b in zip(one.at, other.at, strict=True))
    along = (between ** 2 + one.radius ** 2 - other.radius ** 2) / (2 * between)
    foot = (one.at[0] + along * ux, one.at[1] + along * uy)
    return _both_sides(foot, (-uy, ux), one.radius ** 2 - along ** 2,
                       one.radius * other.radius / between, one.radius)


def _both_sides(foot: XY, along: XY, square: mpf, whole: mpf, radius: mpf) -> tuple[list[XY], mpf]:
    """Places to both sides of a foot; nothing where two things touch, as a hand sees no place."""
    if square <= (mpf(10) ** -12 * radius) ** 2:
        return [], mpf(0)
    half = mp.sqrt(square)
    return [(foot[0] + sense * half * along[0], foot[1] + sense * half * along[1])
            for sense in (1, -1)], half / whole
