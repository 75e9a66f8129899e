"""The search among sides on sketches whose distances and costs are worked by hand.

Points stand beside a fixed plumb line and are bound to it by an offset: drawn at x, a point moves
by w - x to the right side and by w + x to the left one. An offset costs its operands alone
(w -+ x)^2 / 1.5 where the point stands at half the line's height (see the tests of costs).
"""

from __future__ import annotations

from math import atan, degrees, exp, log, sqrt

import numpy as np
import pytest

from sketcher.part.value import CircleCurve, Part
from sketcher.solve.newton import NewtonOutcome
from sketcher.solve.rivals import Hunt, rescaled
from sketcher.solve.system import System
from tests.specimens import frame, said


def plumb(*drawn: float, wanted: float = 5.0, half: float = 10.0) -> Part:
    """Points k1, k2 ... at half the height of a fixed line, drawn at these x."""
    points = {"a": (0.0, -half), "b": (0.0, half)}
    points |= {f"k{n}": (x, 0.0) for n, x in enumerate(drawn, 1)}
    return frame(points, [("a", "b")], *[
        said("offset", "e1", f"k{n}", value=repr(wanted)) for n in range(1, len(drawn) + 1)],
        said("fixed", "a"), said("fixed", "b"))


class Judge:
    """Faults of a system as told, and the sides that were asked for, in order."""

    def __init__(self, faults: dict[str, int] | int = 0) -> None:
        self.faults = faults
        self.asked: list[tuple[str, ...]] = []

    def __call__(self, system: System, outcome: NewtonOutcome) -> int:
        sides = tuple(b.side for b in system.part.bindings.values() if b.side)
        self.asked.append(sides)
        return self.faults if isinstance(self.faults, int) else self.faults.get(" ".join(sides), 0)


def never(one: Part, other: Part) -> bool:
    return False


def hunt(part: Part, faults: dict[str, int] | int = 0) -> Hunt:
    return Hunt(part, Judge(faults), never)


def x_of(part: Part, name: str = "k1") -> float:
    return part.points[name][0]


def test_the_nearer_solution_is_taken_and_its_distance_is_known() -> None:
    found = hunt(plumb(1.0))
    assert found.best is not None
    assert x_of(found.best.part) == pytest.approx(5.0)
    assert found.best.apart == pytest.approx(16.0)
    assert dict(found.best.sides) == {"b1": "right"}
    (rival,) = found.rivals
    assert x_of(rival.part) == pytest.approx(-5.0)
    assert rival.apart == pytest.approx(36.0)
    assert rival.sides == {"b1": "left"}
    # Two coordinates are free: 2/2 ln(36/16).
    assert found.ratio(rival.apart) == pytest.approx(log(36.0 / 16.0))
    size = sqrt(1.0 + 20.0**2)
    assert found.roughness == pytest.approx(sqrt(16.0 / 2.0) / size)
    assert found.untold == ()


@pytest.mark.parametrize(("x", "rivals"), [(4.4, 1), (4.6, 0), (-4.4, 1), (-4.6, 0)])
def test_a_rival_counts_up_to_a_log_likelihood_ratio_of_six(x: float, rivals: int) -> None:
    ratio = 2.0 * log((5.0 + abs(x)) / (5.0 - abs(x)))
    assert (ratio < 6.0) == bool(rivals)
    assert 5.0 < ratio < 7.0
    found = hunt(plumb(x))
    assert len(found.trials) == 2
    assert len(found.rivals) == rivals
    assert found.best is not None
    assert np.sign(x_of(found.best.part)) == np.sign(x)


@pytest.mark.parametrize(("off", "tried"), [(0.004, 2), (0.0015, 1)])
def test_what_costs_its_operands_too_much_is_not_tried(off: float, tried: int) -> None:
    # The other side costs the operands 20 x / 1.5 more; a ratio of 16 is the most.
    ratio = log(1.0 + 20.0 * (5.0 - off) / 1.5 / off**2)
    assert (ratio < 16.0) == (tried == 2)
    assert 14.0 < ratio < 18.0
    assert len(hunt(plumb(5.0 - off)).trials) == tried


def test_a_sketch_that_holds_already_is_not_searched() -> None:
    found = hunt(plumb(5.0))
    assert len(found.trials) == 1
    assert found.roughness == 0.0
    assert found.ratio(0.0) == 0.0
    assert found.ratio(1.0) == pytest.approx(log(1.0 / (1e-9 * sqrt(425.0)) ** 2))


def test_the_one_with_fewer_faults_is_taken_however_far() -> None:
    found = hunt(plumb(1.0), {"right": 1})
    assert found.best is not None
    assert x_of(found.best.part) == pytest.approx(-5.0)
    assert found.rivals == ()  # the nearer one has more faults
    assert found.ratio(16.0) == pytest.approx(-log(36.0 / 16.0))
    both = hunt(plumb(1.0), 2)
    assert both.best is not None
    assert x_of(both.best.part) == pytest.approx(5.0)
    assert [x_of(rival.part) for rival in both.rivals] == pytest.approx([-5.0])


def test_of_one_geometry_the_nearest_is_named() -> None:
    part = plumb(1.0, 2.0)
    apart = {("right", "left"): 16.0 + 49.0, ("left", "right"): 36.0 + 9.0,
             ("left", "left"): 36.0 + 49.0}
    found = hunt(part)
    assert [tuple(r.sides.values()) for r in found.rivals] == sorted(apart, key=apart.__getitem__)
    assert [r.apart for r in found.rivals] == pytest.approx(sorted(apart.values()))

    def alike(one: Part, other: Part) -> bool:
        return x_of(one, "k2") == pytest.approx(x_of(other, "k2"))

    (rival,) = Hunt(part, Judge(), alike).rivals
    assert dict(rival.sides) == {"b1": "right", "b2": "left"}
    assert Hunt(part, Judge(), lambda one, other: True).rivals == ()


def test_no_more_than_forty_are_solved() -> None:
    judge = Judge(1)  # where the best has faults every solution is judged
    found = Hunt(plumb(0.05, 0.1, 0.2, 0.3, 0.4, 0.6, 0.8), judge, never)
    assert len(judge.asked) == len(set(judge.asked)) == 40
    assert len(found.trials) == 40
    assert found.best is not None
    assert set(found.best.sides.values()) == {"right"}


@pytest.mark.parametrize(("half", "named"), [(20.0, 5), (30.0, 0)])
def test_what_was_not_tried_is_named_only_of_a_very_rough_sketch(half: float, named: int) -> None:
    drawn = [0.05, 0.1, 0.2, 0.3, 0.4, 0.6, 0.8]  # too unlike for a sketch of another scale
    found = hunt(plumb(*drawn, half=half))
    apart = sum((5.0 - x) ** 2 for x in drawn)
    rough = sqrt(apart / 14.0) / sqrt((2.0 * half) ** 2 + 0.8**2)
    assert found.roughness == pytest.approx(rough)
    assert (rough > 0.07) == bool(named)
    assert 0.05 < rough < 0.1
    assert len(found.untold) == named
    tried = [set(trial.sides.items()) for trial in found.trials.values()]
    assert len(tried) == 40
    for sides in found.untold:
        assert set(sides.values()) == {"left"}
        assert {**found.best.sides, **sides}.items() not in tried


@pytest.mark.parametrize(("sizes", "tried"), [(3.5, 2), (7.0, 1)])
def test_a_side_that_takes_more_than_twenty_steps_is_none(sizes: float, tried: int) -> None:
    # A point on a fixed level line and on one that leans by little crosses far to the left or to
    # the right; a step of Newton's method goes at most a quarter of the size.
    size = sqrt(24.0**2 + 2.0**2)
    lean = 1.0 / (sizes * size)
    points = {"a": (-12.0, 0.0), "b": (12.0, 0.0), "p": (0.0, 1.0), "q": (10.0, 1.1),
              "k": (0.1, 0.0), "u": (-12.0, 2.0)}
    part = frame(points, [("a", "b"), ("p", "q")], said("fixed", "a"), said("fixed", "b"),
                 said("fixed", "p"), said("distance", "e2", value="10"), said("on", "k", "e1"),
                 said("angle", "e2", value=repr(degrees(atan(lean)))), said("on", "k", "e2"))
    found = hunt(part)
    assert len(found.trials) == tried
    for trial in found.trials.values():
        assert abs(x_of(trial.part, "k")) == pytest.approx(sizes * size)


@pytest.mark.parametrize(("single", "order"), [(415.0, "single pair"), (600.0, "pair single")])
def test_what_led_to_no_solution_comes_later_by_a_ratio_of_three(single: float, order: str) -> None:
    # Beside e1 the point k, beside the plumb line at -2 the circle about k: neither side can change
    # alone, for the radius of 12 would be -8 or -12. Beside e1 another point z.
    beside = sqrt(single * 1.5 / 4.0)
    points = {"a": (0.0, -10.0), "b": (0.0, 10.0), "c": (-2.0, 20.0), "d": (-2.0, 40.0),
              "k": (10.0, 30.0), "z": (beside, 0.0), "m": (0.0, 0.0)}
    part = frame(points, [("a", "b"), ("c", "d"), CircleCurve("k", 12.0), CircleCurve("m", 14.0)],
                 said("offset", "e1", "k", value="10"), said("tangent", "e2", "e3"),
                 said("offset", "e1", "z", value=repr(beside)), said("radius", "e4", value="4"),
                 *[said("fixed", name) for name in "abcdm"])
    apart = 10.0**2  # of the radius of e4, one of six coordinates
    # k stands half a length beyond the end of e1, which counts 2 there, the other end 1; of the
    # tangency the ends count 1/2 each, center and radius 1.
    cost = 20.0**2 / (1.0 + 4.0 + 1.0), 24.0**2 / (0.5 + 1.0 + 1.0)
    pair = sum(cost) + apart * (exp(2.0 * 3.0 / 6.0) - 1.0)
    assert (pair < single) == (order == "pair single")
    judge = Judge(1)  # where the best has faults every solution is judged as it comes
    found = Hunt(part, judge, never)
    assert found.best is not None
    assert found.best.apart == pytest.approx(apart)
    names = {("right", "right", "right"): "", ("right", "right", "left"): "single",
             ("left", "left", "right"): "pair", ("left", "left", "left"): "all"}
    assert [names[sides] for sides in judge.asked][:3] == ["", *order.split()]
    barred = apart * (exp(2.0 * 3.0 / 6.0) - 1.0)
    assert found._learned["b1", "left"] == pytest.approx(cost[0] + barred)
    assert found._learned["b3", "left"] == pytest.approx(1.5 * single)  # the line is fixed


def test_a_sketch_of_another_scale_is_scaled_and_another_is_left() -> None:
    part = frame({"a": (0.0, 0.0), "b": (10.0, 0.0), "c": (10.0, 20.0), "d": (0.0, 20.0)},
                 [("a", "b"), ("b", "c"), ("c", "d")], said("fixed", "a"),
                 *[said("distance", f"e{n}", value=v) for n, v in enumerate(["40", "80", "40"], 1)])
    assert rescaled(part).points == {
        "a": (0.0, 0.0), "b": (40.0, 0.0), "c": (40.0, 80.0), "d": (0.0, 80.0)}
    near = part.having(points={n: (3.0 * x, 3.0 * y) for n, (x, y) in part.points.items()})
    assert rescaled(near) is near
    round_part = frame({"m": (1.0, 2.0), "q": (4.0, 2.0), "r": (9.0, 2.0)},
                       [CircleCurve("m", 1.0), CircleCurve("q", 2.0), CircleCurve("r", 0.5)],
                       said("fixed", "m"), *[said("radius", f"e{n}", value=v)
                                             for n, v in enumerate(["10", "20", "5"], 1)])
    large = rescaled(round_part)
    assert [c.radius for c in large.curves.values()] == pytest.approx([10.0, 20.0, 5.0])
    assert large.points["q"] == pytest.approx((31.0, 2.0))
