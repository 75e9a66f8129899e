"""Practice without a window: a problem on the table, its state, hints when asked, what is kept."""

from __future__ import annotations

from pathlib import Path

import pytest

from sketcher.board.board import Board
from sketcher.board.exercise.done_problems import FILE, done_problems, note_done
from sketcher.board.exercise.opened_problem import drawing_alone, set_problem, shipped_problem
from sketcher.board.exercise.practising import Practising
from sketcher.drafting.primitives import items_box
from sketcher.errors import SketcherError
from sketcher.lesson.practice import practice_problems
from sketcher.part.value import Part
from tests.demo_parts import FOLDER
from tests.hosts import AnsweringHost
from tests.loose_drawings import demo, loose, outline_of

NAMES = [problem.name for problem in practice_problems()]


class Table:
    """A board with practice, and how often it changed."""

    def __init__(self) -> None:
        self.board, self.host, self.changes = Board(), AnsweringHost(), 0
        self.model = Practising(self.board, self._count)

    def _count(self) -> None:
        self.changes += 1

    def draw(self, part: Part) -> None:
        self.board.bench.do("Draw", lambda _: part)
        self.model.look()


@pytest.fixture
def table() -> Table:
    made = Table()
    assert made.model.begin_shipped(made.host, "05-drag-link")
    return made


@pytest.mark.parametrize("name", NAMES)
def test_each_shipped_problem_is_set_with_its_paper_and_finished_by_its_part(name: str) -> None:
    from sketcher.board.exercise.attempt import judge_attempt

    problem = shipped_problem(name)
    assert problem.title
    assert problem.goal
    assert all(entry.probes for entry in problem.entries)
    drawn = {dim.id for dim in problem.picture.dimensions if dim.form != "label"}
    assert drawn == {entry.id for entry in problem.entries if not entry.is_touch}
    assert judge_attempt(problem.key, loose(outline_of(problem.key), problem.key.unit)).finished


def test_the_picture_is_the_drawing_alone_cut_close_to_it() -> None:
    sheet = shipped_problem("05-drag-link").sheet
    picture = drawing_alone(sheet)
    assert not any(item.source.startswith("sheet:") for item in picture.items)
    left, low, right, high = items_box(picture.all_items())
    assert min(left, low, picture.size[0] - right, picture.size[1] - high) == pytest.approx(4.0)
    assert [d.text for d in picture.dimensions] == [d.text for d in sheet.dimensions]
    point = (105.0, 0.0)
    assert sheet.view is not None
    assert picture.view is not None
    (ax, ay), (bx, by) = sheet.view.point(point), picture.view.point(point)
    (cx, cy), (dx, dy) = sheet.dimensions[0].place, picture.dimensions[0].place
    assert (ax - bx, ay - by) == pytest.approx((cx - dx, cy - dy))


def test_a_problem_begins_beside_an_empty_sheet_in_its_unit(table: Table) -> None:
    assert not table.board.part.curves
    assert table.model.begin_shipped(table.host, "03-keeper-plate")
    assert table.board.part.unit == "in"
    assert not table.board.bench.is_changed
    assert {entry.state for entry in table.model.standing.entries} == {"open"}


def test_unsaved_work_is_asked_for_as_open_does_and_stays_when_it_is_kept() -> None:
    table = Table()
    table.board.bench.do("Draw", lambda _: loose(outline_of(demo("shift-arm"))))
    table.host.unsaved = "cancel"
    kept = table.board.part
    assert not table.model.begin_shipped(table.host, "05-drag-link")
    assert table.board.part is kept
    assert table.model.problem is None


def test_ticks_follow_what_is_drawn_and_undone(table: Table) -> None:
    problem = table.model.problem
    assert problem is not None
    table.draw(problem.key)
    assert table.model.standing.finished
    assert table.model.state == (
        "Everything holds: the outline is closed, and nothing is left over. "
        "Bound, and nothing is doubled.")
    table.board.bench.undo()
    table.model.look()
    assert table.model.standing.holding == 0


def test_what_is_right_but_loose_is_told(table: Table) -> None:
    problem = table.model.problem
    assert problem is not None
    table.draw(loose(outline_of(problem.key)))
    assert table.model.standing.finished
    assert "still loose" in table.model.state


def test_hints_come_only_when_asked_and_go_when_the_drawing_goes_on(table: Table) -> None:
    model, problem = table.model, table.model.problem
    assert problem is not None
    table.draw(loose(outline_of(problem.key)[:1]))
    assert model.hint is None
    model.ask_hint()
    first = model.hint
    assert first is not None
    assert (model.whole, model.has_more) == (False, True)
    model.ask_hint()
    assert model.hint is first
    assert (model.whole, model.has_more) == (True, False)
    table.draw(loose(outline_of(problem.key)[:3]))
    assert model.hint is None


def test_leaving_keeps_the_drawing(table: Table) -> None:
    problem = table.model.problem
    assert problem is not None
    table.draw(loose(outline_of(problem.key)[:2]))
    drawn = table.board.part
    table.model.leave()
    assert table.board.part is drawn
    assert table.board.bench.is_changed
    assert table.model.problem is None
    table.model.look()  # and nothing more is judged
    table.model.ask_hint()
    assert table.model.hint is None


def test_any_sound_part_is_a_problem_and_one_with_findings_is_refused() -> None:
    table = Table()
    assert table.model.begin_file(table.host, FOLDER / "shelf-bracket.profile.json")
    assert table.model.problem is not None
    assert table.model.problem.name == ""
    with pytest.raises(SketcherError, match="is no problem to set"):
        table.model.begin_file(table.host, FOLDER / "latch-plate.profile.json")
    assert table.model.problem.title == "Shelf bracket"
    with pytest.raises(SketcherError):
        set_problem(Part())


def test_what_cannot_be_worked_out_is_told_and_mended_by_the_next_look(table: Table) -> None:
    from sketcher.part.value import GridPattern

    problem = table.model.problem
    assert problem is not None
    part = loose(outline_of(problem.key))
    table.board.bench.part = part.having(
        patterns={"n1": GridPattern(("z1",), ("nothing", "1"), (2, 1))})
    table.model.look()
    assert "nothing" in table.model.state
    table.board.bench.part = part
    table.model.look()
    assert table.model.standing.finished
    assert table.model.failed == ""


def test_done_problems_are_remembered(tmp_path: Path) -> None:
    assert done_problems(tmp_path) == frozenset()
    note_done(tmp_path, "05-drag-link")
    note_done(tmp_path, "02-lug-plate")
    assert done_problems(tmp_path) == {"02-lug-plate", "05-drag-link"}
    (tmp_path / FILE).write_text("no JSON")
    assert done_problems(tmp_path) == frozenset()
