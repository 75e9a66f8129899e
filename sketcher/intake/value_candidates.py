"""What the offered dimensions of a half measure where it stands, and their rows.

They are worked out once, class by class, and not before they are needed: a half is read in several
passes, and perhaps once more with figures of the other unit.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import islice

from sketcher.errors import SketcherError
from sketcher.intake.sketch_conditions import Seen
from sketcher.intake.sketch_dimensions import Offered, Offers, further, usual
from sketcher.part.kinds import KINDS, bind
from sketcher.part.value import Binding, Part
from sketcher.solve.free_motions import Gradient, gradients

PORTION = 512
"""So many are turned into rows at once."""


@dataclass(slots=True)
class Readable:
    """A dimension that may be read: what it measures, in its equation's units, and its row."""

    offered: Offered
    binding: Binding
    row: Gradient
    measured: float

    @property
    def angle(self) -> bool:
        """Whether it measures an angle."""
        return bool(self.offered.sort == "angle")


Group = list[list[Readable]]
"""A class in order; those of one inner list say nearly the same, the first is liked best."""


class ValueCandidates:
    """The dimensions of a half that may be read, in a drafter's order.

    Parameters
    ----------
    seen : Seen
        The half where it stands.
    """

    def __init__(self, seen: Seen) -> None:
        self.seen = seen
        self.usual = _Classes(seen.part, usual(seen))
        self.further = _Classes(seen.part, further(seen))


class _Classes:
    def __init__(self, part: Part, offers: Iterator[Offers]) -> None:
        self._part, self._made = part, list[Group]()
        self._left = offers

    def __iter__(self) -> Iterator[Group]:
        at = 0
        while at < len(self._made) or self._make():
            yield self._made[at]
            at += 1

    def _make(self) -> bool:
        offers = next(self._left, None)
        if offers is None:
            return False
        group: Group = []
        while portion := list(islice(offers, PORTION)):
            group += _readable(self._part, portion)
        self._made.append(group)
        return True


def _readable(part: Part, portion: list[tuple[Offered, ...]]) -> Group:
    made: dict[str, tuple[int, Offered, Binding]] = {}
    for number, rivals in enumerate(portion):
        for place, offered in enumerate(rivals):
            try:
                binding = bind(part, offered.kind, offered.of)
            except SketcherError:  # measures nothing here
                continue
            made[f"{number} {place}"] = number, offered, binding
    rows = gradients(part.having(bindings={
        name: binding for name, (_, _, binding) in made.items()}))
    found: Group = [[] for _ in portion]
    for name, (number, offered, binding) in made.items():
        if len(rows[name]) != 1:
            continue
        measured = KINDS[binding.kind].actual(part, binding, None)
        found[number].append(Readable(offered, binding, rows[name][0], measured))
    return found
