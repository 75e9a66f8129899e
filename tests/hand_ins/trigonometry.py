"""Constructions of plane trigonometry that several papers need, places as complex numbers.

School geometry, from memory: a tangent meets its radius square, so half angles and right triangles
are all there is.
"""

from __future__ import annotations

from cmath import phase, rect
from math import asin, degrees, radians, sqrt, tan

from tests.hand_ins.strokes import Bow


def heading(angle: float) -> complex:
    """The unit vector at an angle in degrees from the x axis."""
    return rect(1.0, radians(angle))


def tangent_heading(place: complex, center: complex, radius: float) -> float:
    """Heading in degrees of the tangent from a place to a circle that it leaves on its left."""
    way = center - place
    return degrees(phase(way) - asin(radius / abs(way)))


def tangent_length(place: complex, center: complex, radius: float) -> float:
    """How far from a place its tangents touch a circle."""
    return sqrt(abs(center - place) ** 2 - radius ** 2)


def common_heading(one: complex, r1: float, other: complex, r2: float) -> float:
    """Heading of the line that touches two circles on its left, from the first to the second."""
    way = other - one
    return degrees(phase(way) - asin((r2 - r1) / abs(way)))


def touching(center: complex, radius: float, angle: float) -> complex:
    """Where a line of some heading touches a circle on its left."""
    return center - 1j * heading(angle) * radius


def meeting(a: complex, u: complex, b: complex, v: complex) -> complex:
    """Where a line from `a` along `u` meets one through `b` along `v`."""
    along = ((b - a) * v.conjugate()).imag / (u * v.conjugate()).imag
    return a + along * u


def crossing(a: complex, u: float, b: complex, v: float) -> complex:
    """Where a line from `a` at heading `u` crosses one through `b` at heading `v`."""
    return meeting(a, heading(u), b, heading(v))


def corner(name: str, at: complex, before: float, after: float, radius: float) -> Bow:
    """The round of a corner between two headings, from the first line to the second."""
    turn = (after - before + 180.0) % 360.0 - 180.0
    cut = radius * tan(radians(abs(turn)) / 2.0)
    start = at - cut * heading(before)
    side = 1j if turn > 0.0 else -1j
    return Bow(name, start + side * radius * heading(before), start, at + cut * heading(after),
               turn > 0.0)
