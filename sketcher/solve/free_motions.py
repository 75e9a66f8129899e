"""The motions that a half still has, kept while conditions are added one by one.

A basis N of the null space of all rows so far, with orthonormal columns, answers for the gradient g
of a further row by v = g N: where |v| is nothing beside |g| the row follows from the others, else
it is independent and takes one motion away, which is one Householder reflection of N (Golub & Van
Loan, *Matrix Computations*, 5.1; from memory). Adding rows greedily by preference gives the
best-liked independent set, because independent rows form a matroid.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from sketcher.part.equations import Array
from sketcher.part.kinds import settle_sides
from sketcher.part.value import Part
from sketcher.solve.assemble import Assembly
from sketcher.solve.rank import null_space
from sketcher.solve.system import System
from sketcher.solve.unknowns import Slots
from sketcher.solve.witness import jacobian


@dataclass(frozen=True, slots=True)
class Gradient:
    """One row by the raw slots that it concerns: lengths by lengths, or radians by lengths."""

    slots: Array
    entries: Array


def gradients(part: Part) -> Mapping[str, tuple[Gradient, ...]]:
    """Return the rows of all arcs and driving bindings where the part stands, by their owner.

    What the solver would substitute (level, plumb, held points) is given as rows as well.
    """
    part = settle_sides(part)
    slots = Slots.of(part)
    raw = slots.values(part)
    assembly = Assembly(part, slots)
    found: dict[str, list[Gradient]] = {name: [] for name in assembly.owners}
    for block in assembly.blocks:
        rows = block.equation.jacobian(raw[block.slots], block.value, block.side)
        for number, owner in enumerate(block.owner.tolist()):
            found[assembly.owners[owner]] += [
                Gradient(block.slots[number], entries) for entries in rows[number]]
    for name, held in assembly.held:
        found[name] += [Gradient(np.array([slot]), np.ones(1)) for slot in held]
    for name, pairs, _ in assembly.joined:
        found[name] += [Gradient(np.array(pair), np.array([1.0, -1.0])) for pair in pairs
                        if pair[0] != pair[1]]
    return {name: tuple(rows) for name, rows in found.items()}


class FreeMotions:
    """An orthonormal basis of the motions that are left, over the raw slots of a part.

    It is kept as the first basis times what is left of its columns: a row that is added changes the
    small factor alone.

    Parameters
    ----------
    slots : Slots
        The unknowns.
    first : array, shape (slots, motions)
        The motions at first.
    scale : array, shape (slots,)
        How readily each slot moves beside the others; motions are orthonormal in these units.
    least : float
        Share of a row's length below which it counts as following from the others.
    """

    def __init__(self, slots: Slots, first: Array, scale: Array, least: float) -> None:
        self.slots, self.scale, self.least = slots, scale, least
        self._first, self._rest = first, np.eye(first.shape[1])

    @classmethod
    def of_all(cls, part: Part, least: float) -> FreeMotions:
        """Return the motions of a part that nothing binds."""
        slots = Slots.of(part)
        return cls(slots, np.eye(slots.count), np.ones(slots.count), least)

    @classmethod
    def under(cls, part: Part, least: float, scale: Array) -> FreeMotions:
        """Return the motions that the bindings of a solved part leave; see the class."""
        system = System(part)
        free = system.column >= 0
        total = np.bincount(system.column[free], scale[free] ** -2.0, system.width)
        ease = 1.0 / np.sqrt(total)
        null = null_space(jacobian(system, system.at(system.part)) * ease)
        # a column that slots share stands behind each of them; what is held has none
        first = np.where(free[:, None], null[np.maximum(system.column, 0)], 0.0)
        spread = np.where(free, ease[np.maximum(system.column, 0)], 1.0)
        return cls(system.slots, first, spread, least)

    @property
    def count(self) -> int:
        """How many motions are left: degrees of freedom."""
        return int(self._rest.shape[1])

    def seen(self, row: Gradient) -> Array:
        """Return what a row says about each motion, shape (count,)."""
        scaled = row.entries * self.scale[row.slots]
        return np.asarray(scaled @ self._first[row.slots] @ self._rest)

    def along(self, amounts: Array) -> Array:
        """Return the move of each slot under so much of each motion, shape (slots,)."""
        return np.asarray(self.scale * (self._first @ (self._rest @ amounts)))

    def _size(self, row: Gradient) -> float:
        return float(np.linalg.norm(row.entries * self.scale[row.slots]))

    def independent(self, row: Gradient) -> bool:
        """Tell whether a row takes a motion away."""
        return self.count > 0 and bool(
            np.linalg.norm(self.seen(row)) > self.least * self._size(row))

    def add(self, row: Gradient) -> bool:
        """Take the motion away that a row forbids; False when it forbids none that is left."""
        if not self.count:
            return False
        v = self.seen(row)
        long = float(np.linalg.norm(v))
        if long <= self.least * self._size(row):
            return False
        u = v / long
        at = int(np.argmax(np.abs(u)))
        w = u.copy()
        w[at] += 1.0 if u[at] >= 0.0 else -1.0
        # reflected so that all that the row sees is in column `at`, which then goes
        self._rest -= np.outer(self._rest @ w, w * (2.0 / float(w @ w)))
        self._rest[:, at] = self._rest[:, -1]
        self._rest = np.ascontiguousarray(self._rest[:, :-1])
        return True
