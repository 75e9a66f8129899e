"""What a dimension measures on paper: both sides of a symmetric part, leaders apart from lines."""

from __future__ import annotations

from dataclasses import replace
from math import dist

import numpy as np
import pytest

from sketcher.drafting.measured import MeasuredLength, measured
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
    assert isinstance(height, MeasuredLength)
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
                assert not follows(np.array(ends), np.array(there)), (one, other)


def follows(leader: np.ndarray, line: np.ndarray) -> bool:
    way, across = leader[2:] - leader[:2], line[2:] - line[:2]
    size = np.hypot(*way) * np.hypot(*across)
    slant = abs(way[0] * across[1] - way[1] * across[0]) / size
    places = leader[:2] + np.linspace(0.0, 1.0, 50)[:, None] * way
    s = (places - line[:2]) @ across / (across @ across)
    away = np.abs((places - line[:2]) @ np.array((-across[1], across[0]))) / np.hypot(*across)
    beside = (s > 0.0) & (s < 1.0) & (away < 3.0)
    return bool(slant < 0.25 and beside.sum() * np.hypot(*way) / 50.0 > 0.5)


def test_an_open_bolt_circle_of_one_hole_has_no_step() -> None:
    part = solve(store.load(shipped("demo_parts", "gate-strap.profile.json"))).part
    alone = part.having(patterns={"n1": PolarPattern(("h2",), "c1", 1, "60")})
    several = part.having(patterns={"n1": PolarPattern(("h2",), "c1", 3, "60")})
    named = [{m.id for m in measured(other, View()) if m.id.startswith("n1")}
             for other in (alone, several)]
    assert named[0] == set()
    assert named[1]
