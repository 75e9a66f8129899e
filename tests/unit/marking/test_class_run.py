"""A class in processes: nothing that one hand-in does reaches the others."""

from __future__ import annotations

import os
import signal
import time
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from sketcher.inspect.sketched import solve_sketch
from sketcher.interrupt import Stopped, while_wanted
from sketcher.marking import marks as marks_module
from sketcher.marking.class_run import ClassProgress, run_class
from sketcher.marking.class_worker import ClassMarker, Task
from sketcher.marking.comparison import Comparison
from sketcher.marking.marking_rule import Mistake
from sketcher.marking.marks import Marks, faulty_rules
from sketcher.marking.roster import ClassEntry
from sketcher.marking.rubric import Rubric
from sketcher.marking.rules import marking_rules
from sketcher.part.store import save
from sketcher.part.value import Part
from sketcher.solve import solve_with
from tests.plates import bound


@cache
def key() -> Part:
    return solve_sketch(bound()).part


@pytest.fixture(scope="module")
def perfect(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The key handed in, from which nothing is taken off."""
    path = tmp_path_factory.mktemp("class") / "perfect.profile.json"
    save(key(), path)
    return path


def misbehave(_: Comparison, marks: Marks, entry: ClassEntry) -> str:
    """What is made of a hand-in, by its number: the worst that reading one could do."""
    if entry.number == "crash":
        os.kill(os.getpid(), signal.SIGKILL)
    if entry.number == "hang":
        time.sleep(600.0)
    if entry.number == "fault":
        raise ZeroDivisionError("by nothing")
    return f"{entry.label()} {marks.points:g}"


@pytest.mark.skipif(os.name != "posix", reason="ends itself by a signal")
def test_a_crash_and_a_fault_are_listed_and_change_nothing_else(
    tmp_path: Path, perfect: Path
) -> None:
    (tmp_path / "x.dxf").write_text("no drawing")
    broken = ClassEntry("broken", str(tmp_path / "x.dxf"))
    numbers = ("1", "crash", "2", "fault", "3")
    heard: list[ClassProgress] = []
    done = run_class([*(ClassEntry(number, str(perfect)) for number in numbers), broken],
                     Task({"": key()}, Rubric(), misbehave), 1, heard.append)
    assert [each.entry.number for each in done] == [*numbers, "broken"]
    told = {each.entry.number: each.marks.ungraded for each in done}
    assert "SIGKILL" in told["crash"]
    assert told["fault"] == ""  # marks without what is made of them are marks
    assert "ZeroDivisionError: by nothing" in done[3].fault
    assert "not a readable DXF" in told["broken"]
    assert str(tmp_path) not in told["broken"]
    assert [each.made for each in done] == ["1 100", None, "2 100", None, "3 100", None]
    alone = ClassMarker(Task({"": key()}, Rubric())).mark(ClassEntry("1", str(perfect)))
    assert [each.marks for each in done if not each.marks.ungraded] == 4 * [alone.marks]
    assert [each.done for each in heard] == list(range(1, 7))
    assert {each.last.number for each in heard} == set(told)
    assert heard[-1].seconds_left == 0.0


def test_one_that_hangs_is_given_up(perfect: Path) -> None:
    # alone: on a loaded machine another could take as long
    [one] = run_class([ClassEntry("hang", str(perfect))], Task({"": key()}, Rubric(), misbehave),
                      most_seconds=1.0)
    assert one.marks.ungraded == "was given up after 1 s"


def test_a_class_that_is_not_wanted_ends_with_its_processes(perfect: Path) -> None:
    heard: list[ClassProgress] = []
    entries = [ClassEntry(str(n), str(perfect)) for n in range(40)]
    with pytest.raises(Stopped), while_wanted(lambda: not heard):
        run_class(entries, Task({"": key()}, Rubric()), 1, heard.append)
    assert len(heard) < 5


def test_marking_that_fails_is_told_with_the_hand_in(
    monkeypatch: pytest.MonkeyPatch, perfect: Path
) -> None:
    def broken(*_: object) -> Marks:
        raise ZeroDivisionError("by nothing")

    monkeypatch.setattr("sketcher.marking.class_worker.marked", broken)
    one = ClassMarker(Task({"": key()}, Rubric())).mark(ClassEntry("1", str(perfect)))
    assert one.marks.ungraded.startswith("a fault of the program: ZeroDivisionError: by nothing (")
    assert "Traceback" in one.fault


def test_each_hand_in_is_marked_by_the_key_of_its_number(perfect: Path) -> None:
    other = solve_with(key(), {}, {"b6": "41"}).part
    marker = ClassMarker(Task({"1": key(), "2": other}, Rubric()))
    marks = [marker.mark(ClassEntry(number, str(perfect))).marks for number in ("1", "2", "3")]
    assert marks[0].points == 100.0
    assert marks[1].points < 100.0
    assert marks[2].ungraded == "its number has no key"


def test_a_rule_that_fails_is_not_decided_and_the_others_are(
    monkeypatch: pytest.MonkeyPatch, perfect: Path
) -> None:
    def fails(_: Comparison) -> tuple[Mistake, ...]:
        raise ZeroDivisionError("by nothing")

    rules = dict(marking_rules())
    rules["stray"] = replace(rules["stray"], decide=fails)
    monkeypatch.setattr(marks_module, "marking_rules", lambda: rules)
    marks = ClassMarker(Task({"": key()}, Rubric())).mark(ClassEntry("1", str(perfect))).marks
    assert (marks.points, marks.ungraded) == (100.0, "")
    assert faulty_rules(marks) == ("stray",)
    assert marks.undecided["stray"].startswith(
        "a fault of the program: ZeroDivisionError: by nothing (test_class_run.py, line ")
