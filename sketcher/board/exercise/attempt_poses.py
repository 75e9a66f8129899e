"""How an unfinished drawing lies beside the paper: where, and whether it is turned or mirrored.

A place is found by vote (`marking.poses`), first exactly, then roughly for what was sketched. As
long as little is there several poses do as well: the plain one is believed, or the one of the last
look.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import dist

from sketcher.board.exercise.attempt_match import AttemptMatch, match_attempt
from sketcher.board.exercise.paper_key import PaperKey
from sketcher.geometry.curves import Circle, Curve
from sketcher.interrupt import check
from sketcher.marking.assignment import FeatureTable
from sketcher.marking.free_turns import free_turns
from sketcher.marking.outline_features import Feature
from sketcher.marking.poses import Pose, carried, orientations, votes

ROUGH = 0.01
"""Of the size: what differs by less was sketched at one place."""
TURNED, MIRRORED, ODDLY = 0.3, 0.35, 1.6
"""What a turn by quarters, a mirror image and another turn cost, beside a feature that is right."""
AS_BEFORE = 0.1
NEARLY = 0.3
"""What a feature counts that is there with another size."""
END = 0.2
"""What an end counts that is where the paper has it."""
FEW = 3
"""Features that have to be there, if with other sizes, before anything is said where none is right:
one circle is like a circle of any paper."""
LOOKED_AT = 12
"""Poses that are looked at, of those with the most votes."""


@dataclass(frozen=True, slots=True)
class LaidAttempt:
    """A drawing as it lies on the key.

    Parameters
    ----------
    pose : Pose
        From the drawing's numbers to the key's.
    hand : tuple of Feature
        Those of the drawing, laid.
    match : AttemptMatch
    """

    pose: Pose
    hand: tuple[Feature, ...]
    match: AttemptMatch


def laid_attempt(
    key: PaperKey, hand: Sequence[Feature], scale: float = 1.0, before: Pose | None = None,
    turns: bool = True,
) -> LaidAttempt | None:
    """Return a drawing laid on a key as it fits best; None where nothing says where.

    Parameters
    ----------
    key : PaperKey
    hand : sequence of Feature
        In the drawing's own numbers.
    scale : float
        From those to the key's unit.
    before : Pose, optional
        How it lay at the last look.
    turns : bool
        Whether it may lie turned or mirrored.
    """
    best: tuple[float, LaidAttempt] | None = None
    for pose in _poses(key, hand, scale, before):
        check()
        if not (turns or _is_plain(pose)):
            continue
        laid = _laid(key, hand, pose)
        if not any(laid.match.right) and len(laid.match.near) < FEW:
            continue
        worth = _worth(key, laid) - _cost(pose, before, key.within)
        if best is None or worth > best[0] + 1e-9:
            best = (worth, laid)
            if not laid.match.near and len(laid.match.claimed) == len(hand) and _is_plain(pose):
                break  # all of it is right as it stands: no pose explains more
    return None if best is None or best[0] <= 0.0 else best[1]


def _laid(key: PaperKey, hand: Sequence[Feature], pose: Pose) -> LaidAttempt:
    laid = carried(hand, pose)
    return LaidAttempt(pose, laid, match_attempt(key, laid))


def _poses(
    key: PaperKey, hand: Sequence[Feature], scale: float, before: Pose | None
) -> Iterator[Pose]:
    """Give the poses to look at, the likeliest first; each place once."""
    table = FeatureTable(hand)
    seen: list[Pose] = []
    plain = [Pose(scale)]
    every = orientations([scale])
    if before is not None and before.scale == scale:
        yield before
    for ways, within in ((plain, key.within), (every, key.within), (plain, ROUGH * key.size)):
        found = sorted(votes(key.table, table, ways, within), key=lambda each: -each[0])
        tried = [each for each in found if not any(_same(each[1], pose, key.within)
                                                   for pose in seen)][:LOOKED_AT]
        for _, pose in tried:
            seen.append(pose)
            yield pose
            if within > key.within:
                yield _on_a_center(key, table, pose)
    odd = [Pose(scale, turn, mirrored)
           for turn, mirrored in free_turns(key.table, table, scale, key.within)]
    if odd and len(hand) > 1:
        found = sorted(votes(key.table, table, odd, ROUGH * key.size), key=lambda each: -each[0])
        yield from (pose for _, pose in found[:LOOKED_AT // 2])


def _on_a_center(key: PaperKey, hand: FeatureTable, pose: Pose) -> Pose:
    """Return a pose that puts the nearest like center where it should be: a rough vote blurs."""
    best: tuple[float, Pose] | None = None
    point = pose.placing()
    for at, radius in zip(hand.centers.tolist(), hand.radii.tolist(), strict=True):
        x, y = point((at[0], at[1]))
        for center, wanted in zip(key.table.centers.tolist(), key.table.radii.tolist(),
                                  strict=True):
            off = dist((x, y), center)
            if off <= ROUGH * key.size and abs(radius * pose.scale - wanted) <= key.within and (
                    best is None or off < best[0]):
                best = (off, replace(pose, shift=(pose.shift[0] + center[0] - x,
                                                  pose.shift[1] + center[1] - y)))
    return best[1] if best is not None else pose


def _worth(key: PaperKey, laid: LaidAttempt) -> float:
    worth = -0.01 * laid.match.cost / key.size + NEARLY * len(laid.match.near)
    for i in key.outline:
        those = [laid.hand[j].curve for j in laid.match.right[i]]
        if those:
            worth += 1.0 + END * sum(any(dist(at, end) <= 4.0 * key.within
                                         for curve in those for end in ends_of(curve))
                                     for at in ends_of(key.placed[i]))
    return worth


def _cost(pose: Pose, before: Pose | None, within: float) -> float:
    if before is not None and _same(pose, before, within):
        return _turn_cost(pose) - AS_BEFORE
    return _turn_cost(pose)


def _turn_cost(pose: Pose) -> float:
    if pose.turn % 90.0:
        return ODDLY
    return MIRRORED if pose.mirrored else TURNED if pose.turn else 0.0


def _is_plain(pose: Pose) -> bool:
    return not pose.turn and not pose.mirrored


def _same(one: Pose, other: Pose, within: float) -> bool:
    return one.mirrored == other.mirrored and one.scale == other.scale and (
        abs(one.turn - other.turn) < 1e-9) and dist(one.shift, other.shift) <= within


def ends_of(curve: Curve) -> tuple[tuple[float, float], ...]:
    """Return the two ends of a line or an arc; of a circle its center, where it must be."""
    if isinstance(curve, Circle):
        return (curve.center,)
    return (curve.start, curve.end)
