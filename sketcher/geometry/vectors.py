"""Vectors of the plane as tuples. The distance between two points is `math.dist`."""

from __future__ import annotations

from math import hypot


def normalized(vector: tuple[float, float]) -> tuple[float, float]:
    """Return the unit vector of a vector's direction; (0, 0) for a vector without length.

    >>> normalized((3.0, -4.0))
    (0.6, -0.8)
    """
    size = hypot(*vector)
    return (vector[0] / size, vector[1] / size) if size > 0.0 else (0.0, 0.0)
