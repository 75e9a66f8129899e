"""Every kind solved alone, in each of its forms, as driving and as reference binding."""

from __future__ import annotations

from dataclasses import replace
from math import atan2, degrees, dist

import numpy as np
import pytest

from sketcher.part.kinds import KINDS, bind, measure, residual
from sketcher.part.value import ArcCurve, CircleCurve, LineCurve, Part, frozen
from sketcher.solve import solve
from sketcher.solve.search import search
from sketcher.solve.system import System

POINTS = {
    "a": (0.0, 0.3), "b": (10.0, -0.4), "c": (1.0, 5.0), "d": (9.0, 6.0), "p": (4.0, 2.0),
    "q": (6.0, -3.0), "k": (3.0, 9.0), "l": (14.0, 10.0), "s": (17.0, 10.5), "t": (14.5, 13.0),
    "n": (20.0, 2.0), "u": (24.0, 2.5), "v": (20.5, 6.0), "x": (-3.0, -8.0), "y": (-2.0, 12.0),
}
CURVES = {
    "e1": LineCurve(("a", "b")), "e2": LineCurve(("c", "d")), "h1": CircleCurve("k", 2.0),
    "h2": CircleCurve("l", 3.1), "a1": ArcCurve(("s", "t"), "l"),
    "a2": ArcCurve(("u", "v"), "n"), "ax": LineCurve(("x", "y"), "axis"),
    "e3": LineCurve(("b", "d")),
}
CASES = [
    ("distance", ["a", "p"], "5"), ("distance", ["e1"], "12"),
    ("run", ["a", "p"], "6"), ("run", ["p", "a"], "1"), ("run", ["e2"], "9"),
    ("rise", ["a", "p"], "3"), ("rise", ["p", "q"], "4"), ("rise", ["e2"], "2"),
    ("offset", ["e1", "p"], "3.5"), ("offset", ["e1", "q"], "3.5"), ("offset", ["e1", "e2"], "4"),
    ("offset", ["e2", "e1"], "7"), ("offset", ["h1", "h2"], "2"), ("offset", ["a1", "h1"], "1.5"),
    ("offset", ["a1", "a2"], "0.5"),
    ("angle", ["e1", "e2"], "15"), ("angle", ["e1", "e2"], "160"), ("angle", ["e1"], "10"),
    ("angle", ["e1", "e3"], "90"), ("angle", ["e1", "ax"], "80"),
    ("radius", ["h1"], "4"), ("radius", ["a1"], "2"), ("diameter", ["h1"], "5"),
    ("diameter", ["a1"], "5"),
    ("level", ["e1"], None), ("level", ["a", "q"], None), ("plumb", ["ax"], None),
    ("plumb", ["c", "p"], None),
    ("parallel", ["e1", "e2"], None), ("square", ["e1", "ax"], None),
    ("square", ["e1", "p", "q"], None),
    ("in line", ["e1", "e2"], None), ("in line", ["e1", "e3"], None),
    ("in line", ["a", "p", "q"], None),
    ("on", ["p", "e1"], None), ("on", ["p", "h1"], None), ("on", ["q", "a1"], None),
    ("on", ["d", "h1"], None), ("on", ["s", "e1"], None), ("on", ["u", "a1"], None),
    ("middle", ["p", "e1"], None), ("middle", ["p", "c", "q"], None),
    ("equal", ["e1", "e2"], None), ("equal", ["h1", "a1"], None), ("equal", ["a1", "a2"], None),
    ("concentric", ["h1", "a2"], None), ("concentric", ["h1", "p"], None),
    ("tangent", ["e1", "h1"], None), ("tangent", ["e2", "a1"], None),
    ("tangent", ["h1", "h2"], None), ("tangent", ["a1", "a2"], None),
    ("reflected", ["p", "q", "ax"], None), ("reflected", ["e1", "e2", "ax"], None),
    ("reflected", ["h1", "h2", "ax"], None), ("reflected", ["a1", "a2", "ax"], None),
    ("fixed", ["p"], None),
    ("web", ["h1", "h2"], "4"), ("web", ["a1", "h1"], "0.5"), ("web", ["a1", "a2"], "2"),
]


@pytest.fixture
def part() -> Part:
    return Part(points=frozen(POINTS), curves=frozen(CURVES))


def arcs_are_round(part: Part) -> bool:
    """Both ends of every arc at one distance from the center, to rounding."""
    arcs = [c for c in part.curves.values() if isinstance(c, ArcCurve)]
    radii = [[dist(part.points[end], part.points[arc.center]) for end in arc.ends] for arc in arcs]
    return all(abs(one - other) < 1e-12 for one, other in radii)


@pytest.mark.parametrize(("kind", "ids", "value"), CASES)
def test_solved_alone(part: Part, kind: str, ids: list[str], value: str | None) -> None:
    binding = bind(part, kind, ids, value)
    solution = solve(part.having(bindings={"b": binding}))
    assert solution.report.converged
    assert abs(solution.report.residuals["b"]) < 1e-11
    assert solution.part.bindings["b"].side == binding.side
    assert abs(residual(solution.part, binding)) < 1e-11
    assert arcs_are_round(solution.part)
    if kind != "fixed":
        assert abs(residual(part, binding)) > 1e-3  # there was something to solve


@pytest.mark.parametrize(("kind", "ids", "value"), CASES)
def test_moves_no_curve_that_it_does_not_concern(
    part: Part, kind: str, ids: list[str], value: str | None
) -> None:
    binding = bind(part, kind, ids, value)
    solution = solve(part.having(bindings={"b": binding}))
    concerned = set(ids)
    for name in ids:
        if name in CURVES:
            concerned.update(CURVES[name].points)
    arcs = [p for c in CURVES.values() if isinstance(c, ArcCurve) for p in c.points]
    for name, place in POINTS.items():
        if name not in concerned and name not in arcs:
            assert solution.part.points[name] == place


@pytest.mark.parametrize(("kind", "ids", "value"), [c for c in CASES if c[2] is not None])
def test_a_reference_dimension_is_measured_and_drives_nothing(
    part: Part, kind: str, ids: list[str], value: str
) -> None:
    round_part = solve(part).part
    binding = bind(round_part, kind, ids, value, drives=False)
    solution = solve(round_part.having(bindings={"b": binding}))
    assert "b" not in solution.report.residuals
    for name, place in round_part.points.items():
        assert solution.part.points[name] == pytest.approx(place, abs=1e-12)
    assert measure(solution.part, binding) == pytest.approx(measure(round_part, binding), abs=1e-9)


def test_every_form_of_every_kind_has_a_case(part: Part) -> None:
    seen = set()
    for kind, ids, value in CASES:
        of = bind(part, kind, ids, value).of
        types = ["point" if n in POINTS else CURVES[n].kind for n in of]
        seen.update((kind, form) for form in KINDS[kind].forms if len(form) == len(types) and all(
            want == found or (want == "round" and found in {"arc", "circle"})
            for want, found in zip(form, types, strict=True)))
    assert seen == {(name, form) for name, kind in KINDS.items() for form in kind.forms}


def point_line_distance(point: tuple, one: tuple, other: tuple) -> float:
    """Area of the triangle by its base."""
    (px, py), (ax, ay), (bx, by) = point, one, other
    return abs((bx - ax) * (py - ay) - (by - ay) * (px - ax)) / dist(one, other)


def slope(part: Part, name: str) -> float:
    """Direction of a line in degrees."""
    one, other = (part.points[p] for p in CURVES[name].ends)
    return degrees(atan2(other[1] - one[1], other[0] - one[0]))


def solved(part: Part, kind: str, ids: list[str], value: str | None = None) -> Part:
    return solve(part.having(bindings={"b": bind(part, kind, ids, value)})).part


def test_what_they_mean_said_another_way(part: Part) -> None:
    """The same conditions from the coordinates, without the equations of the kinds."""
    assert dist(*(solved(part, "distance", ["a", "p"], "5").points[n] for n in "ap")) == (
        pytest.approx(5.0))
    at = solved(part, "offset", ["e1", "e2"], "4").points
    assert [point_line_distance(at[n], at["a"], at["b"]) for n in "cd"] == pytest.approx([4, 4])
    turned = solved(part, "angle", ["e1", "e2"], "15")
    assert slope(turned, "e2") - slope(turned, "e1") == pytest.approx(15.0)
    crossed = solved(part, "square", ["e1", "ax"])
    assert abs(slope(crossed, "ax") - slope(crossed, "e1")) == pytest.approx(90.0)
    at = solved(part, "reflected", ["p", "q", "ax"]).points
    axis = np.subtract(at["y"], at["x"]) / dist(at["x"], at["y"])
    arm = np.subtract(at["p"], at["x"])
    image = 2.0 * (arm @ axis) * axis - arm + at["x"]
    assert tuple(image) == pytest.approx(at["q"])
    touch = solved(part, "tangent", ["h1", "h2"])
    assert dist(touch.points["k"], touch.points["l"]) == pytest.approx(
        touch.curves["h1"].radius + touch.curves["h2"].radius)


def test_fixed_holds_the_point_while_others_give_way(part: Part) -> None:
    bindings = {"f": bind(part, "fixed", ["p"]), "d": bind(part, "distance", ["a", "p"], "7")}
    solution = solve(part.having(bindings=bindings))
    assert solution.part.points["p"] == POINTS["p"]
    assert dist(solution.part.points["a"], POINTS["p"]) == pytest.approx(7.0)


def test_arcs_reflected_turn_the_other_way_round(part: Part) -> None:
    at = solved(part, "reflected", ["a1", "a2", "ax"]).points
    one = np.cross([*np.subtract(at["s"], at["l"]), 0], [*np.subtract(at["t"], at["l"]), 0])[2]
    # a2 has the same turn as a1, so its end is the image of the start of a1
    other = np.cross([*np.subtract(at["v"], at["n"]), 0], [*np.subtract(at["u"], at["n"]), 0])[2]
    assert one == pytest.approx(-other)


def test_all_cases_side_by_side_in_one_large_part(part: Part) -> None:
    """One sparse system with every kind; loose parts end near where they end one by one."""
    points, curves, bindings, alone = {}, {}, {}, {}
    for k, (kind, ids, value) in enumerate(CASES):
        tag = f"_{k}"
        binding = bind(part, kind, ids, value)
        alone[tag] = solve(part.having(bindings={"b": binding})).part
        points |= {name + tag: at for name, at in POINTS.items()}
        for name, c in CURVES.items():
            named = {"ends": tuple(p + tag for p in c.ends)} if hasattr(c, "ends") else {}
            if hasattr(c, "center"):
                named["center"] = c.center + tag
            curves[name + tag] = replace(c, **named)
        bindings["b" + tag] = replace(binding, of=tuple(name + tag for name in binding.of))
    whole = Part(points=frozen(points), curves=frozen(curves), bindings=frozen(bindings))
    assert not System(whole).small
    found = search(System(whole))
    assert found.converged
    together = System(whole).to_part(found.x)
    for tag, single in alone.items():
        assert abs(residual(together, together.bindings["b" + tag])) < 1e-10
        for name, at in single.points.items():
            # damping is common to all of them, so loose parts need not end at the same digit
            assert together.points[name + tag] == pytest.approx(at, abs=1.0), (tag, name)
