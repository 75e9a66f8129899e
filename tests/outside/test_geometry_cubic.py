"""Cubic pieces and chords against exact circles, in 50 digits by mpmath."""

from __future__ import annotations

from math import cos, pi, radians, sin

import numpy as np
import pytest
from mpmath import mp, mpf

from sketcher.geometry.cubic import WIDEST, cubics
from sketcher.geometry.curves import Arc, Circle, Line
from tests.chords import cubic_error, facet


@pytest.mark.parametrize("degrees", [5, 15, 45, 90])
def test_error_bound_is_tight(degrees):
    """The greatest deviation of the standard cubic, sampled in 50 digits, against the bound."""
    with mp.workdps(50):
        theta = mp.radians(mpf(degrees))
        k = mpf(4) / 3 * mp.tan(theta / 4)
        p = [(mpf(1), mpf(0)), (mpf(1), k),
             (mp.cos(theta) + k * mp.sin(theta), mp.sin(theta) - k * mp.cos(theta)),
             (mp.cos(theta), mp.sin(theta))]
        worst, least = mpf(0), mpf(1)
        for i in range(401):
            t = mpf(i) / 400
            b = [(1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t**2 * (1 - t), t**3]
            r = mp.hypot(sum(w * q[0] for w, q in zip(b, p, strict=True)),
                         sum(w * q[1] for w, q in zip(b, p, strict=True)))
            worst, least = max(worst, r - 1), min(least, r - 1)
        bound = cubic_error(1.0, radians(degrees))
        assert least > -mpf(10) ** -45
        assert worst <= bound
        assert float(worst) == pytest.approx(bound, rel=2e-3 if degrees == 90 else 2e-4)


def test_quarter_turn_has_the_known_error():
    """2.7e-4 of the radius for a quarter turn in one piece (widely published)."""
    assert cubic_error(1.0, pi / 2) == pytest.approx(2.7253e-4, rel=1e-3)
    assert cubic_error(1.0, WIDEST) < 6e-9


@pytest.mark.parametrize("curve", [
    Arc((3.0, -2.0), (8.0, -2.0), (3.0, -7.0)), Arc((3.0, -2.0), (8.0, -2.0), (3.0, -7.0), False),
    Circle((1.0, 1.0), 40.0),
])
def test_pieces_follow_the_curve(curve):
    pieces = cubics(curve)
    assert np.array_equal(pieces[1:, 0], pieces[:-1, 3])
    if isinstance(curve, Arc):
        assert tuple(pieces[0, 0]) == curve.start
        assert tuple(pieces[-1, 3]) == curve.end
    else:
        assert np.array_equal(pieces[0, 0], pieces[-1, 3])
    t = np.linspace(0.0, 1.0, 101)[:, None]
    b = np.hstack([(1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t**2 * (1 - t), t**3])
    points = np.einsum("tk,pkc->ptc", b, pieces)
    off = np.hypot(*(points - np.array(curve.center)).reshape(-1, 2).T) - curve.radius
    assert off.max() <= cubic_error(curve.radius, WIDEST) + 1e-13 * curve.radius
    assert off.min() >= -1e-13 * curve.radius
    length = np.hypot(*np.diff(points, axis=1).reshape(-1, 2).T).sum()
    assert length == pytest.approx(curve.length, rel=1e-6)


@pytest.mark.parametrize("sagitta", [1.0, 0.1, 1e-4])
def test_chords_stay_within_their_sagitta(sagitta):
    """Height of a segment: r (1 - cos(theta/2)), Machinery's Handbook, 31st ed., p. 83."""
    for curve in (Arc((0, 0), (5, 0), (0, 5)), Circle((2, 2), 5.0)):
        points = facet(curve, sagitta)
        middles = 0.5 * (points[1:] + points[:-1])
        height = curve.radius - np.hypot(*(middles - np.array(curve.center)).T)
        assert height.max() <= sagitta * (1 + 1e-9)
        theta = abs(curve.sweep if isinstance(curve, Arc) else 2 * pi) / (len(points) - 1)
        assert height.max() == pytest.approx(curve.radius * (1 - cos(theta / 2)))
        # One chord less would have been too few.
        wider = theta * (len(points) - 1) / max(1, len(points) - 2)
        assert len(points) <= 4 or curve.radius * (1 - cos(wider / 2)) > sagitta * (1 - 1e-9)


def test_ends_and_small_circles():
    assert facet(Line((0, 0), (3, 4)), 0.1).tolist() == [[0, 0], [3, 4]]
    ring = facet(Circle((0, 0), 1.0), 5.0)
    assert len(ring) == 4
    assert ring[0].tolist() == ring[-1].tolist()
    arc = Arc((0, 0), (5, 0), (5 * cos(2.0), 5 * sin(2.0)))
    assert tuple(facet(arc, 0.01)[-1]) == arc.end
