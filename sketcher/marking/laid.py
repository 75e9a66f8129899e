"""A hand-in laid beside the key under some changes, and what that costs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from sketcher.geometry.curves import Circle, Line
from sketcher.geometry.evaluate import travelled_as
from sketcher.marking.assignment import FeatureTable, Matching, matched
from sketcher.marking.changed_keys import ChangedKey
from sketcher.marking.key_changes import KeyChange
from sketcher.marking.key_shape import Floats, KeyShape
from sketcher.marking.outline_features import Feature
from sketcher.marking.poses import Pose, carried, cells, midst

OFF = 1.9
"""What a feature costs that is off, missing or extra, where a round wrong value costs 0.9: two
values must explain more than one feature to be believed."""
TURNED, FREELY, MIRRORED = 0.05, 0.08, 0.06
"""What a turned or mirrored pose costs: a symmetric part lies as the key does."""


@dataclass(frozen=True, slots=True)
class Explanation:
    """The key under some changes, beside a hand-in.

    Parameters
    ----------
    changes : tuple of KeyChange
    key : ChangedKey
    pose : Pose
    hand : tuple of Feature
        As they lie on the key.
    matching : Matching
    wrong : int
        Features off, missing or extra.
    """

    changes: tuple[KeyChange, ...]
    key: ChangedKey
    pose: Pose
    hand: tuple[Feature, ...]
    matching: Matching
    wrong: int

    @property
    def shape(self) -> KeyShape:
        """The key under the changes."""
        return self.key.shape

    @property
    def cost(self) -> float:
        """What it costs to believe it."""
        return OFF * self.wrong + sum(each.cost for each in self.changes) + pose_cost(self.pose)


def pose_cost(pose: Pose) -> float:
    """Return what a pose costs beside the key's own."""
    turned = 0.0 if pose.turn == 0.0 else TURNED if pose.turn % 90.0 == 0.0 else FREELY
    return turned + MIRRORED * pose.mirrored


def laid(
    changes: tuple[KeyChange, ...], key: ChangedKey, hand: Sequence[Feature], pose: Pose
) -> Explanation:
    """Lay a hand-in beside the key under changes; its shift is found anew."""
    shape = key.shape
    placed = carried(hand, pose)
    matching = matched(shape.table, FeatureTable(placed), shape.size)
    wrong = matching.wrong(shape.within)
    if wrong:
        shift = _shift(shape, placed, matching)
        if max(map(abs, shift)) > 0.02 * shape.within:
            pose = replace(pose, shift=(pose.shift[0] + shift[0], pose.shift[1] + shift[1]))
            placed = carried(hand, pose)
            matching = matched(shape.table, FeatureTable(placed), shape.size)
            wrong = matching.wrong(shape.within)
    return Explanation(changes, key, pose, placed, matching, wrong)


def _shift(shape: KeyShape, hand: Sequence[Feature], matching: Matching) -> tuple[float, float]:
    """Return the move that brings most of the hand-in onto the key; none where it lies so."""
    table = moves(shape, hand, matching)
    if not len(table):
        return (0.0, 0.0)
    _, inverse = cells(table, 2.0 * shape.within)
    at = midst(table[inverse == int(np.bincount(inverse).argmax())])
    near = np.hypot(*(table - at).T) <= 2.0 * shape.within
    at = midst(table[near])
    if (np.hypot(*table.T) <= shape.within).sum() >= near.sum():
        return (0.0, 0.0)
    return float(at[0]), float(at[1])


def moves(shape: KeyShape, hand: Sequence[Feature], matching: Matching) -> Floats:
    """Return how far ends of lines and centers of rounds lie from where the key has them."""
    found: list[tuple[float, float]] = []
    for i, j in matching.pairs:
        a, b = shape.found[i].curve, hand[j].curve
        if isinstance(a, Line) and isinstance(b, Line):
            b = travelled_as(b, a)
            found += [(p[0] - q[0], p[1] - q[1]) for p, q in ((a.start, b.start), (a.end, b.end))]
        elif not isinstance(a, Line) and not isinstance(b, Line):
            # a center says more than an end, which the neighbor moves as well
            step = (a.center[0] - b.center[0], a.center[1] - b.center[1])
            found += [step] * (2 if isinstance(a, Circle) else 1)
    return np.array(found).reshape(-1, 2)
