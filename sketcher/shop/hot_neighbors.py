"""Which contours lie so near each other that cutting one heats the other."""

from __future__ import annotations

from collections.abc import Sequence
from math import radians
from typing import TYPE_CHECKING

import numpy as np

from sketcher.geometry.cubic import cubics
from sketcher.geometry.curves import Line
from sketcher.shop.cut_plan import CutContour

if TYPE_CHECKING:
    from shapely import LinearRing

CHORD = radians(10.0)
"""Of an arc in chords: they lie off it by 0.4 % of its radius, which heat does not mind."""


def hot_pairs(contours: Sequence[CutContour], reach: float) -> frozenset[tuple[int, int]]:
    """Return the pairs of contours nearer to each other than `reach`, the lower number first."""
    from shapely import STRtree

    if len(contours) < 2:
        return frozenset()
    rings = [_ring(contour) for contour in contours]
    one, other = STRtree(rings).query(rings, "dwithin", reach)
    return frozenset((int(a), int(b)) for a, b in zip(one, other, strict=True) if a < b)


def _ring(contour: CutContour) -> LinearRing:
    from shapely import LinearRing

    return LinearRing(np.concatenate([
        np.array([curve.start]) if isinstance(curve, Line) else cubics(curve, CHORD)[:, 0]
        for curve in contour.curves]))
