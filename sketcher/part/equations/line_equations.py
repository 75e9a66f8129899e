"""Equations about the unbounded line through two points: distance, direction, reflection."""

from __future__ import annotations

from math import pi, tau

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


class PointLineEquation(Equation):
    """Distance of p from the line a-b, square to it and counted to the given side, = value."""

    points = 3
    sides: tuple[str, ...] = ("left", "right")

    def lean(self, at: Array) -> Array:
        ax, ay, bx, by, px, py = columns(at)
        ux, uy, _ = unit(bx - ax, by - ay)
        return np.asarray(ux * (py - ay) - uy * (px - ax))

    def residual(self, at: Array, value: Array, side: Array) -> Array:
        return np.asarray((sign(side) * self.lean(at) - value)[:, None])

    def jacobian(self, at: Array, value: Array, side: Array) -> Array:
        ax, ay, bx, by, px, py = columns(at)
        ux, uy, size = unit(bx - ax, by - ay)
        s = sign(side)
        nx, ny = -s * uy, s * ux
        lever = (ux * (px - ax) + uy * (py - ay)) / size
        rest = lever - 1.0
        return stacked(rest * nx, rest * ny, -lever * nx, -lever * ny, nx, ny, like=at)


class OnLineEquation(PointLineEquation):
    """p lies on the line a-b; no side."""

    sides: tuple[str, ...] = ()


class AheadEquation(Equation):
    """Sense along the line a-b in which its crossing p with a round about c lies.

    Never solved: the crossing of a line and a round that are not tangent has two places, and the
    side tells which is meant.
    """

    points = 4
    sides = ("ahead", "behind")

    def lean(self, at: Array) -> Array:
        ax, ay, bx, by, px, py, cx, cy = columns(at)
        ux, uy, _ = unit(bx - ax, by - ay)
        return np.asarray(ux * (px - cx) + uy * (py - cy))

    def holds(self, at: Array, side: Array) -> Array:
        return np.asarray(sign(side) * self.lean(at) >= 0.0)

    def mended(self, at: Array, side: Array, free: Array) -> Array:
        ax, ay, bx, by, *_ = columns(at)
        ux, uy, _ = unit(bx - ax, by - ay)
        back = np.where(self.holds(at, side), 0.0, -2.0 * self.lean(at))
        out = at.copy()
        out[:, 4] += back * ux
        out[:, 5] += back * uy
        return out


class BesideEquation(OnLineEquation):
    """Side of the line of centers a-b on which a crossing p of two rounds lies; never solved."""

    sides = ("left", "right")

    def holds(self, at: Array, side: Array) -> Array:
        return np.asarray(sign(side) * self.lean(at) >= 0.0)

    def mended(self, at: Array, side: Array, free: Array) -> Array:
        ax, ay, bx, by, *_ = columns(at)
        ux, uy, _ = unit(bx - ax, by - ay)
        back = np.where(self.holds(at, side), 0.0, -2.0 * self.lean(at))
        out = at.copy()
        out[:, 4] -= back * uy
        out[:, 5] += back * ux
        return out


def directed(dx: Array, dy: Array, ex: Array, ey: Array, turned: Array) -> Array:
    """Angle from d to e less `turned`, in (-pi, pi]; analytic for complex input off the cut."""
    cosine, sine = np.cos(turned), np.sin(turned)
    dot, cross = dx * ex + dy * ey, dx * ey - dy * ex
    along, across = dot * cosine + cross * sine, cross * cosine - dot * sine
    if np.iscomplexobj(along) or np.iscomplexobj(across):
        return np.asarray(2.0 * np.arctan(across / (length(along, across) + along)))
    return np.asarray(np.arctan2(across, along))


class TurnEquation(Equation):
    """Directed angle from line a-b to line c-d (or from level to a-b) = base + factor * value.

    Each side has its own base and factor, so that the four sectors of two crossing lines, and the
    two senses of parallel and square ones, are different equations with one solution each.
    """

    angular = True

    def __init__(
        self, lines: int, sides: tuple[str, ...], base: tuple[float, ...], factor: tuple[float, ...]
    ) -> None:
        self.points = 2 * lines
        self.sides = sides
        self.base, self.factor = np.array(base), np.array(factor)

    def _vectors(self, at: Array) -> tuple[Array, Array, Array, Array]:
        slots = columns(at)
        if self.points == 2:
            ax, ay, bx, by = slots
            return np.ones(len(at)), np.zeros(len(at)), bx - ax, by - ay
        ax, ay, bx, by, cx, cy, dx, dy = slots
        return bx - ax, by - ay, dx - cx, dy - cy

    def residual(self, at: Array, value: Array, side: Array) -> Array:
        wanted = self.base[side] + self.factor[side] * value
        return directed(*self._vectors(at), wanted)[:, None]

    def jacobian(self, at: Array, value: Array, side: Array) -> Array:
        dx, dy, ex, ey = self._vectors(at)
        vx, vy, reach = unit(ex, ey)
        nx, ny = -vy / reach, vx / reach
        if self.points == 2:
            return stacked(-nx, -ny, nx, ny, like=at)
        ux, uy, size = unit(dx, dy)
        mx, my = -uy / size, ux / size
        return stacked(mx, my, -mx, -my, -nx, -ny, nx, ny, like=at)

    def settle(self, at: Array, value: Array) -> Array:
        now = directed(*self._vectors(at), np.zeros(len(at)))[:, None]
        wanted = self.base[None, :] + self.factor[None, :] * value[:, None]
        off = np.abs((now - wanted + pi) % tau - pi)
        return np.asarray(np.argmin(np.round(off, 9), axis=1))

    def span(self, at: Array) -> Array:
        dx, dy, ex, ey = self._vectors(at)
        reach = length(ex, ey)
        return reach if self.points == 2 else np.sqrt(length(dx, dy) * reach)

    def deviation(self, rows: Array, side: Array) -> Array:
        factor = self.factor[side]
        return np.asarray(rows * np.where(factor == 0.0, 1.0, factor)[:, None])


class MirrorEquation(Equation):
    """q is the reflection of p about a-b: middle on the line, joining line square to it."""

    points, rows = 4, 2

    def residual(self, at: Array, value: Array, side: Array) -> Array:
        px, py, qx, qy, ax, ay, bx, by = columns(at)
        ux, uy, _ = unit(bx - ax, by - ay)
        mx, my = 0.5 * (px + qx) - ax, 0.5 * (py + qy) - ay
        return np.stack([ux * my - uy * mx, ux * (qx - px) + uy * (qy - py)], axis=1)

    def jacobian(self, at: Array, value: Array, side: Array) -> Array:
        px, py, qx, qy, ax, ay, bx, by = columns(at)
        ux, uy, size = unit(bx - ax, by - ay)
        lever = (ux * (0.5 * (px + qx) - ax) + uy * (0.5 * (py + qy) - ay)) / size
        swing = (ux * (qy - py) - uy * (qx - px)) / size
        nx, ny, rest = -uy, ux, lever - 1.0
        out = np.empty((len(at), 2, 8), at.dtype)
        first = (0.5 * nx, 0.5 * ny, 0.5 * nx, 0.5 * ny,
                 rest * nx, rest * ny, -lever * nx, -lever * ny)
        second = (-ux, -uy, ux, uy, -swing * nx, -swing * ny, swing * nx, swing * ny)
        for slot in range(8):
            out[:, 0, slot], out[:, 1, slot] = first[slot], second[slot]
        return out


SECTORS = ("ccw", "cw", "ccw reversed", "cw reversed")
POINT_LINE = PointLineEquation()
ON_LINE = OnLineEquation()
ANGLE = TurnEquation(2, SECTORS, (0.0, 0.0, -pi, pi), (1.0, -1.0, 1.0, -1.0))
INCLINATION = TurnEquation(1, SECTORS, (0.0, 0.0, -pi, pi), (1.0, -1.0, 1.0, -1.0))
PARALLEL = TurnEquation(2, ("same", "opposite"), (0.0, pi), (0.0, 0.0))
SQUARE = TurnEquation(2, ("ccw", "cw"), (0.5 * pi, -0.5 * pi), (0.0, 0.0))
MIRROR = MirrorEquation()
AHEAD = AheadEquation()
BESIDE = BesideEquation()
