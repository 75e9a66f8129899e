"""Which of the key's features an unfinished drawing has, and which it has with another size.

A feature is there where the drawing has a curve on its line or circle that runs along some of it,
however long that is: an arc may be a full circle yet, an edge one of two pieces, or too long. What
lies near one that is not there, and is like it, is taken for it, drawn with another size. So
careful as this is kept: a wrong guess would tell somebody a mistake that is none.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import dist

import numpy as np

from sketcher.board.exercise.paper_key import PaperKey
from sketcher.geometry.curves import Arc, Circle, Curve, Line
from sketcher.geometry.meet import overlap
from sketcher.marking.assignment import FeatureTable, Floats, line_gaps, ways
from sketcher.marking.outline_features import Feature

LEAST_SHARED = 0.1
"""Share of the shorter of two curves on one carrier that both have to run along."""
NEAR_LINE, NEAR_ROUND = 0.15, 0.15
"""Share of the size by which an edge and a center may be off (tried on drawings with one value
wrong by up to a fifth of the size)."""
LIKE_LENGTH = 0.4
"""An edge that is shorter than this share of another, or so much longer, is not taken for it."""
LIKE_RADIUS = 0.35
"""Share of the larger radius by which two rounds may differ; concentric ones by `CONCENTRIC`."""
CONCENTRIC = 0.6
LEAN = 0.26
"""Sine of the angle by which an edge may lean: 15 degrees."""
ASIDE = 0.25
"""What a length along an edge counts beside one across it."""
OTHER_SORT = 0.05
"""Share of the size that a circle for an arc, or an arc for a circle, counts beside its like."""


@dataclass(frozen=True, slots=True)
class AttemptMatch:
    """What was found.

    Parameters
    ----------
    right : tuple of tuple of int
        For each feature of the key's outline the numbers of the drawing's that lie on it.
    near : mapping of int to int
        Features of the key that are there with another size, and those of the drawing.
    cost : float
        What those are off altogether, in the key's unit.
    """

    right: tuple[tuple[int, ...], ...]
    near: dict[int, int]
    cost: float

    @property
    def claimed(self) -> frozenset[int]:
        """Numbers of the drawing's features that are one of the key's, right or not."""
        return frozenset({n for those in self.right for n in those} | set(self.near.values()))


def match_attempt(key: PaperKey, hand: Sequence[Feature]) -> AttemptMatch:
    """Return what of a key a drawing has.

    Parameters
    ----------
    key : PaperKey
    hand : sequence of Feature
        As they lie on the key.
    """
    table = FeatureTable(hand)
    right: list[list[int]] = [[] for _ in key.outline]
    for i, j in (*_same_lines(key, table), *_same_rounds(key, table)):
        if _share(key.placed[i], hand[j].curve, key.within):
            right[i].append(j)
    open_ = [n for n in key.outline if not right[n]]
    taken = {j for those in right for j in those}
    free = [j for j in range(len(hand)) if j not in taken]
    costs = sorted((cost, i, j) for i in open_ for j in free
                   if (cost := _likeness(key, key.placed[i], hand[j].curve)) is not None)
    near: dict[int, int] = {}
    used: set[int] = set()
    total = 0.0
    for cost, i, j in costs:
        if i not in near and j not in used:
            near[i] = j
            used.add(j)
            total += cost
    return AttemptMatch(tuple(map(tuple, right)), near, total)


def _same_lines(key: PaperKey, hand: FeatureTable) -> list[tuple[int, int]]:
    mine = key.table
    if not len(mine.lines) or not len(hand.lines):
        return []
    # the ends of the shorter lie on the longer: what is longer than the key's is not held to it
    one, _ = line_gaps(mine.ends, hand.ends)
    other, _ = line_gaps(hand.ends, mine.ends)
    i, j = np.nonzero(np.minimum(one, other.T) <= key.within)
    return list(zip(mine.lines[i].tolist(), hand.lines[j].tolist(), strict=True))


def _same_rounds(key: PaperKey, hand: FeatureTable) -> list[tuple[int, int]]:
    mine = key.table
    if not len(mine.rounds) or not len(hand.rounds):
        return []
    apart = np.hypot(*np.moveaxis(mine.centers[:, None] - hand.centers[None, :], 2, 0))
    off: Floats = np.maximum(apart, np.abs(mine.radii[:, None] - hand.radii[None, :]))
    i, j = np.nonzero(off <= key.within)
    return list(zip(mine.rounds[i].tolist(), hand.rounds[j].tolist(), strict=True))


def _share(mine: Curve, theirs: Curve, within: float) -> bool:
    """Tell whether two curves on one carrier run along each other."""
    common = sum(piece.length for piece in overlap(mine, theirs, 4.0 * within))
    return common >= LEAST_SHARED * min(mine.length, theirs.length)


def _likeness(key: PaperKey, mine: Curve, theirs: Curve) -> float | None:
    """Return how far off a curve is from the one that it may be meant for; None where it is not."""
    if isinstance(mine, Line) or isinstance(theirs, Line):
        both = isinstance(mine, Line) and isinstance(theirs, Line)
        return _like_lines(key, mine, theirs) if both else None  # type: ignore[arg-type]
    return _like_rounds(key, mine, theirs)


def _like_lines(key: PaperKey, mine: Line, theirs: Line) -> float | None:
    lengths = sorted((mine.length, theirs.length))
    if not lengths[1] or lengths[0] < LIKE_LENGTH * lengths[1]:
        return None
    ends = np.array([[[*mine.start], [*mine.end]], [[*theirs.start], [*theirs.end]]])
    one, other = ways(ends)
    if abs(one[0] * other[1] - one[1] * other[0]) > LEAN:
        return None
    (across,), (along,) = (gap[0] for gap in line_gaps(ends[:1], ends[1:]))
    if across > NEAR_LINE * key.size or along > 0.5 * (lengths[0] + lengths[1]):
        return None
    return float(across + ASIDE * along)


def _like_rounds(key: PaperKey, mine: Arc | Circle, theirs: Arc | Circle) -> float | None:
    apart, off = dist(mine.center, theirs.center), abs(mine.radius - theirs.radius)
    larger = max(mine.radius, theirs.radius)
    if apart > NEAR_ROUND * key.size or off > (
            CONCENTRIC if apart <= key.within else LIKE_RADIUS) * larger:
        return None
    cost = apart + 2.0 * off
    if isinstance(mine, Arc) != isinstance(theirs, Arc):
        cost += OTHER_SORT * key.size
    return cost
