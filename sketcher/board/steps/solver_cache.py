"""The solver of a bench, asked through its worker: a large part takes long."""

from __future__ import annotations

import sys
import threading
from collections.abc import Callable
from importlib import import_module

from sketcher.board.job import Job, Worker, reunited
from sketcher.part.instances import copies
from sketcher.part.value import Part
from sketcher.solve.solve_report import Solution, SolveReport

Solver = Callable[[Part], Solution]

FEW = 70
"""Points and bindings up to which no part needs the large library below."""
IN_PLACE = 0.08
"""Seconds that a solve may take in place: little else happens in the event that asks for it."""
CROWD, IN_CROWD = 500, 0.03
"""From so many copies of a curve on, showing the part takes most of that event: less is left."""
SOLVER = ("sketcher.inspect.sketched", "sketcher.solve.solver", "sketcher.solve.rivals")
"""What a solve imports when it is first asked for."""
LIBRARY = "scipy.sparse.linalg"


def default_solver(part: Part) -> Solution:
    """Solve a part; an empty one needs no solver."""
    if not part.points:
        return Solution(part, SolveReport())
    from sketcher.inspect.sketched import solve_sketch

    return solve_sketch(part)


REMEMBERED = 1000
"""Solved parts whose reports are kept: undo and redo over so many steps need no solver."""


class Solving:
    """Asks the solver, and remembers what it said of the last parts.

    Parameters
    ----------
    solver : callable
        From a part to a `Solution`; a function of a module, so that another process finds it.
    """

    def __init__(self, solver: Solver) -> None:
        self.solver = solver
        self._last: tuple[Part, Solution] | None = None
        self._known: dict[int, tuple[Part, SolveReport]] = {}  # by identity, oldest first

    def remembered(self, part: Part, now: Solution) -> Solution | None:
        """Return the solution of a part where it is known; `now` is what the part replaces."""
        if self._last is not None and (self._last[0] is part or self._last[1].part is part):
            return self._last[1]
        known = self._known.get(id(part))
        if known is not None and known[0] is part:
            return Solution(*known)
        return Solution(part, now.report) if solves_alike(part, now.part) else None

    def remember(self, part: Part, solution: Solution) -> None:
        """Keep the solution of a part."""
        self._last = (part, solution)
        # The part is held with its report, for an identity is only good while the part lives.
        self._known.pop(id(solution.part), None)
        self._known[id(solution.part)] = (solution.part, solution.report)
        if len(self._known) > REMEMBERED:
            del self._known[next(iter(self._known))]

    def tried(self, part: Part, worker: Worker, keeps: Part | None = None) -> Solution:
        """Return the solution of any part; what the recovery copy has to hold first is `keeps`.

        Raises
        ------
        Stopped
            When it took long and the person thought better of it.
        """
        ready = is_ready(part)
        if ready:
            for module in SOLVER:  # what is loaded once does not count as time taken
                import_module(module)
        quick = 0.0 if not ready else IN_PLACE if copies(part) < CROWD else IN_CROWD
        solution = worker.finish(Job("Solving", self.solver, (part,), quick, keeps))
        if not ready and LIBRARY not in sys.modules:
            threading.Thread(target=import_module, args=(LIBRARY,), daemon=True).start()
        return Solution(reunited(part, solution.part), solution.report)


def is_ready(part: Part) -> bool:
    """Tell whether the solver can begin on a part at once.

    Large systems need a library that takes a quarter of a second to load. Where somebody waits, it
    is loaded on the side while the first large part is solved elsewhere.
    """
    few = max(len(part.points), len(part.bindings)) <= FEW
    return few or LIBRARY in sys.modules


def solves_alike(one: Part, other: Part) -> bool:
    """Tell whether two parts differ in nothing that a solve looks at: names, notes, texts."""
    return one.unit == other.unit and all(
        getattr(one, name) is getattr(other, name)
        for name in ("points", "curves", "bindings", "parameters")
    )
