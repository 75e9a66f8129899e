"""The signs of a part, kept until it changes; while it moves, only those that are shown follow."""

from __future__ import annotations

from dataclasses import replace
from itertools import groupby
from operator import attrgetter

from sketcher.board.dimensions.dimension_lines import DimLines
from sketcher.board.dimensions.sign_places import Glyph, glyphs, told
from sketcher.board.dimensions.sign_room import Place, numbered, with_room
from sketcher.geometry.curves import XY
from sketcher.part.kinds import KINDS
from sketcher.part.value import Part
from sketcher.solve.solve_report import SolveReport


class KeptSigns:
    """The signs of the part as it stands, and those of them that were shown last."""

    def __init__(self) -> None:
        self._known: tuple[Part, tuple[Glyph, ...]] | None = None
        self._shown: tuple[object, frozenset[str] | None, tuple[Glyph, ...]] | None = None
        self._followed: tuple[Part, tuple[Glyph, ...], tuple[Glyph, ...]] | None = None
        self._beside: tuple[tuple[DimLines, ...], float, float] | None = None
        self._offs: dict[Place, XY] = {}
        self._placed: tuple[tuple[Glyph, ...], tuple[Glyph, ...]] | None = None

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

    def placed(
        self, signs: tuple[Glyph, ...], dims: tuple[DimLines, ...], px: float, size: float,
        moves: bool,
    ) -> tuple[Glyph, ...]:
        """Return signs that are shown where they have room.

        Parameters
        ----------
        signs : tuple of Glyph
        dims : tuple of DimLines
            All that stand on the scene.
        px, size : float
            One pixel in the part's unit; size of words in pixels.
        moves : bool
            Whether a gesture goes on: then each keeps its distance from what it is about.
        """
        if not signs:
            return signs
        beside = self._beside
        if not moves and (beside is None or beside[0] is not dims or beside[1:] != (px, size)):
            self._beside, self._offs, self._placed = (dims, px, size), {}, None
        if self._placed is None or self._placed[0] is not signs:
            if moves:
                found = tuple(replace(sign, off=self._offs.get(name))
                              for name, sign in zip(numbered(signs), signs, strict=True))
            else:
                found = with_room(signs, dims, px, size, self._offs)
                self._offs.update({name: sign.off for name, sign in zip(
                    numbered(found), found, strict=True) if sign.off is not None})
            self._placed = (signs, found)
        return self._placed[1]

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
