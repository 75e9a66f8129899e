"""Moments of a single contour, for checks against handbooks."""

from __future__ import annotations

from collections.abc import Iterable

from sketcher.geometry.curves import Curve
from sketcher.geometry.moments import Moments, section


def loop_moments(curves: Iterable[Curve]) -> Moments:
    """The moments of what one closed run of curves encloses."""
    return section([(tuple(curves), False)])
