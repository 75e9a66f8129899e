"""The move that takes some features of the key to where a hand-in has them."""

from __future__ import annotations

from collections.abc import Sequence
from math import cos, degrees, sin
from typing import NamedTuple, TypeAlias

import numpy as np
from numpy.typing import NDArray

from sketcher.geometry.curves import XY, Curve, Line
from sketcher.geometry.evaluate import carried
from sketcher.geometry.project import signed_distance

Floats: TypeAlias = NDArray[np.float64]

STEPS = 30
FINE = 1e-3
"""Deviations below this share of the tolerance are one."""


class RigidMove(NamedTuple):
    """A turn about a center, in radians, and then a shift."""

    turn: float
    center: XY
    shift: XY

    @property
    def degrees(self) -> float:
        """The turn in degrees, counter-clockwise positive."""
        return degrees(self.turn)

    def point(self, at: XY) -> XY:
        """Return where a place goes."""
        c, s = cos(self.turn), sin(self.turn)
        x, y = at[0] - self.center[0], at[1] - self.center[1]
        return (self.center[0] + c * x - s * y + self.shift[0],
                self.center[1] + s * x + c * y + self.shift[1])

    def curve(self, curve: Curve) -> Curve:
        """Return where a curve goes."""
        return carried(curve, self.point)


def rigid_move(pairs: Sequence[tuple[Curve, Curve]], within: float) -> RigidMove | None:
    """Return the move that takes most of some curves onto the carriers of others.

    The sum of absolute deviations is made least, so that a few curves that are off for another
    reason do not count (iteratively reweighted least squares; from memory, as in
    `value_reading.py`).

    Parameters
    ----------
    pairs : sequence of (Curve, Curve)
        What was to be drawn, and what was drawn; both straight or both round.
    within : float
        Tolerance in their unit.

    Returns
    -------
    RigidMove or None
        None where the curves do not say: all parallel, or one round alone. Then a shift alone is
        tried, see `shift_alone`.
    """
    places = np.array([at for mine, _ in pairs for at in _places(mine)])
    center = places.mean(axis=0)
    turn, shift = 0.0, np.zeros(2)
    size = float(np.abs(places - center).max()) or 1.0
    coarse, fine = 0.1 * size, FINE * within
    for _ in range(STEPS):
        move = RigidMove(turn, (float(center[0]), float(center[1])),
                         (float(shift[0]), float(shift[1])))
        rows, off = _rows(pairs, move)
        weight = 1.0 / np.maximum(np.abs(off), coarse)
        scaled = rows * np.array([1.0 / size, 1.0, 1.0])
        a = (scaled * weight[:, None]).T @ scaled
        if np.linalg.eigvalsh(a)[0] <= 1e-9 * np.trace(a):
            return None
        step = np.linalg.solve(a, (scaled * weight[:, None]).T @ off)
        turn += float(step[0]) / size
        shift = shift + step[1:]
        if coarse <= fine and float(np.abs(step).max()) < fine:
            break
        coarse = max(0.4 * coarse, fine)
    return RigidMove(turn, (float(center[0]), float(center[1])),
                     (float(shift[0]), float(shift[1])))


def shift_alone(pairs: Sequence[tuple[Curve, Curve]]) -> RigidMove:
    """Return the shortest shift that takes the middles of some curves onto others' carriers."""
    still = RigidMove(0.0, (0.0, 0.0), (0.0, 0.0))
    rows, off = _rows(pairs, still)
    x, y = np.linalg.lstsq(rows[:, 1:], off, rcond=1e-9)[0].tolist()
    return RigidMove(0.0, (0.0, 0.0), (x, y))


def _places(curve: Curve) -> tuple[XY, ...]:
    return (curve.start, curve.end) if isinstance(curve, Line) else (curve.center,)


def _rows(pairs: Sequence[tuple[Curve, Curve]], move: RigidMove) -> tuple[Floats, Floats]:
    """Return how turn and shift move each deviation, and the deviations under a move."""
    rows: list[tuple[float, float, float]] = []
    off: list[float] = []
    pivot = (move.center[0] + move.shift[0], move.center[1] + move.shift[1])
    for mine, theirs in pairs:
        moved = move.curve(mine)
        if isinstance(moved, Line) and isinstance(theirs, Line):
            ux, uy = theirs.direction
            for x, y in (moved.start, moved.end):
                # the hand-in's carrier taken as fixed: the moved end is to lie on it
                arm = (-(y - pivot[1]), x - pivot[0])
                rows.append((-uy * arm[0] + ux * arm[1], -uy, ux))
                off.append(-signed_distance(theirs, (x, y)))
        elif not isinstance(moved, Line) and not isinstance(theirs, Line):
            x, y = moved.center
            arm = (-(y - pivot[1]), x - pivot[0])
            rows += [(arm[0], 1.0, 0.0), (arm[1], 0.0, 1.0)]
            off += [theirs.center[0] - x, theirs.center[1] - y]
    return np.array(rows).reshape(-1, 3), np.array(off)
