"""Name what a hand-in drew otherwise than the key: read first, solve again to confirm.

The best of a few poses are read (`value_reading`); what was read becomes round figures of
dimensions and parameters (`drawn_values`); the key is solved with them and laid beside the hand-in
again (`laid`). The cheapest explanation counts: a wrong value is cheaper than a feature that is
off, but not than nothing.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from functools import cached_property
from itertools import combinations

from sketcher.interrupt import check
from sketcher.marking.assignment import FeatureTable
from sketcher.marking.changed_keys import ChangedKeys
from sketcher.marking.drawn_values import DrawnValues
from sketcher.marking.free_turns import free_turns
from sketcher.marking.key_changes import KeyChange
from sketcher.marking.key_shape import Floats
from sketcher.marking.laid import Explanation, laid, pose_cost
from sketcher.marking.moved_features import moved_features
from sketcher.marking.other_ways import OtherWays
from sketcher.marking.outline_features import Feature
from sketcher.marking.poses import Pose, orientations, votes
from sketcher.marking.value_reading import read_values
from sketcher.part.value import Part

POSES, VOTED = 5, 8
"""Poses that are read, and that are looked at first."""
ROUNDS = 3
CHEAPEST = 0.9
"""No change of the key costs less."""
FEW = 0.1
"""Share of the key's features that may be off for other reasons where a pose is believed."""
MOST_CHANGES = 8
"""More wrong values than this are another drawing: nothing is solved for them."""
NEARLY_ALL = 0.9
"""Share of the features beyond which no other side or count is tried: it is another drawing."""
MUCH = 0.5
"""Share of the key's features beyond which other turns are looked at as well."""
USUAL = 3
"""Wrong values in one hand-in: where more are named it lies otherwise."""
PLAIN = range(3)
"""Ranks of round figures that a paper may print for the direction of a whole part."""
EXACTLY = 5e-4
"""Degrees by which the direction of a whole part may miss a whole or half degree."""
LIKE_ENOUGH = 0.6
"""A pose whose features are together so much further off than the best's is not read."""

class Explainer:
    """A key made ready: what is known of it is computed once for all hand-ins.

    Parameters
    ----------
    part : Part
        Solved.
    within : float
        Tolerance in the part's unit.
    """

    def __init__(self, part: Part, within: float) -> None:
        self.within = within
        self.keys = ChangedKeys(part, within)
        self.key = self.keys.base.shape
        self._values = DrawnValues(part, within)
        self.shown = moved_features(self.keys, self._values)
        self._values.visible = frozenset(name for name, moved in self.shown.items() if moved)
        self._others = OtherWays(self.keys, self._values)

    def explain(self, hand: Sequence[Feature], scales: Sequence[float] = (1.0,)
                ) -> Explanation | None:
        """Return the cheapest explanation of a hand-in that was found.

        Parameters
        ----------
        hand : sequence of Feature
            Of its outline, in the file's own numbers.
        scales : sequence of float
            Factors from those to the key's unit that are thought of.
        """
        best: Explanation | None = None
        poses = self._poses(hand, scales)
        for pose in poses:
            check()
            if best is not None and (best.cost <= CHEAPEST + pose_cost(pose)
                                     or (best.wrong <= FEW * len(self.key.found)
                                     and len(best.changes) <= USUAL)):
                break  # poses come by how near they are: later ones would explain less
            found = self._explained((), hand, pose, best)
            if found is not None and (best is None or found.cost < best.cost - 1e-9):
                best = found
        if best is not None and 0 < best.wrong <= NEARLY_ALL * len(best.shape.found):
            best = self._another_way(hand, best, poses)
        return None if best is None else self._turned(hand, best)

    def undecided(self, seen: Explanation) -> tuple[str, ...]:
        """Return the values of the key that only features which lack here would have shown."""
        if seen.shape is not self.key and any(c.sort == "count" for c in seen.changes):
            return ()  # its features have other numbers
        lacking = set(seen.matching.missing)
        return tuple(name for name, moved in self.shown.items() if moved and moved <= lacking)

    def _poses(self, hand: Sequence[Feature], scales: Sequence[float]) -> list[Pose]:
        """Return the poses in which a hand-in is most like the key, the likeliest first."""
        table = FeatureTable(hand)
        tried = self._tried(table, orientations(scales))
        if not tried or tried[0][1] > MUCH * len(self.key.found):
            tried += self._tried(table, [
                Pose(scale, turn, mirrored) for scale in scales
                for turn, mirrored in free_turns(self.key.table, table, scale, self.within)])
            tried.sort(key=lambda each: each[0])
        return [pose for off, _, pose in tried[:POSES] if off <= 2.0 * tried[0][0] + LIKE_ENOUGH]

    def _tried(self, hand: FeatureTable, ways: Sequence[Pose]) -> list[tuple[float, int, Pose]]:
        """Return how far off a hand-in is in its likeliest places, how much of it, and the pose."""
        voted = sorted(votes(self.key.table, hand, ways, self.within),
                       key=lambda each: -each[0])[:VOTED]
        tried = []
        far = 0.1 * self.key.size
        for _, pose in voted:
            found = laid((), self.keys.base, hand.found, pose)
            off = sum(min(gap, far) ** 0.5 for gap in found.matching.off if gap > self.within)
            off += far ** 0.5 * (len(found.matching.missing) + len(found.matching.extra))
            tried.append((off / far ** 0.5 + pose_cost(pose), found.wrong, found.pose))
        return sorted(tried, key=lambda each: each[0])

    def _explained(
        self, first: tuple[KeyChange, ...], hand: Sequence[Feature], pose: Pose,
        rival: Explanation | None = None,
    ) -> Explanation | None:
        """Return the best explanation in one pose, from some sides and counts on."""
        key = self.keys.under(first)
        if key is None:
            return None
        seen = best = laid(first, key, hand, pose)
        near: Floats | None = None
        for _ in range(ROUNDS):
            if not seen.wrong:
                break
            reading = read_values(key, seen, near)
            changes = self._values.changes(reading, seen)
            if _same(changes, seen.changes) or len(changes) > MOST_CHANGES:
                break
            if rival is not None and sum(c.cost for c in changes) + pose_cost(pose) >= rival.cost:
                break
            under = self.keys.under(changes, reading.x)
            if under is None:
                break
            near = reading.x
            at = replace(seen.pose, shift=(seen.pose.shift[0] - float(reading.shift[0]),
                                           seen.pose.shift[1] - float(reading.shift[1])))
            seen = laid(changes, under, hand, at)
            if seen.cost < best.cost - 1e-9:
                best = seen
        best = self._pruned(hand, best, near)
        if seen.changes != best.changes and best.wrong:
            # a hole that was moved on one side alone drags values along that are right
            other = self._pruned(hand, seen, near)
            best = other if other.cost < best.cost - 1e-9 else best
        return best

    def _pruned(
        self, hand: Sequence[Feature], seen: Explanation, near: Floats | None
    ) -> Explanation:
        """Drop changes, singly and in pairs, while that makes it cheaper."""
        if seen.wrong > MUCH * len(seen.shape.found):
            return seen  # what leaves so much unexplained is not worth the solving
        while len(seen.changes) > 1:
            best = seen
            for rest in self._fewer(seen):
                key = self.keys.under(rest, near)
                if key is not None:
                    found = laid(rest, key, hand, seen.pose)
                    if found.cost < best.cost - 1e-9:
                        best = found
            if best is seen:
                break
            seen = best
        return seen

    def _fewer(self, seen: Explanation) -> Iterator[tuple[KeyChange, ...]]:
        """Yield the changes less one, and less two where these may be no values at all."""
        for many in (1, 2):
            for drop in combinations(seen.changes, many):
                if many == 1 or self._aside(drop) or (seen.wrong and len(seen.changes) > 2):
                    yield tuple(c for c in seen.changes if c not in drop)

    def _aside(self, changes: Sequence[KeyChange]) -> bool:
        """Whether changes look like a hole that was put aside: odd places, no size."""
        return all(c.rank < 0 and not self._values.sizes(c.name) for c in changes)

    def _another_way(
        self, hand: Sequence[Feature], best: Explanation, poses: Sequence[Pose]
    ) -> Explanation:
        """Try other sides and counts where something is still off.

        Poses that are one for a symmetric key may differ for a way that is less so.
        """
        for way in self._others.likely(best):
            check()
            change = (way.change,)
            pose = min((best.pose, *poses),
                       key=lambda each: laid(change, way.key, hand, each).wrong)
            found = self._explained(change, hand, pose)
            if found is not None and found.cost < best.cost - 1e-9:
                best = found
                if not best.wrong:
                    break
        return best

    def _turned(self, hand: Sequence[Feature], best: Explanation) -> Explanation:
        """Take an odd turn for a wrong value where one of the key turns all of it."""
        if best.pose.turn % 90.0 == 0.0:
            return best
        off = (best.pose.turn + 45.0) % 90.0 - 45.0
        pose = replace(best.pose, turn=(best.pose.turn - off) % 360.0)
        for name, step in ((name, step) for name in self._turning for step in (off, -off)):
            read = {name: self._values.values[name] + step}
            changes = (*best.changes, *self._values.named(read))
            if not self._plainly(changes[len(best.changes):], read):
                continue
            key = self.keys.under(changes)
            if key is None:
                continue
            # about which place it turns is found by vote again
            for _, placed in votes(key.shape.table, FeatureTable(hand), [pose], self.within):
                found = laid(changes, key, hand, placed)
                if found.wrong <= best.wrong:
                    return found
        return best

    def _plainly(self, changes: Sequence[KeyChange], read: Mapping[str, float]) -> bool:
        """Tell whether what was read is a plain figure to the last digit: a turn may be any."""
        return len(changes) == 1 and changes[0].rank in PLAIN and all(
            min(abs(value * k - round(value * k)) / k for k in (1, 2)) <= EXACTLY
            for value in read.values())

    @cached_property
    def _turning(self) -> tuple[str, ...]:
        """Angles that turn every feature of the key: where it lies on the sheet."""
        return tuple(name for name, moved in self.shown.items() if len(moved) == len(
            self.key.found) and self._values.measures(name) == "angle")


def _same(some: Sequence[KeyChange], others: Sequence[KeyChange]) -> bool:
    return {(c.name, c.found) for c in some} == {(c.name, c.found) for c in others}
