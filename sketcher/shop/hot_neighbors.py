"""Which contours lie so near each other that cutting one heats the other."""

from __future__ import annotations

from collections.abc import Sequence
from math import radians

from sketcher.geometry.cubic import chord_starts
from sketcher.shop.cut_plan import CutContour

CHORD = radians(10.0)
"""Of an arc in chords: they lie off it by 0.4 % of its radius, which heat does not mind."""


def hot_pairs(contours: Sequence[CutContour], reach: float) -> frozenset[tuple[int, int]]:
    """Return the pairs of contours nearer to each other than `reach`, both ways round."""
    from shapely import LinearRing, STRtree

    if len(contours) < 2:
        return frozenset()
    rings = [LinearRing(chord_starts(contour.curves, CHORD)) for contour in contours]
    one, other = STRtree(rings).query(rings, "dwithin", reach)
    return frozenset((int(a), int(b)) for a, b in zip(one, other, strict=True) if a != b)
