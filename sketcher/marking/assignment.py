"""Features of the key and of a hand-in, one to one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from sketcher.geometry.curves import Circle
from sketcher.marking.outline_features import Feature

Floats: TypeAlias = NDArray[np.float64]

REACH = 0.3
"""Share of the size beyond which two features are not taken for one."""
ASIDE = 0.25
"""What a length along a carrier counts beside one across it: neighbours move ends."""


class FeatureTable:
    """Features as arrays: what votes and the costs of pairing are computed from.

    Attributes
    ----------
    lines, rounds : array of int
        Numbers of the straight features, and of the others.
    ends : array, shape (lines, 2, 2)
    centers, middles : array, shape (rounds, 2)
        `middles` half way along an arc; the center of a circle.
    radii, sweeps : array, shape (rounds,)
    """

    def __init__(self, found: Sequence[Feature]) -> None:
        self.found = tuple(found)
        self.lines = np.array([n for n, f in enumerate(found) if f.is_line], int)
        self.rounds = np.array([n for n, f in enumerate(found) if not f.is_line], int)
        self.ends = np.array([(*found[n].curve.start, *found[n].curve.end)
                              for n in self.lines]).reshape(-1, 2, 2)
        self.centers = np.array([found[n].curve.center for n in self.rounds]).reshape(-1, 2)
        self.radii = np.array([found[n].curve.radius for n in self.rounds])
        self.sweeps, self.middles = np.full(len(self.rounds), 2.0 * np.pi), self.centers.copy()
        for k, n in enumerate(self.rounds):
            curve = found[n].curve
            if not isinstance(curve, Circle):
                self.sweeps[k] = curve.sweep
                angle = curve.start_angle + 0.5 * curve.sweep
                self.middles[k] += curve.radius * np.array([np.cos(angle), np.sin(angle)])


def ways(ends: Floats) -> Floats:
    """Return the unit direction of each line, shape (n, 2), from both its ends, shape (n, 2, 2)."""
    step = ends[:, 1] - ends[:, 0]
    return np.asarray(step / np.maximum(np.hypot(*step.T), 1e-300)[:, None])


def line_gaps(key: Floats, hand: Floats) -> tuple[Floats, Floats]:
    """Return how far each hand-in's line leaves each key's carrier, and lies along from it.

    Parameters
    ----------
    key, hand : array, shape (n, 2, 2) and (m, 2, 2)
        Both ends of each.

    Returns
    -------
    across, along : array, shape (n, m)
        The greatest distance of an end from the carrier; the distance of the middles along it.
    """
    unit = ways(key)
    rays = hand[None, :, :, :] - key[:, None, :1, :]
    across = np.abs(unit[:, None, None, 0] * rays[..., 1] - unit[:, None, None, 1] * rays[..., 0])
    middle = hand.mean(axis=1)[None, :, :] - key.mean(axis=1)[:, None, :]
    along = np.abs((middle * unit[:, None, :]).sum(axis=2))
    return across.max(axis=2), along


@dataclass(frozen=True, slots=True)
class Matching:
    """Which feature of the hand-in each feature of the key is.

    Parameters
    ----------
    pairs : tuple of (int, int)
        Numbers in the key and in the hand-in.
    off : tuple of float
        How far each pair's carriers are apart, in the key's unit.
    missing, extra : tuple of int
        Numbers in the key, and in the hand-in, that are in no pair.
    """

    pairs: tuple[tuple[int, int], ...]
    off: tuple[float, ...]
    missing: tuple[int, ...]
    extra: tuple[int, ...]

    def wrong(self, within: float) -> int:
        """How many features are off by more than a length, missing or extra."""
        return sum(off > within for off in self.off) + len(self.missing) + len(self.extra)


def matched(key: FeatureTable, hand: FeatureTable, size: float) -> Matching:
    """Pair features by optimal assignment of concave costs: many exact and one far is cheap."""
    from scipy.optimize import linear_sum_assignment

    most = np.sqrt(REACH * size)
    pairs: list[tuple[int, int]] = []
    offs: list[float] = []
    for kind in ("lines", "rounds"):
        ours, theirs = getattr(key, kind), getattr(hand, kind)
        if not len(ours) or not len(theirs):
            continue
        if kind == "lines":
            off, along = line_gaps(key.ends, hand.ends)
            cost = off + ASIDE * along
        else:
            dr = np.abs(key.radii[:, None] - hand.radii[None, :])
            apart = np.hypot(*np.moveaxis(key.centers[:, None] - hand.centers[None, :], 2, 0))
            off = np.maximum(apart, dr)
            open_ = (key.sweeps[:, None] < 6.0) | (hand.sweeps[None, :] < 6.0)
            turned = np.hypot(*np.moveaxis(key.middles[:, None] - hand.middles[None, :], 2, 0))
            swept = np.abs(key.sweeps[:, None] - hand.sweeps[None, :]) * key.radii[:, None]
            cost = apart + 2.0 * dr + ASIDE * np.where(open_, turned + swept, 0.0)
        cost = np.minimum(np.sqrt(cost), most)
        a, b = linear_sum_assignment(cost)
        for i, j in zip(a.tolist(), b.tolist(), strict=True):
            if cost[i, j] < most:
                pairs.append((int(ours[i]), int(theirs[j])))
                offs.append(float(off[i, j]))
    taken, given = {i for i, _ in pairs}, {j for _, j in pairs}
    return Matching(
        tuple(pairs), tuple(offs),
        tuple(n for n in range(len(key.found)) if n not in taken),
        tuple(n for n in range(len(hand.found)) if n not in given))
