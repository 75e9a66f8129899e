"""The dimensions of a crowded part come later; until then only what still holds is shown."""

from __future__ import annotations

from dataclasses import replace

from sketcher.board.dimensions.kept_dimensions import FEW, KeptDimensions, laid_out
from sketcher.part.edits.draft import Draft
from sketcher.part.value import Part
from sketcher.solve.solve_report import SolveReport
from tests.later import Later


def crowded() -> Part:
    draft = Draft(Part())
    for n in range(FEW + 1):
        draft.bind("diameter", (draft.circle((10.0 * n, 0.0), 3.0),), "6")
    return draft.done()


def test_those_of_a_crowded_part_are_laid_out_by_a_job_asked_for_once() -> None:
    kept, worker, told = KeptDimensions(), Later(), []
    key = (crowded(), SolveReport(), 0.1)
    assert kept.at_hand(key, worker) == ()
    kept.know(key, worker, lambda: told.append(1))
    kept.know(key, worker, lambda: told.append(1))
    assert len(worker.started) == 1
    worker.work()
    assert told == [1]
    assert kept.at_hand(key, worker) == laid_out(*key)


def test_until_then_what_has_changed_is_not_shown_with_its_old_value() -> None:
    kept, worker = KeptDimensions(), Later()
    part = crowded()
    key = (part, SolveReport(), 0.1)
    kept.know(key, worker, lambda: None)
    worker.work()
    names = list(part.bindings)
    center = part.curves[part.bindings[names[1]].of[0]].points[0]
    changed = part.having(
        bindings={**part.bindings, names[0]: replace(part.bindings[names[0]], value="5")},
        points={**part.points, center: (0.0, 50.0)})
    shown = [dim.binding for dim in kept.at_hand((changed, SolveReport(), 0.1), worker)]
    assert shown == names[2:]
    assert kept.at_hand((part.having(unit="in"), SolveReport(), 0.1), worker) == ()


def test_a_layout_that_is_out_of_date_is_not_taken() -> None:
    kept, worker = KeptDimensions(), Later()
    part, report = crowded(), SolveReport()
    kept.know((part, report, 0.1), worker, lambda: None)
    kept.know((part, report, 0.2), worker, lambda: None)
    worker.work()
    known = kept.at_hand((part, report, 0.2), worker)
    assert known == laid_out(part, report, 0.2)
    worker.work()
    assert kept.at_hand((part, report, 0.2), worker) is known
