"""Which of two rounds a tangency names first must not matter."""

from __future__ import annotations

from math import cos, dist, radians, sin
from random import Random

import pytest

from sketcher.part.edits.draft import Draft
from sketcher.part.value import Part
from sketcher.solve import solve


@pytest.mark.parametrize("seed", range(6))
def test_two_rounds_join_as_quickly_in_either_order(seed: int) -> None:
    # A blend of 0.5 at the end of an arc of 50, roughly sketched: the normal of the small round
    # says next to nothing there, so the large one's has to count, whichever was named first.
    found = []
    for pair in (("big", "small"), ("small", "big")):
        draft, rough = Draft(Part()), Random(seed)
        at = radians(60.0)
        hub = draft.point((0.0, 0.0))
        places = {"start": (50.0, 0.0), "joint": (50.0 * cos(at), 50.0 * sin(at)),
                  "center": (49.5 * cos(at), 49.5 * sin(at)),
                  "end": (49.5 * cos(at) - 0.5 * sin(at), 49.5 * sin(at) + 0.5 * cos(at))}
        start, joint, center, end = (
            draft.point((x + rough.uniform(-1.0, 1.0), y + rough.uniform(-1.0, 1.0)))
            for x, y in places.values())
        draft.arc(start, joint, hub, name="big")
        draft.arc(joint, end, center, name="small")
        draft.bind("fixed", [hub])
        draft.bind("level", [hub, start])
        draft.bind("radius", ["big"], "50")
        draft.bind("radius", ["small"], "0.5")
        draft.bind("rise", [hub, joint], repr(places["joint"][1]))
        draft.bind("tangent", pair)
        solution = solve(draft.done())
        assert solution.report.converged
        assert dist(solution.part.points[center], places["center"]) < 1e-9
        found.append(solution.report.iterations)
    assert found[0] == found[1] <= 8
