"""The holes and slots of a plate, and the axes from which a table measures them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import atan2, degrees, dist, pi

from sketcher.drafting.features import components, outermost
from sketcher.drafting.slots import TURN, Slot, slots_in
from sketcher.drafting.table_axes import TableAxes, axes_of
from sketcher.geometry.bounds import tolerance
from sketcher.geometry.curves import XY, Arc, Circle
from sketcher.part.value import Part
from sketcher.part.whole import Piece
from sketcher.quantity.exact_angles import cosine, sine


@dataclass(frozen=True, slots=True)
class Hole:
    """One hole or straight slot of the plate, in the part's unit and in degrees.

    `length` is the slot's over its round ends, 0 for a hole; `angle` that of its axis against
    level, at least 0 and less than 180. `sources` are the curves that were drawn for it, `ids` the
    pieces that it is made of.
    """

    at: XY
    width: float
    length: float
    angle: float
    sources: frozenset[str]
    ids: tuple[str, ...] = ()

    @property
    def ends(self) -> tuple[XY, ...]:
        """The centers of a slot's round ends, none for a hole."""
        if not self.length:
            return ()
        reach = 0.5 * (self.length - self.width)
        dx, dy = reach * cosine(self.angle), reach * sine(self.angle)
        return ((self.at[0] - dx, self.at[1] - dy), (self.at[0] + dx, self.at[1] + dy))

    @property
    def centers(self) -> tuple[XY, ...]:
        """Its center, and those of a slot's round ends."""
        return (self.at, *self.ends)


@dataclass(frozen=True, slots=True)
class CurvedSlot:
    """A slot along an arc, in the part's unit and in degrees.

    `center` and `radius` are those of its path; `first` and `last` the angles against level at
    which its round ends lie, counter-clockwise from one to the other, `first` in [0, 360).
    """

    center: XY
    radius: float
    width: float
    first: float
    last: float
    ids: tuple[str, ...]

    @property
    def ends(self) -> tuple[XY, XY]:
        """The centers of its round ends."""
        (x, y), r = self.center, self.radius
        first, last = self.first, self.last
        return ((x + r * cosine(first), y + r * sine(first)),
                (x + r * cosine(last), y + r * sine(last)))


def holes_of(pieces: Sequence[Piece]) -> tuple[Hole, ...]:
    """Return the holes and straight slots among the pieces of a plate.

    A circle is a hole however large it is and in however many arcs it was drawn, unless it is the
    plate's own edge. Curved slots are not among them: they are placed by angles, which a table of
    X and Y does not say.
    """
    inner = _inner(pieces)
    found = []
    for group in inner:
        circle = _circle(group)
        if circle is not None:
            found.append(Hole(circle.center, 2.0 * circle.radius, 0.0, 0.0, _sources(group),
                              tuple(p.id for p in group)))
    for slot in slots_in(inner):
        every = _pieces(slot)
        if slot.middle is None:
            (ax, ay), (bx, by) = slot.ends
            turn = round(degrees(atan2(by - ay, bx - ax)), 9) % 180.0
            found.append(Hole((0.5 * (ax + bx), 0.5 * (ay + by)), 2.0 * slot.radius,
                              dist(*slot.ends) + 2.0 * slot.radius, turn, _sources(every),
                              tuple(p.id for p in every)))
    return tuple(found)


def curved_slots_of(pieces: Sequence[Piece]) -> tuple[CurvedSlot, ...]:
    """Return the slots along an arc among the pieces of a plate."""
    found = []
    for slot in slots_in(_inner(pieces)):
        if slot.middle is not None:
            start, turn = _swept(slot.sides[0])
            found.append(CurvedSlot(
                slot.middle, dist(slot.middle, slot.ends[0]), 2.0 * slot.radius, start,
                start + turn, tuple(p.id for p in _pieces(slot))))
    return tuple(found)


def table_axes(part: Part, pieces: Sequence[Piece], holes: Sequence[Hole]) -> TableAxes:
    """Return the axes from which a table of these holes measures.

    Raises
    ------
    SketcherError
        When the drawing of the part names a zero or a direction that there is not.
    """
    inner = {source for hole in holes for source in hole.sources}
    outline = [p for p in pieces if p.role == "outline" and p.source not in inner]
    every = outline or [p for p in pieces if p.role == "outline"]
    return axes_of(part, every, [hole.at for hole in holes])


def _inner(pieces: Sequence[Piece]) -> list[list[Piece]]:
    """Return the outline in groups that hang together, without the plate's own edge."""
    outline = [p for p in pieces if p.role == "outline"]
    groups = components(outline) if outline else []
    outer = outermost(groups)
    return [group for group in groups if group[0].id not in outer]


def _sources(pieces: Sequence[Piece]) -> frozenset[str]:
    return frozenset(p.source for p in pieces)


def _pieces(slot: Slot) -> tuple[Piece, ...]:
    return (*slot.caps, *(p for side in slot.sides for p in side))


def _circle(group: Sequence[Piece]) -> Circle | None:
    """Return the circle that a contour is, whole or in arcs, as a half leaves it on its axis."""
    first = group[0].curve
    if isinstance(first, Circle):
        return first if len(group) == 1 else None
    near = 1e2 * tolerance(p.curve for p in group)
    turn = 0.0
    for piece in group:
        arc = piece.curve
        if not isinstance(arc, Arc) or not isinstance(first, Arc) or (
                dist(arc.center, first.center) > near or abs(arc.radius - first.radius) > near):
            return None
        turn += abs(arc.sweep)
    assert isinstance(first, Arc)
    return Circle(first.center, first.radius) if abs(turn - 2.0 * pi) <= TURN else None


def _swept(body: Sequence[Piece]) -> tuple[float, float]:
    """Return where arcs about one center begin, counter-clockwise, and how far they go."""
    spans = []
    for piece in body:
        arc = piece.curve
        assert isinstance(arc, Arc)
        start = arc.start_angle if arc.ccw else arc.start_angle + arc.sweep
        spans.append((degrees(start) % 360.0, degrees(abs(arc.sweep))))
    total = sum(turn for _, turn in spans)
    for start, _ in spans:  # the one that no other ends at
        if not any(abs((s + t - start + 180.0) % 360.0 - 180.0) < 1e-6 for s, t in spans):
            return round(start, 9) % 360.0, round(total, 9)
    return round(spans[0][0], 9) % 360.0, round(total, 9)
