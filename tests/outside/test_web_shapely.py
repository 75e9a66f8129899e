"""The web between two holes against shapely's distance of two discs, and against worked numbers."""

from __future__ import annotations

from math import dist

import numpy as np
import pytest
from shapely import Point

from sketcher.part.edits.draft import Draft
from sketcher.part.kinds import bind, measure
from sketcher.part.value import CircleCurve, Part, frozen
from sketcher.solve import solve

CHORDS = 2000  # a quarter: a polygon's sagitta then is 1 - cos(pi / 8000) = 8e-8 of the radius


def disc(part: Part, name: str) -> object:
    circle = part.curves[name]
    return Point(part.points[circle.center]).buffer(circle.radius, quad_segs=CHORDS)


def holes(seed: int) -> Part:
    """Two holes at random, apart or not."""
    rng = np.random.default_rng(seed)
    at = [(float(x), float(y)) for x, y in rng.uniform(-60.0, 60.0, (2, 2))]
    radii = rng.uniform(1.0, 30.0, 2).tolist()
    return Part(points=frozen(dict(zip("ab", at, strict=True))),
                curves=frozen({"h1": CircleCurve("a", radii[0]), "h2": CircleCurve("b", radii[1])}))


@pytest.mark.parametrize("seed", range(20))
def test_a_driven_web_is_the_distance_of_the_discs(seed: int) -> None:
    part = holes(seed)
    part = part.having(bindings={
        "f": bind(part, "fixed", ["a"]), "r": bind(part, "radius", ["h1"]),
        "s": bind(part, "diameter", ["h2"]), "w": bind(part, "web", ["h1", "h2"], "3.25")})
    solution = solve(part)
    assert solution.report.converged
    apart = disc(solution.part, "h1").distance(disc(solution.part, "h2"))
    assert apart == pytest.approx(3.25, abs=2.0 * 30.0 * 8e-8)


@pytest.mark.parametrize("seed", range(20))
def test_a_reference_web_measures_the_distance_of_the_discs(seed: int) -> None:
    part = holes(seed)
    apart = disc(part, "h1").distance(disc(part, "h2"))
    found = measure(part, bind(part, "web", ["h1", "h2"], "1", drives=False))
    assert max(found, 0.0) == pytest.approx(apart, abs=2.0 * 30.0 * 8e-8)


@pytest.mark.parametrize(("value", "x"), [("4", 20.0), ("1/2", 16.5), ("wall", 18.0)])
def test_a_web_places_a_hole_in_a_row(value: str, x: float) -> None:
    # worked: x = 10 + 6 + web for radii 10 and 6 about one level line
    draft = Draft(Part().having(parameters={"wall": "2"}))
    draft.circle((0, 0), 9.0)
    draft.circle((30, 1), 7.0)
    for kind, of, text in (("fixed", ("p1",), None), ("radius", ("h1",), "10"),
                           ("radius", ("h2",), "6"), ("level", ("p1", "p2"), None),
                           ("web", ("h1", "h2"), value)):
        draft.bind(kind, of, text)
    solution = solve(draft.done())
    assert solution.report.state == "bound"
    assert solution.part.points["p2"] == pytest.approx((x, 0.0), abs=1e-9)


def test_a_web_can_give_a_radius() -> None:
    # worked: centers (0, 0) and (24, 10) are 26 apart, so a web of 15 leaves 26 - 15 - 5 = 6
    part = Part(points=frozen({"a": (0.0, 0.0), "b": (24.0, 10.0)}),
                curves=frozen({"h1": CircleCurve("a", 5.0), "h2": CircleCurve("b", 2.0)}))
    part = part.having(bindings={
        "f": bind(part, "fixed", ["a"]), "g": bind(part, "fixed", ["b"]),
        "r": bind(part, "radius", ["h1"], "5"), "w": bind(part, "web", ["h1", "h2"], "15")})
    solved = solve(part).part
    assert solved.curves["h2"].radius == pytest.approx(6.0, abs=1e-9)
    assert dist(*solved.points.values()) == pytest.approx(26.0)
