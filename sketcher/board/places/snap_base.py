"""Base of the snaps, and what several of them need."""

from __future__ import annotations

from collections.abc import Iterator
from math import hypot, sin
from typing import ClassVar

from sketcher.board.places.pending_bindings import Tie
from sketcher.board.places.point_place import Around, Spot
from sketcher.board.preview import Guide
from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line

LEAST, MOST = 0.35, 1.2
"""A direction is taken within this many reaches at least, and at most, whatever the angle."""


class Snap:
    """One way in which a place can be meant; `find` gives every such place near the pointer."""

    name: ClassVar[str] = ""
    word: ClassVar[str] = ""
    hint: ClassVar[str] = ""
    rank: ClassVar[int] = 5

    def find(self, around: Around) -> Iterator[Spot]:
        """Give the places of this snap within reach of the pointer."""
        raise NotImplementedError


def carrier(curve: Curve) -> Curve:
    """Return the line, or the full circle, on which a curve lies."""
    return Circle(curve.center, curve.radius) if isinstance(curve, Arc) else curve


def along(around: Around, origin: XY, direction: XY) -> XY | None:
    """Return the pointer's foot on the line through `origin` along a unit direction.

    None when the pointer is further off than a direction may be, or at the origin itself.
    """
    x, y = around.pointer.x - origin[0], around.pointer.y - origin[1]
    forward = x * direction[0] + y * direction[1]
    off = abs(x * direction[1] - y * direction[0])
    reach = around.pointer.reach
    limit = min(max(LEAST * reach, hypot(x, y) * sin(around.within)), MOST * reach)
    if off > limit or abs(forward) <= 0.5 * reach:
        return None
    return (origin[0] + forward * direction[0], origin[1] + forward * direction[1])


def directed(
    around: Around, snap: Snap, direction: XY, word: str, ties: tuple[Tie, ...],
    origin: XY | None = None,
) -> Iterator[Spot]:
    """Give the place on the line through the start (or `origin`) along a direction, if near."""
    origin = around.start if origin is None else origin
    if origin is None:
        return
    foot = along(around, origin, direction)
    if foot is not None:
        line = Line(origin, (origin[0] + direction[0], origin[1] + direction[1]))
        guides = (Guide(Line(origin, foot)),)
        yield Spot(foot, word, ties, None, "direction", guides, line, snap.rank)


class Heading(Snap):
    """The piece runs in one direction from its start."""

    rank = 4
    direction: ClassVar[XY] = (1.0, 0.0)

    def find(self, around: Around) -> Iterator[Spot]:
        """Give the place along the direction from the start."""
        yield from directed(around, self, self.direction, self.word, piece_tie(around, self.name))


class InLineWith(Snap):
    """The new point lies in one direction from a point that the pointer was on before."""

    rank = 7
    kind: ClassVar[str] = ""
    direction: ClassVar[XY] = (1.0, 0.0)

    def find(self, around: Around) -> Iterator[Spot]:
        """Give the places along the direction from the points touched lately."""
        for name in around.touched:
            place = around.part.points.get(name)
            if place is not None and name != around.start_point:
                yield from directed(around, self, self.direction, f"{self.word} {name}",
                                    (Tie(self.kind, (name, "@")),), place)


def piece_tie(around: Around, kind: str) -> tuple[Tie, ...]:
    """Return level or plumb for the piece being drawn: of the line, or of its two ends."""
    return (Tie(kind, ("@curve",) if around.straight else ("@from", "@")),)
