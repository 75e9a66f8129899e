"""Arcs that go on from each other are two, though their ends lie on each other's circles."""

from __future__ import annotations

from math import cos, sin

import pytest

from sketcher.geometry.curves import Arc
from sketcher.intake.linework import TakenCurve
from sketcher.intake.overlaid import laid_over
from sketcher.intake.wishes import Wishes


@pytest.mark.parametrize("radius", [3.0, 8.0, 20.0])
@pytest.mark.parametrize("off", [1e-6, 0.014])
def test_a_corner_round_beside_a_crown_is_not_laid_over_it(radius: float, off: float) -> None:
    """A crown of radius 36 that a smaller round leaves tangent, as on the top of a window."""
    at = 1.35
    center = ((36.0 - radius) * cos(at), (36.0 - radius) * sin(at))
    joint = (36.0 * cos(at), 36.0 * sin(at))
    crown = Arc((0.0, 0.0), joint, (36.0 * cos(2.2), 36.0 * sin(2.2)))
    corner = Arc(center, (center[0] + radius * cos(0.2), center[1] + radius * sin(0.2)), joint)
    drawn = [TakenCurve(crown, (1,)), TakenCurve(corner, (2,))]
    left, told = laid_over(drawn, Wishes(), 1e-6, off)
    assert (left, told) == (drawn, [])
