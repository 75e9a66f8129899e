"""The solve of a gesture: points follow the pointer as far as the bindings let them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import replace

import numpy as np

from sketcher.errors import EditError
from sketcher.geometry.curves import XY
from sketcher.part.equations import Array
from sketcher.part.value import CircleCurve, LineCurve, Part, frozen
from sketcher.solve.linear import Rows
from sketcher.solve.newton import EXACT, NewtonOutcome, newton
from sketcher.solve.search import search
from sketcher.solve.solve_report import Solution
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
        self.start = search(self.system)
        begun = concluded(self.system, self.start, judge=False)
        self.begun, self.last = begun, begun.part
        self.core, self.x = self.system, self.start.x
        piece = connected(begun.part, self.points)
        if begun.report.converged and len(piece.points) < len(part.points):
            self.core = System(piece, self.system.size)
            self.x = self.core.x0
        self._raw = self.core.raw(self.x)

    def to(self, targets: Mapping[str, XY]) -> Solution:
        """Solve with the dragged points as near to their targets as the bindings let them.

        Bound points stay. Targets of points that were not announced are refused by their name.
        The report tells no freedoms: they do not change during a gesture. What no binding
        connects with the dragged points is left alone; points that stay are the same objects in
        every solution.
        """
        if not self.begun.report.converged:
            return self.begun
        columns, goals = self._goals(targets)
        x = self._pulled(self.x, columns, goals)
        found = newton(self.core, x)
        if found.converged and self.core.kept(found.x)[0]:
            self.x = found.x
        else:
            rows = float(np.abs(self.core.residual(self.x)).max(initial=0.0))
            found = NewtonOutcome(self.x, rows, rows <= EXACT * self.core.size, found.iterations)
        self._move(self.core.raw(self.x))
        residuals = {**self.begun.report.residuals, **self.core.deviations(self.x)}
        return Solution(self.last, replace(
            self.begun.report, iterations=found.iterations, residuals=frozen(residuals),
            turned=self.core.unmet(self.x)))

    def _move(self, raw: Array) -> None:
        """Put what has moved since the last solution into the part, and nothing else."""
        names, last = self.core.names, self.last
        flat, moved = raw.tolist(), {names[k][0] for k in np.flatnonzero(raw != self._raw)}
        slots = self.core.slots
        points = {name: (flat[slots.points[name]], flat[slots.points[name] + 1])
                  for name in moved if name in slots.points}
        circles = {name: replace(curve, radius=flat[slots.radii[name]]) for name in moved
                   if isinstance(curve := last.curves.get(name), CircleCurve)}
        if points:
            last = last.having(points={**last.points, **points})
        if circles:
            last = last.having(curves={**last.curves, **circles})
        self.last, self._raw = last, raw

    def _goals(self, targets: Mapping[str, XY]) -> tuple[Array, Array]:
        """Columns that are pulled and where to; held unknowns are left out."""
        system, wanted = self.core, dict[int, list[float]]()
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
        limit, before, rows = 0.1 * self.core.size, np.inf, None
        for _ in range(STEPS):
            pull = np.zeros(len(x))
            pull[columns] = PULL * (goals - x[columns])
            free = weights * pull
            if rows is None:
                rows = Rows(self.core, x, weights=weights)
            step = free - rows.step(self.core.residual(x) + rows.change(free))
            longest = float(np.abs(step).max(initial=0.0))
            if longest > limit:
                step *= limit / longest
            x = x + step
            if longest <= NEAR * self.core.size:
                break
            if longest > 0.2 * before or longest > limit:
                rows = None
            before = longest
        return x


def connected(part: Part, names: Iterable[str]) -> Part:
    """Return what curves and driving bindings connect with the named points and rounds.

    Parameters
    ----------
    part : Part
    names : iterable of str
        Ids of points and curves.

    Returns
    -------
    Part
        Without mirror and patterns, in the order of the part.
    """
    links = [tuple(b.of) for b in part.bindings.values() if b.drives]
    named = {name for link in links for name in link}
    # a line that no binding names holds its ends at no distance and in no direction
    links += [(name, *curve.points) for name, curve in part.curves.items()
              if name in named or not isinstance(curve, LineCurve)]
    around: dict[str, list[tuple[str, ...]]] = defaultdict(list)
    for link in links:
        for name in link:
            around[name].append(link)
    found, open_ends = set(names), list(names)
    while open_ends:
        for link in around[open_ends.pop()]:
            fresh = [name for name in link if name not in found]
            found.update(fresh)
            open_ends += fresh
    return part.having(
        points={n: at for n, at in part.points.items() if n in found},
        curves={n: c for n, c in part.curves.items() if n in found},
        bindings={n: b for n, b in part.bindings.items()
                  if b.drives and not found.isdisjoint(b.of)},
        mirrors=(), patterns={},
    )
