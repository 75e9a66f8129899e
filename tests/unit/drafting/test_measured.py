"""What a dimension measures on paper: both sides of a symmetric part, leaders apart from lines."""

from __future__ import annotations

from dataclasses import replace
from math import dist

import numpy as np
import pytest

from sketcher.drafting.field import _beside, _crossing
from sketcher.drafting.measured import Straight, measured
from sketcher.drafting.paper_view import View
from sketcher.drafting.sheet import pages
from sketcher.geometry.curves import Line
from sketcher.part import store
from sketcher.part.value import PolarPattern
from sketcher.shipped import shipped
from sketcher.solve import solve


def strap(**drawing):
    part = solve(store.load(shipped("demo_parts", "gate-strap.profile.json"))).part
    return part.having(drawing=replace(part.drawing, **drawing))


def test_a_height_of_a_symmetric_part_can_be_taken_from_either_side() -> None:
    part = strap()
    (height,) = [m for m in measured(part, View()) if m.id == "b6"]
    assert isinstance(height, Straight)
    (x, y), (mx, my) = height.second
    assert (mx, my) == pytest.approx((-x, y), abs=1e-9)  # the axis is plumb through zero


def test_a_half_view_has_one_side_only() -> None:
    (height,) = [m for m in measured(strap(show_half=True), View()) if m.id == "b6"]
    assert len(height.second) == 1


@pytest.mark.parametrize("practice", ["ISO", "ASME"])
def test_no_extension_line_runs_through_the_whole_part(practice: str) -> None:
    part = strap(practice=practice)
    page = pages(part)[0]
    width = 120.0 * page.view.factor
    for drawn in page.dimensions:
        for item in drawn.items:
            if getattr(item, "line", "") == "extension":
                assert dist(item.curve.start, item.curve.end) < width, drawn.id


@pytest.mark.parametrize("practice", ["ISO", "ASME"])
def test_no_leader_follows_a_dimension_line(practice: str) -> None:
    """Side by side within 14 degrees (sine 0.25) and 3 mm a leader is read as part of the other."""
    strokes = [(d.id, i.line, (*i.curve.start, *i.curve.end))
               for d in pages(strap(practice=practice))[0].dimensions for i in d.items
               if getattr(i, "line", "") in ("leader", "dimension") and isinstance(i.curve, Line)]
    for one, line, ends in strokes:
        for other, kind, there in strokes:
            if one != other and (line, kind) == ("leader", "dimension"):
                assert not _beside(np.array([ends]), np.array([there]), 3.0, 0.25), (one, other)


def test_crossings_agree_with_orientations_pair_by_pair() -> None:
    def turn(o, p, q) -> float:
        return (p[0] - o[0]) * (q[1] - o[1]) - (p[1] - o[1]) * (q[0] - o[0])

    rng = np.random.default_rng(5)
    a, b = rng.random((30, 4)), rng.random((20, 4))
    said = _crossing(a, b)
    assert said.any()
    for i, p in enumerate(a):
        for j, q in enumerate(b):
            across = turn(p[:2], p[2:], q[:2]) * turn(p[:2], p[2:], q[2:]) < 0
            back = turn(q[:2], q[2:], p[:2]) * turn(q[:2], q[2:], p[2:]) < 0
            assert said[i, j] == (across and back)


def test_an_open_bolt_circle_of_one_hole_has_no_step() -> None:
    part = solve(store.load(shipped("demo_parts", "gate-strap.profile.json"))).part
    alone = part.having(patterns={"n1": PolarPattern(("h2",), "c1", 1, "60")})
    several = part.having(patterns={"n1": PolarPattern(("h2",), "c1", 3, "60")})
    named = [{m.id for m in measured(other, View()) if m.id.startswith("n1")}
             for other in (alone, several)]
    assert named[0] == set()
    assert named[1]
