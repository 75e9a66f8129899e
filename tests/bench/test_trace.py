"""What the pointer costs over 300 layout curves while tracing: less than a frame of 16 ms."""

from __future__ import annotations

from itertools import cycle
from random import Random

import pytest

from sketcher.board.board import Board
from sketcher.board.preview import Pointer
from sketcher.part.edits.draft import Draft
from sketcher.part.value import Part
from sketcher.solve.solve_report import Solution, SolveReport

SIZE = 400.0
FRAME = 0.016  # 60 pictures a second


def layout(count: int = 300) -> Part:
    """Two thirds lines and a third circles all over the sheet: some 8,000 regions."""
    random = Random(3)

    def place() -> tuple[float, float]:
        return (random.uniform(0.0, SIZE), random.uniform(0.0, SIZE))

    draft = Draft(Part())
    for k in range(count):
        if k % 3:
            draft.line(place(), place(), "layout")
        else:
            draft.circle(place(), random.uniform(5.0, 60.0), "layout")
    return draft.done()


@pytest.fixture
def board() -> Board:
    # Nothing is bound here; only the pointer is of interest.
    made = Board(solver=lambda part: Solution(part, SolveReport()))
    made.load(layout())
    made.use("trace")
    return made


def test_region_under_the_pointer(benchmark, board):
    random = Random(4)
    places = cycle([Pointer(random.uniform(0.0, SIZE), random.uniform(0.0, SIZE), 1.0)
                    for _ in range(200)])
    board.move(next(places))

    def moved():
        board.move(next(places))
        return board.preview

    shown = benchmark(moved)
    assert shown is not None
    assert benchmark.stats.stats.max < 10 * FRAME  # one slow picture of thousands on a busy machine
    assert benchmark.stats.stats.median < FRAME


def test_way_under_the_pointer(benchmark, board):
    random = Random(5)
    board.key("w")
    for name in ("move", "press", "release"):
        getattr(board, name)(Pointer(0.5 * SIZE, 0.5 * SIZE, 20.0))
    places = cycle([Pointer(random.uniform(0.0, SIZE), random.uniform(0.0, SIZE), 20.0)
                    for _ in range(200)])
    for _ in range(200):
        board.move(next(places))
        assert board.preview is not None

    def moved():
        board.move(next(places))
        return board.preview

    shown = benchmark(moved)
    assert len(shown.curves) > 0
    assert benchmark.stats.stats.median < FRAME
