"""How finely arcs are cut into cubics; the curves themselves are checked from outside."""

from __future__ import annotations

from math import pi

import numpy as np
import pytest

from sketcher.geometry.cubic import cubics
from sketcher.geometry.curves import Arc, Circle


def test_a_turn_is_cut_into_pieces_of_fifteen_degrees() -> None:
    assert len(cubics(Circle((3.0, 4.0), 2.0))) == 24
    assert len(cubics(Arc((0.0, 0.0), (1.0, 0.0), (0.0, 1.0)))) == 6
    assert len(cubics(Circle((0.0, 0.0), 1.0), widest=pi / 2.0)) == 4


def test_a_piece_leaves_its_circle_by_less_than_a_hundred_millionth() -> None:
    t = np.linspace(0.0, 1.0, 401)[:, None]
    a, b, c, d = cubics(Circle((0.0, 0.0), 1.0))[0]
    at = (1 - t) ** 3 * a + 3 * t * (1 - t) ** 2 * b + 3 * t**2 * (1 - t) * c + t**3 * d
    off = np.hypot(*at.T) - 1.0
    # (2/27) sin^6 / cos^2 of 3.75 degrees
    assert off.max() == pytest.approx(5.8e-9, rel=0.02)
    assert off.min() >= -1e-15
