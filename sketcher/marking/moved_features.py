"""Which features of a key each of its values moves: what the outline can show of it at all."""

from __future__ import annotations

from collections.abc import Mapping

from sketcher.marking.assignment import matched
from sketcher.marking.changed_keys import ChangedKeys
from sketcher.marking.drawn_values import DrawnValues
from sketcher.marking.key_changes import KeyChange

NUDGE = {"mm": 0.2, "in": 0.01}
"""How far a value is moved to see what it moves; a degree for angles."""


def moved_features(keys: ChangedKeys, values: DrawnValues) -> Mapping[str, frozenset[int]]:
    """Return for each dimension and pattern field the features that it moves.

    Numbers of features are those of the key without changes; a value that moves none, as one that
    lays out what is not cut, has an empty set. Where no part comes of a small change, all are said
    to move.
    """
    base = keys.base.shape
    found: dict[str, frozenset[int]] = {}
    for name, value in values.values.items():
        angle = values.measures(name) == "angle"
        step = 1.0 if angle else NUDGE[keys.part.unit]
        change = values.figure(name, value + step) or values.figure(name, value - step)
        moved = None if change is None else _moved(keys, change)
        found[name] = frozenset(range(len(base.found))) if moved is None else moved
    return found


def _moved(keys: ChangedKeys, change: KeyChange) -> frozenset[int] | None:
    base = keys.base.shape
    other = keys.under((change,))
    if other is None:
        return None
    matching = matched(base.table, other.shape.table, base.size)
    off = {i for (i, _), gap in zip(matching.pairs, matching.off, strict=True)
           if gap > 0.01 * keys.within}
    return frozenset({*off, *matching.missing})
