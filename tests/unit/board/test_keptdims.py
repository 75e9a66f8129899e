"""The dimensions of a crowded part come later; until then only what still holds is shown."""

from __future__ import annotations

from dataclasses import replace

from sketcher.board.dimensions.dimension_lines import FEW
from sketcher.board.dimensions.kept_dimensions import KeptDimensions, Shown, laid_out
from sketcher.board.steps.bench import Bench
from sketcher.drafting.layout.choose import FULL
from sketcher.part.edits.draft import Draft
from sketcher.part.store import load
from sketcher.part.value import Part
from sketcher.shipped import shipped
from sketcher.solve.solve_report import SolveReport
from tests.later import Later


def crowded() -> Part:
    draft = Draft(Part())
    for n in range(FEW + 1):
        draft.bind("diameter", (draft.circle((10.0 * n, 0.0), 3.0),), "6")
    return draft.done()


def test_those_of_a_crowded_part_are_laid_out_by_a_job_asked_for_once() -> None:
    kept, worker, told = KeptDimensions(), Later(), []
    key = Shown(crowded(), SolveReport(), 0.1)
    assert kept.at_hand(key, worker) == ()
    kept.know(key, worker, lambda: told.append(1))
    kept.know(key, worker, lambda: told.append(1))
    assert len(worker.started) == 1
    worker.work()
    assert told == [1]
    assert kept.at_hand(key, worker) == laid_out(key, {}, FULL).lines


def test_until_then_what_has_changed_is_not_shown_with_its_old_value() -> None:
    kept, worker = KeptDimensions(), Later()
    part = crowded()
    key = Shown(part, SolveReport(), 0.1)
    kept.know(key, worker, lambda: None)
    worker.work()
    names = list(part.bindings)
    center = part.curves[part.bindings[names[1]].of[0]].points[0]
    changed = part.having(
        bindings={**part.bindings, names[0]: replace(part.bindings[names[0]], value="5")},
        points={**part.points, center: (0.0, 50.0)})
    shown = [dim.binding for dim in kept.at_hand(Shown(changed, SolveReport(), 0.1), worker)]
    assert shown == names[2:]
    assert kept.at_hand(Shown(part.having(unit="in"), SolveReport(), 0.1), worker) == ()


def test_a_layout_that_is_out_of_date_is_not_taken() -> None:
    kept, worker = KeptDimensions(), Later()
    part, report = crowded(), SolveReport()
    kept.know(Shown(part, report, 0.1), worker, lambda: None)
    kept.know(Shown(part, report, 0.2), worker, lambda: None)
    worker.work()
    known = kept.at_hand(Shown(part, report, 0.2), worker)
    assert known == laid_out(Shown(part, report, 0.2), {}, FULL).lines
    worker.work()
    assert kept.at_hand(Shown(part, report, 0.2), worker) is known


def few() -> Part:
    draft = Draft(Part())
    draft.line((0, 0), (60, 0))
    for n in range(6):
        draft.bind("run", ("p1", draft.point((10.0 * n + 5.0, 20.0))), str(10 * n + 5))
    return draft.done()


def test_a_few_are_there_at_once_and_looked_at_again_at_rest() -> None:
    kept, worker, told = KeptDimensions(), Later(), []
    part = load(shipped("demo_parts", "shift-arm.profile.json"))
    shown = Shown(part, SolveReport(), 0.5)
    there = kept.at_hand(shown, worker)
    assert len(there) == 20
    kept.know(shown, worker, lambda: told.append(1))
    worker.work()
    assert told == [1]
    kept.know(shown, worker, lambda: told.append(1))
    assert worker.started == []


def test_what_stands_well_is_not_looked_at_again() -> None:
    kept, worker = KeptDimensions(), Later()
    shown = Shown(few(), SolveReport(), 0.1)
    kept.at_hand(shown, worker)
    kept.know(shown, worker, lambda: None)
    assert worker.started == []


def test_a_frame_keeps_places_and_another_part_of_the_same_names_does_not() -> None:
    kept, worker = KeptDimensions(), Later()
    part = few()
    kept.at_hand(Shown(part, SolveReport(), 0.1), worker)
    moved = part.having(points={**part.points, "p8": (55.0, 21.0)})
    shown = Shown(moved, SolveReport(), 0.1)
    frame = kept.at_hand(shown, worker)
    assert [d.anchor for d in frame[:5]] == [
        d.anchor for d in laid_out(Shown(part, SolveReport(), 0.1), {}, FULL).lines[:5]]
    other = crowded().having(bindings=dict(list(crowded().bindings.items())[:5]))
    alone = laid_out(Shown(other, SolveReport(), 0.1), {}, FULL).lines
    assert {d.anchor for d in kept.at_hand(Shown(other, SolveReport(), 0.1), worker)} == {
        d.anchor for d in alone}


def tight() -> Part:
    """Forty holes of two pixels in a field of forty, each with a size."""
    draft = Draft(Part())
    for n in range(40):
        draft.bind("diameter", (draft.circle((5.0 * (n % 8), 5.0 * (n // 8)), 1.0),), "2")
    return draft.done()


def test_what_has_no_room_is_told_once() -> None:
    bench, told, worker = Bench(tight()), [], Later()
    bench.worker = worker
    bench.derived.dimensions(1.0)
    for _ in range(2):
        bench.derived.know_dimensions(1.0, lambda: told.append(1))
        worker.work()
    assert told == [1]
    assert bench.message.text.startswith("No room for b")
