"""From where and which way the table of holes measures: its zero, and the direction of its X.

An axis readout is set to zero at two edges of the plate or over a hole, and its X runs along one
edge of it. So a zero is a point, the center of a round, or the corner at which two edges meet or
would meet (one that was rounded off is still what an edge finder finds).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import atan2, degrees, dist

from sketcher.errors import SketcherError
from sketcher.geometry.bounds import bounds_of
from sketcher.geometry.curves import XY, Line
from sketcher.part.value import Part
from sketcher.part.whole import Piece, whole

AUTO, LEVEL = "auto", "level"

SMOOTH = 1e-6
"""Sine of the angle below which two edges make no corner."""

ZERO_FIELD, ALONG_FIELD = "drawing.table_zero", "drawing.table_along"
ZERO_REMEDY = "name a point, a hole, or two edges with a comma (e1,e4), or auto"
ALONG_REMEDY = "name an edge, or two points or holes with a comma (p1,p2), or level"


@dataclass(frozen=True, slots=True)
class TableAxes:
    """Where X and Y are measured from, in the part's unit, and the unit direction of X."""

    zero: XY
    along: XY = (1.0, 0.0)

    @property
    def turn(self) -> float:
        """Degrees from level to X, counter-clockwise, at least 0 and less than 360."""
        return round(degrees(atan2(self.along[1], self.along[0])), 9) % 360.0

    def place(self, at: XY) -> XY:
        """Return X and Y of a place of the part."""
        (ux, uy), x, y = self.along, at[0] - self.zero[0], at[1] - self.zero[1]
        return (ux * x + uy * y, ux * y - uy * x)

    def angle(self, turn: float) -> float:
        """Return an angle against level, in degrees, as one against X."""
        return round(turn - self.turn, 9)


def axes_of(part: Part, corners: Sequence[Piece], centers: Sequence[XY]) -> TableAxes:
    """Return the axes that the drawing of a part names.

    Parameters
    ----------
    part : Part
    corners : sequence of Piece
        Outline of the plate at whose corners the zero may lie by itself: without its holes.
    centers : sequence of (x, y)
        Of the holes, for a plate without a corner.

    Raises
    ------
    SketcherError
        When `Drawing.table_zero` or `Drawing.table_along` names what is not there or makes no
        corner or no direction.
    """
    return TableAxes(_zero(part, corners, centers), _along(part))


def _zero(part: Part, outline: Sequence[Piece], centers: Sequence[XY]) -> XY:
    """By itself the real corner nearest the lower left, and without one the nearest hole."""
    said = part.drawing.table_zero.strip()
    if said == AUTO:
        if not outline:
            return (0.0, 0.0)
        x0, y0, _, _ = bounds_of(p.curve for p in outline)
        places = list(_corners(outline)) or list(centers) or [(x0, y0)]
        return min(places, key=lambda at: (round(dist(at, (x0, y0)), 9), at))
    names = [name.strip() for name in said.split(",")]
    if len(names) == 1:
        return _place(part, names[0], ZERO_FIELD, ZERO_REMEDY)
    if len(names) > 2:
        raise SketcherError(ZERO_FIELD, f"{said!r} names more than two edges", ZERO_REMEDY)
    (ax, ay, ux, uy), (bx, by, vx, vy) = (_edge(part, n, ZERO_FIELD, ZERO_REMEDY) for n in names)
    cross = ux * vy - uy * vx
    if abs(cross) < SMOOTH:
        raise SketcherError(ZERO_FIELD, f"{names[0]} and {names[1]} are parallel: no corner",
                            "name two edges that are not")
    along = ((bx - ax) * vy - (by - ay) * vx) / cross
    return (ax + along * ux, ay + along * uy)


def _along(part: Part) -> XY:
    """Direction of X: an edge's to the right (a plumb one's up), or from a place to another."""
    said = part.drawing.table_along.strip()
    if said == LEVEL:
        return (1.0, 0.0)
    names = [name.strip() for name in said.split(",")]
    if len(names) == 1:
        _, _, x, y = _edge(part, names[0], ALONG_FIELD, ALONG_REMEDY)
        return (-x, -y) if (x < -SMOOTH or (x < SMOOTH and y < 0.0)) else (x, y)
    if len(names) > 2:
        raise SketcherError(ALONG_FIELD, f"{said!r} names more than two places", ALONG_REMEDY)
    one, other = (_place(part, name, ALONG_FIELD, ALONG_REMEDY) for name in names)
    direction = Line(one, other).direction
    if direction == (0.0, 0.0):
        raise SketcherError(ALONG_FIELD, f"{names[0]} and {names[1]} are one place",
                            "name two places that are not")
    return direction


def _place(part: Part, name: str, field: str, remedy: str) -> XY:
    """Return a point, or the center of a round or of an image of one."""
    if name in part.points:
        return part.points[name]
    piece = _piece(part, name)
    if piece is None:
        raise SketcherError(field, f"no point named {name!r}, and no hole", remedy)
    if isinstance(piece.curve, Line):
        raise SketcherError(field, f"{name} is an edge: it takes two to make a corner", remedy)
    return piece.curve.center


def _edge(part: Part, name: str, field: str, remedy: str) -> tuple[float, float, float, float]:
    """Return the start of a straight edge, and its direction."""
    piece = _piece(part, name)
    if piece is None:
        raise SketcherError(field, f"no edge named {name!r}", remedy)
    if not isinstance(piece.curve, Line):
        raise SketcherError(field, f"{name} is round: no straight edge", remedy)
    return (*piece.curve.start, *piece.curve.direction)


def _piece(part: Part, name: str) -> Piece | None:
    """Return a curve of the whole part by the name that the inspection gives it."""
    return next((piece for piece in whole(part) if piece.id == name), None)


def _corners(outline: Sequence[Piece]) -> Iterator[XY]:
    """Give the places where two straight edges meet at an angle."""
    ends: dict[tuple[float, float], list[Line]] = {}
    for piece in outline:
        if isinstance(piece.curve, Line):
            for at in (piece.curve.start, piece.curve.end):
                ends.setdefault((round(at[0], 6), round(at[1], 6)), []).append(piece.curve)
    for at, lines in ends.items():
        if len(lines) == 2:
            (ax, ay), (bx, by) = (line.direction for line in lines)
            if abs(ax * by - ay * bx) > SMOOTH:
                yield at
