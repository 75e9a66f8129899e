"""The key under changes, solved; what was solved once is kept."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable
from typing import NamedTuple

from sketcher.errors import SketcherError
from sketcher.marking.key_changes import KeyChange, changed
from sketcher.marking.key_shape import Floats, KeyShape
from sketcher.part.value import Part
from sketcher.solve.newton import NewtonOutcome, newton
from sketcher.solve.search import straight
from sketcher.solve.system import System
from sketcher.solve.walk import walk

KEPT = 400
"""Changed keys kept: a class makes the same mistakes again."""


class ChangedKey(NamedTuple):
    """The key under changes: its shape, its equations, its unknowns."""

    shape: KeyShape
    system: System
    x: Floats


class ChangedKeys:
    """A key, and the keys that come of it under changes.

    Parameters
    ----------
    part : Part
        Solved.
    within : float
        Tolerance in the part's unit.
    """

    def __init__(self, part: Part, within: float) -> None:
        self.part, self.within = part, within
        system = System(part)
        self.base = ChangedKey(KeyShape(part, within), system, system.x0)
        self._kept: OrderedDict[tuple[KeyChange, ...], ChangedKey | None] = OrderedDict()

    def under(
        self, changes: tuple[KeyChange, ...], near: Floats | None = None
    ) -> ChangedKey | None:
        """Return the key under changes; None where no part comes of them.

        Parameters
        ----------
        changes : tuple of KeyChange
            In any order.
        near : array, optional
            Unknowns near the solution, as they were read off a hand-in.
        """
        if not changes:
            return self.base
        ordered = tuple(sorted(changes, key=lambda each: (each.sort, each.name)))
        if ordered not in self._kept:
            self._kept[ordered] = self._solved(ordered, near)
            if len(self._kept) > KEPT:
                self._kept.popitem(last=False)
        self._kept.move_to_end(ordered)
        return self._kept[ordered]

    def _solved(self, changes: tuple[KeyChange, ...], near: Floats | None) -> ChangedKey | None:
        try:
            system = System(changed(self.part, changes))
            found = self._outcome(system, near, any(each.sort == "side" for each in changes))
            if found is None:
                return None
            return ChangedKey(KeyShape(system.to_part(found.x), self.within), system, found.x)
        except SketcherError:
            return None

    def _outcome(self, system: System, near: Floats | None, sides: bool) -> NewtonOutcome | None:
        """Solve from what was read, then from the key.

        Sides that no part has are many: no search among random starts.
        """
        if near is not None and len(near) == system.width:
            found = newton(system, near, most=20)
            if found.converged and system.kept(found.x) == (True, 0):
                return found
        tries: list[Callable[[], NewtonOutcome]] = [
            lambda: straight(system, system.x0),
            lambda: newton(system, system.mended(system.x0)),
            lambda: walk(system, system.x0)]
        for attempt in tries if sides else reversed(tries):
            found = attempt()
            if found.converged and system.kept(found.x) == (True, 0):
                return found
        return None
