"""Something drawn that is too much or too short, and the edits that would mend it: plain values."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from sketcher.geometry.curves import XY
from sketcher.part.edited import Edited
from sketcher.part.edits import EDITS
from sketcher.part.value import Part

if TYPE_CHECKING:
    from sketcher.inspect.survey import Survey


@dataclass(frozen=True, slots=True)
class MendStep:
    """One edit by name, with what it is given."""

    edit: str
    given: tuple[Any, ...]
    options: tuple[tuple[str, Any], ...] = ()

    def names(self) -> Iterator[str]:
        """Give every text that the edit is given: the ids of what it works on are among them."""
        waiting = [*self.given, *(value for _, value in self.options)]
        while waiting:
            each = waiting.pop()
            if isinstance(each, str):
                yield each
            elif isinstance(each, tuple | list | set | frozenset):
                waiting += each

    def apply(self, part: Part) -> Edited:
        """Return what the edit makes of a part.

        Raises
        ------
        SketcherError
            When the part does not allow it.
        """
        return EDITS[self.edit](part, *self.given, **dict(self.options))


@dataclass(frozen=True, slots=True)
class MendWay:
    """An edit that would mend something, and what it does, as a button says it."""

    step: MendStep
    offer: str


@dataclass(frozen=True, slots=True)
class Defect:
    """A place in the outline that wants cleaning up.

    Parameters
    ----------
    kind : str
        Name of the mend that found it.
    ids : tuple of str
        Drawn curves concerned; the first is the one that would change or go.
    at : tuple of float
        A place to look at, in the part's unit.
    size : float
        The gap, or the length of what is too much, in the part's unit.
    text : str
        What is wrong, in one sentence.
    step : MendStep or None
        The edit that would mend it; None where only the person can tell what was meant.
    offer : str
        What the edit does, as a button says it.
    sure : bool
        False where the edit takes something away that may have been meant; then it is done only
        when asked for by itself.
    other : MendWay or None
        Another way to mend it, where what was meant is not the same.
    """

    kind: str
    ids: tuple[str, ...]
    at: XY
    size: float
    text: str
    step: MendStep | None = None
    offer: str = ""
    sure: bool = True
    other: MendWay | None = None


@dataclass(frozen=True, slots=True)
class Mend:
    """One kind of defect: its name, what it is called in a list, and how it is found.

    `order` tells which kinds come first: what has no length before what is there twice, both
    before gaps, gaps before leftovers.
    """

    name: str
    title: str
    order: int
    find: Callable[[Survey], Iterator[Defect]]
