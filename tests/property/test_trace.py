"""Any regions of any scribed layout: the traced outline is bound, never doubled, and exact."""

from __future__ import annotations

from math import dist
from random import Random

import pytest

from sketcher.errors import EditError
from sketcher.geometry.loops import find_loops
from sketcher.part.arranged import arranged
from sketcher.part.edits.trace import trace
from sketcher.part.whole import curve_value
from sketcher.solve import solve
from tests.layouts import area_of, random_layout, random_places


@pytest.mark.parametrize("seed", range(200))
def test_traced_regions_of_random_layouts(seed: int) -> None:
    random = Random(seed)
    part = random_layout(random)
    before = solve(part).report
    assert (before.state, before.doubled) == ("bound", ())
    known = arranged(part)
    places = random_places(known, random)
    if not places:
        with pytest.raises(EditError):
            trace(part, [(50.0, 50.0)])
        return
    edited = trace(part, places)
    solution = solve(edited.part)
    report = solution.report
    assert (report.state, report.freedoms, report.doubled) == ("bound", 0, ())
    # A touch is good to the root of the tolerance along the curves: 1e-4 of 100 mm, and some more.
    assert max(dist(solution.part.points[n], at) for n, at in edited.part.points.items()) < 2e-3
    made = [(n, curve_value(solution.part, solution.part.curves[n]))
            for n in edited.made if n in solution.part.curves]
    found = find_loops(made)
    assert not found.strays
    assert found.moments.area == pytest.approx(area_of(part, places), rel=1e-6, abs=1e-6)
