"""Holes of a polar pattern against the handbook's tables of hole circle coordinates."""

from __future__ import annotations

from math import hypot

import pytest

from sketcher.part.edits.draft import Draft
from sketcher.part.value import Part, PolarPattern
from sketcher.part.whole import whole
from sketcher.quantity.exact_angles import cosine, sine

# Machinery's Handbook, 31st ed., Industrial Press 2020, pp. 709-710, "Determining Hole Circle
# Coordinates", five holes, D = 1. The book counts y downward and prints five decimals.
TYPE_A = [(0.0, -0.5), (-0.47553, -0.15451), (-0.29389, 0.40451), (0.29389, 0.40451),
          (0.47553, -0.15451)]
TYPE_B = [(-0.29389, -0.40451), (-0.47553, 0.15451), (0.0, 0.5), (0.47553, 0.15451),
          (0.29389, -0.40451)]

# sin(180/n), the chord between neighbouring holes for D = 1 (standard formula; computed to 15
# digits with mpmath).
CHORDS = {
    3: 0.866025403784439, 4: 0.707106781186548, 5: 0.587785252292473, 6: 0.5,
    7: 0.433883739117558, 8: 0.382683432365090, 9: 0.342020143325669, 10: 0.309016994374947,
    11: 0.281732556841430, 12: 0.258819045102521, 14: 0.222520933956314, 16: 0.195090322016128,
}


def holes(count: int, first: float, diameter: float = 1.0) -> list[tuple[float, float]]:
    """Centers of a bolt circle whose first hole stands at an angle in degrees."""
    draft = Draft(Part())
    center = draft.point((0.0, 0.0))
    at = (0.5 * diameter * cosine(first), 0.5 * diameter * sine(first))
    draft.circle(at, 0.01 * diameter, name="h")
    draft.pattern(PolarPattern(("h",), center, count))
    return [piece.curve.center for piece in whole(draft.done())]


@pytest.mark.parametrize(("table", "first"), [(TYPE_A, 90.0), (TYPE_B, 90.0 + 36.0)])
def test_coordinates_of_five_holes(table, first: float) -> None:
    for (x, y), (u, v) in zip(holes(5, first), table, strict=True):
        assert (x, -y) == pytest.approx((u, v), abs=5e-6)


@pytest.mark.parametrize("count", CHORDS)
def test_chords_between_neighbours(count: int) -> None:
    at = holes(count, 17.0, 2.5)
    for (x0, y0), (x1, y1) in zip(at, at[1:] + at[:1], strict=True):
        assert hypot(x1 - x0, y1 - y0) == pytest.approx(2.5 * CHORDS[count], rel=1e-14)
