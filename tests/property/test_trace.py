"""Any regions of any scribed layout: the traced outline is bound, never doubled, and exact."""

from __future__ import annotations

from math import dist
from random import Random

import pytest

from sketcher.errors import EditError
from sketcher.geometry.loops import find_loops
from sketcher.part.arranged import arranged
from sketcher.part.edits.set_value import set_value
from sketcher.part.edits.trace import trace
from sketcher.part.kinds import wanted
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


@pytest.mark.parametrize("seed", range(6))
def test_the_outline_follows_every_value_by_a_fifth(seed: int) -> None:
    random = Random(seed)
    part = random_layout(random)
    places = random_places(arranged(part), random)
    if not places:
        pytest.skip("nothing closes a region in this layout")
    part = solve(trace(part, places).part).part
    for key, binding in part.bindings.items():
        if not binding.drives or wanted(part, binding) is None:
            continue
        for share in (0.8, 1.2):
            solution = solve(set_value(part, key, f"({binding.value})*{share}").part)
            report = solution.report
            if report.state != "bound":
                assert report.clashes or not report.converged
                assert solution.part.points == part.points  # the last good geometry stays
                continue
            assert report.doubled == ()
            found = find_loops([(n, curve_value(solution.part, c))
                                for n, c in solution.part.curves.items() if c.role == "outline"])
            assert not found.strays, (key, share)
