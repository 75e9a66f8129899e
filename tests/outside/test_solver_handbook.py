"""The solver against values printed in handbooks and against exact constructions.

Each sketch starts well off the solution, by a seeded random move.
"""

from __future__ import annotations

from math import acos, asin, atan2, cos, degrees, dist, pi, radians, sin, sqrt, tan

import mpmath
import numpy as np
import pytest
import sympy

from sketcher.part.kinds import bind, settle_sides
from sketcher.part.value import ArcCurve, Binding, CircleCurve, LineCurve, Part, frozen
from sketcher.solve import solve


def bound(part: Part, *listed: tuple) -> Part:
    """Part with bindings (kind, ids, value, side) b1, b2 ..., sides as it stands if not given."""
    bindings = {}
    for k, (kind, ids, *rest) in enumerate(listed, 1):
        value, side = (*rest, None, None)[:2]
        made = bind(part, kind, ids, value)
        bindings[f"b{k}"] = made if side is None else Binding(kind, made.of, value, side)
    return part.having(bindings=bindings)


def moved(part: Part, reach: float, seed: int) -> Part:
    """Every point moved by up to `reach`, sides settled before."""
    rng = np.random.default_rng(seed)
    part = settle_sides(part)
    fixed = {b.of[0] for b in part.bindings.values() if b.kind == "fixed"}
    return part.having(points={
        name: at if name in fixed else (at[0] + rng.uniform(-reach, reach),
                                        at[1] + rng.uniform(-reach, reach))
        for name, at in part.points.items()})


# Encyclopaedia Britannica, 11th ed., "Mechanics", sec. 59: external tangent
# sqrt(C^2 - (R - r)^2), internal sqrt(C^2 - (R + r)^2).
PAIRS = [(5, 3, 10), (10, 2, 17), (3, 2, 13), (8, 8, 20), (40, 20, 100)]


@pytest.mark.parametrize(("large", "small", "apart"), PAIRS)
@pytest.mark.parametrize("inner", [False, True])
def test_common_tangent_of_two_circles(large: int, small: int, apart: int, inner: bool) -> None:
    low = -1.0 if inner else 1.0
    part = Part(
        points=frozen({"o": (0.0, 0.0), "k": (float(apart), 0.0), "p": (0.1 * large, 1.0 * large),
                       "q": (apart + 0.1 * small, low * small)}),
        curves=frozen({"h1": CircleCurve("o", 1.1 * large), "h2": CircleCurve("k", 0.9 * small),
                       "e": LineCurve(("p", "q"))}))
    part = bound(part, ("fixed", ["o"]), ("fixed", ["k"]), ("radius", ["h1"], str(large)),
                 ("radius", ["h2"], str(small)), ("on", ["p", "h1"]), ("on", ["q", "h2"]),
                 ("tangent", ["e", "h1"]), ("tangent", ["e", "h2"]))
    expected = sqrt(apart**2 - (large + small if inner else large - small) ** 2)
    for seed in range(5):
        solution = solve(moved(part, 0.05 * apart, seed))
        assert solution.report.converged
        assert solution.report.state == "bound"
        at = solution.part.points
        assert dist(at["p"], at["q"]) == pytest.approx(expected, rel=1e-12)
        assert at["p"][1] > 0.0
        assert (at["q"][1] < 0.0) == inner


def test_tangent_points_of_the_open_and_the_crossed_belt() -> None:
    # R5 at (0, 0), r3 at (10, 0): tangent points by similar triangles, exact
    base = Part(
        points=frozen({"o": (0.0, 0.0), "k": (10.0, 0.0), "p": (1.5, 4.5), "q": (10.4, 2.7)}),
        curves=frozen({"h1": CircleCurve("o", 5.0), "h2": CircleCurve("k", 3.0),
                       "e": LineCurve(("p", "q"))}))
    listed = (("fixed", ["o"]), ("fixed", ["k"]), ("radius", ["h1"], "5"), ("radius", ["h2"], "3"),
              ("on", ["p", "h1"]), ("on", ["q", "h2"]), ("tangent", ["e", "h1"]),
              ("tangent", ["e", "h2"]))
    at = solve(bound(base, *listed)).part.points
    assert at["p"] == pytest.approx((1.0, 4.89897948556636), abs=1e-13)
    assert at["q"] == pytest.approx((10.6, 2.93938769133981), abs=1e-13)
    crossed = base.having(points={**base.points, "q": (7.0, -2.0)})
    at = solve(bound(crossed, *listed)).part.points
    assert at["p"] == pytest.approx((4.0, 3.0), abs=1e-13)
    assert at["q"] == pytest.approx((7.6, -1.8), abs=1e-13)


def test_tangent_from_a_point_to_a_circle() -> None:
    # from (4, 0) to r 2 about the origin: touch (1, +-sqrt 3); sympy says the same
    circle = sympy.Circle(sympy.Point(0, 0), 2)
    expected = {tuple(map(float, line.points[1])) for line in
                circle.tangent_lines(sympy.Point(4, 0))}
    found = set()
    for side in (1.0, -1.0):
        part = Part(
            points=frozen({"o": (0.0, 0.0), "p": (4.0, 0.0), "t": (1.4, 1.5 * side)}),
            curves=frozen({"h": CircleCurve("o", 2.2), "e": LineCurve(("p", "t"))}))
        part = bound(part, ("fixed", ["o"]), ("fixed", ["p"]), ("radius", ["h"], "2"),
                     ("on", ["t", "h"]), ("tangent", ["e", "h"]))
        found.add(solve(part).part.points["t"])
    for place in expected:
        assert min(dist(place, other) for other in found) < 1e-12
    assert len(found) == len(expected) == 2


# Fillet cases, exact or on 3-4-5 triangles.
@pytest.mark.parametrize(("radius", "start", "center", "touches"), [
    ("8", (13.0, 13.0), (13.2, 12.2376468326227),
     [(7.33333333333333, 6.79869268479038), (17.0857142857143, 5.24470578540972)]),
    ("30", (6.0, 18.0), (5.6, 19.2), [(-2.8, -9.6), (23.6, -4.8)]),
])
def test_arc_tangent_to_two_circles(
    radius: str, start: tuple, center: tuple, touches: list
) -> None:
    part = Part(
        points=frozen({"o": (0.0, 0.0), "k": (20.0, 0.0), "f": start,
                       "p": (touches[0][0] + 0.8, touches[0][1] - 0.5),
                       "q": (touches[1][0] - 0.4, touches[1][1] - 0.3)}),
        curves=frozen({"h1": CircleCurve("o", 10.0), "h2": CircleCurve("k", 6.0),
                       "a": ArcCurve(("p", "q"), "f")}))
    part = bound(part, ("fixed", ["o"]), ("fixed", ["k"]), ("radius", ["h1"], "10"),
                 ("radius", ["h2"], "6"), ("radius", ["a"], radius), ("on", ["p", "h1"]),
                 ("on", ["q", "h2"]), ("tangent", ["a", "h1"]), ("tangent", ["a", "h2"]))
    for seed in range(5):
        solution = solve(moved(part, 1.0, seed))
        assert solution.report.state == "bound"
        at = solution.part.points
        assert at["f"] == pytest.approx(center, abs=1e-12)
        assert at["p"] == pytest.approx(touches[0], abs=1e-12)
        assert at["q"] == pytest.approx(touches[1], abs=1e-12)


def test_fillet_of_a_line_and_a_circle() -> None:
    # line y = 0, circle R6 about (0, 10), f 4: center (8, 4), touches (8, 0) and (4.8, 6.4)
    part = Part(
        points=frozen({"a": (0.0, 0.0), "b": (30.0, 0.0), "o": (0.0, 10.0), "f": (8.6, 4.5),
                       "p": (8.0, 0.4), "q": (5.0, 6.0)}),
        curves=frozen({"e": LineCurve(("a", "b")), "h": CircleCurve("o", 6.0),
                       "r": ArcCurve(("p", "q"), "f", "cw")}))
    part = bound(part, ("fixed", ["a"]), ("fixed", ["b"]), ("fixed", ["o"]), ("radius", ["h"], "6"),
                 ("radius", ["r"], "4"), ("on", ["p", "e"]), ("on", ["q", "h"]),
                 ("tangent", ["e", "r"]), ("tangent", ["h", "r"]))
    at = solve(part).part.points
    assert at["f"] == pytest.approx((8.0, 4.0), abs=1e-13)
    assert at["p"] == pytest.approx((8.0, 0.0), abs=1e-13)
    assert at["q"] == pytest.approx((4.8, 6.4), abs=1e-13)


# Tangent length T = R cot(phi/2) of a fillet in a corner of angle phi, values for R = 1
# (any route-surveying text; Engineering Surveying, 6th ed., ch. 10: R tan(D/2)).
@pytest.mark.parametrize(("corner", "length"), [
    (30, 3.73205080756888), (45, 2.41421356237310), (60, 1.73205080756888),
    (75, 1.30322537284121), (90, 1.0), (120, 0.577350269189626), (135, 0.414213562373095),
    (150, 0.267949192431123),
])
def test_fillet_between_two_lines(corner: int, length: float) -> None:
    reach = 10.0
    way = (cos(radians(corner)), sin(radians(corner)))
    part = Part(
        points=frozen({"v": (0.0, 0.0), "a": (reach, 0.0), "p": (length + 0.2, 0.1),
                       "q": ((length + 0.1) * way[0] + 0.1, (length + 0.1) * way[1]),
                       "b": (reach * way[0], reach * way[1]), "f": (length, 1.2)}),
        curves=frozen({"e1": LineCurve(("a", "p")), "r": ArcCurve(("p", "q"), "f", "cw"),
                       "e2": LineCurve(("q", "b"))}))
    part = bound(part, ("fixed", ["v"]), ("fixed", ["a"]), ("fixed", ["b"]), ("on", ["v", "e1"]),
                 ("on", ["v", "e2"]), ("radius", ["r"], "1"),
                 ("tangent", ["e1", "r"], None, "right"), ("tangent", ["e2", "r"], None, "right"))
    solution = solve(part)
    assert solution.report.converged
    at = solution.part.points
    assert dist(at["p"], at["v"]) == pytest.approx(length, rel=1e-13)
    assert dist(at["q"], at["v"]) == pytest.approx(length, rel=1e-13)
    # the book's external: corner to arc = R (sec(D/2) - 1), with the angle turned D = 180 - corner
    external = 1.0 / sin(radians(corner / 2)) - 1.0
    assert dist(at["f"], at["v"]) - 1.0 == pytest.approx(external, rel=1e-12)


# ICPC Asia 2009, problem "Malfatti Circles" (POJ 3808), radii printed to 6 decimals; digits
# beyond and the other triangles from the classical formula (Malfatti 1803), recomputed.
TRIANGLES = [
    ([(20, 80), (-40, -20), (120, -20)], (21.5659345230982, 24.4090049238805, 27.1074925650321)),
    ([(20, -20), (120, -20), (-40, 80)], (9.94204369139626, 19.1505648006151, 19.9137900195506)),
    ([(0, 0), (4, 0), (0, 3)], (0.507933962352463, 0.751999353382582, 0.664894188739579)),
    ([(0, 0), (1, 0), (0.5, sqrt(3) / 2)], ((sqrt(3) - 1) / 4,) * 3),
]


@pytest.mark.parametrize(("corners", "radii"), TRIANGLES)
@pytest.mark.parametrize("seed", range(3))
def test_malfatti_circles(corners: list, radii: tuple, seed: int) -> None:
    """Nine unknowns, nine tangencies: three circles, each on two sides and on both others."""
    rng = np.random.default_rng(seed)
    places = np.array(corners, float)
    middle = places.mean(axis=0)
    size = float(np.ptp(places, axis=0).max())
    points = {f"c{k}": tuple(map(float, at)) for k, at in enumerate(places)}
    points |= {f"k{k}": tuple(map(float, 0.5 * (at + middle) + rng.uniform(-0.02, 0.02, 2) * size))
               for k, at in enumerate(places)}
    curves = {f"e{k}": LineCurve((f"c{k}", f"c{(k + 1) % 3}")) for k in range(3)}
    curves |= {f"h{k}": CircleCurve(f"k{k}", 0.15 * size) for k in range(3)}
    part = Part(points=frozen(points), curves=frozen(curves))
    listed: list[tuple] = [("fixed", [f"c{k}"]) for k in range(3)]
    listed += [("tangent", [f"e{k}", f"h{k}"]) for k in range(3)]
    listed += [("tangent", [f"e{(k + 2) % 3}", f"h{k}"]) for k in range(3)]
    listed += [("tangent", [f"h{k}", f"h{(k + 1) % 3}"], None, "outside") for k in range(3)]
    solution = solve(bound(part, *listed))
    assert solution.report.state == "bound"
    found = [solution.part.curves[f"h{k}"].radius for k in range(3)]
    assert found == pytest.approx(radii, rel=1e-13)


def test_circle_tangent_to_three_circles() -> None:
    # Apollonius for (0, 0) r1, (4, 0) r1, (2, 3) r3/2: outside (2, 9/20) r 21/20,
    # enclosing (2, 33/28) r 93/28; both rational
    given = [("o", (0.0, 0.0), "1"), ("k", (4.0, 0.0), "1"), ("l", (2.0, 3.0), "1.5")]
    for side, radius, center, start in (
        ("outside", 21 / 20, (2.0, 9 / 20), 0.8), ("inside", 93 / 28, (2.0, 33 / 28), 4.0)):
        part = Part(
            points=frozen({name: at for name, at, _ in given} | {"f": (2.2, 0.7)}),
            curves=frozen({f"h{name}": CircleCurve(name, float(r)) for name, _, r in given}
                          | {"x": CircleCurve("f", start)}))
        listed = [("fixed", [name]) for name, _, _ in given]
        listed += [("radius", [f"h{name}"], r) for name, _, r in given]
        listed += [("tangent", ["x", f"h{name}"], None, side) for name, _, _ in given]
        solution = solve(bound(part, *listed))
        assert solution.report.state == "bound"
        assert solution.part.curves["x"].radius == pytest.approx(radius, rel=1e-13)
        assert solution.part.points["f"] == pytest.approx(center, rel=1e-12)


def test_descartes_circle_theorem() -> None:
    # (sum k)^2 = 2 sum k^2, F. Soddy, Nature 137 (1936) 1021: curvatures -1, 2, 2 and then 3
    part = Part(
        points=frozen({"o": (0.0, 0.0), "a": (0.45, 0.02), "b": (-0.52, 0.0), "f": (0.05, 0.7)}),
        curves=frozen({"h": CircleCurve("o", 1.0), "i": CircleCurve("a", 0.5),
                       "j": CircleCurve("b", 0.5), "x": CircleCurve("f", 0.25)}))
    part = bound(
        part, ("fixed", ["o"]), ("radius", ["h"], "1"), ("radius", ["i"], "1/2"),
        ("radius", ["j"], "1/2"), ("level", ["o", "a"]),
        ("tangent", ["h", "i"], None, "inside"), ("tangent", ["h", "j"], None, "inside"),
        ("tangent", ["h", "x"], None, "inside"), ("tangent", ["i", "x"], None, "outside"),
        ("tangent", ["j", "x"], None, "outside"), ("level", ["o", "b"]))
    solution = solve(part)
    assert solution.report.converged
    # i and j touch without being told to, so their tangency would be said twice
    at = solution.part.points
    assert dist(at["a"], at["b"]) == pytest.approx(1.0, abs=1e-12)
    assert 1.0 / solution.part.curves["x"].radius == pytest.approx(3.0, rel=1e-12)
    assert at["f"] == pytest.approx((0.0, 2.0 / 3.0), abs=1e-12)


@pytest.mark.parametrize(("angle", "run"), [(15.0, 40.0), (30.0, 12.5), (5.71059313749964, 100.0)])
def test_slope_given_by_angle_and_run(angle: float, run: float) -> None:
    """Rise = run tan(angle); a slope of 1 in 10 is 5.71059313749964 degrees."""
    part = Part(points=frozen({"a": (0.0, 0.0), "b": (run + 3.0, 0.3 * run)}),
                curves=frozen({"e": LineCurve(("a", "b"))}))
    part = bound(part, ("fixed", ["a"]), ("angle", ["e"], repr(angle)),
                 ("run", ["a", "b"], repr(run)))
    at = solve(part).part.points["b"]
    with mpmath.workdps(40):
        rise = float(run * mpmath.tan(mpmath.mpf(angle) * mpmath.pi / 180))
    assert at == pytest.approx((run, rise), rel=1e-14)


def test_open_belt_length_round_two_pulleys() -> None:
    # Britannica as above, eq. 32A with the wrap pi + 2 asin((R - r)/C) on the large wheel
    large, small, apart = 5.0, 3.0, 10.0
    names = {"p": (0.5, 4.8), "q": (10.5, 2.8), "s": (0.5, -4.8), "t": (10.5, -2.8)}
    part = Part(
        points=frozen({"o": (0.0, 0.0), "k": (apart, 0.0), **names}),
        curves=frozen({"e1": LineCurve(("p", "q")), "e2": LineCurve(("t", "s")),
                       "a1": ArcCurve(("p", "s"), "o"), "a2": ArcCurve(("t", "q"), "k")}))
    part = bound(part, ("fixed", ["o"]), ("fixed", ["k"]), ("radius", ["a1"], "5"),
                 ("radius", ["a2"], "3"), *[("tangent", [e, a]) for e in ("e1", "e2")
                                            for a in ("a1", "a2")])
    solution = solve(part)
    assert solution.report.state == "bound"
    at = solution.part.points
    wrap = 2.0 * pi - 2.0 * atan2(at["p"][1], at["p"][0])
    rest = 2.0 * atan2(at["q"][1], at["q"][0] - apart)
    belt = 2.0 * dist(at["p"], at["q"]) + large * wrap + small * rest
    assert belt == pytest.approx(45.5340908541451, rel=1e-14)
    assert degrees(wrap) == pytest.approx(degrees(pi + 2 * asin((large - small) / apart)))


def test_triangle_by_three_sides_has_the_angles_of_the_cosine_rule() -> None:
    part = Part(points=frozen({"a": (0.0, 0.0), "b": (6.0, 0.5), "c": (3.5, 4.0)}),
                curves=frozen({"e1": LineCurve(("a", "b")), "e2": LineCurve(("b", "c")),
                               "e3": LineCurve(("c", "a"))}))
    part = bound(part, ("fixed", ["a"]), ("level", ["e1"]), ("distance", ["e1"], "7"),
                 ("distance", ["e2"], "6"), ("distance", ["e3"], "5"))
    at = solve(part).part.points
    corner = acos((7**2 + 5**2 - 6**2) / (2 * 7 * 5))
    assert at["c"] == pytest.approx((5 * cos(corner), 5 * sin(corner)), rel=1e-14)
    assert tan(corner) == pytest.approx(at["c"][1] / at["c"][0])
