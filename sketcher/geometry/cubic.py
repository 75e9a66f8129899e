"""Curves for screens and for shapely: cubic pieces and chords, with their error bounds."""

from __future__ import annotations

from collections.abc import Iterable
from math import ceil, radians, tan, tau
from typing import TYPE_CHECKING

import numpy as np

from sketcher.geometry.curves import Arc, Circle, Curve, Line

if TYPE_CHECKING:
    from numpy.typing import NDArray

WIDEST = radians(15.0)
"""Widest piece: off the circle by less than 6e-9 of the radius, a hundredth of a pixel on an arc
that fills a million pixels."""


def cubics(curve: Arc | Circle, widest: float = WIDEST) -> NDArray[np.float64]:
    """Return an arc as cubic Bezier pieces.

    Parameters
    ----------
    curve : Arc or Circle
        What to draw.
    widest : float
        Greatest sweep of a piece in radians.

    Returns
    -------
    array (n, 4, 2)
        Control points; the first and last of an arc are its own ends bit by bit.

    Notes
    -----
    Handles of (4/3) tan(theta/4) radii touch the circle at both ends and in the middle (Goldapp,
    Approximation of circular arcs by cubic polynomials, CAGD 8 (1991) 227-238; from memory).
    """
    if isinstance(curve, Circle):
        first, sweep = 0.0, tau
    else:
        first, sweep = curve.start_angle, curve.sweep
    n = max(1, ceil(abs(sweep) / widest - 1e-9))
    handle = 4.0 / 3.0 * tan(0.25 * sweep / n)
    angle = first + sweep / n * np.arange(n + 1)
    c, s = np.cos(angle), np.sin(angle)
    center = np.array(curve.center)
    on = center + curve.radius * np.stack((c, s), axis=1)
    if isinstance(curve, Arc):
        on[0], on[-1] = curve.start, curve.end
    else:
        on[-1] = on[0]
    along = curve.radius * handle * np.stack((-s, c), axis=1)
    return np.stack((on[:-1], on[:-1] + along[:-1], on[1:] - along[1:], on[1:]), axis=1)


def chord_starts(curves: Iterable[Curve], widest: float) -> NDArray[np.float64]:
    """Return where the chords of a run of curves begin, the end of the last left out.

    Parameters
    ----------
    curves : iterable of Curve
        Head to tail, one at least.
    widest : float
        Greatest sweep of a chord in radians: in its middle it lies 1 - cos(widest / 2) of the
        radius off the arc.

    Returns
    -------
    array (n, 2)
    """
    return np.concatenate([
        np.array([curve.start]) if isinstance(curve, Line) else cubics(curve, widest)[:, 0]
        for curve in curves])
