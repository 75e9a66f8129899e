"""Free curves as plain values: rational B-splines, which hold every ellipse exactly.

Source: Piegl & Tiller, *The NURBS Book*, 2nd ed. 1997: de Boor's evaluation in homogeneous
coordinates, and the conic as rational quadratic pieces (from memory).
"""

from __future__ import annotations

from dataclasses import dataclass, field
from math import ceil, cos, pi, sin

import numpy as np
from numpy.typing import NDArray

from sketcher.geometry.curves import XY

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Spline:
    """A rational B-spline in the plane.

    Parameters
    ----------
    degree : int
        At least 1.
    knots : tuple of float
        Not falling; as many as control points, degree and 1.
    points : tuple of (x, y)
        Control points; the curve runs over the knots from the one after `degree` to the last but
        `degree`.
    weights : tuple of float
        One a control point, above zero; none where all are 1.

    Raises
    ------
    ValueError
        When the numbers make no curve.
    """

    degree: int
    knots: tuple[float, ...]
    points: tuple[XY, ...]
    weights: tuple[float, ...] = ()
    _held: Floats = field(init=False, repr=False, compare=False)
    _rising: Floats = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        if self.degree < 1 or len(self.points) <= self.degree:
            raise ValueError("too few control points")
        if len(self.knots) != len(self.points) + self.degree + 1:
            raise ValueError("the knots do not match the control points")
        if any(b < a for a, b in zip(self.knots, self.knots[1:], strict=False)):
            raise ValueError("the knots fall")
        if self.weights and (len(self.weights) != len(self.points) or min(self.weights) <= 0.0):
            raise ValueError("the weights do not match the control points")
        if self.span[0] >= self.span[1]:
            raise ValueError("the knots span nothing")
        if not np.isfinite([*self.knots, *self.weights, *np.ravel(self.points)]).all():
            raise ValueError("a number is not finite")
        # As arrays once, not for every place asked for: control points with weights, and knots.
        weights = np.asarray(self.weights or np.ones(len(self.points)))
        held = np.column_stack([np.asarray(self.points) * weights[:, None], weights])
        object.__setattr__(self, "_held", held)
        object.__setattr__(self, "_rising", np.asarray(self.knots, dtype=float))

    @property
    def span(self) -> tuple[float, float]:
        """The parameters of both ends."""
        return self.knots[self.degree], self.knots[len(self.points)]

    @property
    def breaks(self) -> tuple[float, ...]:
        """The parameters between which it is one polynomial, both ends among them."""
        first, last = self.span
        return tuple(dict.fromkeys(knot for knot in self.knots if first <= knot <= last))

    def at(self, parameters: Floats, before: bool = False) -> tuple[Floats, Floats]:
        """Return places and derivatives.

        Parameters
        ----------
        parameters : (n,) array
            Within `span`.
        before : bool, optional
            A knot belongs to the piece before it; else to the one after. The ends belong to the
            only one they have.

        Returns
        -------
        places, derivatives : (n, 2) arrays
        """
        p, knots, held = self.degree, self._rising, self._held
        t = np.clip(np.asarray(parameters, dtype=float), *self.span)
        last = int(np.searchsorted(knots, self.span[1], "left")) - 1
        k = np.clip(np.searchsorted(knots, t, "left" if before else "right") - 1, p, last)
        d = [held[k - p + j] for j in range(p + 1)]
        slope = np.zeros_like(d[0])
        for r in range(1, p + 1):
            if r == p:
                slope = p * (d[p] - d[p - 1]) / (knots[k + 1] - knots[k])[:, None]
            for j in range(p, r - 1, -1):
                low, high = knots[j + k - p], knots[j + 1 + k - r]
                share = ((t - low) / (high - low))[:, None]
                d[j] = (1.0 - share) * d[j - 1] + share * d[j]
        place = d[p][:, :2] / d[p][:, 2:]
        return place, (slope[:, :2] - place * slope[:, 2:]) / d[p][:, 2:]

    def scaled(self, factor: float) -> Spline:
        """Return it as many times as large, from the origin."""
        points = tuple((x * factor, y * factor) for x, y in self.points)
        return Spline(self.degree, self.knots, points, self.weights)


def ellipse_spline(center: XY, major: XY, minor: XY, start: float, end: float) -> Spline:
    """Return the ellipse ``center + cos(t) major + sin(t) minor`` from one parameter to another.

    Parameters
    ----------
    center, major, minor : (x, y)
        The half axes, square to each other or not.
    start, end : float
        Radians, `end` above `start` by at most a full turn.
    """
    count = max(1, ceil((end - start) / (0.5 * pi) - 1e-9))
    step = (end - start) / count
    middle = cos(0.5 * step)

    def place(angle: float, far: float) -> XY:
        c, s = cos(angle) / far, sin(angle) / far
        return (center[0] + c * major[0] + s * minor[0], center[1] + c * major[1] + s * minor[1])

    points, weights, knots = [place(start, 1.0)], [1.0], [0.0] * 3
    for number in range(count):
        at = start + number * step
        points += [place(at + 0.5 * step, middle), place(at + step, 1.0)]
        weights += [middle, 1.0]
        knots += [float(number + 1)] * 2
    if end - start >= 2.0 * pi * (1.0 - 1e-12):
        points[-1] = points[0]
    return Spline(2, (*knots, knots[-1]), tuple(points), tuple(weights))
