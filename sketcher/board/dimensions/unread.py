"""Which dimensions cannot be read where they stand.

A layout also counts as bad what only looks so, as two lines that cross; nobody has to zoom in for
that.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from math import cos, sin

from sketcher.board.dimensions.desk_layout import HEIGHT
from sketcher.board.dimensions.dimension_lines import DimLines
from sketcher.drafting.lettering import em, text_width
from sketcher.geometry.bounds import Box, bounds_of, box_within, boxes_meet
from sketcher.geometry.curves import XY, Line
from sketcher.geometry.evaluate import start_of
from sketcher.geometry.meet import meet

CORE = 0.6
"""Share of a text's height that has to be free: a line that grazes it leaves it readable."""
TANGLED = 3
"""Other dimensions whose lines it crosses from which one is lost among them (tried: two that cross
are told apart, leaders of forty holes of two pixels are not)."""
MOST = 7
"""So many are looked for: one more than are named, and of a crowd it takes no time to find them."""


def unread(
    names: Collection[str], dims: Sequence[DimLines], px: float, size: float,
    within: Box | None = None,
) -> tuple[str, ...]:
    """Return which of some dimensions are covered by another one, cut off, or lost among others.

    No more than `MOST` of them.

    Parameters
    ----------
    names : collection of str
        Those that are asked for.
    dims : sequence of DimLines
        All that are shown.
    px : float
        One pixel in the part's unit.
    size : float
        Size of words in pixels.
    within : (x0, y0, x1, y1), optional
        What is seen, in the part's unit.
    """
    shown = [_Shown.of(dim, px, size) for dim in dims] if names else []
    found = []
    for one in shown:
        others = [other for other in shown if other is not one]
        if one.dim.binding in names and (
                (within is not None and not one.lies_in(within))
                or any(one.is_covered_by(other) for other in others)
                or sum(one.crosses(other) for other in others) >= TANGLED):
            found.append(one.dim.binding)
            if len(found) == MOST:
                break
    return tuple(dict.fromkeys(found))


@dataclass(frozen=True, slots=True)
class _Shown:
    """A dimension with the frame around its text: half its width and height, and four edges."""

    dim: DimLines
    half: tuple[float, float]
    edges: tuple[Line, ...]
    box: Box
    frame: Box

    @classmethod
    def of(cls, dim: DimLines, px: float, size: float) -> _Shown:
        unit = 0.5 * px * size / em(HEIGHT)  # half of what a millimetre of lettering takes
        wide, high = unit * text_width(dim.text, HEIGHT), unit * HEIGHT * CORE
        c, s = cos(dim.turn), sin(dim.turn)
        x0, y0 = dim.anchor
        corners = [(x0 + c * x - s * y, y0 + s * x + c * y)
                   for x, y in ((-wide, -high), (wide, -high), (wide, high), (-wide, high))]
        edges = tuple(Line(corners[n - 1], corners[n]) for n in range(4))
        return cls(dim, (wide, high), edges, bounds_of([*dim.curves, *dim.extensions, *edges]),
                   bounds_of(edges))

    def lies_in(self, window: Box) -> bool:
        """Tell whether all of the text is within a window."""
        return box_within(self.frame, window)

    def is_covered_by(self, other: _Shown) -> bool:
        """Tell whether text or lines of another dimension go over this text."""
        if not boxes_meet(self.frame, other.box):
            return False
        return other._holds(self.dim.anchor) or any(
            self._holds(start_of(curve)) or any(meet(edge, curve) for edge in self.edges)
            for curve in (*other.edges, *other.dim.curves, *other.dim.extensions))

    def crosses(self, other: _Shown) -> bool:
        """Tell whether dimension line or leader cross those of another dimension."""
        return boxes_meet(self.box, other.box) and any(
            found.kind == "crossing" for one in self.dim.curves for two in other.dim.curves
            for found in meet(one, two))

    def _holds(self, at: XY) -> bool:
        dx, dy = at[0] - self.dim.anchor[0], at[1] - self.dim.anchor[1]
        c, s = cos(self.dim.turn), sin(self.dim.turn)
        return abs(c * dx + s * dy) <= self.half[0] and abs(c * dy - s * dx) <= self.half[1]
