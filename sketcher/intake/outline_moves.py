"""How far a small motion of a half takes its outline, measured square to it."""

from __future__ import annotations

from math import hypot

import numpy as np

from sketcher.geometry.curves import XY
from sketcher.part.equations import Array
from sketcher.part.value import LineCurve, Part
from sketcher.solve.unknowns import Slots


class OutlineMoves:
    """Moves of the outline, square to it, as linear in the raw slots of a part.

    Points of tangency slide along the outline without harm; only what leaves it counts: both ends
    of a line, and the ends and the middle of an arc.
    """

    def __init__(self, part: Part) -> None:
        slots, rows = Slots.of(part), list[tuple[tuple[int, ...], tuple[float, ...]]]()
        for name, curve in part.curves.items():
            if curve.role != "outline":
                continue
            ends = [] if curve.kind == "circle" else [
                (slots.points[end], part.points[end])
                for end in curve.ends]  # type: ignore[union-attr]
            if isinstance(curve, LineCurve):
                (_, one), (_, other) = ends
                normal = _unit((one[1] - other[1], other[0] - one[0]))
                rows += [((at, at + 1, at), (*normal, 0.0)) for at, _ in ends]
                continue
            center, radius = slots.points[curve.center], slots.radii[name]
            middle = part.points[curve.center]
            ways = [_unit((at[0] - middle[0], at[1] - middle[1])) for _, at in ends]
            rows += [((at, at + 1, at), (*way, 0.0))
                     for (at, _), way in zip(ends, ways, strict=True)]
            rows += [((center, center + 1, radius), (*way, 1.0))
                     for way in ways or [(1.0, 0.0), (0.0, 1.0)]]
            if not ways:
                rows += [((center, center + 1, radius), (*way, -1.0))
                         for way in ((1.0, 0.0), (0.0, 1.0))]
        self._slots = np.array([row[0] for row in rows], int).reshape(-1, 3)
        self._entries = np.array([row[1] for row in rows], float).reshape(-1, 3)

    def largest(self, motion: Array) -> float:
        """Return the largest move of a motion, shape (slots,), in the part's unit."""
        moves = (self._entries * motion[self._slots]).sum(axis=1)
        return float(np.abs(moves).max(initial=0.0))


def _unit(way: XY) -> XY:
    size = hypot(*way) or 1.0
    return (way[0] / size, way[1] / size)
