"""Free curves of a hand-in as lines, arcs and circles.

Some programs write every round as a free curve: what is one line, arc or circle within the
tolerance becomes that, and all else arcs that go on tangent.
"""

from __future__ import annotations

from math import atan2, hypot

import numpy as np

from sketcher.geometry.biarcs import spline_arcs
from sketcher.geometry.circle_fit import fitted_circle
from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.geometry.spline import Floats, Spline

PLACES = 49
"""Places at which a free curve is measured, its ends among them."""


def plain_curves(free: Spline, within: float) -> tuple[Curve, ...]:
    """Return a free curve as plain ones that lie no further from it than a length.

    Parameters
    ----------
    free : Spline
    within : float
        In its own numbers.
    """
    low, high = free.span
    places, _ = free.at(np.linspace(low, high, PLACES))
    one = _line(places, within) or _round(places, within)
    return (one,) if one is not None else tuple(spline_arcs(free, within))


def _line(places: Floats, within: float) -> Line | None:
    start, end = places[0], places[-1]
    step = end - start
    long = hypot(*step)
    if long <= within:
        return None
    ray = places - start
    across = np.abs(step[0] * ray[:, 1] - step[1] * ray[:, 0]) / long
    on = ray @ step / long
    if across.max() > within or (np.diff(on) < 0.0).any():
        return None
    return Line(_xy(start), _xy(end))


def _round(places: Floats, within: float) -> Arc | Circle | None:
    """Return the circle or arc through places, fitted by least squares."""
    size = float(np.abs(places - places.mean(axis=0)).max())
    fitted = fitted_circle(places) if size > within else None
    if fitted is None or fitted.residual > within or fitted.radius > 1e4 * size:
        return None
    turned = np.unwrap([atan2(v, u) for u, v in places - fitted.center])
    steps = np.diff(turned)
    if not ((steps > 0.0).all() or (steps < 0.0).all()):
        return None
    if hypot(*(places[-1] - places[0])) <= within:
        return Circle(fitted.center, fitted.radius)
    return Arc(fitted.center, _xy(places[0]), _xy(places[-1]), bool(steps[0] > 0.0))


def _xy(place: Floats) -> XY:
    return (float(place[0]), float(place[1]))
