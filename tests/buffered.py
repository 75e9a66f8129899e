"""How far contours offset by a kerf stand off shapely's buffers: the share of the plate's area."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

import shapely

QUARTER = 256
"""Chords of a quarter in shapely's rounds: they lose 4e-6 of a round's area, and the rounds of a
kerf are some 1e-4 of a plate."""


def share_off(
    nominal: Sequence[tuple[Any, bool]], ways: Sequence[Any], kerf: float,
    chorded: Callable[[Any, float], shapely.Polygon],
) -> float:
    """Return the area between ways and buffers, as a share of the plate's.

    Parameters
    ----------
    nominal : sequence of (contour, hole)
    ways : sequence
        As many contours offset, in the same order.
    kerf : float
    chorded : callable
        Makes a polygon of a contour; its chords leave the contour by the length that it takes.
    """
    rough = [(chorded(contour, 1e-2 * kerf), hole) for contour, hole in nominal]
    area = sum(shape.area * (-1.0 if hole else 1.0) for shape, hole in rough)
    # Chords lose two thirds of their sagitta times the length: in all 3e-7 of the area.
    sagitta = 5e-7 * area / sum(shape.length for shape, _ in rough)
    off = 0.0
    for (contour, hole), way in zip(nominal, ways, strict=True):
        wanted = chorded(contour, sagitta).buffer(-0.5 * kerf if hole else 0.5 * kerf,
                                                  quad_segs=QUARTER)
        off += float(wanted.symmetric_difference(chorded(way, sagitta)).area)
    return off / area


def too_narrow(shape: shapely.Polygon, hole: bool, kerf: float) -> bool:
    """Whether shapely finds that a contour vanishes, falls into several or closes up."""
    grown = shape.buffer(-0.5 * kerf if hole else 0.5 * kerf)
    return bool(grown.is_empty or grown.geom_type != "Polygon" or len(grown.interiors))
