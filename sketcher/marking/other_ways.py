"""Sides and counts that a hand-in may have drawn otherwise: solved once for a class.

Each is a whole other part, so it is only looked at where features of the hand-in that the key does
not explain lie on it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from sketcher.interrupt import check
from sketcher.marking.assignment import FeatureTable, line_gaps
from sketcher.marking.changed_keys import ChangedKey, ChangedKeys
from sketcher.marking.drawn_values import DrawnValues
from sketcher.marking.key_changes import KeyChange
from sketcher.marking.laid import Explanation
from sketcher.part.value import GridPattern

COUNTS = (-1, 1, -2, 2)
TRIED = 4
"""Ways that are tried on one hand-in: those that explain most."""


@dataclass(frozen=True, slots=True)
class OtherWay:
    """A side or count of the key the other way, and the features that only it has."""

    change: KeyChange
    key: ChangedKey
    own: FeatureTable
    sources: frozenset[str]


class OtherWays:
    """All sides and counts of a key that make another part."""

    def __init__(self, keys: ChangedKeys, values: DrawnValues) -> None:
        self._keys, self._values = keys, values

    def likely(self, seen: Explanation) -> list[OtherWay]:
        """Return the ways that may explain what is off in a hand-in, the likeliest first."""
        within = seen.shape.within
        off = {pair for pair, gap in zip(seen.matching.pairs, seen.matching.off, strict=True)
               if gap > within}
        theirs = [seen.hand[j] for j in sorted({j for _, j in off} | set(seen.matching.extra))]
        mine = {seen.shape.pieces[n].source
                for i in {i for i, _ in off} | set(seen.matching.missing)
                for n in seen.shape.found[i].sources}
        taken = {(c.sort, c.name) for c in seen.changes}
        drawn = FeatureTable(theirs)
        ranked = []
        for number, way in enumerate(self.ways):
            if (way.change.sort, way.change.name) in taken:
                continue
            hits = int(_on(drawn, way.own, within).sum())
            touched = len(way.sources & mine)
            # a lesser count has nothing of its own: it only leaves holes out
            fewer = not way.own.found and touched and seen.matching.missing
            if hits or fewer or (touched and len(theirs) > 1):
                ranked.append((-hits, -touched, number, way))
        ranked.sort(key=lambda each: each[:3])
        return [way for *_, way in ranked[:TRIED]]

    @cached_property
    def ways(self) -> Sequence[OtherWay]:
        """All of them."""
        base = self._keys.base.shape
        found: list[OtherWay] = []
        for change in self._changes():
            check()
            key = self._keys.under((change,))
            if key is None:
                continue
            own = np.flatnonzero(~_on(key.shape.table, base.table, base.within)).tolist()
            gone = np.flatnonzero(~_on(base.table, key.shape.table, base.within)).tolist()
            if own or gone:
                sources = {shape.pieces[n].source
                           for shape, features in ((key.shape, own), (base, gone))
                           for f in features for n in shape.found[f].sources}
                found.append(OtherWay(change, key, FeatureTable(
                    [key.shape.found[f] for f in own]), frozenset(sources)))
        return found

    def _changes(self) -> Iterator[KeyChange]:
        part = self._keys.part
        for name, binding in part.bindings.items():
            for side in self._values.other_sides(binding):
                yield KeyChange("side", name, binding.side or "", side)
        for name, pattern in part.patterns.items():
            grid = isinstance(pattern, GridPattern)
            counts = pattern.count if isinstance(pattern, GridPattern) else (pattern.count,)
            for k, count in enumerate(counts):
                for step in COUNTS:
                    if count > 1 and count + step >= 1:
                        where = f"{name}.count.{k}" if grid else f"{name}.count"
                        yield KeyChange("count", where, str(count), str(count + step))


def _on(some: FeatureTable, others: FeatureTable, within: float) -> np.ndarray:
    """Tell for each of some features whether one of the others has its carrier and its place."""
    found = np.zeros(len(some.found), bool)
    if len(some.lines) and len(others.lines):
        across, along = line_gaps(others.ends, some.ends)
        back, _ = line_gaps(some.ends, others.ends)
        half = 0.5 * np.hypot(*(others.ends[:, 1] - others.ends[:, 0]).T)
        found[some.lines] = ((np.maximum(across, back.T) <= within)
                             & (along <= half[:, None])).any(axis=0)
    if len(some.rounds) and len(others.rounds):
        apart = np.hypot(*np.moveaxis(some.centers[:, None] - others.centers[None], 2, 0))
        dr = np.abs(some.radii[:, None] - others.radii[None])
        turned = np.hypot(*np.moveaxis(some.middles[:, None] - others.middles[None], 2, 0))
        found[some.rounds] = ((np.maximum(apart, dr) <= within) & (
            turned <= np.maximum(within, others.radii)[None])).any(axis=1)
    return found
