"""Equations about lengths: distances, runs, radii, middles."""

from __future__ import annotations

import numpy as np

from sketcher.part.equations.base import (
    Array,
    Equation,
    columns,
    length,
    sign,
    stacked,
    unit,
)


class DistanceEquation(Equation):
    """|q - p| = value."""

    points = 2

    def residual(self, at: Array, value: Array, side: Array) -> Array:
        px, py, qx, qy = columns(at)
        return np.asarray((length(qx - px, qy - py) - value)[:, None])

    def jacobian(self, at: Array, value: Array, side: Array) -> Array:
        px, py, qx, qy = columns(at)
        ux, uy, _ = unit(qx - px, qy - py)
        return stacked(-ux, -uy, ux, uy, like=at)


class RadialEquation(Equation):
    """|p - c| = r: an end lies on its arc, a point on a circle."""

    points, radii = 2, 1

    def residual(self, at: Array, value: Array, side: Array) -> Array:
        px, py, cx, cy, r = columns(at)
        return np.asarray((length(px - cx, py - cy) - r)[:, None])

    def jacobian(self, at: Array, value: Array, side: Array) -> Array:
        px, py, cx, cy, _ = columns(at)
        ux, uy, _ = unit(px - cx, py - cy)
        return stacked(ux, uy, -ux, -uy, -1.0, like=at)


class AlongEquation(Equation):
    """Level (axis 0) or plumb (axis 1) distance from p to q = value, towards the given side."""

    points = 2

    def __init__(self, axis: int) -> None:
        self.axis = axis
        self.sides = ("above", "below") if axis else ("right", "left")

    @property
    def pattern(self) -> Array:
        out = np.zeros((1, 4), bool)
        out[0, [self.axis, 2 + self.axis]] = True
        return out

    def lean(self, at: Array) -> Array:
        return np.asarray(at[:, 2 + self.axis] - at[:, self.axis])

    def residual(self, at: Array, value: Array, side: Array) -> Array:
        return np.asarray((sign(side) * self.lean(at) - value)[:, None])

    def jacobian(self, at: Array, value: Array, side: Array) -> Array:
        out = np.zeros((len(at), 1, 4), at.dtype)
        out[:, 0, self.axis] = -sign(side)
        out[:, 0, 2 + self.axis] = sign(side)
        return out


class SameEquation(Equation):
    """Two points have one coordinate in common; solved by substitution, measured by this.

    The side is the sense of the line from p to q along the other coordinate. It is a wish: a
    solution that keeps it is preferred, one that does not is still a solution.
    """

    points = 2

    def __init__(self, axis: int) -> None:
        self.axis = axis
        self.sides = ("right", "left") if axis else ("above", "below")

    @property
    def pattern(self) -> Array:
        out = np.zeros((1, 4), bool)
        out[0, [self.axis, 2 + self.axis]] = True
        return out

    def lean(self, at: Array) -> Array:
        other = 1 - self.axis
        return np.asarray(at[:, 2 + other] - at[:, other])

    def holds(self, at: Array, side: Array) -> Array:
        return np.asarray(sign(side) * self.lean(at) >= 0.0)

    def mended(self, at: Array, side: Array, free: Array) -> Array:
        one, two = 1 - self.axis, 3 - self.axis
        p, q = at[:, one], at[:, two]
        out = at.copy()
        # about the middle, or about an end that is held
        out[:, one] = np.where(free[:, two], q, 2.0 * q - p)
        out[:, two] = np.where(free[:, one], p, 2.0 * p - q)
        return np.where(self.holds(at, side)[:, None] | ~free, at, out)

    def residual(self, at: Array, value: Array, side: Array) -> Array:
        return np.asarray((at[:, 2 + self.axis] - at[:, self.axis])[:, None])

    def jacobian(self, at: Array, value: Array, side: Array) -> Array:
        out = np.zeros((len(at), 1, 4), at.dtype)
        out[:, 0, self.axis], out[:, 0, 2 + self.axis] = -1.0, 1.0
        return out


class RadiusEquation(Equation):
    """factor * r = value."""

    radii = 1

    def __init__(self, factor: float) -> None:
        self.factor = factor

    def residual(self, at: Array, value: Array, side: Array) -> Array:
        return np.asarray(self.factor * at - value[:, None])

    def jacobian(self, at: Array, value: Array, side: Array) -> Array:
        return stacked(self.factor, like=at)


class StepEquation(Equation):
    """Radial distance from the first round to the second = value, outwards or inwards."""

    radii = 2
    sides = ("outside", "inside")

    def lean(self, at: Array) -> Array:
        return np.asarray(at[:, 1] - at[:, 0])

    def residual(self, at: Array, value: Array, side: Array) -> Array:
        return np.asarray((sign(side) * self.lean(at) - value)[:, None])

    def jacobian(self, at: Array, value: Array, side: Array) -> Array:
        return stacked(-sign(side), sign(side), like=at)


class SameRadiusEquation(Equation):
    """Two radii agree; solved by substitution, measured by this."""

    radii = 2

    def residual(self, at: Array, value: Array, side: Array) -> Array:
        return np.asarray((at[:, 1] - at[:, 0])[:, None])

    def jacobian(self, at: Array, value: Array, side: Array) -> Array:
        return stacked(-1.0, 1.0, like=at)


class MiddleEquation(Equation):
    """p lies halfway between a and b."""

    points, rows = 3, 2

    @property
    def pattern(self) -> Array:
        return np.tile(np.eye(2, dtype=bool), (1, 3))

    def residual(self, at: Array, value: Array, side: Array) -> Array:
        return np.asarray(at[:, 0:2] - 0.5 * (at[:, 2:4] + at[:, 4:6]))

    def jacobian(self, at: Array, value: Array, side: Array) -> Array:
        one = np.hstack([np.eye(2), -0.5 * np.eye(2), -0.5 * np.eye(2)])
        return np.broadcast_to(one.astype(at.dtype), (len(at), 2, 6))


class EqualLengthEquation(Equation):
    """|b - a| = |d - c|."""

    points = 4

    def residual(self, at: Array, value: Array, side: Array) -> Array:
        ax, ay, bx, by, cx, cy, dx, dy = columns(at)
        return np.asarray((length(bx - ax, by - ay) - length(dx - cx, dy - cy))[:, None])

    def jacobian(self, at: Array, value: Array, side: Array) -> Array:
        ax, ay, bx, by, cx, cy, dx, dy = columns(at)
        ux, uy, _ = unit(bx - ax, by - ay)
        vx, vy, _ = unit(dx - cx, dy - cy)
        return stacked(-ux, -uy, ux, uy, vx, vy, -vx, -vy, like=at)


DISTANCE = DistanceEquation()
SAME_PLACE = DistanceEquation()  # concentric: solved by substitution, measured by this
RADIAL = RadialEquation()
RUN = AlongEquation(0)
RISE = AlongEquation(1)
SAME_X = SameEquation(0)
SAME_Y = SameEquation(1)
RADIUS = RadiusEquation(1.0)
DIAMETER = RadiusEquation(2.0)
STEP = StepEquation()
SAME_RADIUS = SameRadiusEquation()
MIDDLE = MiddleEquation()
EQUAL_LENGTH = EqualLengthEquation()
