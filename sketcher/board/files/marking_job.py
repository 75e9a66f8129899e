"""What another process does for the marking of a class: comparing it, and making its files."""

from __future__ import annotations

from dataclasses import dataclass, replace

from sketcher.inspect.sketched import solve_sketch
from sketcher.marking.class_files import report_pdf
from sketcher.marking.class_keys import checked_key, solved_key
from sketcher.marking.class_run import run_class
from sketcher.marking.class_worker import Marked, Task
from sketcher.marking.comparison import Comparison
from sketcher.marking.copied_hand_ins import Alike, Traces, copied
from sketcher.marking.hand_rulings import with_all_rules
from sketcher.marking.marked_view import MarkedView, marked_view
from sketcher.marking.marks import Marks
from sketcher.marking.roster import ClassEntry, ClassList, class_list, read_roster
from sketcher.marking.rubric import Rubric
from sketcher.part.value import Part
from sketcher.progress import counted, report


@dataclass(frozen=True, slots=True)
class ClassCompared:
    """A class beside its key, by every rule there is.

    Parameters
    ----------
    key : Part
        Solved.
    listed : ClassList
        Hand-ins in the order of the class, who gave none, and files that are none.
    marked : tuple of Marked
        In that order; `made` is a `MarkedView`, or None for what could not be marked.
    alike : tuple of Alike
    """

    key: Part
    listed: ClassList
    marked: tuple[Marked, ...]
    alike: tuple[Alike, ...] = ()


def compare_class(
    key: Part | str, folder: str, roster: str, rubric: Rubric, leave: tuple[str, ...] = ()
) -> ClassCompared:
    """Compare the hand-ins of a folder with a key; reports `ClassProgress` on the way.

    Parameters
    ----------
    key : Part or str
        The part, or where its file is.
    folder, roster : str
        `roster` may be empty.
    rubric : Rubric
        Rules that are off are looked at as well.
    leave : tuple of str
        Files that are no hand-ins wherever they lie.

    Raises
    ------
    SketcherError
        When key, roster or folder cannot be used.
    """
    part = solved_key(key) if isinstance(key, str) else checked_key(
        solve_sketch(key), f"the part {key.name}")
    listed = class_list(folder, read_roster(roster) if roster else None, leave)
    task = Task({"": part}, with_all_rules(rubric), _view)
    found = run_class(listed.entries, task, listen=report)
    alike = copied([one.traces for one in found])
    return ClassCompared(part, listed, tuple(replace(one, traces=Traces()) for one in found), alike)


def _view(comparison: Comparison, _: Marks, __: ClassEntry) -> MarkedView:
    return marked_view(comparison)


def class_sheets(
    found: ClassCompared, rubric: Rubric, names: bool
) -> tuple[tuple[bytes | None, ...], bytes]:
    """Return the marked sheet of each hand-in, None where it has none, and the class report.

    Parameters
    ----------
    found : ClassCompared
        With the marks as they are to stand.
    rubric : Rubric
    names : bool
        Whether names of students and files stand in them.
    """
    from sketcher.exchange.pdf import pdf_bytes
    from sketcher.marking.marked_sheet import sheet_of_view

    sheets = tuple(
        pdf_bytes(sheet_of_view(one.made, one.marks, one.entry.label(names)))
        if isinstance(one.made, MarkedView) else None for one in counted(found.marked))
    return sheets, report_pdf(found.marked, found.key, rubric, found.alike, names)
