"""What is on the slate is found again by its place, without looking at all there is."""

from __future__ import annotations

from math import cos, pi, sin
from random import Random

import pytest

from sketcher.lesson.board_lines import BoardLine
from sketcher.lesson.slate import Slate
from sketcher.lesson.slate_grid import SlateGrid
from sketcher.lesson.strokes import Compass


def test_a_look_up_among_many_places_meets_few() -> None:
    grid, random = SlateGrid(0.1), Random(1)
    places = {f"p{k}": (random.uniform(0.0, 100.0), random.uniform(0.0, 100.0))
              for k in range(10_000)}
    for name, at in places.items():
        grid.put(name, at)
    for name, (x, y) in list(places.items())[:500]:
        found = list(grid.around((x + 1e-7, y - 1e-7)))
        assert name in found
        assert len(found) < 5


@pytest.mark.parametrize("at", [(0.1, 0.1), (0.3, -0.2), (-0.1, 0.7), (0.0, 0.0)])
@pytest.mark.parametrize("off", [(1e-9, 1e-9), (-1e-9, 1e-9), (1e-9, -1e-9), (-1e-9, -1e-9)])
def test_a_place_at_the_edge_of_a_cell_is_found(
    at: tuple[float, float], off: tuple[float, float]
) -> None:
    grid = SlateGrid(0.1)
    grid.put("p1", at)
    assert list(grid.around((at[0] + off[0], at[1] + off[1]))) == ["p1"]


def test_a_line_is_found_whichever_way_it_runs() -> None:
    for k in range(360):
        slate, turn = Slate(100.0), k * pi / 180.0
        at = (30.0 * cos(7.0 * k), 30.0 * sin(7.0 * k))
        slate.mark("p1", at)
        slate.mark("p2", (at[0] + 50.0 * cos(turn), at[1] + 50.0 * sin(turn)))
        name = slate.rule("p1", "p2")
        for sense in (turn - 1e-12, turn + 1e-12, turn + pi - 1e-12, turn + pi + 1e-12):
            along = (cos(sense), sin(sense))
            assert slate.line_at(BoardLine(at, along)) == name
            assert not slate.line_at(BoardLine((at[0] - along[1] * 0.01, at[1] + along[0] * 0.01),
                                               along))
        assert not slate.line_at(BoardLine(at, (cos(turn + 1e-3), sin(turn + 1e-3))))


def test_a_point_with_two_names_lies_on_the_same_lines() -> None:
    slate = Slate(100.0)
    slate.mark("p1", (0.0, 0.0))
    slate.mark("p2", (50.0, 0.0))
    line = slate.rule("p1", "p2")
    slate.call("p3", "p2")
    assert slate.on[line] == ["p1", "p2", "p3"]


def test_any_opening_and_the_papers_number_are_two_circles() -> None:
    """They may be as large as each other in one part; a number is never taken from a chance."""
    slate = Slate(100.0)
    slate.mark("p1", (0.0, 0.0))
    free = slate.swing("p1", Compass(16.0, "any opening", free=True))
    typed = slate.swing("p1", Compass(16.0, "16"))
    assert free != typed
    assert slate.swing("p1", Compass(16.0, "16")) == typed
    assert slate.swing("p1", Compass(16.0, "any opening", free=True)) == free


def test_circles_about_one_center_are_not_all_looked_at() -> None:
    slate = Slate(100.0)
    slate.mark("p1", (0.0, 0.0))
    names = {k: slate.swing("p1", Compass(0.2 * k, f"{0.2 * k:g}")) for k in range(1, 500)}
    for k, name in names.items():
        assert slate.swing("p1", Compass(0.2 * k, f"{0.2 * k:g}")) == name
        assert len(list(slate._rings_at.around(slate.rings[name].rightmost))) < 5
