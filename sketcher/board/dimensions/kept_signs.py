"""The signs of a part, kept until it changes; while it moves, only those that are shown follow."""

from __future__ import annotations

from dataclasses import replace
from itertools import groupby
from operator import attrgetter

from sketcher.board.dimensions.sign_places import Glyph, glyphs, told
from sketcher.part.kinds import KINDS
from sketcher.part.value import Part
from sketcher.solve.solve_report import SolveReport


class KeptSigns:
    """The signs of the part as it stands, and those of them that were shown last."""

    def __init__(self) -> None:
        self._known: tuple[Part, tuple[Glyph, ...]] | None = None
        self._shown: tuple[object, frozenset[str] | None, tuple[Glyph, ...]] | None = None
        self._followed: tuple[Part, tuple[Glyph, ...], tuple[Glyph, ...]] | None = None

    def every(self, part: Part, report: SolveReport) -> tuple[Glyph, ...]:
        """Return the signs of every binding without a value, in the order of the ledger."""
        if self._known is None or self._known[0] is not part:
            self._known = (part, glyphs(part, report))
        return self._known[1]

    def shown(
        self, part: Part, report: SolveReport, chosen: frozenset[str] | None, moves: bool
    ) -> tuple[Glyph, ...]:
        """Return the signs that are shown.

        Parameters
        ----------
        part : Part
        report : SolveReport
        chosen : frozenset of str or None
            Ids that are selected or pointed at, when only their signs are shown; else None.
        moves : bool
            Whether a gesture goes on: then the signs stay in their rows, and which those are is
            looked at again at rest. What a gesture moves are no bindings.
        """
        known = self._known
        if not moves or known is None or known[0].bindings is not part.bindings:
            self._followed = None
            return self._told(part, self.every(part, report), chosen)
        begun = self._told(part, known[1], chosen)
        if part is known[0] or not begun:
            return begun
        last = self._followed
        if last is None or last[0] is not part or last[1] is not begun:
            last = self._followed = (part, begun, followed(part, begun))
        return last[2]

    def _told(
        self, part: Part, signs: tuple[Glyph, ...], chosen: frozenset[str] | None
    ) -> tuple[Glyph, ...]:
        last = self._shown
        if last is None or last[0] is not signs or last[1] != chosen:
            few = signs if chosen is None else tuple(
                sign for sign in signs if told(part, sign, chosen))
            last = self._shown = (signs, chosen, few)
        return last[2]


def followed(part: Part, signs: tuple[Glyph, ...]) -> tuple[Glyph, ...]:
    """Return the signs, all those of each binding, where they stand on a part that has moved."""
    moved = list[Glyph]()
    for name, own in groupby(signs, attrgetter("binding")):
        binding = part.bindings[name]
        stands = KINDS[binding.kind].stands(part, binding.of)
        moved += [replace(sign, at=at, away=away)
                  for sign, (at, away) in zip(own, stands, strict=True)]
    return tuple(moved)
