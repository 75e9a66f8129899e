"""Where a part is solved: at once, or elsewhere while a library is loaded."""

from __future__ import annotations

import gc
import itertools
import sys
from typing import Any

import pytest

from sketcher.board.board import Board
from sketcher.board.job import Job
from sketcher.board.steps.bench import Bench
from sketcher.board.steps.solver_cache import (
    CROWD,
    FEW,
    IN_CROWD,
    IN_PLACE,
    LIBRARY,
    Solving,
    default_solver,
    is_ready,
)
from sketcher.part.edits.draft import Draft
from sketcher.part.value import GridPattern, Part
from sketcher.solve.solve_report import Solution, SolveReport


def row_of(points: int) -> Part:
    draft = Draft(Part())
    ends = [draft.point((10.0 * n, 0.0)) for n in range(points)]
    for one, other in itertools.pairwise(ends):
        draft.line(one, other)
    return draft.done()


class Noting:
    """Does jobs at once and notes them."""

    waits_for = ""

    def __init__(self) -> None:
        self.jobs: list[Job[Any]] = []

    def finish(self, job: Job[Any]) -> Any:
        self.jobs.append(job)
        return job.run()


def test_a_large_part_is_not_begun_before_the_library_is_there(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    loaded: list[str] = []
    monkeypatch.setattr("sketcher.board.steps.solver_cache.import_module", loaded.append)
    monkeypatch.delitem(sys.modules, LIBRARY, raising=False)
    worker, small, large = Noting(), row_of(FEW), row_of(FEW + 1)
    assert is_ready(small)
    assert not is_ready(large)

    def solver(part: Part) -> Solution:
        return Solution(part, SolveReport())

    solving = Solving(solver)
    solving.tried(small, worker)  # type: ignore[arg-type]
    assert worker.jobs[-1].quick > 0.0
    assert LIBRARY not in loaded
    solving.tried(large, worker)  # type: ignore[arg-type]
    assert worker.jobs[-1].quick == 0.0
    assert loaded.count(LIBRARY) == 1


def test_the_last_solution_is_remembered_and_a_new_name_needs_none() -> None:
    worker, bench, part = Noting(), Bench(), row_of(3)
    bench.worker = worker  # type: ignore[assignment]
    now = bench.solve(part)
    assert bench.solve(part) is now
    bench.show(now, "edit")
    alike = bench.solve(part.having(name="other"))
    assert alike.report is now.report
    assert len(worker.jobs) == 1


@pytest.mark.parametrize(("count", "crowded"), [(CROWD - 1, False), (CROWD, True)])
def test_a_crowd_leaves_less_of_the_event_to_the_solver(count: int, crowded: bool) -> None:
    draft, worker = Draft(Part()), Noting()
    hole = draft.circle((0.0, 0.0), 3.0)
    draft.pattern(GridPattern((hole,), ("10", "10"), (count, 1)))
    Solving(default_solver).tried(draft.done(), worker)  # type: ignore[arg-type]
    assert worker.jobs[-1].quick == (IN_CROWD if crowded else IN_PLACE)


def test_parts_of_before_are_forgotten_when_another_one_is_opened() -> None:
    board = Board(row_of(3))
    board.bench.do("Name", lambda part: part.having(name="Named"))
    assert kept("Named")
    board.load(row_of(2))
    assert not kept("Named")


def kept(name: str) -> bool:
    """Tell whether a part of this name is still somewhere in memory."""
    gc.collect()
    return any(isinstance(each, Part) and each.name == name for each in gc.get_objects())
