"""How a hand-in lies beside the key: scale, turn, mirror image and shift, found by vote."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from math import cos, radians, sin
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.marking.assignment import FeatureTable, ways
from sketcher.marking.outline_features import Feature

Floats: TypeAlias = NDArray[np.float64]

QUARTERS = (0.0, 90.0, 180.0, 270.0)
BIN = 4.0
"""Width of a bin of the vote, in tolerances."""
UNLIKE = 0.2
"""Share of a radius by which two rounds may differ and still vote, with half the weight: a hole of
another size has its center where it was."""
BINS = 4
"""Bins of each orientation that are looked at."""


@dataclass(frozen=True, slots=True)
class Pose:
    """Takes a place of a hand-in to the key: mirrored about the y axis, turned, scaled, moved.

    Parameters
    ----------
    scale : float
    turn : float
        Degrees, counter-clockwise.
    mirrored : bool
    shift : (x, y)
        In the key's unit.
    """

    scale: float = 1.0
    turn: float = 0.0
    mirrored: bool = False
    shift: XY = (0.0, 0.0)

    @property
    def matrix(self) -> Floats:
        """What places are multiplied by, shape (2, 2)."""
        quarter = round(self.turn / 90.0)
        if self.turn == 90.0 * quarter:
            c, s = ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[quarter % 4]
        else:
            c, s = cos(radians(self.turn)), sin(radians(self.turn))
        sign = -1.0 if self.mirrored else 1.0
        return self.scale * np.array([[sign * c, -s], [sign * s, c]])

    def placing(self) -> Callable[[XY], XY]:
        """Return the function from a place of the hand-in to the key."""
        (a, b), (c, d) = self.matrix.tolist()
        e, f = self.shift
        return lambda at: (a * at[0] + b * at[1] + e, c * at[0] + d * at[1] + f)

    def point(self, at: XY) -> XY:
        """Return where a place of the hand-in lies on the key."""
        return self.placing()(at)

    def curve(self, curve: Curve) -> Curve:
        """Return where a curve of the hand-in lies on the key."""
        return self._placed(curve, self.placing())

    def curves(self, curves: Iterable[Curve]) -> list[Curve]:
        """Return where curves of the hand-in lie on the key."""
        point = self.placing()
        return [self._placed(curve, point) for curve in curves]

    def _placed(self, curve: Curve, point: Callable[[XY], XY]) -> Curve:
        if isinstance(curve, Circle):
            return Circle(point(curve.center), curve.radius * self.scale)
        start, end = point(curve.start), point(curve.end)
        if isinstance(curve, Line):
            return Line(start, end)
        if self.mirrored:
            start, end = end, start
        return Arc(point(curve.center), start, end, curve.ccw)


def carried(found: Sequence[Feature], pose: Pose) -> tuple[Feature, ...]:
    """Return the features of a hand-in as they lie on the key."""
    out = []
    for each, curve in zip(found, pose.curves(each.curve for each in found), strict=True):
        turned = pose.mirrored and isinstance(curve, Arc)
        out.append(Feature(curve, each.sources, each.ends[::-1] if turned else each.ends))
    return tuple(out)


def votes(
    key: FeatureTable, hand: FeatureTable, poses: Sequence[Pose], within: float
) -> Iterator[tuple[float, Pose]]:
    """Yield shifts that many pairs of features agree on, with how many do, for each orientation."""
    key_way = ways(key.ends)
    for pose in poses:
        m = pose.matrix
        moved = hand.centers @ m.T
        r = hand.radii * pose.scale
        off = np.abs(key.radii[:, None] - r[None, :])
        i, j = np.nonzero(off <= np.maximum(BIN * within, UNLIKE * r)[None, :])
        shifts = [key.centers[i] - moved[j]]
        weights = [np.where(off[i, j] <= np.maximum(BIN * within, 0.02 * r[j]), 2.0, 1.0)]
        starts, ends = hand.ends[:, 0] @ m.T, hand.ends[:, 1] @ m.T
        along = np.einsum("id,jd->ij", key_way, ways(np.stack([starts, ends], axis=1)))
        i, j = np.nonzero(np.abs(along) >= 0.9998)
        flip = along[i, j] < 0.0
        a, b = np.where(flip[:, None], ends[j], starts[j]), np.where(
            flip[:, None], starts[j], ends[j])
        shifts += [key.ends[i, 0] - a, key.ends[i, 1] - b]
        weights += [np.ones(len(i)), np.ones(len(i))]
        shift, weight = np.concatenate(shifts), np.concatenate(weights)
        if not len(shift):
            continue
        _, inverse = cells(shift, BIN * within)
        total = np.bincount(inverse, weight)
        seen: list[Floats] = []
        for best in np.argsort(-total, kind="stable")[:BINS]:
            at = midst(shift[inverse == best])
            # a bin ends somewhere: what lies just beyond counts too
            near = np.hypot(*(shift - at).T) <= BIN * within
            at = midst(shift[near])
            if any(np.hypot(*(at - other)) <= within for other in seen):
                continue
            seen.append(at)
            yield float(weight[near].sum()), Pose(
                pose.scale, pose.turn, pose.mirrored, (float(at[0]), float(at[1])))


def cells(table: Floats, side: float) -> tuple[Floats, NDArray[np.intp]]:
    """Return the square cells that places lie in, and the number of its cell for each.

    Parameters
    ----------
    table : array, shape (n, 2)
    side : float
    """
    cell = np.floor(table / side)
    low = cell.min(axis=0)
    wide = float(np.ptp(cell[:, 1])) + 1.0
    names, inverse = np.unique((cell[:, 0] - low[0]) * wide + (cell[:, 1] - low[1]),
                               return_inverse=True)
    return names, inverse


def midst(table: Floats) -> Floats:
    """Return the upper median of each column: a value that is there, and found by sorting alone."""
    return np.asarray(np.sort(table, axis=0)[len(table) // 2])


def orientations(scales: Sequence[float], turns: Sequence[float] = QUARTERS) -> list[Pose]:
    """Return each scale in each turn, plain and mirrored."""
    return [Pose(scale, turn, mirrored)
            for scale in scales for mirrored in (False, True) for turn in turns]
