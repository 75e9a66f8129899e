"""What goes to the other process and comes back is the same: parts, solutions, reports, pages."""

from __future__ import annotations

import io
import os
import subprocess
import sys
from functools import partial
from itertools import islice
from pathlib import Path
from types import MappingProxyType

import pytest

from sketcher.board.board import Board
from sketcher.board.dimensions.desk_layout import lay_out_on_desk
from sketcher.board.job import AtOnce, Job, reunited
from sketcher.board.mending.clash_mending import found_offers, found_partners
from sketcher.board.steps.solver_cache import default_solver
from sketcher.desk.panes.cutting_section import cutting_told
from sketcher.desk.panes.sections import sections
from sketcher.desk.process import LENGTH, packed, receive, send, unpacked
from sketcher.drafting.sheet import pages
from sketcher.errors import ExportError
from sketcher.interrupt import Stopped
from sketcher.part.edits.set_value import set_value
from sketcher.part.store import load
from sketcher.part.value import Part

ROOT = Path(__file__).resolve().parents[3]


@pytest.fixture(scope="module")
def part() -> Part:
    return load(ROOT / "demo_parts" / "gate-strap.profile.json")


def test_values_come_back_equal(part: Part) -> None:
    solution = default_solver(part)
    board = Board(part)
    inspection = board.bench.derived.inspection()
    for value in (part, solution, inspection.as_dict(), pages(part), sections(inspection),
                  cutting_told(inspection), lay_out_on_desk(part, solution.report, 0.2),
                  board.bench.derived.center_lines(), {"a": MappingProxyType({"b": 1})}):
        assert unpacked(packed(value)) == value
    there = unpacked(packed(inspection))
    assert there.as_dict() == inspection.as_dict()
    assert type(unpacked(packed(part)).points) is MappingProxyType


def test_errors_come_back_whole() -> None:
    error = ExportError("x.dxf", "cannot be written", "choose another folder")
    there = unpacked(packed(error))
    assert type(there) is ExportError
    assert (there.place, there.problem, there.remedy) == (error.place, error.problem, error.remedy)


def test_offers_to_mend_come_back_and_still_mend(part: Part) -> None:
    twice = part.having(bindings={**part.bindings, "again": part.bindings["b5"]})
    solution = default_solver(twice)
    assert solution.report.doubled
    name = solution.report.doubled[0]
    offers = unpacked(packed(found_offers(twice, solution.report, name, default_solver)))
    assert offers
    for offer in offers:
        assert name not in default_solver(offer.edit(twice)).report.doubled
    partners = found_partners(twice, solution.report, name, default_solver)
    assert unpacked(packed(partners)) == partners
    assert set(partners) <= set(twice.bindings)


def test_frames_are_read_whole_or_not_at_all() -> None:
    pipe = io.BytesIO()
    send(pipe, b"one")
    send(pipe, b"")
    pipe.write(LENGTH.pack(10) + b"half")
    pipe.seek(0)
    assert receive(pipe) == b"one"
    assert receive(pipe) == b""
    assert receive(pipe) is None
    assert receive(pipe) is None


def test_a_part_that_comes_back_is_made_of_the_objects_it_began_as(part: Part) -> None:
    drawn = set_value(part, "b6", "26").part
    here = default_solver(drawn).part
    made = reunited(drawn, unpacked(packed(here)))
    assert made == here
    assert made.parameters is drawn.parameters
    same = [name for name, binding in drawn.bindings.items() if here.bindings[name] == binding]
    assert same  # of the others the solver has settled the sides
    assert all(made.bindings[name] is drawn.bindings[name] for name in same)
    lines = [name for name, curve in drawn.curves.items() if curve.kind == "line"]
    assert lines
    assert all(made.curves[name] is drawn.curves[name] for name in lines)
    kept = [name for name, at in made.points.items() if at == drawn.points[name]]
    assert kept
    assert len(kept) < len(made.points)
    assert all(made.points[name] is drawn.points[name] for name in kept)


def test_a_job_is_as_another_with_the_very_same_values(part: Part) -> None:
    job = Job("Solving", default_solver, (part,))
    assert job.is_as(Job("Solving again", default_solver, (part,), 0.0))
    assert not job.is_as(Job("Solving", default_solver, (part.having(name="other"),)))
    assert not job.is_as(Job("Solving", pages, (part,)))
    assert not job.is_as(Job("Solving", default_solver, ()))


def stopped() -> None:
    raise Stopped


def test_without_a_window_every_job_is_done_at_once() -> None:
    worker = AtOnce()
    heard: list[object] = []
    assert worker.finish(Job("Adding", sum, ([1, 2],))) == 3
    worker.start(Job("Adding", sum, ([1, 2],)), heard.append)
    worker.start(Job("Stopping", stopped), heard.append, lambda error: heard.append(type(error)))
    assert heard == [3, Stopped]
    with pytest.raises(ZeroDivisionError):
        worker.start(Job("Dividing", divmod, (1, 0)), heard.append)


def test_the_process_answers_and_goes_when_nobody_is_there(part: Part) -> None:
    child = subprocess.Popen(
        [sys.executable, "-m", "sketcher.desk.process"], stdin=subprocess.PIPE,
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, cwd=ROOT,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
    )
    assert child.stdin is not None
    assert child.stdout is not None
    assert child.stderr is not None
    send(child.stdin, packed((1, default_solver, (part,))))
    send(child.stdin, packed((2, divmod, (1, 0))))
    send(child.stdin, packed((3, partial(print, "said by a library"), ())))
    send(child.stdin, packed((4, sum, ([1, 2],))))
    frames = (unpacked(receive(child.stdout) or b"") for _ in range(99))
    # Frames of two tell how much of a job is done.
    answers = list(islice((frame for frame in frames if len(frame) == 3), 4))
    assert [answer[0] for answer in answers] == [1, 2, 3, 4]
    assert answers[0][1].part == default_solver(part).part
    assert isinstance(answers[1][2], ZeroDivisionError)
    assert answers[3][1] == 3
    child.stdin.close()
    assert child.wait(60) == 0
    assert b"said by a library" in child.stderr.read()
    child.stdout.close()
    child.stderr.close()
