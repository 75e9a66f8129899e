"""Draws a length: extension lines, dimension line, arrowheads and lettering at a given place."""

from __future__ import annotations

from dataclasses import dataclass
from math import atan2, degrees

from sketcher.drafting.drawn_dimension import Drawn, Form
from sketcher.drafting.layout.runouts import Runouts
from sketcher.drafting.measured import MeasuredLength
from sketcher.drafting.primitives import Item, Stroke, arrowhead, line
from sketcher.drafting.sizes import Sizes
from sketcher.geometry.curves import XY

BETWEEN = 2.5
"""Arrowheads that a length must be long for both to stand between its ends."""


@dataclass(frozen=True, slots=True)
class Frame:
    """Coordinates (s, v): along the measure and square to it."""

    u: XY

    @property
    def n(self) -> XY:
        """Unit vector square to the measure, to its left."""
        return (-self.u[1], self.u[0])

    def of(self, at: XY) -> XY:
        """Return (s, v) of a point."""
        return (at[0] * self.u[0] + at[1] * self.u[1], at[1] * self.u[0] - at[0] * self.u[1])

    def at(self, s: float, v: float) -> XY:
        """Return the point at (s, v)."""
        return (s * self.u[0] - v * self.u[1], s * self.u[1] + v * self.u[0])


@dataclass(frozen=True, slots=True)
class LineStand:
    """Where a length is drawn: the dimension line at `v`, the lettering's middle at `s`.

    `s` None takes the middle where the lettering fits there.
    """

    v: float
    s: float | None = None


@dataclass(frozen=True, slots=True)
class Between:
    """What fits between the arrowheads of a length."""

    low: float
    high: float
    half: float  # half of what the lettering takes along the line
    arrows_inside: bool
    text_inside: bool


def room(measured: MeasuredLength, sizes: Sizes, frame: Frame) -> Between:
    """Return what fits between the ends of a length."""
    ends = sorted((frame.of(measured.first[0])[0], frame.of(measured.second[0])[0]))
    apart = ends[1] - ends[0]
    width = sizes.lettering(measured.wording)[0]
    arrow = sizes.arrow[0]
    if sizes.practice == "ISO":
        half = 0.5 * width + 0.5
        return Between(ends[0], ends[1], half, apart >= BETWEEN * arrow, apart >= 2.0 * half)
    tall = sizes.lettering(measured.wording)[1]
    cos_, sin_ = abs(frame.u[0]), abs(frame.u[1])
    half = min((0.5 * width + 1.0) / cos_ if cos_ > 1e-6 else 1e9,
               (0.5 * tall + 1.0) / sin_ if sin_ > 1e-6 else 1e9)
    fits = apart >= 2.0 * half + 2.0 * arrow + 3.0
    return Between(ends[0], ends[1], half, fits, apart >= 2.0 * half + 1.0)


def draw_length(
    measured: MeasuredLength, stand: LineStand, sizes: Sizes, runouts: Runouts
) -> Drawn:
    """Draw a length."""
    frame, source = Frame(measured.direction), f"dimension:{measured.id}"
    space = room(measured, sizes, frame)
    s = stand.s
    if s is None:
        s = 0.5 * (space.low + space.high) if space.text_inside else (
            space.high + sizes.tail + space.half)
    inside = space.low + space.half - 1e-6 <= s <= space.high - space.half + 1e-6
    items: list[Item] = []
    for side in (measured.first, measured.second):
        items += _extension(side, stand.v, sizes, frame, runouts, source)
    items += _dimension_line(space, stand.v, s, inside, sizes, frame, source)
    middle, turn = _lettering(measured, stand.v, s, sizes, frame)
    texts = measured.wording.texts(middle, turn, sizes.height, source)
    u = measured.direction
    form: Form = "linear" if min(abs(u[0]), abs(u[1])) < 1e-9 else "aligned"
    ends = tuple(min(side, key=lambda p: abs(frame.of(p)[1] - stand.v))
                 for side in (measured.first, measured.second))
    return Drawn(measured.id, form, (*ends, frame.at(space.low, stand.v)),
                 degrees(atan2(u[1], u[0])), measured.wording.plain, middle, (*items, *texts),
                 measured.stands_for)


def _lettering(
    measured: MeasuredLength, v: float, s: float, sizes: Sizes, frame: Frame
) -> tuple[XY, XY]:
    if sizes.practice == "ASME":
        return frame.at(s, v), (1.0, 0.0)
    up = sizes.clear + 0.5 * sizes.lettering(measured.wording)[1]
    return frame.at(s, v + up), frame.u


def _extension(
    side: tuple[XY, ...], v: float, sizes: Sizes, frame: Frame, runouts: Runouts, source: str
) -> list[Item]:
    start = min(side, key=lambda p: abs(frame.of(p)[1] - v))
    s, at = frame.of(start)
    sign = 1.0 if v > at else -1.0
    way = (sign * frame.n[0], sign * frame.n[1])
    away = runouts.begins(start, way, abs(v - at), sizes.gap)
    begin = at + sign * away
    items: list[Item] = [Stroke(curve, "extension", source)
                         for curve in (runouts.corners.strokes(start) if away == 0.0 else ())]
    if sign * (v - begin) >= 0.3:
        items.append(line(frame.at(s, begin), frame.at(s, v + sign * sizes.past), "extension",
                          source))
    return items


def _dimension_line(
    space: Between, v: float, s: float, inside: bool, sizes: Sizes, frame: Frame, source: str
) -> list[Item]:
    length, width = sizes.arrow
    items: list[Item] = []
    arrows_inside = space.arrows_inside
    if sizes.practice == "ASME" and space.high - space.low >= BETWEEN * length and not inside:
        arrows_inside = True  # with the lettering outside there is room between
    low, high = frame.at(space.low, v), frame.at(space.high, v)
    towards = -1.0 if arrows_inside else 1.0
    u = frame.u
    items.append(arrowhead(low, (towards * u[0], towards * u[1]), source, length, width))
    items.append(arrowhead(high, (-towards * u[0], -towards * u[1]), source, length, width))
    spans = [(space.low, space.high)]
    tail = 0.0 if arrows_inside else sizes.tail
    left, right = space.low - tail, space.high + tail
    if not inside and s > space.high:
        right = s + space.half if sizes.practice == "ISO" else max(right, s - space.half)
    elif not inside and s < space.low:
        left = s - space.half if sizes.practice == "ISO" else min(left, s + space.half)
    spans = [(left, right)]
    if sizes.practice == "ASME" and inside:
        spans = [(left, s - space.half), (s + space.half, right)]
        if not arrows_inside:
            spans = [(left, space.low), (space.high, right)]
    items += [line(frame.at(a, v), frame.at(b, v), "dimension", source)
              for a, b in spans if b - a > 0.05]
    return items
