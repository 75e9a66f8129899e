"""What another process does for the marking of a class: comparing it, and making its files."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from sketcher.inspect.sketched import solve_sketch
from sketcher.marking.class_files import report_pdf
from sketcher.marking.class_keys import checked_key, solved_key, variant_codes, variant_keys
from sketcher.marking.class_run import run_class
from sketcher.marking.class_worker import Marked, Task
from sketcher.marking.comparison import Comparison
from sketcher.marking.copied_hand_ins import Alike, Traces, copied
from sketcher.marking.hand_in import HandIn
from sketcher.marking.hand_rulings import with_all_rules
from sketcher.marking.marked_view import MarkedView, hand_view, marked_view
from sketcher.marking.marks import Marks
from sketcher.marking.roster import ClassEntry, ClassList, class_list, read_roster
from sketcher.marking.rubric import Rubric
from sketcher.marking.sheet_maker import SheetMaker
from sketcher.part.value import Part, frozen
from sketcher.progress import counted, report


@dataclass(frozen=True, slots=True)
class ClassCompared:
    """A class beside its key, by every rule there is.

    Parameters
    ----------
    key : Part
        Solved; of several the first, on which the class is shown.
    listed : ClassList
        Hand-ins in the order of the class, who gave none, and files that are none.
    marked : tuple of Marked
        In that order; `made` is a `MarkedView`: of what could not be graded as its file has it,
        None where nothing of it was read.
    alike : tuple of Alike
    keys : mapping of str to Part
        Where each number has a key of its own.
    codes : mapping of str to str
        What each number's variant is called.
    """

    key: Part
    listed: ClassList
    marked: tuple[Marked, ...]
    alike: tuple[Alike, ...] = ()
    keys: Mapping[str, Part] = field(default_factory=frozen)
    codes: Mapping[str, str] = field(default_factory=frozen)

    def key_of(self, entry: ClassEntry) -> Part:
        """Return the key of a hand-in."""
        return self.keys.get(entry.number, self.key)


def compare_class(
    key: Part | str, folder: str, roster: str, rubric: Rubric, leave: tuple[str, ...] = (),
    variants: str = "",
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
    variants : str
        The table of a key for each number; with one `key` is not looked at, and without a roster
        it says who is in the class.

    Raises
    ------
    SketcherError
        When key, roster or folder cannot be used.
    """
    keys: Mapping[str, Part] = variant_keys(variants) if variants else frozen()
    if keys:
        part = next(iter(keys.values()))
    else:
        part = solved_key(key) if isinstance(key, str) else checked_key(
            solve_sketch(key), f"the part {key.name}")
    table = roster or variants
    listed = class_list(folder, read_roster(table) if table else None, leave)
    task = Task(keys or {"": part}, with_all_rules(rubric), _view, _view_of_ungraded)
    found = run_class(listed.entries, task, listen=report)
    alike = copied([one.traces for one in found])
    return ClassCompared(part, listed, tuple(replace(one, traces=Traces()) for one in found), alike,
                         keys, variant_codes(variants) if variants else frozen())


def _view(comparison: Comparison, _: Marks, __: ClassEntry) -> MarkedView:
    return marked_view(comparison)


def _view_of_ungraded(
    key: Part, _: Marks, __: ClassEntry, hand_in: HandIn | None
) -> MarkedView | None:
    return hand_view(key, hand_in)


def class_sheets(
    found: ClassCompared, rubric: Rubric, names: bool
) -> tuple[tuple[bytes, ...], bytes]:
    """Return the marked sheet of each hand-in, and the class report.

    Parameters
    ----------
    found : ClassCompared
        With the marks as they are to stand.
    rubric : Rubric
    names : bool
        Whether names of students and files stand in them.
    """
    maker = SheetMaker(names, found.codes)
    sheets = tuple(_sheet(one, found, maker) for one in counted(found.marked))
    return sheets, report_pdf(found.marked, found.key, rubric, found.alike, names)


def _sheet(one: Marked, found: ClassCompared, maker: SheetMaker) -> bytes:
    marks, entry = one.marks, one.entry
    shown = one.made if isinstance(one.made, MarkedView) else None
    if shown is not None and not marks.ungraded:
        return maker.of_view(shown, marks, entry)
    told = replace(marks, ungraded=marks.ungraded or "its picture could not be drawn")
    return maker.of_ungraded_view(found.key_of(entry), told, entry, shown)
