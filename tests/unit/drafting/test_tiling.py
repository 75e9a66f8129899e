"""Which sheets a template takes: counts by hand from the width and height that a sheet shows."""

from __future__ import annotations

import pytest

from sketcher.drafting.template.tiling import (
    FOOT,
    MARGIN,
    MOST_TILES,
    OVERLAP,
    SIDE,
    Tiling,
    template_paper,
    tile_name,
    tiling_of,
)
from sketcher.errors import SketcherError
from sketcher.geometry.curves import Line

A4 = (210.0, 297.0)
SHOWN = (A4[0] - 2.0 * MARGIN - SIDE, A4[1] - 2.0 * MARGIN - FOOT)


def tiled(width: float, height: float, holes=(), size=A4) -> Tiling:
    at = ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height))
    edges = [Line(at[k], at[(k + 1) % 4]) for k in range(4)]
    return tiling_of(edges, holes, (0.0, 0.0, width, height), "A4", size)


@pytest.mark.parametrize(("name", "unit", "paper", "size"), [
    ("A4", "in", "A4", (210.0, 297.0)), ("a3", "mm", "A3", (297.0, 420.0)),
    ("letter", "mm", "letter", (215.9, 279.4)), ("Letter", "mm", "letter", (215.9, 279.4)),
    ("auto", "mm", "A4", (210.0, 297.0)), ("auto", "in", "letter", (215.9, 279.4)),
    ("B", "in", "B", (279.4, 431.8)),
])
def test_paper_by_its_name(name: str, unit: str, paper: str, size) -> None:
    """ISO 216 and ASME Y14.1: 8.5 x 11 in, 11 x 17 in."""
    found = template_paper(name, unit)
    assert found[0] == paper
    assert found[1] == pytest.approx(size)


def test_unknown_paper_is_told_with_what_there_is() -> None:
    with pytest.raises(SketcherError, match=r"no paper 'A9' for a template; take auto, .*letter"):
        template_paper("A9")


def test_names_go_by_letters_from_the_left_and_numbers_from_the_top() -> None:
    assert [tile_name(place) for place in ((0, 0), (1, 0), (0, 2), (25, 0), (26, 9))] == [
        "A1", "B1", "A3", "Z1", "AA10"]


@pytest.mark.parametrize(("width", "height", "size"), [
    (SHOWN[0] - 0.01, SHOWN[1] - 0.01, A4), (250.0, 100.0, A4[::-1]), (20.0, 20.0, A4),
])
def test_what_fits_takes_one_sheet_upright_or_lying(width, height, size) -> None:
    found = tiled(width, height)
    assert found.tiles == ((0, 0),)
    assert found.size == size
    assert list(found.marks((0, 0))) == []


def test_a_hair_more_takes_another_sheet() -> None:
    assert len(tiled(SHOWN[0] + 0.01, SHOWN[1] - 0.01).tiles) == 2


def test_each_place_lies_on_a_sheet_and_neighbors_overlap() -> None:
    found = tiled(500.0, 500.0)
    for (x, y) in ((0.0, 0.0), (500.0, 500.0), (0.0, 250.0), (333.0, 500.0)):
        boxes = [found.seen(tile) for tile in found.tiles]
        assert any(a <= x <= c and b <= y <= d for a, b, c, d in boxes)
    a, b = found.seen(found.tiles[0]), found.seen((found.tiles[0][0] + 1, found.tiles[0][1]))
    assert a[2] - b[0] == pytest.approx(OVERLAP)


def test_a_hole_far_from_every_edge_brings_the_sheets_between() -> None:
    """Each sheet has a neighbor along a whole side, and a frame alone needs none in the middle."""
    bare = tiled(1200.0, 1200.0)
    full = tiled(1200.0, 1200.0, [((610.0, 590.0), 4.0)])
    assert len(bare.tiles) < len(full.tiles) < full.columns * full.rows
    reached, front = {full.tiles[0]}, [full.tiles[0]]
    while front:
        column, row = front.pop()
        for other in ((column + 1, row), (column - 1, row), (column, row + 1), (column, row - 1)):
            if other in full.there and other not in reached:
                reached.add(other)
                front.append(other)
    assert reached == full.there


def test_a_hole_on_the_axis_is_not_cut_in_two() -> None:
    found = tiled(300.0, 300.0, [((150.0, 150.0), 5.0)])
    x0, y0, x1, y1 = next(found.cell(tile) for tile in found.tiles
                          if found.cell(tile)[0] < 150.0 < found.cell(tile)[2]
                          and found.cell(tile)[1] < 150.0 < found.cell(tile)[3])
    assert min(150.0 - x0, x1 - 150.0, 150.0 - y0, y1 - 150.0) > 5.0


@pytest.mark.parametrize("size", [6_000.0, 1e7])
def test_more_sheets_than_can_be_laid_together_are_refused(size: float) -> None:
    with pytest.raises(SketcherError, match=rf"more than the {MOST_TILES} .*; take larger paper"):
        tiled(size, size)
