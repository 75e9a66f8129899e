"""Unknowns of a part before reduction: x and y of every point, then every round's radius."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import chain

import numpy as np

from sketcher.part.equations import Array
from sketcher.part.operand_forms import Slot, radius_of
from sketcher.part.value import ArcCurve, CircleCurve, LineCurve, Part


@dataclass(frozen=True, slots=True)
class Slots:
    """Where each point and radius stands in the raw vector.

    Point k has its x at 2 k and its y at 2 k + 1; radii follow the points.
    """

    points: dict[str, int]
    radii: dict[str, int]

    @classmethod
    def of(cls, part: Part) -> Slots:
        """Return the layout for a part."""
        first = 2 * len(part.points)
        rounds = [name for name, c in part.curves.items() if not isinstance(c, LineCurve)]
        return cls(dict(zip(part.points, range(0, first, 2), strict=True)),
                   dict(zip(rounds, range(first, first + len(rounds)), strict=True)))

    @property
    def count(self) -> int:
        """Number of unknowns."""
        return 2 * len(self.points) + len(self.radii)

    def at(self, slot: Slot) -> int:
        """Position of one unknown."""
        name, axis = slot
        return self.radii[name] if axis == "r" else self.points[name] + (axis == "y")

    def names(self) -> list[Slot]:
        """Every unknown by (id, axis), in order."""
        pairs = [(name, axis) for name in self.points for axis in "xy"]
        return pairs + [(name, "r") for name in self.radii]

    def values(self, part: Part) -> Array:
        """Raw vector as the part stands."""
        return np.fromiter(chain(
            chain.from_iterable(part.points.values()),
            (radius_of(part, name) for name in self.radii)), float, self.count)


def placed(part: Part, slots: Slots, raw: Array) -> Part:
    """Return the part with its points and circle radii from a raw vector."""
    count = 2 * len(slots.points)
    flat = raw.tolist()
    points = dict(zip(slots.points, zip(flat[0:count:2], flat[1:count:2], strict=True),
                      strict=True))
    if all(isinstance(c, LineCurve | ArcCurve) for c in part.curves.values()):
        return part.having(points=points)
    curves = {
        name: CircleCurve(c.center, flat[slots.radii[name]], c.role)
        if isinstance(c, CircleCurve) else c
        for name, c in part.curves.items()
    }
    return part.having(points=points, curves=curves)
