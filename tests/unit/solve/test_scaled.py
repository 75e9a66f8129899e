"""A sketch drawn at another scale is brought to its values without being carried off."""

from __future__ import annotations

from math import dist

import numpy as np
import pytest

from sketcher.solve import solve
from tests.specimens import frame, said


@pytest.mark.parametrize("factor", [12.0, 0.05])
@pytest.mark.parametrize("held", [False, True])
def test_a_sketch_of_another_scale_stays_about_its_middle_or_what_is_fixed(
    factor: float, held: bool
) -> None:
    points = {"a": (100.0, 50.0), "b": (104.0, 50.0), "c": (104.0, 53.0), "d": (101.0, 56.0)}
    pairs = [("a", "b"), ("b", "c"), ("c", "d"), ("d", "a"), ("a", "c")]
    part = frame(points, pairs, *[
        said("distance", f"e{k}", value=repr(factor * dist(points[p], points[q])))
        for k, (p, q) in enumerate(pairs, 1)], *([said("fixed", "c")] if held else []))
    solution = solve(part)
    assert solution.report.converged
    at = solution.part.points
    for p, q in pairs:
        assert dist(at[p], at[q]) == pytest.approx(factor * dist(points[p], points[q]))
    if held:
        assert at["c"] == points["c"]
    about = np.array(points["c"]) if held else np.mean(list(points.values()), axis=0)
    # Sizes were all that was off, so every place went straight from or to the middle.
    for name, place in points.items():
        np.testing.assert_allclose(np.array(at[name]) - about, factor * (place - about),
                                   atol=1e-6 * max(factor, 1.0))
