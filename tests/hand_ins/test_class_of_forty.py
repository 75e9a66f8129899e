"""The class whose every mistake is known: what is planted is what is deducted, nothing else."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import ezdxf
import pytest

from sketcher.marking.rules import marking_rules
from tests.hand_ins.class_of_forty import CLASS, COSTS, Sheet, marks_of, write_class
from tests.read_back import rows


@pytest.fixture(scope="module")
def written(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, dict[str, Sheet]]:
    folder = tmp_path_factory.mktemp("class")
    return folder, write_class(folder)


def test_there_are_forty_and_every_rule_is_planted() -> None:
    assert len(CLASS) == 40
    assert {rule for sheet in CLASS for rule in sheet.expected} == set(COSTS)
    assert {rule.name: (rule.points, rule.cap) for rule in marking_rules().values()
            if rule.name in COSTS}.items() <= COSTS.items()


def test_what_is_expected_stands_beside(written: tuple[Path, dict[str, Sheet]]) -> None:
    folder, sheets = written
    table = rows(folder / "expected.csv")
    assert {row["file"] for row in table} == set(sheets)
    last = [row for row in table if row["file"].endswith("132.dxf")]
    # the span as one wrong value 4, a stray line 2, a center line twice 2
    assert {row["rule"] for row in last} == {"wrong-value", "stray", "center-line-doubled"}
    assert {row["points"] for row in last} == {"92"}


def test_the_files_differ_in_what_costs_nothing(written: tuple[Path, dict[str, Sheet]]) -> None:
    folder, sheets = written
    documents = [ezdxf.readfile(folder / name) for name in sheets if name.endswith(".dxf")]
    assert {doc.dxfversion for doc in documents} == {"AC1009", "AC1015", "AC1032"}
    assert {doc.units for doc in documents} >= {1, 4}
    assert len({entity.dxf.layer for doc in documents for entity in doc.modelspace()}) > 8


@pytest.mark.slow
def test_every_planted_mistake_is_found_and_nothing_else(
        written: tuple[Path, dict[str, Sheet]]) -> None:
    folder, sheets = written
    wrong = []
    for name, sheet in sheets.items():
        marks = marks_of(folder / name, sheet)
        found = Counter(each.rule for each in marks.deductions)
        expected = Counter({r: n for r, n in sheet.expected.items() if r in marking_rules()})
        if found != expected or (expected == sheet.expected and marks.points != sheet.points):
            wrong.append(f"{name}: {marks.points:g} of {sheet.points:g}, "
                         f"{dict(found)} for {dict(expected)}")
    assert wrong == []
