"""Layout of dimensions: from nothing, for a kept frame, and where they are crowded."""

from __future__ import annotations

import random

import pytest

from sketcher.drafting.dimensioning import Dimensioning
from sketcher.drafting.features import shown_pieces
from sketcher.drafting.layout.choose import FRAME, FULL, QUICK
from sketcher.drafting.layout.lay_out import lay_out
from sketcher.drafting.view_contents import contents_of
from sketcher.part.value import Binding, CircleCurve, LineCurve, Part, frozen


def plate(holes: int = 33) -> Part:
    """An invented plate with holes, each located and sized."""
    rng = random.Random(3)
    points = {"p1": (0.0, 0.0), "p2": (400.0, 0.0), "p3": (400.0, 260.0), "p4": (0.0, 260.0)}
    curves = {f"e{k}": LineCurve((f"p{k}", f"p{k % 4 + 1}")) for k in range(1, 5)}
    bindings = {"w": Binding("run", ("p1", "p2"), "400")}
    for k in range(holes):
        x = round(25 + k // 5 * 50 + rng.uniform(-8, 8), 2)
        y = round(28 + k % 5 * 48 + rng.uniform(-8, 8), 2)
        points[f"k{k}"], curves[f"h{k}"] = (x, y), CircleCurve(f"k{k}", 4.0)
        bindings[f"d{k}"] = Binding("diameter", (f"h{k}",), "8")
        bindings[f"x{k}"] = Binding("run", ("p1", f"k{k}"), repr(x))
        bindings[f"y{k}"] = Binding("rise", ("p1", f"k{k}"), repr(y))
    return Part(points=frozen(points), curves=frozen(curves), bindings=frozen(bindings))


def from_one_corner() -> Part:
    """Forty levels from one corner."""
    points = {"p1": (0.0, 0.0), "p2": (500.0, 0.0), "p3": (500.0, 60.0), "p4": (0.0, 60.0)}
    curves = {f"e{k}": LineCurve((f"p{k}", f"p{k % 4 + 1}")) for k in range(1, 5)}
    points |= {f"q{k}": (12.0 * k, 0.0) for k in range(1, 41)}
    bindings = {f"b{k}": Binding("run", ("p1", f"q{k}"), str(12 * k)) for k in range(1, 41)}
    return Part(points=frozen(points), curves=frozen(curves), bindings=frozen(bindings))


def asked(part: Part) -> Dimensioning:
    found = contents_of(part, shown_pieces(part), 1.0, 3.5, QUICK).dimensioning
    assert found is not None
    return found


@pytest.mark.parametrize(("part", "most"), [(plate(10), 0.06), (plate(), 0.25),
                                            (from_one_corner(), 1.0)],
                         ids=["thirty", "hundred", "one corner"])
def test_from_nothing(benchmark, part: Part, most: float) -> None:
    """Times are those of one core at rest; a loaded one takes up to three times as long."""
    wanted = asked(part)
    found = benchmark.pedantic(wanted.laid_out, (FULL,), rounds=5, iterations=1)
    assert found.badly == ()
    assert benchmark.stats.stats.min < 3.0 * most


def test_a_kept_frame_of_thirty(benchmark) -> None:
    now = asked(plate(10))
    places = now.laid_out(FULL).places

    def frame():
        return lay_out(now.wanted, now.ground, now.sizes, FRAME, {}, places)

    found = benchmark.pedantic(frame, rounds=20, iterations=1)
    assert found.places == places
    assert benchmark.stats.stats.min < 3.0 * 0.015
