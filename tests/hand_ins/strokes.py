"""What is drawn, as complex numbers: straight strokes, bows and rings, and plates made of them."""

from __future__ import annotations

from cmath import phase
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from math import tau
from typing import TypeAlias, TypeVar

import numpy as np


@dataclass(frozen=True)
class Straight:
    """A line from `start` to `end`."""

    name: str
    start: complex
    end: complex

    @property
    def numbers(self) -> tuple[complex, ...]:
        return self.start, self.end

    def at(self, share: float) -> complex:
        """The place at a share of the way."""
        return self.start + share * (self.end - self.start)


@dataclass(frozen=True)
class Bow:
    """An arc about `center`, counter-clockwise where `ccw`."""

    name: str
    center: complex
    start: complex
    end: complex
    ccw: bool = True

    @property
    def radius(self) -> float:
        return abs(self.start - self.center)

    @property
    def sweep(self) -> float:
        """Positive counter-clockwise."""
        turn = phase((self.end - self.center) / (self.start - self.center)) % tau
        return turn if self.ccw else turn - tau

    @property
    def numbers(self) -> tuple[complex, ...]:
        return self.center, self.start, self.end

    def at(self, share: float) -> complex:
        """The place at a share of the way."""
        return self.center + (self.start - self.center) * np.exp(1j * share * self.sweep)


@dataclass(frozen=True)
class Ring:
    """A full circle."""

    name: str
    center: complex
    radius: float

    @property
    def numbers(self) -> tuple[complex, ...]:
        """Its center alone: no place on it stands out."""
        return (self.center,)


Stroke: TypeAlias = Straight | Bow | Ring
Loop: TypeAlias = tuple[Stroke, ...]
OfKind = TypeVar("OfKind", Straight, Bow, Ring)


@dataclass(frozen=True)
class Plate:
    """An outline: closed loops, the outer one first, each from end to end."""

    loops: tuple[Loop, ...]

    @property
    def strokes(self) -> tuple[Stroke, ...]:
        return tuple(stroke for loop in self.loops for stroke in loop)

    @property
    def size(self) -> float:
        places = [z for stroke in self.loops[0] for z in stroke.numbers]
        return max(np.ptp(np.real(places)), np.ptp(np.imag(places)))


def named(strokes: Iterable[Stroke], name: str, kind: type[OfKind]) -> OfKind:
    """The first stroke of a name, which is known to be of a kind."""
    found = next(stroke for stroke in strokes if stroke.name == name)
    assert isinstance(found, kind)
    return found


def moved(stroke: Stroke, by: Callable[[complex], complex], mirrors: bool = False) -> Stroke:
    """A stroke carried along by a similarity; `mirrors` says that it turns things over."""
    if isinstance(stroke, Straight):
        return replace(stroke, start=by(stroke.start), end=by(stroke.end))
    if isinstance(stroke, Bow):
        return replace(stroke, center=by(stroke.center), start=by(stroke.start),
                       end=by(stroke.end), ccw=stroke.ccw != mirrors)
    center = by(stroke.center)
    return replace(stroke, center=center, radius=abs(by(stroke.center + stroke.radius) - center))


def backward(stroke: Stroke) -> Stroke:
    """The same stroke from its other end."""
    if isinstance(stroke, Ring):
        return stroke
    turned = replace(stroke, start=stroke.end, end=stroke.start)
    return replace(turned, ccw=not turned.ccw) if isinstance(turned, Bow) else turned


def reflected(chain: Iterable[Stroke], by: Callable[[complex], complex]) -> Loop:
    """A chain of strokes seen in a mirror, in the order that goes on from it."""
    return tuple(replace(backward(moved(stroke, by, mirrors=True)), name=f"{stroke.name}'")
                 for stroke in reversed(tuple(chain)))


def across_x(z: complex) -> complex:
    """The place beyond the x axis."""
    return z.conjugate()


def across_y(z: complex) -> complex:
    """The place beyond the y axis."""
    return -z.conjugate()


def sound(plate: Plate, like: Plate) -> bool:
    """Whether a plate can be cut and is of the same make as another: nothing crosses or flips."""
    least = 0.004 * like.size
    for now, was in zip(plate.strokes, like.strokes, strict=True):
        if isinstance(now, Straight):
            way, before = now.end - now.start, was.end - was.start
            if abs(way) < least or abs(phase(way / before)) > 1.0:
                return False
        elif now.radius < 0.3 * least or (isinstance(now, Bow) and (
                abs(now.sweep) < 0.06 or abs(now.sweep - was.sweep) > 1.2)):
            return False
    return _apart(plate, least)


def _apart(plate: Plate, least: float) -> bool:
    from shapely import Polygon

    areas = [Polygon([(z.real, z.imag) for stroke in loop for z in _chords(stroke)])
             for loop in plate.loops]
    if not all(area.is_valid for area in areas):
        return False
    outer, *holes = areas
    return all(outer.contains(hole) and outer.exterior.distance(hole) > least
               for hole in holes) and all(
        one.distance(other) > least for n, one in enumerate(holes) for other in holes[:n])


def _chords(stroke: Stroke) -> list[complex]:
    if isinstance(stroke, Straight):
        return [stroke.start]
    if isinstance(stroke, Bow):
        return [stroke.at(share) for share in np.linspace(0.0, 1.0, 16, endpoint=False)]
    return [stroke.center + stroke.radius * np.exp(1j * tau * share)
            for share in np.linspace(0.0, 1.0, 32, endpoint=False)]
