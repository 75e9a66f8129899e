"""The holes and straight slots of a plate, and the point from which a table measures them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import atan2, cos, degrees, dist, radians, sin

from sketcher.drafting.slots import slots_among
from sketcher.errors import SketcherError
from sketcher.geometry.bounds import bounds_of
from sketcher.geometry.curves import XY, Circle, Line
from sketcher.part.value import Part
from sketcher.part.whole import Piece

SMOOTH = 1e-6
"""Sine of the angle below which two edges make no corner."""


@dataclass(frozen=True, slots=True)
class Hole:
    """One hole or straight slot of the plate, in the part's unit and in degrees.

    `length` is the slot's over its round ends, 0 for a hole; `angle` that of its axis against
    level, at least 0 and less than 180. `sources` are the curves that were drawn for it.
    """

    at: XY
    width: float
    length: float
    angle: float
    sources: frozenset[str]

    @property
    def centers(self) -> tuple[XY, ...]:
        """Its center, and those of a slot's round ends."""
        reach = 0.5 * (self.length - self.width)
        if not self.length:
            return (self.at,)
        dx, dy = reach * cos(radians(self.angle)), reach * sin(radians(self.angle))
        return (self.at, (self.at[0] - dx, self.at[1] - dy), (self.at[0] + dx, self.at[1] + dy))


def holes_of(pieces: Sequence[Piece]) -> tuple[Hole, ...]:
    """Return the holes and straight slots among the pieces of a plate.

    A circle as large as the plate is its edge. Curved slots are not among them: they are placed by
    angles, which a table of X and Y does not say.
    """
    x0, y0, x1, y1 = bounds_of(p.curve for p in pieces if p.role == "outline")
    most = 0.5 * max(x1 - x0, y1 - y0) * (1.0 - 1e-9)
    found = [Hole(p.curve.center, 2.0 * p.curve.radius, 0.0, 0.0, frozenset({p.source}))
             for p in pieces if p.role == "outline" and isinstance(p.curve, Circle)
             and p.curve.radius < most]
    for slot in slots_among(pieces):
        (ax, ay), (bx, by) = slot.ends
        long = dist(*slot.ends) + 2.0 * slot.radius
        if slot.middle is None and long < 2.0 * most:
            turn = round(degrees(atan2(by - ay, bx - ax)), 9) % 180.0
            every = (*slot.caps, *(p for side in slot.sides for p in side))
            found.append(Hole((0.5 * (ax + bx), 0.5 * (ay + by)), 2.0 * slot.radius, long, turn,
                              frozenset(p.source for p in every)))
    return tuple(found)


def zero_of(part: Part, pieces: Sequence[Piece], holes: Sequence[Hole]) -> XY:
    """Return the point from which the table measures: what the drawing names, or a real corner.

    By itself it is the corner of the outline that lies nearest the lower left of the plate, and
    where the outline has none, the center of the hole that does.

    Raises
    ------
    SketcherError
        When `Drawing.table_zero` names no point.
    """
    name = part.drawing.table_zero
    if name != "auto":
        if name not in part.points:
            raise SketcherError("drawing.table_zero", f"no point named {name!r}",
                                "name a corner or the center of a hole, or auto")
        return part.points[name]
    outline = [p for p in pieces if p.role == "outline"]
    x0, y0, _, _ = bounds_of(p.curve for p in outline)
    inner = {source for hole in holes for source in hole.sources}
    places = list(_corners([p for p in outline if p.source not in inner]))
    places = places or [hole.at for hole in holes] or [(x0, y0)]
    return min(places, key=lambda at: (round(dist(at, (x0, y0)), 9), at))


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
