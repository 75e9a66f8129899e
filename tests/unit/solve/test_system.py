"""The assembled system: reduction, owners, Jacobian, and the way back to a part."""

from __future__ import annotations

import subprocess
import sys

import numpy as np
import pytest

from sketcher.errors import EditError, QuantityError
from sketcher.part.value import ArcCurve, Binding, CircleCurve, LineCurve, Part, frozen
from sketcher.solve import solve
from sketcher.solve.system import System
from tests.refusals import refused
from tests.specimens import frame, said, strip


def test_every_point_has_two_unknowns_and_every_round_one() -> None:
    part = Part(
        points=frozen({"p": (0.0, 0.0), "q": (3.0, 0.0), "c": (0.0, 0.0), "k": (1.0, 1.0)}),
        curves=frozen({"a": ArcCurve(("q", "p"), "c"), "h": CircleCurve("k", 2.5)}))
    system = System(part)
    assert system.width == 10
    assert system.unknowns["p", "x"] == 0
    assert system.unknowns["h", "r"] == 9
    assert system.height == 2  # both ends of the arc on it
    assert [system.binding_ids[k] for k in system.row_binding] == ["a", "a"]
    assert system.x0[9] == 2.5
    assert system.x0[8] == pytest.approx(1.5)  # the arc's ends are not yet at one distance


def test_level_plumb_and_shared_radii_take_unknowns_away() -> None:
    part = Part(
        points=frozen({"a": (0.0, 0.0), "b": (4.0, 1.0), "k": (1.0, 1.0), "l": (5.0, 2.0)}),
        curves=frozen({"e": LineCurve(("a", "b")), "h": CircleCurve("k", 2.0),
                       "i": CircleCurve("l", 3.0)}),
        bindings=frozen({
            "lv": Binding("level", ("e",)), "pl": Binding("plumb", ("a", "k")),
            "eq": Binding("equal", ("h", "i")), "fx": Binding("fixed", ("b",))}))
    system = System(part)
    at = system.unknowns
    assert system.height == 0
    assert at["a", "y"] == at["b", "y"] == -1
    assert at["b", "x"] == -1
    assert at["a", "x"] == at["k", "x"] >= 0
    assert at["h", "r"] == at["i", "r"] >= 0
    assert system.width == 10 - 5
    moved = system.to_part(system.x0)
    assert moved.points["a"] == (0.5, 1.0)  # x the mean of what was joined, y that of the held
    assert moved.points["b"] == (4.0, 1.0)
    assert moved.curves["h"].radius == moved.curves["i"].radius == 2.5


def test_substitutions_said_twice_or_in_contradiction_are_named() -> None:
    points = {"a": (0.0, 0.0), "b": (4.0, 0.0), "c": (4.0, 3.0), "d": (0.0, 3.0)}
    part = frame(
        points, [("a", "b"), ("b", "c"), ("c", "d"), ("d", "a")], said("fixed", "a"),
        said("fixed", "c"), said("level", "e1"), said("level", "a", "b"), said("level", "a", "c"),
        said("fixed", "a"))
    assert System(part).merged == {"b4": "doubled", "b5": "clashing", "b6": "doubled"}


def test_an_offset_of_concentric_rounds_is_not_said_twice() -> None:
    part = Part(
        points=frozen({"k": (0.0, 0.0)}),
        curves=frozen({"h": CircleCurve("k", 2.0), "i": CircleCurve("k", 3.0)}),
        bindings=frozen({"o": Binding("offset", ("h", "i"), "2")}))
    assert System(part).merged == {}


def test_rows_know_their_owners_in_file_order() -> None:
    part, _ = strip(9)
    system = System(part)
    owners = [system.binding_ids[k] for k in system.row_binding]
    assert system.binding_ids[: system.first_binding] == ("a1", "a3", "a5", "a7")
    assert owners.count("a3") == 2
    assert owners.count("t3") == owners.count("l4") == 1
    assert "f" in system.binding_ids
    assert "f" not in owners
    assert system.height == system.width


@pytest.mark.parametrize("count", [12, 60])
def test_jacobian_agrees_with_central_differences(count: int) -> None:
    part, _ = strip(count, rough=0.4, seed=3)
    system = System(part)
    rng = np.random.default_rng(1)
    dense = system.dense_jacobian(system.x0)
    assert np.array_equal(system.jacobian(system.x0).toarray(), dense)
    for _ in range(6):
        way = rng.normal(size=system.width)
        step = 1e-6
        ahead = system.residual(system.x0 + step * way)
        behind = system.residual(system.x0 - step * way)
        # the quotient is good to the third derivative times step**2 (short lines: about 1e5)
        np.testing.assert_allclose(dense @ way, (ahead - behind) / (2 * step), atol=1e-6)


def test_a_tangent_joint_stays_regular_where_the_touch_is_singular() -> None:
    """|distance| = r at a shared point doubles the row that puts the point on the arc."""
    part, exact = strip(3)
    joint = System(part.having(points=exact))
    singular = np.linalg.svd(joint.dense_jacobian(joint.x0), compute_uv=False)
    assert singular[-1] > 1e-2
    touch = part.having(
        points=exact | {"q": exact["p2"]},
        curves=dict(part.curves) | {"e2": LineCurve(("q", "p3"))})
    apart = System(touch.having(bindings=dict(part.bindings) | {
        "x": Binding("distance", ("p2", "q"), "0")}))
    assert "u1" in [apart.binding_ids[k] for k in apart.row_binding]
    rows = apart.dense_jacobian(apart.x0)
    assert rows.shape[0] == joint.height + 1


def test_a_broken_value_names_its_binding() -> None:
    part = frame({"a": (0.0, 0.0), "b": (1.0, 0.0)}, [("a", "b")],
                 said("distance", "e1", value="2*wall"))
    with refused("bindings.b1.value", QuantityError):
        System(part)


def test_operands_that_fit_no_form_are_refused() -> None:
    part = frame({"a": (0.0, 0.0), "b": (1.0, 0.0)}, [("a", "b")], said("radius", "e1", value="2"))
    with refused("radius e1", EditError):
        System(part)


def test_an_empty_part_has_an_empty_system() -> None:
    system = System(Part())
    assert (system.width, system.height) == (0, 0)
    assert system.residual(system.x0).shape == (0,)
    assert system.to_part(system.x0).points == {}


def test_a_small_part_is_solved_without_scipy() -> None:
    code = (
        "import sys; from tests.specimens import strip; from sketcher.solve import solve;"
        "assert solve(strip(20, 0.3)[0]).report.converged;"
        "sys.exit('scipy' in sys.modules)")
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


def test_the_size_is_the_largest_of_what_is_drawn_wanted_and_given() -> None:
    def size(value: str, angle: str = "10", least: float = 0.0) -> float:
        part = frame({"a": (0.0, 0.0), "b": (3.0, 4.0)}, [("a", "b")],
                     said("distance", "e1", value=value), said("angle", "e1", value=angle))
        return System(part, least).size

    assert size("2") == pytest.approx(5.0)
    assert size("40") == pytest.approx(40.0)
    assert size("0.5", "340") == pytest.approx(5.0)  # 340 degrees are 5.9, and no length
    assert size("2", least=70.0) == pytest.approx(70.0)
    assert size("90", least=70.0) == pytest.approx(90.0)


def test_a_part_without_dimensions_has_no_values() -> None:
    for part in (Part(), frame({"a": (0.0, 0.0), "b": (1.0, 1.0)}, [("a", "b")])):
        system = System(part)
        assert system.values.shape == system.valued.shape == system.row_binding.shape == (0,)
        assert system.measured(system.x0).shape == (0,)
        assert system.row_binding.dtype.kind == "i"


@pytest.mark.parametrize(("points", "small"), [(74, True), (76, False)])
def test_a_system_is_small_below_a_hundred_and_fifty_unknowns(points: int, small: bool) -> None:
    loose = System(Part(points={f"p{k}": (float(k), 0.0) for k in range(points)}))
    assert loose.width == 2 * points
    assert loose.small is small


def test_each_corner_is_put_at_its_own_nearer_crossing() -> None:
    points, curves, bindings = {}, [], []
    for k, x in enumerate((0.0, 100.0, 200.0)):
        # A level line ends at an arc of 5 about a point 3 above it: at 4 to either side.
        points |= {f"a{k}": (x - 9.0, 0.0), f"k{k}": (x + 4.0, 0.0), f"m{k}": (x, 3.0),
                   f"t{k}": (x, 8.0)}
        curves += [LineCurve((f"a{k}", f"k{k}")), ArcCurve((f"k{k}", f"t{k}"), f"m{k}")]
        bindings += [said("fixed", f"a{k}"), said("fixed", f"m{k}"), said("level", f"e{2 * k + 1}"),
                     said("radius", f"e{2 * k + 2}", value="5"), said("plumb", f"m{k}", f"t{k}")]
    part = frame(points, curves, *bindings)
    system = System(part)
    drawn = system.at(part.having(points={
        **points, "k0": (3.0, 1.0), "k1": (97.0, 1.0), "k2": (201.0, 1.0)}))
    found = system.to_part(system.nearer(system.x0, drawn)).points
    assert [found[f"k{k}"] for k in range(3)] == [
        pytest.approx((4.0, 0.0)), pytest.approx((96.0, 0.0)), pytest.approx((204.0, 0.0))]


def test_what_is_smaller_than_coordinates_can_tell_is_not_called_clashing() -> None:
    # 1e-9 at 29.1: the places of the ends are rounded to 3.6e-15, 4e-6 of the radius.
    part = Part(
        points=frozen({"p1": (29.1, 0.0), "p2": (29.1 + 1e-9, 0.0), "p3": (29.1 - 1e-9, 0.0)}),
        curves=frozen({"a1": ArcCurve(("p2", "p3"), "p1", "cw", "outline")}),
        bindings=frozen({"b1": Binding("level", ("p1", "p2")), "b2": Binding("level", ("p1", "p3")),
                         "b3": Binding("radius", ("a1",), "1e-9")}),
    )
    report = solve(part).report
    assert (report.state, report.freedoms, report.clashes) == ("loose", 2, ())
