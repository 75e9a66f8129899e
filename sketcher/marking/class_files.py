"""The files that a marked class becomes, planned before the work and filled after it."""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from sketcher.errors import FileError
from sketcher.exchange.outputs import DRAWING, Outputs, made_folder, same_file
from sketcher.marking.class_worker import Marked
from sketcher.marking.copied_hand_ins import Alike
from sketcher.marking.mark_tables import (
    DEDUCTIONS,
    MARKS,
    deductions_table,
    marks_table,
    sheet_names,
    ungraded_reason,
)
from sketcher.marking.roster import ClassEntry, ClassList
from sketcher.marking.rubric import Rubric
from sketcher.part.value import Part

MARKS_FILE, DEDUCTIONS_FILE, REPORT_FILE = "marks.csv", "deductions.csv", "class.pdf"


@dataclass(frozen=True, slots=True)
class ClassFiles:
    """Where everything of a class goes; marked sheets by the path of the hand-in."""

    marks: Path
    deductions: Path
    report: Path
    sheets: Mapping[str, Path]


def planned_files(
    outputs: Outputs, folder: str | os.PathLike[str], entries: Sequence[ClassEntry],
    names: bool = True, option: str = "--out", ask: bool = True,
) -> ClassFiles:
    """Make the folder and plan its files.

    Raises
    ------
    FileError
        When one of them could not be written, or must not be replaced.
    """
    place = Path(folder)
    if any(same_file(place, os.path.dirname(entry.path)) for entry in entries):
        raise FileError(str(place), "is the folder of the hand-ins", "name another folder")
    made_folder(option, place)
    return ClassFiles(
        outputs.add(option, place / MARKS_FILE, MARKS, ask),
        outputs.add(option, place / DEDUCTIONS_FILE, DEDUCTIONS, ask),
        outputs.add(option, place / REPORT_FILE, DRAWING, ask),
        {path: outputs.add(option, place / name, DRAWING, ask)
         for path, name in sheet_names(entries, names).items()})


def put_class(
    outputs: Outputs, files: ClassFiles, results: Sequence[Marked], hand_ins: ClassList,
    names: bool = True, columns: Sequence[str] = (),
) -> None:
    """Keep the tables, and the sheets that came with the results, for writing."""
    outputs.put(files.marks, marks_table(results, hand_ins.absent, names, columns))
    outputs.put(files.deductions, deductions_table(results, names))
    for one in results:
        if isinstance(one.made, bytes):
            outputs.put(files.sheets[one.entry.path], one.made)


def put_report(
    outputs: Outputs, files: ClassFiles, results: Sequence[Marked], key: Part, rubric: Rubric,
    alike: Sequence[Alike] = (), names: bool = True,
) -> None:
    """Keep the report of the class for writing; hand-ins stand in it by number, or by name too.

    Parameters
    ----------
    outputs : Outputs
    files : ClassFiles
    results : sequence of Marked
    key : Part
        On which the places are drawn.
    rubric : Rubric
    alike : sequence of Alike
    names : bool
    """
    outputs.put(files.report, report_pdf(results, key, rubric, alike, names))


def report_pdf(
    results: Sequence[Marked], key: Part, rubric: Rubric, alike: Sequence[Alike] = (),
    names: bool = True,
) -> bytes:
    """Return the report of a class."""
    from sketcher.exchange.pdf import pdf_bytes
    from sketcher.marking.class_report import CopiesFlagged, class_report

    labels = [one.entry.label(names) for one in results]
    flagged = [CopiesFlagged((labels[each.one], labels[each.other]), each.reasons)
               for each in alike]
    told = [(label, replace(one.marks, ungraded=ungraded_reason(one.entry, one.marks, names)))
            for label, one in zip(labels, results, strict=True)]
    return pdf_bytes(class_report(told, key, rubric, flagged))
