"""A class of six on the disk, and its comparing without processes of its own."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from sketcher.board.files import marking_job
from sketcher.marking.class_run import ClassProgress
from sketcher.marking.class_worker import ClassMarker, Marked, Task
from sketcher.marking.demo_class import demo_files, demo_hand_ins
from sketcher.marking.roster import ClassEntry
from sketcher.marking.rubric import Rubric
from sketcher.marking.rules import marking_rules
from sketcher.part.value import frozen

CHOSEN = ("02-", "04-", "06-", "08-", "09-", "12-")
"""One wrong value; a gap; a hole missing; two mistakes; a copy of the second; a torn file."""
COUNTED = ("wrong-value", "open-gap", "missing-feature", "doubled", "construction-left")
WRONG, GAP, MISSING, TWO, COPY, TORN = range(6)


def class_on_disk(folder: Path) -> Path:
    """Write key, roster and the six hand-ins below a folder."""
    (folder / "hand-ins").mkdir(parents=True, exist_ok=True)
    for name, data in demo_files().items():
        (folder / name).write_bytes(data)
    for each in demo_hand_ins():
        if each.file.startswith(CHOSEN):
            (folder / "hand-ins" / each.file).write_bytes(each.content)
    return folder


def few_rules() -> Rubric:
    """A rubric of which only the rules count that these hand-ins break."""
    usual = Rubric()
    return Rubric(frozen({name: replace(usual.setting(name), on=name in COUNTED)
                          for name in marking_rules()}))


def run_here(
    entries: Sequence[ClassEntry], task: Task, jobs: int | None = None,
    listen: Callable[[ClassProgress], None] | None = None, **more: Any,
) -> tuple[Marked, ...]:
    """Mark a class where it stands, as `run_class` does beside it."""
    marker = ClassMarker(task)
    found = []
    for number, entry in enumerate(entries, 1):
        found.append(marker.mark(entry))
        if listen is not None:
            listen(ClassProgress(number, len(entries), entry, float(len(entries) - number)))
    return tuple(found)


@pytest.fixture
def quick_class(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let classes be compared without processes of their own."""
    monkeypatch.setattr(marking_job, "run_class", run_here)
