"""Clean-up: what is drawn twice, left over, without length or not quite joined; one kind a file.

Every defect comes with the edit that would mend it, as data, so that a window can show it first.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from functools import cache
from types import MappingProxyType
from typing import NamedTuple

from sketcher.inspect.mend import Defect, Mend, MendStep
from sketcher.inspect.survey import Survey
from sketcher.interrupt import check
from sketcher.part.edited import Edited
from sketcher.part.value import Part
from sketcher.registry import collect

ENDS = 2
MOST = 10_000
"""Mends in one go; far more than a drawing has, so that none can run for ever."""


@cache
def mends() -> Mapping[str, Mend]:
    """Return every kind of defect in the folder by name, in the order of mending."""
    found = sorted(collect(__name__, "MEND"), key=lambda mend: (mend.order, mend.name))
    return MappingProxyType({mend.name: mend for mend in found})


def defects(part: Part) -> tuple[Defect, ...]:
    """Return what wants cleaning up in a part's outline, in the order of mending.

    Raises
    ------
    SketcherError
        When the whole part cannot be made: an axis without length, a step that cannot be read.
    """
    survey = Survey(part)
    return tuple(defect for mend in mends().values() for defect in mend.find(survey))


def mend_all(part: Part) -> Edited:
    """Mend every defect whose mend is sure, one after the other, without solving in between.

    Returns
    -------
    Edited
        `said` tells how many were mended and what is left; the same part when there was nothing.
    """
    done = run(part)
    return Edited(done.part, summary(done.number, len(defects(done.part)), list(done.dropped)),
                  done.dropped)


class Turns:
    """Chooses what is mended next, and sees to it that mending comes to an end.

    The same kind of defect of the same curves is mended once for each end; what is there again
    after that is left to the person.
    """

    def __init__(self) -> None:
        self._taken: Counter[tuple[str, tuple[str, ...]]] = Counter()

    def next(self, found: Iterable[Defect]) -> Defect | None:
        """Return the first defect whose mend is sure and was not tried too often."""
        for defect, _ in self.alike(found):
            self.take(defect)
            return defect
        return None

    def alike(self, found: Iterable[Defect]) -> Iterator[tuple[Defect, MendStep]]:
        """Give with their steps the defects that could be next: one kind only, the first."""
        kind = None
        for defect in found:
            step = defect.step
            if kind in (None, defect.kind) and defect.sure and step is not None \
                    and self._taken[defect.kind, defect.ids] < ENDS:
                kind = defect.kind
                yield defect, step

    def take(self, defect: Defect) -> None:
        """Note that a defect is being mended."""
        self._taken[defect.kind, defect.ids] += 1

    def give_up(self, defect: Defect) -> None:
        """Leave a defect alone from now on."""
        self._taken[defect.kind, defect.ids] = ENDS


class CleanupRun(NamedTuple):
    """The part after `number` mends, and the bindings that these dropped."""

    part: Part
    number: int
    dropped: tuple[str, ...]


def run(part: Part) -> CleanupRun:
    """Mend every defect whose mend is sure, one after the other.

    Looking for defects takes as long as the part is large, so they are not looked for after every
    mend: of one kind all are mended whose curves none of the mends before has touched.
    """
    dropped: list[str] = []
    number, turns = 0, Turns()
    while number < MOST:
        touched: set[str] = set()
        before = number
        for defect, step in turns.alike(defects(part)):
            check()
            if touched.isdisjoint(defect.ids) and touched.isdisjoint(step.names()):
                turns.take(defect)
                edited = step.apply(part)
                touched |= _changed(part, edited.part)
                part, number = edited.part, number + 1
                dropped += edited.dropped
        if number == before:
            break
    return CleanupRun(part, number, tuple(dict.fromkeys(dropped)))


def _changed(was: Part, now: Part) -> set[str]:
    """Return the curves and points of a part that another part has not, or has elsewhere."""
    points = {name for name, at in was.points.items() if now.points.get(name) != at}
    return points | {name for name, curve in was.curves.items()
                     if now.curves.get(name) != curve or not points.isdisjoint(curve.points)}


def summary(done: int, left: int, dropped: list[str]) -> str:
    """Return what a clean-up did, in one sentence.

    Parameters
    ----------
    done, left : int
        Defects that were mended, and that are still there.
    dropped : list of str
        Ids of bindings that went with them; each is told once.
    """
    said = "nothing to clean up" if not done and not left else f"mended {done}"
    if left:
        said += f", {left} left"
    if dropped:
        said += f"; dropped {', '.join(dict.fromkeys(dropped))}"
    return said
