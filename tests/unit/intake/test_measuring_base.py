"""Combs whose teeth stand in whole figures from each other, and anywhere from the back."""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from sketcher.geometry.curves import XY, Curve, Line
from sketcher.intake.axes import halved
from sketcher.intake.bind import bound_half
from sketcher.intake.measuring_base import measuring_base
from sketcher.intake.taken import BoundHalf
from sketcher.intake.wishes import Wishes
from sketcher.part.value import LineCurve, Part, begun
from tests.turned_drawings import blurred, one_shape

TEETH = (0.0, 12.0, 25.0, 31.5, 47.0, 60.0)


def comb(first: float, deep: float = 9.0) -> list[Curve]:
    """A long plate, its back along y = 0, steps of its upper side from `first` on."""
    top: list[XY] = []
    for k, x in enumerate(TEETH):
        high = 40.0 + deep * (k % 2)
        top += [(first + x, high), (first + x, 40.0 + deep * ((k + 1) % 2))]
    ring = [(0.0, 0.0), (first + TEETH[-1], 0.0), *reversed(top[1:-1]), (first, 40.0), (0.0, 40.0)]
    ring = [at for k, at in enumerate(ring) if at != ring[k - 1]]
    return [Line(a, b) for a, b in zip(ring, [*ring[1:], ring[0]], strict=True)]


def bound(curves: Sequence[Curve], noise: float) -> BoundHalf:
    curves = blurred(curves, noise, 3) if noise else curves
    return bound_half(halved(one_shape(curves, noise=noise), Wishes()), Wishes())


@pytest.mark.parametrize("noise", [0.0, 1e-5])
def test_only_the_place_of_the_first_tooth_is_odd(noise: float) -> None:
    found = bound(comb(31.41593), noise)
    assert not found.solution.report.freedoms
    odd = [abs(value.measured) for value in found.values if not value.round]
    assert len(odd) == 1
    assert min(abs(odd[0] - 31.41593 - tooth) for tooth in TEETH) < 3.0 * noise + 1e-5
    runs = {abs(float(each.value)) for each in found.part.bindings.values() if each.kind == "run"}
    assert any({abs(x - tooth) for x in TEETH if x != tooth} < runs for tooth in TEETH)


def test_a_plain_datum_is_kept() -> None:
    found = bound(comb(31.5), 1e-5)
    datum = next(name for name, at in found.part.points.items() if at == (0.0, 0.0))
    assert all(value.round for value in found.values)
    assert all(datum in each.of for each in found.part.bindings.values() if each.kind == "run")


def standing(*places: float) -> Part:
    """Plumb edges alone, from the datum at 0."""
    points = {f"p{k}{end}": (x, high) for k, x in enumerate((0.0, *places))
              for end, high in (("a", 0.0), ("b", 30.0 - k))}
    curves = {f"e{k}": LineCurve((f"p{k}a", f"p{k}b")) for k in range(len(places) + 1)}
    return begun("mm").having(points=points, curves=curves)


@pytest.mark.parametrize(("places", "base"), [
    ((10.1234567, 20.1234567, 32.1234567, 47.1234567), "p1a"),  # from there all others are round
    ((10.1234567, 20.1234567, 32.1234567), "p0a"),  # too few
    ((10.1234567, 20.1234567, 32.1234567, 40.0, 50.0), "p0a"),  # from the datum two of five
    ((10.1234567, 20.1234567, 33.7654321, 48.7654321), "p0a"),  # from none are most
])
def test_another_edge_needs_nearly_all(places: tuple[float, ...], base: str) -> None:
    assert measuring_base(standing(*places), "p0a", 0, 1e-6, 1e-6) == base
