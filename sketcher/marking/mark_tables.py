"""What a class is given, as tables: ``marks.csv``, a line a hand-in, and ``deductions.csv``.

Names of students and of files are other people's words: no cell is one that a spreadsheet works
out (`quantity.table_cell`).
"""

from __future__ import annotations

import csv
import io
import os
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from sketcher.exchange.outputs import Form, has_titles
from sketcher.marking.class_worker import Marked
from sketcher.marking.marks import Deduction, Marks
from sketcher.marking.roster import ClassEntry
from sketcher.quantity.table_cell import safe_cell

MARK_COLUMNS = ("number", "name", "file", "points", "of", "deductions", "ungraded", "unit",
                "turned", "mirrored")
DEDUCTION_COLUMNS = ("file", "rule", "points", "count", "x", "y", "found", "wanted", "text")
BY_HAND = "by-hand"
ABSENT = "nothing handed in"
PLACES = 4
"""Decimals of a place; lengths are in the key's unit."""


def shown_files(entries: Sequence[ClassEntry], names: bool = True) -> Mapping[str, str]:
    """Return under which name each file is shown, by its path.

    A file's name may hold a student's: without names it is its number with the file's suffix, with
    a second number where there are several.
    """
    if names:
        return {entry.path: entry.file for entry in entries}
    count: Counter[str] = Counter()
    out = {}
    for entry in entries:
        number = entry.label(names)
        count[number] += 1
        again = f"-{count[number]}" if count[number] > 1 or not entry.listed else ""
        out[entry.path] = f"{number}{again}{_suffix(entry.file)}"
    return out


def sheet_names(entries: Sequence[ClassEntry], names: bool = True) -> Mapping[str, str]:
    """Return the name of each marked sheet, by the path of the hand-in; no two are alike."""
    shown = shown_files(entries, names)
    stems = Counter(_stem(name).lower() for name in shown.values())
    return {path: f"{_stem(name) if stems[_stem(name).lower()] == 1 else name}.marked.pdf"
            for path, name in shown.items()}


def _suffix(name: str) -> str:
    suffix = ".profile.json"
    return suffix if name.lower().endswith(suffix) else os.path.splitext(name)[1]


def _stem(name: str) -> str:
    return name[: len(name) - len(_suffix(name))]


def marks_table(
    results: Sequence[Marked], absent: Sequence[ClassEntry] = (), names: bool = True,
    columns: Sequence[str] = (),
) -> bytes:
    """Return ``marks.csv``: each hand-in in the order of the class, then who gave none.

    Parameters
    ----------
    results : sequence of Marked
    absent : sequence of ClassEntry
    names : bool
        Whether names of students and of files stand in it.
    columns : sequence of str
        Titles of more columns, for a teacher to fill in: lateness, neatness.
    """
    shown = shown_files([one.entry for one in results], names)
    rows = [_mark_row(one.entry, one.marks, shown[one.entry.path], names) for one in results]
    rows += [(entry.number, entry.name if names else "", "", "", "", "", ABSENT, "", "", "")
             for entry in absent]
    return _table((*MARK_COLUMNS, *columns), [(*row, *("" for _ in columns)) for row in rows])


def _mark_row(entry: ClassEntry, marks: Marks, file: str, names: bool) -> tuple[object, ...]:
    who = entry.number if names else entry.label(names)
    if marks.ungraded:
        points = number(marks.points) if marks.has_points else ""
        return (who, entry.name if names else "", file, points, number(marks.of), "",
                ungraded_reason(entry, marks, names), "", "", "")
    return (who, entry.name if names else "", file, number(marks.points), number(marks.of),
            str(len(marks.kept)), "", marks.unit, number(marks.turned),
            "yes" if marks.mirrored else "no")


def ungraded_reason(entry: ClassEntry, marks: Marks, names: bool = True) -> str:
    """Return why a hand-in has no points, without the name of its file where names are left out."""
    return marks.ungraded if names else marks.ungraded.replace(entry.file, "the file")


def deductions_table(results: Sequence[Marked], names: bool = True) -> bytes:
    """Return ``deductions.csv``: each deduction, in the order of the class and of its sheet.

    What a person waived is left out, and a person's comment follows the text. Points that a person
    took beside the rules are of the rule ``by-hand``; those that were given are below zero.
    """
    shown = shown_files([one.entry for one in results], names)
    return _table(DEDUCTION_COLUMNS, [row for one in results for row in (*(
        (shown[one.entry.path], each.rule, number(each.points), str(each.mistake.count),
         place(each.mistake.at[0]), place(each.mistake.at[1]), each.mistake.found,
         each.mistake.wanted, ". ".join(filter(None, (each.mistake.text, each.comment))))
        for each in one.marks.kept), *(
        (shown[one.entry.path], BY_HAND, number(-each.points), "1", "", "", "", "", each.words)
        for each in one.marks.by_hand))])


def number(value: float) -> str:
    """Return points or degrees without zeros at the end."""
    return f"{round(value, 6) + 0.0:g}"


def place(value: float) -> str:
    """Return a coordinate of the key."""
    return f"{round(value, PLACES) + 0.0:.{PLACES}f}".rstrip("0").rstrip(".")


def _table(titles: Sequence[str], rows: Sequence[Sequence[object]]) -> bytes:
    stream = io.StringIO()
    writer = csv.writer(stream, lineterminator="\r\n")
    writer.writerow(titles)
    writer.writerows([safe_cell(str(cell)) for cell in row] for row in rows)
    return stream.getvalue().encode("utf-8-sig")


def class_record(
    results: Sequence[Marked], absent: Sequence[ClassEntry] = (), names: bool = True
) -> list[dict[str, Any]]:
    """Return what a class is given as plain values, for JSON."""
    shown = shown_files([one.entry for one in results], names)
    return [*(_record(one, shown[one.entry.path], names) for one in results),
            *({"number": entry.number, **({"name": entry.name} if names else {}), "file": "",
               "points": None, "ungraded": ABSENT} for entry in absent)]


def _record(one: Marked, file: str, names: bool) -> dict[str, Any]:
    entry, marks = one.entry, one.marks
    return {
        "number": entry.number if names else entry.label(names),
        **({"name": entry.name, "group": entry.group} if names else {"group": entry.group}),
        "file": file, "points": None if marks.ungraded else marks.points, "of": marks.of,
        "ungraded": ungraded_reason(entry, marks, names), "unit": marks.unit,
        "turned": marks.turned, "mirrored": marks.mirrored,
        "deductions": [_deduction(each) for each in marks.deductions],
        "not decidable": dict(marks.undecided), "told": list(marks.told),
    }


def _deduction(each: Deduction) -> dict[str, Any]:
    mistake = each.mistake
    return {"rule": each.rule, "points": each.points, "count": mistake.count,
            "x": mistake.at[0], "y": mistake.at[1], "found": mistake.found,
            "wanted": mistake.wanted, "text": mistake.text}


def _rows(data: bytes) -> Iterator[dict[str, str | Any]]:
    text = data.decode("utf-8-sig", "replace")
    return csv.DictReader(io.StringIO(text, newline=""))


def _is_untouched(data: bytes) -> bool:
    """Tell whether a file is a table of marks, and nobody filled a column of his own in."""
    return has_titles(data, MARK_COLUMNS) and not any(
        value for row in _rows(data) for title, value in row.items() if title not in MARK_COLUMNS)


MARKS = Form("an untouched table of marks", (".csv",), _is_untouched)
DEDUCTIONS = Form("a table of deductions", (".csv",),
                  lambda data: has_titles(data, DEDUCTION_COLUMNS))
