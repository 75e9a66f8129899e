"""Corners that a fillet or chamfer has taken are drawn where a length is measured from them.

Expected places are those of the crossing of two lines, worked out by hand.
"""

from __future__ import annotations

from math import dist, hypot

import numpy as np
import pytest

from sketcher.drafting.layout.ink import OUTLINE, pieces_of
from sketcher.drafting.layout.runouts import Runouts
from sketcher.drafting.layout.sharp_corners import BEYOND, GAP, SharpCorners
from sketcher.drafting.primitives import Stroke
from sketcher.drafting.sheet import pages
from sketcher.geometry.curves import XY, Arc, Curve, Line
from sketcher.part import store
from sketcher.shipped import shipped
from sketcher.solve import solve

FILLETED: list[Curve] = [Line((0, 30), (0, 6)), Arc((6, 6), (0, 6), (6, 0)), Line((6, 0), (30, 0))]


def corners(outline: list[Curve]) -> SharpCorners:
    return SharpCorners(outline, pieces_of((c, OUTLINE) for c in outline)[0])


def test_both_edges_are_carried_on_to_the_corner_and_beyond() -> None:
    """They begin where they are seen apart from the fillet, 6 from the corner."""
    drawn = corners(FILLETED).strokes((0.0, 0.0))
    assert sorted(c.end for c in drawn) == [(-BEYOND, 0.0), (0.0, -BEYOND)]
    for c in drawn:
        x, y = c.start
        assert x == 0.0 or y == 0.0
        assert 1.0 < x + y <= 6.0 - GAP
        assert dist((x, y), (6.0, 6.0)) >= 6.0 + 0.6


def test_a_line_from_where_a_round_is_touched_begins_apart_from_it() -> None:
    """From the top of a round of 36 (its sagitta is x²/72): a gap of 1.5 would be one of 0.03."""
    arc = Arc((0, 0), (36, 0), (-36, 0))
    runouts = Runouts([], pieces_of([(arc, OUTLINE)])[0], None, [arc])
    x = runouts.begins((0.0, 36.0), (1.0, 0.0), 40.0, 1.5)
    assert dist((x, 36.0), (0.0, 0.0)) - 36.0 == pytest.approx(0.6, abs=0.06)


def test_an_arc_is_carried_on_along_itself() -> None:
    """A quarter of 40 about (0, 0) and a level edge at half its height, broken by a chamfer."""
    x = (40.0 ** 2 - 20.0 ** 2) ** 0.5
    arc, level = Arc((0, 0), (40, 0), (38, (40 ** 2 - 38 ** 2) ** 0.5)), Line((0, 20), (28, 20))
    drawn = corners([arc, level]).strokes((x, 20.0))
    (round_,) = (c for c in drawn if isinstance(c, Arc))
    assert round_.center == (0, 0)
    assert hypot(*round_.start) == pytest.approx(40.0)
    ends = [dist(at, (x, 20.0)) for at in (round_.start, round_.end)]
    assert max(ends) == pytest.approx(BEYOND, rel=0.01) or min(ends) == pytest.approx(BEYOND,
                                                                                      rel=0.01)


@pytest.mark.parametrize("at", [(0.0, 6.0), (3.0, 0.4), (40.0, 0.0), (0.0, -3.0)],
                         ids=["tangent point", "near the arc", "behind an edge", "one edge"])
def test_no_corner_is_drawn_elsewhere(at: XY) -> None:
    assert corners([*FILLETED, Line((30, 0), (60, 0))]).strokes(at) == ()


def test_an_extension_line_begins_at_the_corner() -> None:
    pieces = pieces_of((c, OUTLINE) for c in FILLETED)[0]
    lines = [c for c in FILLETED if isinstance(c, Line)]
    runouts = Runouts(lines, pieces, None, FILLETED)
    assert runouts.begins((0.0, 0.0), (-0.8, -0.6), 20.0, 1.5) == 0.0
    assert runouts.begins((6.0, 0.0), (-0.6, -0.8), 20.0, 1.5) == 1.5
    # In line with the plumb edge it carries that on; the corner then needs no lines of its own.
    down = runouts.all_begin((0.0, 0.0), (0.0, -1.0), np.array([9.0, 20.0]), 1.5)
    assert (down < -2.0).all()
    assert (down >= -4.5).all()


@pytest.mark.parametrize(("name", "text"), [("gate-strap", "24"), ("roof-gusset", "25")])
def test_the_demo_sheets_show_their_lost_corners(name: str, text: str) -> None:
    """From one end of the length two thin lines run along edges of the outline, and cross."""
    page = pages(solve(store.load(shipped("demo_parts", f"{name}.profile.json"))).part)[0]
    thin = [i.curve for d in page.dimensions for i in d.items
            if isinstance(i, Stroke) and i.line == "extension" and isinstance(i.curve, Line)]
    crossed = [
        sum(_off(c, at) < 0.01 for c in thin) for d in page.dimensions if d.text == text
        for at in d.points[:2]]
    assert max(crossed) >= 3


def _off(line: Line, at: XY) -> float:
    (x0, y0), (x1, y1) = line.start, line.end
    t = ((at[0] - x0) * (x1 - x0) + (at[1] - y0) * (y1 - y0)) / line.length ** 2
    t = min(1.0, max(0.0, t))
    return dist(at, (x0 + t * (x1 - x0), y0 + t * (y1 - y0)))
