"""Sine, cosine and tangent of angles in degrees, exact where the book has an exact value."""

from __future__ import annotations

from math import radians, sin

EXACT_SINES = {0.0: 0.0, 30.0: 0.5, 90.0: 1.0}


def sine(degrees: float) -> float:
    """Return the sine of an angle in degrees; exact at every multiple of 30 that has one.

    The angle is brought into the first quarter before it becomes radians, so that 180 gives 0 and
    not the rounding error of pi.
    """
    turn = degrees % 360.0
    sign = 1.0
    if turn >= 180.0:
        turn, sign = turn - 180.0, -1.0
    if turn > 90.0:
        turn = 180.0 - turn
    found = EXACT_SINES.get(turn)
    return sign * (sin(radians(turn)) if found is None else found) + 0.0


def cosine(degrees: float) -> float:
    """Return the cosine of an angle in degrees; exact at every multiple of 60 and of 90."""
    return sine(degrees % 360.0 + 90.0)


def tangent(degrees: float) -> float:
    """Return the tangent of an angle in degrees.

    Raises
    ------
    ZeroDivisionError
        At 90 and 270 degrees, where there is none.
    """
    if degrees % 180.0 in (45.0, 135.0):
        return 1.0 if degrees % 180.0 == 45.0 else -1.0
    return sine(degrees) / cosine(degrees)
