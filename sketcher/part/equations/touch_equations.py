"""Equations of tangency, as a touch anywhere or as a joint at a given point.

A touch |distance| = radius is singular where the curves also share a point: both conditions then
have the same derivative. There the direction form is used (`FOOT`, `COLLINEAR`), and the point's
own distance from the center is counted along the shared normal, with its sign (`SIGNED_BY_LINE`,
`SIGNED_BY_ROUND`), so that a solution on the other side is no solution.
"""

from __future__ import annotations

import numpy as np

from sketcher.part.equations.base import Array, Equation, columns, length, sign, stacked, unit
from sketcher.part.equations.line_equations import OnLineEquation

SENSES = ("outside", "inside", "around")
FIRST = np.array([1.0, 1.0, -1.0])
SECOND = np.array([1.0, -1.0, 1.0])


class TouchLineEquation(Equation):
    """Distance of center c from line a-b, counted to the given side, = r."""

    points, radii = 3, 1
    sides = ("left", "right")

    def lean(self, at: Array) -> Array:
        ax, ay, bx, by, cx, cy, _ = columns(at)
        ux, uy, _ = unit(bx - ax, by - ay)
        return np.asarray(ux * (cy - ay) - uy * (cx - ax))

    def residual(self, at: Array, value: Array, side: Array) -> Array:
        return np.asarray((sign(side) * self.lean(at) - at[:, 6])[:, None])

    def jacobian(self, at: Array, value: Array, side: Array) -> Array:
        ax, ay, bx, by, cx, cy, _ = columns(at)
        ux, uy, size = unit(bx - ax, by - ay)
        s = sign(side)
        nx, ny = -s * uy, s * ux
        lever = (ux * (cx - ax) + uy * (cy - ay)) / size
        rest = lever - 1.0
        return stacked(rest * nx, rest * ny, -lever * nx, -lever * ny, nx, ny, -1.0, like=at)


class FootEquation(Equation):
    """At the joint p of line a-b and a round about c: c-p is square to the line."""

    points = 4

    def residual(self, at: Array, value: Array, side: Array) -> Array:
        ax, ay, bx, by, px, py, cx, cy = columns(at)
        ux, uy, _ = unit(bx - ax, by - ay)
        return np.asarray((ux * (px - cx) + uy * (py - cy))[:, None])

    def jacobian(self, at: Array, value: Array, side: Array) -> Array:
        ax, ay, bx, by, px, py, cx, cy = columns(at)
        ux, uy, size = unit(bx - ax, by - ay)
        swing = (ux * (py - cy) - uy * (px - cx)) / size
        nx, ny = -uy * swing, ux * swing
        return stacked(-nx, -ny, nx, ny, ux, uy, -ux, -uy, like=at)


class SignedByLineEquation(Equation):
    """At the joint p of line a-b and a round about c: c lies r to the given side of p."""

    points, radii = 4, 1
    sides = ("left", "right")

    def residual(self, at: Array, value: Array, side: Array) -> Array:
        ax, ay, bx, by, px, py, cx, cy, r = columns(at)
        ux, uy, _ = unit(bx - ax, by - ay)
        return np.asarray((sign(side) * (ux * (cy - py) - uy * (cx - px)) - r)[:, None])

    def jacobian(self, at: Array, value: Array, side: Array) -> Array:
        ax, ay, bx, by, px, py, cx, cy, _ = columns(at)
        ux, uy, size = unit(bx - ax, by - ay)
        s = sign(side)
        nx, ny = -s * uy, s * ux
        lever = (ux * (cx - px) + uy * (cy - py)) / size
        return stacked(lever * nx, lever * ny, -lever * nx, -lever * ny,
                       -nx, -ny, nx, ny, -1.0, like=at)


class TouchRoundEquation(Equation):
    """Distance of the centers = r1 + r2 (outside), r1 - r2 (inside) or r2 - r1 (around).

    `inside` means the second round within the first, `around` the first within the second.
    """

    points, radii = 2, 2
    sides = SENSES

    def residual(self, at: Array, value: Array, side: Array) -> Array:
        px, py, qx, qy, r, t = columns(at)
        apart = length(qx - px, qy - py)
        return np.asarray((apart - FIRST[side] * r - SECOND[side] * t)[:, None])

    def jacobian(self, at: Array, value: Array, side: Array) -> Array:
        px, py, qx, qy, _, _ = columns(at)
        ux, uy, _ = unit(qx - px, qy - py)
        return stacked(-ux, -uy, ux, uy, -FIRST[side], -SECOND[side], like=at)

    def settle(self, at: Array, value: Array) -> Array:
        codes = np.arange(3)
        off = [np.abs(self.residual(at, value, np.full(len(at), code))[:, 0]) for code in codes]
        return np.asarray(np.argmin(np.stack(off, axis=1), axis=1))


class SignedByRoundEquation(Equation):
    """At the joint p of rounds about c1 and c2: c2 lies r2 from p along the normal of the first."""

    points, radii = 3, 1
    sides = SENSES
    along = np.array([-1.0, 1.0, 1.0])

    def residual(self, at: Array, value: Array, side: Array) -> Array:
        cx, cy, px, py, dx, dy, r = columns(at)
        ux, uy, _ = unit(px - cx, py - cy)
        return np.asarray((self.along[side] * (ux * (px - dx) + uy * (py - dy)) - r)[:, None])

    def jacobian(self, at: Array, value: Array, side: Array) -> Array:
        cx, cy, px, py, dx, dy, _ = columns(at)
        ux, uy, size = unit(px - cx, py - cy)
        s = self.along[side]
        swing = s * (ux * (py - dy) - uy * (px - dx)) / size
        nx, ny, wx, wy = -uy * swing, ux * swing, s * ux, s * uy
        return stacked(-nx, -ny, wx + nx, wy + ny, -wx, -wy, -1.0, like=at)


TOUCH_LINE = TouchLineEquation()
TOUCH_ROUND = TouchRoundEquation()
FOOT = FootEquation()
COLLINEAR = OnLineEquation()  # first center, joint, second center
SIGNED_BY_LINE = SignedByLineEquation()
SIGNED_BY_ROUND = SignedByRoundEquation()
