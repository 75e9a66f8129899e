"""A class of 200 is marked in little more than reading its files takes.

Run apart: ``pytest -s tests/bench/test_bench_class.py``; it prints milliseconds a hand-in. What is
promised is 1.5 times what ezdxf needs to read the files, and 100 ms each, on all cores. Processor
time of one process counts, shared among the cores, so that other programs do not; `class_run` adds
the start of its processes.
"""

from __future__ import annotations

from pathlib import Path
from random import Random
from time import process_time

import ezdxf

from sketcher.inspect.sketched import solve_sketch
from sketcher.marking.class_run import cores
from sketcher.marking.class_worker import ClassMarker, Task
from sketcher.marking.roster import ClassEntry
from sketcher.marking.rubric import Rubric
from sketcher.part.store import load
from tests.hand_ins.draft import drafted
from tests.hand_ins.drawer import some_manner
from tests.hand_ins.outline_plants import value
from tests.hand_ins.papers import PAPERS
from tests.hand_ins.series import wrong_numbers

COUNT = 200
WRONG = (0, 0, 0, 1, 1, 1, 1, 2, 2, 3)
"""Wrong values of ten in the class."""


def write(folder: Path) -> list[Path]:
    """Write straps with center lines, in every manner; some with wrong values."""
    paper = PAPERS[0]
    paths = []
    for number in range(COUNT):
        random = Random(f"class of many {number}")
        wrong = wrong_numbers(paper, WRONG[number % len(WRONG)], random)
        plants = [value(**{name: amount}) for name, amount in wrong.items()]
        path = folder / f"{number + 1:03d}.dxf"
        drafted(paper, some_manner(random, paper.unit), plants).write(path, random)
        paths.append(path)
    return paths


def test_a_class_of_200(tmp_path: Path) -> None:
    paths = write(tmp_path)
    ezdxf.readfile(paths[0])
    start = process_time()
    for path in paths:
        ezdxf.readfile(path)
    reading = process_time() - start
    marker = ClassMarker(Task({"": solve_sketch(load(PAPERS[0].path)).part}, Rubric()))
    marker.mark(ClassEntry("0", str(paths[0])))
    start = process_time()
    marked = [marker.mark(ClassEntry(path.stem, str(path))) for path in paths]
    marking = process_time() - start
    read, mark = (1000.0 * each / COUNT for each in (reading, marking))
    print(f"\nread by ezdxf in {read:.0f} ms, marked in {mark:.0f} ms, on {cores()} cores")
    assert [each.fault for each in marked if each.fault] == []
    assert [each.entry.number for each in marked if each.marks.ungraded] == []
    assert marking / cores() <= 1.5 * reading + 0.1 * COUNT
