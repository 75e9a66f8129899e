"""The second configuration keeps what is said without a value and lets go of each size alone."""

from __future__ import annotations

import numpy as np
import pytest

from sketcher.part.value import Part
from sketcher.solve.system import System
from sketcher.solve.witness import really_moves, shaped, witness
from tests.specimens import frame, said


def three_lines() -> System:
    """Three parallel lines, two offsets of two rows each counted from the first."""
    points = {"a": (0.0, 0.0), "b": (10.0, 0.0), "c": (1.0, 2.0), "d": (9.0, 2.0),
              "e": (0.0, 5.0), "f": (8.0, 5.0)}
    return System(frame(points, [("a", "b"), ("c", "d"), ("e", "f")], said("fixed", "a"),
                        said("fixed", "b"), said("offset", "e1", "e2", value="2"),
                        said("offset", "e1", "e3", value="5")))


def test_each_dimension_of_several_rows_lets_go_of_its_own_size() -> None:
    system = three_lines()
    points = system.part.points
    moved = system.part.having(points={**points, "c": (1.0, 2.5), "d": (9.0, 2.5)})
    x = system.at(moved)
    # Still parallel: nothing has to move, though one offset has grown and the other has not.
    np.testing.assert_allclose(shaped(system, x), x, atol=1e-9)
    turned = system.at(system.part.having(points={**points, "c": (1.0, 2.2), "d": (9.0, 2.0)}))
    back = system.to_part(shaped(system, turned)).points
    # The ends come back to one height, each half of the way.
    assert back["c"] == pytest.approx((1.0, 2.1))
    assert back["d"] == pytest.approx((9.0, 2.1))
    assert back["e"] == (0.0, 5.0)


@pytest.mark.parametrize("sparse", [False, True])
def test_a_witness_stands_near_with_other_sizes_and_the_same_shape(
    sparse: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    if sparse:
        monkeypatch.setattr("sketcher.solve.system.SMALL", 0)
    system = three_lines()
    x = witness(system, system.x0)
    assert x is not None
    at = system.to_part(x).points
    assert at["c"][1] == pytest.approx(at["d"][1], abs=1e-9)
    assert at["e"][1] == pytest.approx(at["f"][1], abs=1e-9)
    for name, (px, py) in system.part.points.items():
        assert np.hypot(at[name][0] - px, at[name][1] - py) <= 1.5e-3 * system.size
    heights = at["c"][1] - 2.0, at["e"][1] - 5.0
    assert min(map(abs, heights)) > 1e-6 * system.size
    assert abs(heights[0] - heights[1]) > 1e-6 * system.size


def test_a_motion_of_first_order_only_is_told_from_a_real_one() -> None:
    bar = System(frame({"a": (0.0, 0.0), "b": (4.0, 0.0)}, (), said("fixed", "a"),
                       said("distance", "a", "b", value="4")))
    assert really_moves(bar, bar.x0, np.array([0.0, 1.0]))
    row = System(frame({"a": (0.0, 0.0), "b": (4.0, 0.0), "c": (9.0, 0.0)}, (), said("fixed", "a"),
                       said("fixed", "c"), said("distance", "a", "b", value="4"),
                       said("distance", "b", "c", value="5")))
    assert not really_moves(row, row.x0, np.array([0.0, 1.0]))


def test_a_witness_of_what_nothing_holds_stands_within_a_thousandth_of_the_size() -> None:
    system = System(Part(points={f"p{k}": (float(k), 0.0) for k in range(41)}))
    off = np.abs(witness(system, system.x0) - system.x0) / system.size
    assert 0.9e-3 < off.max() <= 1e-3
