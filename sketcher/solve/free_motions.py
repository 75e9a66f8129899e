"""The motions that a half still has, kept while conditions are added one by one.

A basis N of the null space of all rows so far, with orthonormal columns, answers for the gradient g
of a further row by v = g N: where |v| is nothing beside |g| the row follows from the others, else
it is independent and takes one motion away, which is one Householder reflection of N (Golub & Van
Loan, *Matrix Computations*, 5.1; from memory). Adding rows greedily by preference gives the
best-liked independent set, because independent rows form a matroid.

Reflections are put to N many at once, as one product ``I - W T W'`` (the same, 5.1.7): one by one
each would read and write all of N.
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

PORTION = 64
"""So many reflections are put to the basis at once (of 32, 64 and 96 tried the quickest)."""


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

    Beside it a half may be moved along them: `shift` is how far it has been.

    Parameters
    ----------
    slots : Slots
        The unknowns.
    basis : array, shape (slots, motions)
        The motions at first; left as it is.
    scale : array, shape (slots,)
        How readily each slot moves beside the others; motions are orthonormal in these units.
    least : float
        Share of a row's length below which it counts as following from the others.
    """

    def __init__(self, slots: Slots, basis: Array, scale: Array, least: float) -> None:
        self.slots, self.scale, self.least = slots, scale, least
        self._basis, self._shift = basis, np.zeros(slots.count)
        self._begin()

    def _begin(self) -> None:
        """Nothing is waiting to be put to the basis."""
        width = self._basis.shape[1]
        self._gone: list[int] = []
        self._mirrors, self._factor = np.zeros((PORTION, width)), np.zeros((PORTION, PORTION))
        self._waiting = np.zeros(width)
        self._moved = False

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
        basis = np.where(free[:, None], null[np.maximum(system.column, 0)], 0.0)
        spread = np.where(free, ease[np.maximum(system.column, 0)], 1.0)
        return cls(system.slots, basis, spread, least)

    def copy(self) -> FreeMotions:
        """Return the same motions once more, moved along none of them."""
        self._settle()
        return FreeMotions(self.slots, self._basis, self.scale, self.least)

    @property
    def count(self) -> int:
        """How many motions are left: degrees of freedom."""
        return int(self._basis.shape[1]) - len(self._gone)

    @property
    def shift(self) -> Array:
        """How far each slot has been moved, shape (slots,)."""
        if self._moved:
            self._shift = self._shift + self.scale * (self._basis @ self._waiting)
            self._waiting, self._moved = np.zeros_like(self._waiting), False
        return self._shift

    def seen(self, row: Gradient) -> Array:
        """Return what a row says about each motion; 0 about those that are gone."""
        v = (row.entries * self.scale[row.slots]) @ self._basis[row.slots]
        if self._gone:
            w, t = self._pending()
            v -= ((w @ v) @ t) @ w
            v[self._gone] = 0.0
        return np.asarray(v)

    def along(self, amounts: Array) -> Array:
        """Return the move of each slot under so much of each motion, as `seen` gives them."""
        return np.asarray(self.scale * (self._basis @ self._of_basis(amounts)))

    def move(self, amounts: Array) -> None:
        """Move along by so much of each motion, as `seen` gives them."""
        self._waiting = self._waiting + self._of_basis(amounts)
        self._moved = True

    def moved(self, row: Gradient) -> float:
        """Return by how much what a row measures has changed under `shift`."""
        here = self._shift[row.slots]
        if self._moved:
            here = here + self.scale[row.slots] * (self._basis[row.slots] @ self._waiting)
        return float(row.entries @ here)

    def _size(self, row: Gradient) -> float:
        return float(np.linalg.norm(row.entries * self.scale[row.slots]))

    def tells(self, row: Gradient, seen: Array) -> bool:
        """Tell whether a row, of which that is seen, takes a motion away."""
        return self.count > 0 and bool(np.linalg.norm(seen) > self.least * self._size(row))

    def add(self, row: Gradient) -> bool:
        """Take the motion away that a row forbids; False when it forbids none that is left."""
        v = self.seen(row)
        if not self.tells(row, v):
            return False
        u = v / np.linalg.norm(v)
        at = int(np.argmax(np.abs(u)))
        # reflected so that all that the row sees is in column `at`, which then goes
        u[at] += 1.0 if u[at] >= 0.0 else -1.0
        u *= 1.0 / np.linalg.norm(u)
        k = len(self._gone)
        w, t = self._pending()
        self._factor[:k, k] = -2.0 * (t @ (w @ u))
        self._factor[k, k] = 2.0
        self._mirrors[k] = u
        self._gone.append(at)
        if len(self._gone) == PORTION:
            self._settle()
        return True

    def _pending(self) -> tuple[Array, Array]:
        """W', shape (k, motions), and T, shape (k, k), of the reflections that wait."""
        k = len(self._gone)
        return self._mirrors[:k], self._factor[:k, :k]

    def _of_basis(self, amounts: Array) -> Array:
        """Return amounts of the motions that are left as amounts of the basis that is kept."""
        if not self._gone:
            return amounts
        w, t = self._pending()
        return np.asarray(amounts - (t @ (w @ amounts)) @ w)

    def _settle(self) -> None:
        """Put what waits to the basis."""
        if self._gone:
            self._shift = self.shift
            w, t = self._pending()
            left = np.delete(np.arange(self._basis.shape[1]), self._gone)
            change = (self._basis @ w.T @ t) @ w[:, left]
            self._basis = np.subtract(self._basis[:, left], change, out=change)
            self._begin()
