"""Bolt circles: holes of one size about a center, with what a dividing head is set to."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import atan2, degrees, dist

from sketcher.drafting.features import find
from sketcher.drafting.holes import TableHole
from sketcher.drafting.paper_view import MM_PER, View
from sketcher.drafting.table_axes import TableAxes
from sketcher.geometry.curves import XY
from sketcher.part.part_size import part_size
from sketcher.part.value import Part
from sketcher.part.whole import Piece
from sketcher.quantity.exact_angles import sine

NEAR = 1e-6
"""Share of the part's size within which a hole lies on a circle, and degrees within which steps are
equal: what a solved part agrees within, and far below what is read off a machine."""


@dataclass(frozen=True, slots=True)
class BoltCircle:
    """Holes of one size on a circle, in the part's unit and in degrees against the list's X.

    Parameters
    ----------
    name : str
        ``BC1``, ``BC2`` ...
    center : (x, y)
        From the list's zero.
    diameter : float
    size : str
        Of its holes, as the sheet says it.
    first : float
        Angle of the first hole, at least 0 and less than 360.
    step : float or None
        From hole to hole, counter-clockwise; None where they do not stand evenly.
    chord : float or None
        Straight from hole to hole, for who steps it off with dividers.
    holes : tuple of str
        Their names, counter-clockwise from the first.
    angles : tuple of float
        Of all of them, from the first.
    """

    name: str
    center: XY
    diameter: float
    size: str
    first: float
    step: float | None
    chord: float | None
    holes: tuple[str, ...]
    angles: tuple[float, ...]

    def as_dict(self) -> dict[str, object]:
        """Return the entry of the inspection file."""
        return {
            "name": self.name, "center": list(self.center), "diameter": self.diameter,
            "count": len(self.holes), "size": self.size, "first": self.first, "step": self.step,
            "chord": self.chord, "holes": list(self.holes), "angles": list(self.angles),
        }


def bolt_circles_of(
    part: Part, pieces: Sequence[Piece], holes: Sequence[TableHole], axes: TableAxes
) -> Iterator[BoltCircle]:
    """Give the bolt circles of some holes.

    They are those that the sheet draws: of polar patterns, laid out by a circle, and of holes that
    stand evenly in a ring about another center.

    Parameters
    ----------
    part : Part
    pieces : sequence of Piece
        Of the whole plate.
    holes : sequence of TableHole
        All of it.
    axes : TableAxes
    """
    near = NEAR * part_size(part)
    sizes: dict[str, list[TableHole]] = {}
    for one in holes:
        if not one.hole.length:
            sizes.setdefault(one.size, []).append(one)
    number = 0
    for size, same in sizes.items():
        done: list[frozenset[str]] = []
        for center, radius in _circles(part, pieces, near):
            on = [one for one in same if abs(dist(one.hole.at, center) - radius) < near]
            names = frozenset(one.name for one in on)
            if len(on) > 1 and not any(names <= other for other in done):
                done.append(names)
                number += 1
                yield _circle(f"BC{number}", size, center, radius, on, axes)


def _circles(part: Part, pieces: Sequence[Piece], near: float) -> list[tuple[XY, float]]:
    """Return the pitch circles that the sheet draws, each once, in the part's unit."""
    view = View(MM_PER[part.unit])
    found: list[tuple[XY, float]] = []
    for pitch in find(part, view, pieces).pitches:
        center, radius = view.back(pitch.center), pitch.radius / view.factor
        if not any(dist(center, at) < near and abs(radius - r) < near for at, r in found):
            found.append((center, radius))
    return found


def _circle(
    name: str, size: str, center: XY, radius: float, on: Sequence[TableHole], axes: TableAxes
) -> BoltCircle:
    turns = sorted((axes.angle(degrees(atan2(one.hole.at[1] - center[1],
                                             one.hole.at[0] - center[0]))) % 360.0, one.name)
                   for one in on)
    gaps = [(turns[(k + 1) % len(turns)][0] - turn) % 360.0 for k, (turn, _) in enumerate(turns)]
    widest = max(gaps)
    even = widest - min(gaps) < NEAR
    if not even:  # the first is the one behind the widest gap
        begin = gaps.index(widest) + 1
        turns = turns[begin:] + turns[:begin]
        gaps = gaps[begin:] + gaps[:begin]
    steps = gaps[:-1]
    step = steps[0] if max(steps) - min(steps) < NEAR else None
    chord = None if step is None else 2.0 * radius * sine(0.5 * step)
    return BoltCircle(name, axes.place(center), 2.0 * radius, size, turns[0][0], step, chord,
                      tuple(name for _, name in turns), tuple(turn for turn, _ in turns))
