"""From the drawn half to the whole part: geometry values, pattern instances and the reflection.

An image that would lie on a curve that is there is left out, whatever the reason: on the axis,
across it, or an instance of a pattern that is symmetric about it. Two axes are reflected one after
the other; with square axes the order does not matter.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import islice
from math import cos, floor, sin

from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.part.image_id import ImageId
from sketcher.part.mirror import Reflector, reflector, same_place, taken
from sketcher.part.value import ArcCurve, LineCurve, Part, PartCurve, Role


@dataclass(frozen=True, slots=True)
class Piece:
    """One curve of the whole part.

    Parameters
    ----------
    image : ImageId
        Which curve of the half it is, or which image of one.
    curve : Curve
    role : Role
    """

    image: ImageId
    curve: Curve
    role: Role

    def __reduce__(self) -> tuple[type[Piece], tuple[ImageId, Curve, Role]]:
        return Piece, (self.image, self.curve, self.role)  # a process sends thousands: no tables

    @property
    def id(self) -> str:
        """Name as people and files read it: the drawn curve's own id, or that of an image."""
        return self.image.name

    @property
    def source(self) -> str:
        """Id of the drawn curve."""
        return self.image.source

    @property
    def drawn(self) -> bool:
        """True for a curve of the half, False for an image."""
        return self.image.drawn


def curve_value(part: Part, curve: PartCurve) -> Curve:
    """Return the geometry of a document curve."""
    return curve_at(part.points, curve)


def curve_at(at: Mapping[str, XY], curve: PartCurve) -> Curve:
    """Return the geometry of a document curve over a table of points."""
    if isinstance(curve, LineCurve):
        return Line(at[curve.ends[0]], at[curve.ends[1]])
    if isinstance(curve, ArcCurve):
        return Arc(at[curve.center], at[curve.ends[0]], at[curve.ends[1]], curve.turn == "ccw")
    return Circle(at[curve.center], curve.radius)


def half(part: Part) -> dict[str, Curve]:
    """Return the geometry of every drawn curve by id, in the part's order."""
    return {name: curve_value(part, curve) for name, curve in part.curves.items()}


def whole(part: Part, most: int | None = None) -> tuple[Piece, ...]:
    """Return every curve of the whole part: the half, its pattern instances, their reflections.

    Parameters
    ----------
    part : Part
    most : int, optional
        Pattern instances after which the further ones are left out, for a picture of a part that
        has very many; all of them without it.

    Notes
    -----
    Patterns are expanded first, then reflected about each axis in turn, so that with two axes the
    second reflects what the first made. An image that would lie on a curve of the same role which
    is already there is left out: a curve on the axis, a hole centered on it, an arc or a line
    across it, the holes of a pattern that is symmetric about the axis. A place on the axis stays
    bit by bit where it is, so that an edge that ends there joins its own reflection.

    Raises
    ------
    QuantityError
        When a step or span of a pattern cannot be evaluated.
    GeometryError
        When an axis has no length.
    """
    pieces = list(drawn_pieces(part))
    if part.patterns:
        pieces += islice(_instances(part, pieces), most)
    for number, mirror in enumerate(part.mirrors):
        reflection = reflector(part, mirror)
        sources = taken(part, mirror)
        pieces += list(_images(pieces, sources, reflection, number))
    return tuple(pieces)


def drawn_pieces(part: Part) -> tuple[Piece, ...]:
    """Return the curves of the half alone."""
    return tuple(Piece(ImageId(name), curve_value(part, curve), curve.role)
                 for name, curve in part.curves.items())


def _instances(part: Part, pieces: list[Piece]) -> Iterator[Piece]:
    # Imported here so that the quantities are read only when there is a pattern to place.
    from sketcher.part.instances import each_place
    from sketcher.quantity.parameters import evaluate_all

    values = evaluate_all(part.parameters, part.unit)
    drawn = {piece.id: piece for piece in pieces}
    numbers: dict[str, int] = defaultdict(int)
    for name, pattern in part.patterns.items():
        for place in each_place(part, name, values):
            for source in pattern.curves:
                numbers[source] += 1
                piece = drawn[source]
                image = ImageId(source, 0, numbers[source])
                yield Piece(image, place.curve(piece.curve), piece.role)


def _images(
    pieces: list[Piece], sources: frozenset[str], reflection: Reflector, number: int
) -> Iterator[Piece]:
    there = _PieceFinder(reflection.tolerance)
    for piece in pieces:
        there.add(piece)
    for piece in list(pieces):
        if piece.source in sources:
            image = Piece(piece.image.reflected(number), reflection.curve(piece.curve), piece.role)
            if not there.holds(image):
                yield image


def same_outline(one: Part, other: Part, tolerance: float) -> bool:
    """Tell whether two parts are one as a whole: the same outline, images included.

    Which of the images is the drawn one makes no difference. Without outline the layout counts.
    """
    first, second = ([p for p in whole(part) if p.role == "outline"] or list(whole(part))
                     for part in (one, other))
    if len(first) != len(second):
        return False
    there = _PieceFinder(tolerance)
    for piece in second:
        there.add(piece)
    return all(there.holds(piece) for piece in first)


LEAST_CELL = 1e-9
"""Side of a cell in the part's unit: through less, a place of a part of no size has no number."""


class _PieceFinder:
    """Finds pieces that cover the same places as another, through cells around their middles."""

    def __init__(self, tolerance: float) -> None:
        self._tolerance = tolerance
        self._cell = max(1e3 * tolerance, LEAST_CELL)
        self._cells: dict[tuple[int, int], list[Piece]] = defaultdict(list)

    def add(self, piece: Piece) -> None:
        """Enter a piece."""
        self._cells[self._key(middle(piece.curve))].append(piece)

    def holds(self, piece: Piece) -> bool:
        """Tell whether a piece of the same role covers the same places."""
        column, row = self._key(middle(piece.curve))
        return any(
            other.role == piece.role and same_place(other.curve, piece.curve, self._tolerance)
            for i in (column - 1, column, column + 1)
            for j in (row - 1, row, row + 1)
            for other in self._cells.get((i, j), ())
        )

    def _key(self, at: XY) -> tuple[int, int]:
        return (floor(at[0] / self._cell), floor(at[1] / self._cell))


def middle(curve: Curve) -> XY:
    """Return the place halfway along a line or an arc, the center of a circle or a full turn."""
    if isinstance(curve, Line):
        return (
            0.5 * (curve.start[0] + curve.end[0]),
            0.5 * (curve.start[1] + curve.end[1]),
        )
    if isinstance(curve, Circle) or curve.start == curve.end:
        return curve.center
    angle = curve.start_angle + 0.5 * curve.sweep
    cx, cy = curve.center
    return (cx + curve.radius * cos(angle), cy + curve.radius * sin(angle))
