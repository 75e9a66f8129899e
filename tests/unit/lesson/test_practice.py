"""The practice problems: well determined, sound, drawn with all that it takes, easy ones first."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from sketcher import shipped as shipping
from sketcher.drafting.center_findings import center_findings
from sketcher.drafting.sheet import pages
from sketcher.errors import FileError
from sketcher.exchange.sheet_file import lacks_of
from sketcher.inspect.inspection import inspect_part
from sketcher.inspect.sketched import solve_sketch
from sketcher.lesson.practice import PracticeProblem, practice_problems
from sketcher.part.store import SUFFIX
from tests.demo_parts import FOLDER
from tests.practice_areas import AREAS

PRACTICE = FOLDER / "practice"
PROBLEMS = practice_problems()


def test_ten_in_the_order_of_their_files() -> None:
    assert [problem.number for problem in PROBLEMS] == list(range(1, 11))
    files = sorted(path.name for path in PRACTICE.glob(f"*{SUFFIX}"))
    assert [problem.name + SUFFIX for problem in PROBLEMS] == files
    assert all(problem.name.startswith(f"{problem.number:02}-") for problem in PROBLEMS)


def test_each_has_a_title_and_a_goal_of_its_own() -> None:
    assert len({problem.title for problem in PROBLEMS}) == len(PROBLEMS)
    assert len({problem.goal for problem in PROBLEMS}) == len(PROBLEMS)
    for problem in PROBLEMS:
        assert problem.name[3:] == problem.title.lower().replace(" ", "-")
        assert problem.goal.endswith(".")
        assert len(problem.goal) <= 80


@pytest.mark.parametrize("problem", PROBLEMS, ids=lambda problem: problem.name)
def test_a_problem_is_well_determined_and_its_sheet_says_all(problem: PracticeProblem) -> None:
    solution = solve_sketch(problem.key)
    report = solution.report
    assert (report.state, report.freedoms, report.doubled) == ("bound", 0, ())
    assert solution.part.doubts == ()
    inspection = inspect_part(solution.part, report)
    assert inspection.findings == ()
    assert inspection.profile.area == pytest.approx(AREAS[problem.name](), rel=1e-12)
    assert center_findings(solution.part) == ()
    drawing = pages(solution.part)[0]
    assert drawing.crowded == ()
    assert lacks_of(solution.part, drawing) == ()
    assert min(drawing.size) <= 216.0  # A4, or ASME's A, which is 8.5 in wide (from memory)


def a_copy(folder: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Let the program find its practice problems in `folder`."""
    copy = folder / "demo_parts" / "practice"
    copy.mkdir(parents=True)
    for path in PRACTICE.iterdir():
        (copy / path.name).write_bytes(path.read_bytes())
    monkeypatch.setattr(shipping, "__file__", str(folder / "sketcher" / "shipped.py"))
    return copy


@pytest.mark.parametrize(("index", "told"), [
    ("{", "is no JSON"),
    ("[]", "names no problems"),
    ('{"01-corner-bracket": " "}', "its goal is no text"),
    ('{"11-none": "Nothing."}', "is missing from this installation"),
])
def test_a_broken_index_is_one_clear_error(
    index: str, told: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (a_copy(tmp_path, monkeypatch) / "practice.json").write_text(index, encoding="utf-8")
    with pytest.raises(FileError, match=told) as error:
        practice_problems()
    assert error.value.place.startswith("demo_parts/practice/")
    assert "install" in error.value.remedy


def test_a_broken_part_is_told_with_its_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = a_copy(tmp_path, monkeypatch) / f"05-drag-link{SUFFIX}"
    told = json.loads(path.read_text(encoding="utf-8"))
    told["curves"]["h1"]["center"] = "c9"
    path.write_text(json.dumps(told), encoding="utf-8")
    with pytest.raises(FileError, match="no point named 'c9'") as error:
        practice_problems()
    assert error.value.place == f"demo_parts/practice/05-drag-link{SUFFIX}: curves.h1.center"
