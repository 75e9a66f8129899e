"""The solve of a gesture: points follow the pointer as far as the bindings let them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

import numpy as np

from sketcher.errors import EditError
from sketcher.geometry.curves import XY
from sketcher.part.equations import Array
from sketcher.part.value import Part
from sketcher.solve.linear import Rows
from sketcher.solve.newton import EXACT, Outcome, newton
from sketcher.solve.report import Solution
from sketcher.solve.search import search
from sketcher.solve.solver import concluded
from sketcher.solve.system import System

PULL = 1e4
"""Weight of a dragged unknown's distance from its target against the move of any other."""
STEPS = 8
NEAR = 1e-4
"""A step shorter than this part of the size is the last: the next would be far below a pixel."""


class Drag:
    """A gesture on a part: made at the press, asked at every move.

    Parameters
    ----------
    part : Part
        The part at the press.
    points : iterable of str
        Points that are dragged; an arc's or a circle's id drags its radius.

    Raises
    ------
    EditError
        For an id that is neither a point nor a round.
    """

    def __init__(self, part: Part, points: Iterable[str]) -> None:
        self.system = System(part)
        self.points = tuple(points)
        slots = self.system.slots
        for name in self.points:
            if name not in slots.points and name not in slots.radii:
                raise EditError(name, "no point, arc or circle of this name to drag")
        found = search(self.system)
        self.start = found
        self.x = found.x if found.converged else self.system.x0

    def to(self, targets: Mapping[str, XY]) -> Solution:
        """Solve with the dragged points as near to their targets as the bindings let them.

        Bound points stay. Targets of points that were not announced are refused by their name.
        The report tells no freedoms: they do not change during a gesture.
        """
        if not self.start.converged:
            return concluded(self.system, self.start, judge=False)
        columns, goals = self._goals(targets)
        x = self._pulled(self.x, columns, goals)
        found = newton(self.system, x)
        if found.converged and self.system.kept(found.x)[0]:
            self.x = found.x
        else:
            rows = float(np.abs(self.system.residual(self.x)).max(initial=0.0))
            found = Outcome(self.x, rows, rows <= EXACT * self.system.size, found.iterations)
        return concluded(self.system, found, judge=False)

    def _goals(self, targets: Mapping[str, XY]) -> tuple[Array, Array]:
        """Columns that are pulled and where to; held unknowns are left out."""
        system, wanted = self.system, dict[int, list[float]]()
        raw = system.raw(self.x)
        for name, (x, y) in targets.items():
            if name not in self.points:
                raise EditError(name, "is not part of this drag")
            first = system.slots.points.get(name)
            if first is None:
                curve = system.part.curves[name]
                center = system.slots.points[curve.points[-1]]
                reach = float(np.hypot(x - raw[center], y - raw[center + 1]))
                pulls = [(system.slots.radii[name], reach)]
            else:
                pulls = [(first, x), (first + 1, y)]
            for slot, goal in pulls:
                if system.column[slot] >= 0:
                    wanted.setdefault(int(system.column[slot]), []).append(goal)
        columns = np.array(list(wanted), int)
        return columns, np.array([np.mean(goals) for goals in wanted.values()])

    def _pulled(self, x: Array, columns: Array, goals: Array) -> Array:
        """Unknowns with the dragged ones at their goals as far as the linear model allows.

        Minimises |step|**2 + PULL * |x + step - goal|**2 over the pulled columns subject to
        rows + J step = 0: the weights are diagonal, so one solve with J W J' does it (Nocedal &
        Wright, *Numerical Optimization*, 2nd ed., 16.2; from memory). The factors are kept while
        the steps shrink fast.
        """
        weights = np.ones(len(x))
        weights[columns] = 1.0 / (1.0 + PULL)
        limit, before, rows = 0.1 * self.system.size, np.inf, None
        for _ in range(STEPS):
            pull = np.zeros(len(x))
            pull[columns] = PULL * (goals - x[columns])
            free = weights * pull
            if rows is None:
                rows = Rows(self.system, x, weights=weights)
            step = free - rows.step(self.system.residual(x) + rows.change(free))
            longest = float(np.abs(step).max(initial=0.0))
            if longest > limit:
                step *= limit / longest
            x = x + step
            if longest <= NEAR * self.system.size:
                break
            if longest > 0.2 * before or longest > limit:
                rows = None
            before = longest
        return x
