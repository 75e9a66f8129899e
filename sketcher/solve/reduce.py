"""Substitution: unknowns that are the same by a binding become one column, held ones none."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from sketcher.part.equations import Array


@dataclass(frozen=True, slots=True)
class Reduction:
    """Map from raw slots to columns.

    Attributes
    ----------
    column : int array
        Column of each raw slot, -1 where it is constant.
    root : int array
        Representative raw slot of each slot.
    width : int
        Number of columns.
    constant : float array
        Raw vector of the start, with held values spread over all that is joined to them.
    """

    column: Array
    root: Array
    width: int
    constant: Array

    def gather(self, raw: Array) -> Array:
        """Return one value a column: the mean of the slots joined in it."""
        free = self.column >= 0
        total = np.bincount(self.column[free], raw[free], self.width)
        return np.asarray(total / np.bincount(self.column[free], minlength=self.width))

    def spread(self, x: Array) -> Array:
        """Return the raw vector that belongs to the columns' values."""
        if not self.width:
            return self.constant.copy()
        return np.where(self.column >= 0, x[self.column], self.constant)


class Union:
    """Union-find on raw slots that also knows which roots are held and at what value."""

    def __init__(self, raw: Array) -> None:
        self.raw = raw
        self.parent = list(range(len(raw)))
        self.held: dict[int, float] = {}

    def find(self, slot: int) -> int:
        """Representative of a slot, with path halving."""
        parent = self.parent
        while parent[slot] != slot:
            parent[slot] = parent[parent[slot]]
            slot = parent[slot]
        return slot

    def hold(self, slot: int) -> bool:
        """Hold a slot at its value; False when it is held already."""
        root = self.find(slot)
        if root in self.held:
            return False
        self.held[root] = float(self.raw[slot])
        return True

    def join(self, one: int, other: int, within: float) -> str | None:
        """Make two slots one.

        Returns None, or ``"doubled"`` when they are one already (or are held at values that differ
        by no more than `within`), or ``"clashing"`` when they are held at different values.
        """
        a, b = self.find(one), self.find(other)
        if a == b:
            return "doubled"
        if b in self.held and a not in self.held:
            a, b = b, a
        self.parent[b] = a
        if b not in self.held:
            return None
        return "doubled" if abs(self.held.pop(b) - self.held[a]) <= within else "clashing"

    def finish(self) -> Reduction:
        """Return the columns."""
        root = np.array(self.parent, int)
        while True:
            above = root[root]
            if np.array_equal(above, root):
                break
            root = above
        constant = self.raw.astype(float)
        is_held = np.zeros(len(root), bool)
        if self.held:
            keys = np.fromiter(self.held, int, len(self.held))
            level = constant.copy()
            level[keys] = np.fromiter(self.held.values(), float, len(self.held))
            is_held[keys] = True
            constant = np.where(is_held[root], level[root], constant)
        free_roots = (root == np.arange(len(root))) & ~is_held
        number = np.cumsum(free_roots) - 1
        column = np.where(is_held[root], -1, number[root])
        return Reduction(column, root, int(free_roots.sum()), constant)


def reduce(
    raw: Array,
    held: Iterable[tuple[str, list[int]]],
    joined: Iterable[tuple[str, list[tuple[int, int]], bool]],
    within: float,
) -> tuple[Reduction, dict[str, str]]:
    """Join and hold slots.

    Parameters
    ----------
    raw : array
        Raw vector of the start.
    held : iterable of (binding id, slots)
        Slots that keep their value.
    joined : iterable of (binding id, pairs of slots, has rows)
        Slots that become one; a binding that also has rows is never said twice by its pairs alone.
    within : float
        Held values closer than this agree.

    Returns
    -------
    reduction : Reduction
    merged : dict of str to str
        ``"doubled"`` or ``"clashing"`` for bindings that added nothing or cannot hold.
    """
    union = Union(raw)
    merged: dict[str, str] = {}
    for name, slots in held:
        took = [union.hold(slot) for slot in slots]
        if not any(took):
            merged[name] = "doubled"
    for name, pairs, has_rows in joined:
        found = [union.join(one, other, within) for one, other in pairs]
        if "clashing" in found:
            merged[name] = "clashing"
        elif found and not has_rows and all(outcome == "doubled" for outcome in found):
            merged[name] = "doubled"
    return union.finish(), merged
