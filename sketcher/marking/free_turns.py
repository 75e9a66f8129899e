"""Turns other than by quarters that a hand-in asks for: lines and pairs of rounds vote."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from sketcher.marking.assignment import FeatureTable, Floats

TURN_BIN = 0.02
"""Degrees within which directions are one in the vote."""
SQUARE = 0.02
"""Degrees within which a turn is by quarters."""
LIKE = 0.35
"""Share of a length, radius or distance by which two of them may differ and be one drawn wrong."""
LOOSELY = 0.3
"""What such a one counts beside one that is as it should be."""
PEAKS = 3
ROUNDS = 40
"""Rounds that are paired with each other: the largest."""


def free_turns(
    key: FeatureTable, hand: FeatureTable, scale: float, within: float
) -> list[tuple[float, bool]]:
    """Return turns in degrees that bring a hand-in onto a key, and whether it is mirrored before.

    Parameters
    ----------
    key, hand : FeatureTable
    scale : float
        From the hand-in's numbers to the key's unit.
    within : float
        Tolerance in the key's unit.
    """
    out: list[tuple[float, bool]] = []
    for mirrored in (False, True):
        for turn, weight in (_by_lines(key, hand, scale, mirrored, within),
                             _by_rounds(key, hand, scale, mirrored, within)):
            for angle in _peaks(turn, weight):
                off = angle % 90.0
                if min(off, 90.0 - off) > SQUARE and not any(
                        m == mirrored and abs((angle - a + 180.0) % 360.0 - 180.0) <= TURN_BIN
                        for a, m in out):
                    out.append((angle, mirrored))
    return out


def _by_lines(
    key: FeatureTable, hand: FeatureTable, scale: float, mirrored: bool, within: float
) -> tuple[Floats, Floats]:
    """Return turns that lines of like length ask for, and their weights.

    A line has no sense: each asks for a turn and for its opposite.
    """
    mine, length = _directions(key, 1.0)
    drawn, other = _directions(hand, scale)
    off = np.abs(length[:, None] - other[None, :])
    i, j = np.nonzero(off <= LIKE * length[:, None])
    turn = mine[i] - (180.0 - drawn[j] if mirrored else drawn[j])
    weight = np.minimum(length[i], other[j]) * np.where(off[i, j] <= 4.0 * within, 1.0, LOOSELY)
    return np.concatenate([turn, turn + 180.0]) % 360.0, np.concatenate([weight, weight])


def _directions(found: FeatureTable, scale: float) -> tuple[Floats, Floats]:
    """Return direction in degrees and length of each line."""
    along = scale * (found.ends[:, 1] - found.ends[:, 0])
    return np.degrees(np.arctan2(along[:, 1], along[:, 0])), np.hypot(*along.T)


def _by_rounds(
    key: FeatureTable, hand: FeatureTable, scale: float, mirrored: bool, within: float
) -> tuple[Floats, Floats]:
    """Return turns that pairs of rounds of like radii and distance ask for, as `_by_lines`.

    A wrong radius leaves the centers where they are, a wrong distance the direction as it is.
    """
    mine, theirs = _pairs(key, 1.0), _pairs(hand, scale)
    off = np.abs(mine[:, None, :3] - theirs[None, :, :3])
    i, j = np.nonzero((off <= LIKE * mine[:, None, :3]).all(axis=2))
    drawn = 180.0 - theirs[j, 3] if mirrored else theirs[j, 3]
    return ((mine[i, 3] - drawn) % 360.0,
            np.where(off[i, j, 2] <= 4.0 * within, 1.0, LOOSELY))


def _pairs(found: FeatureTable, scale: float) -> Floats:
    """Return both radii, distance and direction of each pair of rounds, shape (n, 4).

    The lesser radius comes first; a pair of one radius stands there both ways round.
    """
    rounds = scale * np.column_stack([found.centers, found.radii])
    rounds = rounds[np.argsort(-rounds[:, 2], kind="stable")[:ROUNDS]]
    i, j = np.nonzero(rounds[:, 2][:, None] <= rounds[:, 2][None, :] * (1.0 + 1e-6))
    i, j = i[i != j], j[i != j]
    step = rounds[j, :2] - rounds[i, :2]
    apart = np.hypot(*step.T)
    table = np.column_stack([rounds[i, 2], rounds[j, 2], apart,
                             np.degrees(np.arctan2(step[:, 1], step[:, 0]))])
    return np.asarray(table[apart > 0.0])


def _peaks(turn: Floats, weight: Floats) -> Iterator[float]:
    """Yield the turns that weigh most."""
    if not len(turn):
        return
    bins = np.floor(turn / TURN_BIN).astype(np.int64)
    names, inverse = np.unique(bins, return_inverse=True)
    total = np.bincount(inverse, weight, len(names))
    for best in np.argsort(-total, kind="stable")[:PEAKS]:
        # a bin ends somewhere: what lies just beyond counts too
        off = (turn - np.median(turn[inverse == best]) + 180.0) % 360.0 - 180.0
        near = np.abs(off) <= TURN_BIN
        order = np.argsort(off[near])
        rising = np.cumsum(weight[near][order])
        middle = order[int(np.searchsorted(rising, 0.5 * rising[-1]))]
        yield float(turn[near][middle])
