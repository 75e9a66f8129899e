"""What a spoiled drawing is made of, and its fine chords."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from math import acos, atan2, ceil, cos, hypot, pi, sin, tau
from typing import TypeAlias

import shapely

At: TypeAlias = tuple[float, float]


@dataclass(frozen=True)
class Straight:
    """From `a` to `b`."""

    a: At
    b: At


@dataclass(frozen=True)
class Bow:
    """Part of a circle: from the angle `start` on by `sweep` radians, never a full turn."""

    center: At
    radius: float
    start: float
    sweep: float

    def at(self, share: float) -> At:
        """Place at a share of the way."""
        angle = self.start + share * self.sweep
        return (self.center[0] + self.radius * cos(angle),
                self.center[1] + self.radius * sin(angle))

    @property
    def a(self) -> At:
        """Where it begins."""
        return self.at(0.0)

    @property
    def b(self) -> At:
        """Where it ends."""
        return self.at(1.0)


@dataclass(frozen=True)
class Ring:
    """A full circle."""

    center: At
    radius: float


Stroke: TypeAlias = Straight | Bow | Ring
Loop: TypeAlias = tuple[Stroke, ...]
"""A closed contour in order of travel."""


@dataclass(frozen=True)
class Spoiled:
    """A drawing on its way to a file, in the part's unit and place until it is written.

    Parameters
    ----------
    loops : tuple of Loop
        What stays a contour; ways that tear it apart move it to `loose`.
    loose : tuple of Stroke
        In the order in which they are written.
    unit : str
        Of the part.
    header : str or None
        Unit that the file says; ``""`` says that of the part, None says none.
    decimals : int or None
        To which numbers are written; None: as they are.
    noise : float
        Greatest error on every written number, in the part's unit.
    loosened : float
        How far ends were moved, in the part's unit.
    chorded : float
        Greatest distance of a chord from its arc.
    turn, shift : float, At
        The drawing as a whole: degrees, then a move.
    scale : float
        Blocks are drawn so much smaller and inserted so much larger; 1: no blocks.
    joined : bool
        Contours as polylines with bulges.
    rubbish : tuple of Stroke
        On hidden layers.
    """

    loops: tuple[Loop, ...]
    loose: tuple[Stroke, ...] = ()
    unit: str = "mm"
    header: str | None = ""
    decimals: int | None = None
    noise: float = 0.0
    loosened: float = 0.0
    chorded: float = 0.0
    turn: float = 0.0
    shift: At = (0.0, 0.0)
    scale: float = 1.0
    joined: bool = False
    rubbish: tuple[Stroke, ...] = field(default=())

    @property
    def millimetre(self) -> float:
        """A millimetre in the part's unit."""
        return 1.0 if self.unit == "mm" else 1.0 / 25.4

    @property
    def error(self) -> float:
        """How far a place of the outline may lie from where it was meant."""
        last = 0.5 * 10.0 ** -self.decimals if self.decimals is not None else 0.0
        return 2.5 * (self.noise + last) + self.loosened  # an arc: center, 1.42, and radius, 1

    def torn(self) -> Spoiled:
        """Return it with every contour in single strokes."""
        return replace(self, loops=(), loose=(*self.loose, *(s for lp in self.loops for s in lp)))


def turned(at: At, degrees: float, shift: At = (0.0, 0.0)) -> At:
    """Return a place turned about (0, 0), then moved."""
    c, s = cos(degrees * pi / 180.0), sin(degrees * pi / 180.0)
    return c * at[0] - s * at[1] + shift[0], s * at[0] + c * at[1] + shift[1]


def carried(stroke: Stroke, degrees: float, shift: At, scale: float = 1.0) -> Stroke:
    """Return a stroke scaled, turned about (0, 0), then moved."""
    def put(at: At) -> At:
        return turned((scale * at[0], scale * at[1]), degrees, shift)

    if isinstance(stroke, Straight):
        return Straight(put(stroke.a), put(stroke.b))
    if isinstance(stroke, Ring):
        return Ring(put(stroke.center), scale * stroke.radius)
    return Bow(put(stroke.center), scale * stroke.radius, stroke.start + degrees * pi / 180.0,
               stroke.sweep)


def reversed_stroke(stroke: Stroke) -> Stroke:
    """Return a stroke the other way round."""
    if isinstance(stroke, Straight):
        return Straight(stroke.b, stroke.a)
    if isinstance(stroke, Ring):
        return stroke
    return Bow(stroke.center, stroke.radius, stroke.start + stroke.sweep, -stroke.sweep)


def chord_count(radius: float, sweep: float, sagitta: float) -> int:
    """Fewest equal chords that lie within `sagitta` of an arc: r (1 - cos(step/2))."""
    step = 2.0 * acos(max(1.0 - sagitta / radius, -1.0))
    return max(ceil(abs(sweep) / step - 1e-9), 1)


def places(stroke: Stroke, sagitta: float) -> list[At]:
    """Places along a stroke, whose chords lie within `sagitta` of it."""
    if isinstance(stroke, Straight):
        return [stroke.a, stroke.b]
    bow = Bow(stroke.center, stroke.radius, 0.0, tau) if isinstance(stroke, Ring) else stroke
    count = max(chord_count(bow.radius, bow.sweep, sagitta), 8)
    return [bow.at(k / count) for k in range(count + 1)]


def lines_of(strokes: Iterable[Stroke], sagitta: float) -> shapely.MultiLineString:
    """All strokes as chains of fine chords."""
    return shapely.MultiLineString([places(stroke, sagitta) for stroke in strokes])


def enclosed(loop: Sequence[Stroke]) -> float:
    """Signed area of a contour, exactly: half the integral of x dy - y dx."""
    total = 0.0
    for stroke in loop:
        if isinstance(stroke, Ring):
            total += 2.0 * pi * stroke.radius**2
            continue
        (ax, ay), (bx, by) = stroke.a, stroke.b
        total += ax * by - bx * ay
        if isinstance(stroke, Bow):  # the segment between the arc and its chord
            total += stroke.radius**2 * (stroke.sweep - sin(stroke.sweep))
    return 0.5 * total


def length_of(strokes: Iterable[Stroke]) -> float:
    """Length of all strokes."""
    return sum(hypot(s.b[0] - s.a[0], s.b[1] - s.a[1]) if isinstance(s, Straight) else
               s.radius * (tau if isinstance(s, Ring) else abs(s.sweep)) for s in strokes)


def through(center: At, a: At, b: At, ccw: bool) -> Bow:
    """The arc round a center from `a` to `b`."""
    start = atan2(a[1] - center[1], a[0] - center[0])
    sweep = (atan2(b[1] - center[1], b[0] - center[0]) - start) % tau
    radius = 0.5 * (hypot(a[0] - center[0], a[1] - center[1])
                    + hypot(b[0] - center[0], b[1] - center[1]))
    return Bow(center, radius, start, sweep if ccw else sweep - tau)
