"""How large a part is: what its tolerances are parts of."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import chain
from typing import Protocol

import numpy as np

from sketcher.geometry.curves import XY
from sketcher.part.value import CircleCurve, PartCurve


class HasGeometry(Protocol):
    """A part, or a draft of one."""

    @property
    def points(self) -> Mapping[str, XY]:
        """Place of every point."""

    @property
    def curves(self) -> Mapping[str, PartCurve]:
        """Every drawn curve."""


def part_size(part: HasGeometry) -> float:
    """Diagonal of the box round all points and circles; 1 for an empty part or a single point."""
    if not part.points:
        return 1.0
    boxes = np.array([
        (*part.points[c.center], abs(c.radius))
        for c in part.curves.values() if isinstance(c, CircleCurve)]).reshape(-1, 3)
    places = np.fromiter(chain.from_iterable(part.points.values()), float).reshape(-1, 2)
    low = np.concatenate([places, boxes[:, :2] - boxes[:, 2:]]).min(axis=0)
    high = np.concatenate([places, boxes[:, :2] + boxes[:, 2:]]).max(axis=0)
    return float(np.hypot(*(high - low))) or 1.0
