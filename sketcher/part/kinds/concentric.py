"""Concentric: two rounds about one center, or a round about a point."""

from __future__ import annotations

from collections.abc import Sequence

from sketcher.part.construction_words import Condition, Words
from sketcher.part.equations import SAME_PLACE
from sketcher.part.kind_base import Kind
from sketcher.part.kind_sign import Sign
from sketcher.part.loci import Found, SameAs
from sketcher.part.operand_forms import EquationRow, Slot, round_center
from sketcher.part.value import Part


class Concentric(Kind):
    """Two rounds have one center, or a round is centered on a point."""

    name = "concentric"
    hint = "Two circles or arcs have one center, or one is centered on the point."
    phrases = ("{0} concentric with {1}",)
    forms = (("round", "round"), ("round", "point"))
    sign = Sign((), ((0.0, 0.0, 0.85), (0.0, 0.0, 0.42)), ((0.0, 0.0, 0.1),))
    has_sides = False
    substitutes = True

    def rows(self, part: Part, of: Sequence[str], side: str | None) -> list[EquationRow]:
        """Return the distance of the centers."""
        return [EquationRow(SAME_PLACE, _centers(part, of))]

    def unions(self, part: Part, of: Sequence[str]) -> list[tuple[Slot, Slot]]:
        """Return both coordinates as one unknown each."""
        one, other = _centers(part, of)
        return [((one, axis), (other, axis)) for axis in "xy"]

    def shows_itself(self, part: Part, of: Sequence[str]) -> bool:
        """One plus for both."""
        return True

    def found(self, words: Words, condition: Condition, point: str) -> Found | None:
        """Return the other center."""
        if len(condition.points) != 2:
            return None
        return SameAs(words.other(condition, point))


def _centers(part: Part, of: Sequence[str]) -> tuple[str, ...]:
    return tuple(name if name in part.points else round_center(part, name) for name in of)


KIND = Concentric()
