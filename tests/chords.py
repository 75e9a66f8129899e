"""Chords of curves, for checkers that know no arcs; and how far a cubic stands off its arc."""

from __future__ import annotations

from math import acos, ceil, cos, pi, sin, tau

import numpy as np
from numpy.typing import NDArray

from sketcher.geometry.curves import Arc, Circle, Curve, Line


def cubic_error(radius: float, sweep: float) -> float:
    """Return the bound of how far one cubic piece stands off its arc.

    (2/27) r sin^6(theta/4) / cos^2(theta/4), always outwards.
    """
    quarter = 0.25 * abs(sweep)
    return 2.0 / 27.0 * radius * sin(quarter) ** 6 / cos(quarter) ** 2


def facet(curve: Curve, sagitta: float) -> NDArray[np.float64]:
    """Return points along a curve whose chords leave it by at most `sagitta`.

    Returns
    -------
    array (n, 2)
        From start to end, both included; a circle ends where it starts. Three chords at least go
        round a full turn.
    """
    if isinstance(curve, Line):
        return np.array([curve.start, curve.end], dtype=float)
    first, sweep = (0.0, tau) if isinstance(curve, Circle) else (curve.start_angle, curve.sweep)
    widest = 2.0 * acos(1.0 - sagitta / curve.radius) if sagitta < 0.5 * curve.radius else pi / 1.5
    n = max(1, ceil(abs(sweep) / widest - 1e-9))
    angle = first + sweep / n * np.arange(n + 1)
    ring = np.stack((np.cos(angle), np.sin(angle)), axis=1)
    points: NDArray[np.float64] = np.array(curve.center) + curve.radius * ring
    if isinstance(curve, Arc):
        points[0], points[-1] = curve.start, curve.end
    else:
        points[-1] = points[0]
    return points
