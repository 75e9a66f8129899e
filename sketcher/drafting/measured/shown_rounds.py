"""Which rounds of some sources a sheet shows, and how many places there are of them."""

from __future__ import annotations

from collections.abc import Sequence
from math import dist, floor

from sketcher.drafting.paper_view import View
from sketcher.geometry.curves import XY, Arc, Circle, Line
from sketcher.part.part_size import part_size
from sketcher.part.value import Part
from sketcher.part.whole import Piece


class _Places:
    """Places that are known, each once."""

    def __init__(self, near: float) -> None:
        self._near, self._cell = near, max(10.0 * near, 1e-12)
        self._known: dict[tuple[int, int], list[XY]] = {}

    def add(self, at: XY) -> bool:
        """Add a place; False where it is known."""
        i, j = floor(at[0] / self._cell), floor(at[1] / self._cell)
        if any(dist(at, other) < self._near for a in (i - 1, i, i + 1) for b in (j - 1, j, j + 1)
               for other in self._known.get((a, b), ())):
            return False
        self._known.setdefault((i, j), []).append(at)
        return True


class ShownRounds:
    """The rounds of a part with their images.

    Parameters
    ----------
    part : Part
    view : View
    pieces : sequence of Piece
        What is drawn of the whole part.
    """

    def __init__(self, part: Part, view: View, pieces: Sequence[Piece]) -> None:
        self.view = view
        self._half = part.drawing.show_half
        self._near = 1e-6 * part_size(part)
        self._pieces: dict[str, list[Piece]] = {}
        for piece in pieces:
            if not isinstance(piece.curve, Line):
                self._pieces.setdefault(piece.source, []).append(piece)

    def is_shown(self, piece: Piece) -> bool:
        """Tell whether the sheet shows a piece: of a half view nothing that is reflected."""
        return not (self._half and piece.image.mirrors)

    def shown(self, first: str, sources: frozenset[str]) -> list[Arc | Circle]:
        """Rounds of some sources that the sheet shows, the first one's own first, each once."""
        order = sorted((p for source in sources for p in self._pieces.get(source, ())
                        if self.is_shown(p)),
                       key=lambda p: (p.source != first, not p.drawn, p.id))
        found: list[Arc | Circle] = []
        seen = _Places(self._near)
        for piece in order:
            if not isinstance(piece.curve, Line) and seen.add(piece.curve.center):
                curve = self.view.curve(piece.curve)
                assert not isinstance(curve, Line)
                found.append(curve)
        return found

    def count(self, sources: frozenset[str]) -> int:
        """Number of places of some rounds with all their images."""
        seen = _Places(self._near)
        return sum(seen.add(piece.curve.center) for source in sources
                   for piece in self._pieces.get(source, ())
                   if not isinstance(piece.curve, Line))

