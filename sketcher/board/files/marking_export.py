"""The results of a class as files: tables, marked sheets and the report, into one folder."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from sketcher.board.files.marking_book import ClassBook
from sketcher.board.files.marking_job import class_sheets
from sketcher.board.job import Job
from sketcher.board.window_port import Host
from sketcher.exchange.outputs import DRAWING, Outputs, strange
from sketcher.marking.class_files import ClassFiles, planned_files, put_class
from sketcher.marking.mark_tables import DEDUCTIONS, MARKS

TITLE = "Export the results"
FEW = 4
"""Files that a question names one by one."""


def export_class(book: ClassBook, host: Host, names: bool) -> str:
    """Write everything of a class into a folder that is asked for; return what was written.

    Parameters
    ----------
    book : ClassBook
    host : Host
    names : bool
        Whether names of students and files stand in it.

    Raises
    ------
    SketcherError
        When one of them cannot be written; before any is written where that can be known.
    Stopped
        When it was stopped; nothing is written then.
    """
    if book.compared is None:
        return ""
    folder = host.ask_folder(f"{TITLE} into a folder")
    if folder is None:
        return ""
    listed = book.compared.listed
    sources = [*filter(None, (book.key, book.variants, book.roster, book.path)),
               *(Path(entry.path) for entry in listed.entries)]
    outputs = Outputs(sources, remedy="choose another folder")
    files = planned_files(outputs, folder, listed.entries, names, TITLE, ask=False)
    if not _may_replace(host, outputs, files):
        return ""
    marked = book.as_marked()
    sheets, report = book.board.bench.worker.finish(Job(
        "Drawing the marked sheets", class_sheets,
        (replace(book.compared, marked=marked), book.rubric, names), 0.0))
    made = [replace(one, made=sheet) for one, sheet in zip(marked, sheets, strict=True)]
    put_class(outputs, files, made, listed, names)
    outputs.put(files.report, report)
    written = outputs.write()
    return (f"{len(written)} files exported into {folder.name}: marks.csv, deductions.csv, "
            f"class.pdf and {len(sheets)} marked sheets.")


def _may_replace(host: Host, outputs: Outputs, files: ClassFiles) -> bool:
    """Ask once for all files that are there already."""
    forms = {files.marks: MARKS, files.deductions: DEDUCTIONS, files.report: DRAWING,
             **dict.fromkeys(files.sheets.values(), DRAWING)}
    there = [path for path in forms if path.exists()]
    if not there:
        return True
    named = ", ".join(path.name for path in there[:FEW])
    if len(there) > FEW:
        named += f" and {len(there) - FEW} more"
    if not host.confirm(TITLE, f"There already: {named}. Replace them?", "Replace them"):
        return False
    for path in there:
        if strange(path, forms[path]):
            outputs.allow(path)
    return True
