"""What a dimension of a hand-in draws: its line, its extension lines, where its text stands.

Only what follows from its definition points: how a program paints the rest is not in the file. How
the text is turned is not either, so a line counts as crossing it only where it does both ways,
level and along the dimension.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import hypot

from sketcher.drafting.lettering import text_width
from sketcher.geometry.clip import visible
from sketcher.geometry.curves import XY, Curve, Line
from sketcher.geometry.evaluate import carried
from sketcher.geometry.vectors import normalized
from sketcher.marking.comparison import Comparison
from sketcher.marking.stated_dimensions import StatedDimension, StatedDimensions

CORE_WIDE, CORE_TALL = 0.8, 0.6
"""Share of a text's width and height that is surely lettering, whatever the font (by trial: widths
of common fonts differ by a fifth)."""


@dataclass(frozen=True, slots=True)
class DimensionStrokes:
    """Strokes of one dimension, laid on the key.

    Parameters
    ----------
    stated : StatedDimension
    line : Line or None
        The dimension line of a length, from arrow to arrow.
    extensions : tuple of Line
        From gap to dimension line.
    way : (x, y)
        Direction in which it is read when it is read along it.
    wide, tall : float
        Size of its text in the key's unit; 0 where the file does not say.
    """

    stated: StatedDimension
    line: Line | None
    extensions: tuple[Line, ...]
    way: XY
    wide: float
    tall: float

    @property
    def lines(self) -> tuple[Line, ...]:
        """Its extension lines and its dimension line."""
        return self.extensions if self.line is None else (*self.extensions, self.line)

    def is_crossed(self, curve: Curve) -> bool:
        """Tell whether a curve runs through its text."""
        if not self.tall:
            return False
        (x, y), (ux, uy) = self.stated.at, self.way
        wide, tall = 0.5 * CORE_WIDE * self.wide, 0.5 * CORE_TALL * self.tall
        if not visible(curve, (x - wide, y - tall, x + wide, y + tall)):
            return False
        read = carried(curve, lambda at: ((at[0] - x) * ux + (at[1] - y) * uy,
                                          (at[1] - y) * ux - (at[0] - x) * uy))
        return bool(visible(read, (-wide, -tall, wide, tall)))


def dimension_strokes(comparison: Comparison, stated: StatedDimensions
                      ) -> tuple[DimensionStrokes, ...]:
    """Return the strokes of every dimension of a hand-in, in file order."""
    return tuple(_strokes(comparison, stated, each) for each in stated.each)


def _strokes(comparison: Comparison, stated: StatedDimensions, each: StatedDimension
             ) -> DimensionStrokes:
    file, scale = each.dimension, comparison.pose.scale
    laid = [comparison.laid_point(at) for at in file.points]
    base = comparison.laid_point(file.line_at)
    tall = (file.text_height or 0.0) * scale
    wide = text_width(file.text, 1.0) * tall
    if file.kind not in ("linear", "aligned") or len(laid) < 2:
        way = (1.0, 0.0)
        if each.is_round and len(laid) > 1:
            way = _upright(normalized((laid[1][0] - laid[0][0], laid[1][1] - laid[0][1])))
        return DimensionStrokes(each, None, (), way, wide, tall)
    way = stated.way_of(file, laid)
    feet = []
    for x, y in laid[:2]:
        along = (x - base[0]) * way[0] + (y - base[1]) * way[1]
        feet.append((base[0] + along * way[0], base[1] + along * way[1]))
    gap = (file.extension_gap or 0.0) * scale
    extensions = tuple(line for at, foot in zip(laid, feet, strict=False)
                       if (line := _beyond(at, foot, gap)) is not None)
    return DimensionStrokes(each, Line(feet[0], feet[1]), extensions, _upright(way), wide, tall)


def _beyond(at: XY, foot: XY, gap: float) -> Line | None:
    far = hypot(foot[0] - at[0], foot[1] - at[1])
    if far <= gap or not far:
        return None
    share = gap / far
    return Line((at[0] + share * (foot[0] - at[0]), at[1] + share * (foot[1] - at[1])), foot)


def _upright(way: XY) -> XY:
    """Return a direction as it is read: from the left, or upwards."""
    x, y = way
    return (-x, -y) if x < -1e-9 or (abs(x) <= 1e-9 and y < 0.0) else (x, y)


def crosses(one: Line, other: Line, margin: float) -> XY | None:
    """Return where two lines cross, both running on for a margin on both sides."""
    (ax, ay), (bx, by) = one.direction, other.direction
    turn = ax * by - ay * bx
    if abs(turn) < 1e-6:
        return None
    dx, dy = other.start[0] - one.start[0], other.start[1] - one.start[1]
    s, t = (dx * by - dy * bx) / turn, (dx * ay - dy * ax) / turn
    if not (margin < s < one.length - margin and margin < t < other.length - margin):
        return None
    return (one.start[0] + s * ax, one.start[1] + s * ay)
