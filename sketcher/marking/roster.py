"""The list of a class, and which hand-in is whose."""

from __future__ import annotations

import csv
import io
import os
import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from sketcher.errors import FileError
from sketcher.part.atomic import read_text, said

MOST_BYTES = 4_000_000
COLUMNS = ("number", "name", "group", "file")
SEPARATORS = (",", ";", "\t")
SUFFIXES = (".dxf", ".json")
"""Endings of hand-ins, small or capital."""
OURS = (".rubric.json", ".marking.json")
"""Endings of what a teacher keeps beside hand-ins."""
DIGITS = re.compile(r"\d+")
UNLISTED = "unlisted"
"""What a hand-in is called by number only that has none."""


@dataclass(frozen=True, slots=True)
class RosterLine:
    """One of a class: a number; name, group and the name of the file where they are said."""

    number: str
    name: str = ""
    group: str = ""
    file: str = ""


@dataclass(frozen=True, slots=True)
class ClassEntry:
    """A hand-in of a class, or that there is none.

    Parameters
    ----------
    number : str
        Of the student; what the file's name begins with where no roster says more.
    path : str
        Of the file; empty when nothing was handed in.
    name, group : str
        As the roster has them.
    listed : bool
        Whether the number stands in the roster; without one, whether it is digits. What is not may
        be a name.
    """

    number: str
    path: str = ""
    name: str = ""
    group: str = ""
    listed: bool = True

    @property
    def file(self) -> str:
        """Name of the file without its folder."""
        return os.path.basename(self.path)

    def label(self, names: bool = True, variant: str = "") -> str:
        """Return what stands on a sheet: the number, the name where names are wanted, a variant."""
        number = self.number if names or self.listed else UNLISTED
        return "  ".join(filter(None, (number, self.name if names else "", variant)))


@dataclass(frozen=True, slots=True)
class ClassList:
    """The hand-ins of a folder in stable order, who gave none, and files that are none."""

    entries: tuple[ClassEntry, ...]
    absent: tuple[ClassEntry, ...] = ()
    passed_over: tuple[str, ...] = ()


def read_roster(path: str | os.PathLike[str]) -> tuple[RosterLine, ...]:
    """Read the list of a class: CSV with the titles ``number,name,group`` and perhaps ``file``.

    Cells are separated by commas, semicolons or tabs; columns may stand in any order, and others
    beside them are passed over.

    Raises
    ------
    FileError
        When it cannot be read, has no column of numbers, or says a number or a file twice.
    """
    titles, rows = titled_rows(path, ("number",), "let its first line be number,name,group")
    for title in COLUMNS:
        if titles.count(title) > 1:
            raise FileError(f"{path}, line 1", f"has two columns {title!r}", "leave one of the two")
    found: list[RosterLine] = []
    lines: dict[tuple[str, str], int] = {}
    for line, said_there in rows:
        one = RosterLine(**{title: said_there.get(title, "") for title in COLUMNS})
        place = f"{path}, line {line}"
        if not one.number:
            raise FileError(place, "has no number", "give every student a number")
        for title, value in (("number", one.number), ("file", one.file)):
            if value and lines.setdefault((title, value.lower()), line) != line:
                raise FileError(place, f"the {title} {value!r} stands in line "
                                f"{lines[title, value.lower()]} already", "leave one of the two")
        found.append(one)
    if not found:
        raise FileError(str(path), "lists nobody", "add a line for each student")
    return tuple(found)


def titled_rows(
    path: str | os.PathLike[str], needed: Sequence[str], remedy: str
) -> tuple[list[str], Iterator[tuple[int, dict[str, str]]]]:
    """Return the titles of a CSV file, small, and its lines by them, each with its number.

    What separates the cells is what its first line has most of: commas, semicolons or tabs.

    Raises
    ------
    FileError
        When it cannot be read, is no such text, or lacks a column that is needed; `remedy` says
        what to do then.
    """
    rows = _csv_rows(path)
    _, first = next(rows, (1, []))
    titles = [cell.lower() for cell in first]
    for title in needed:
        if title not in titles:
            raise FileError(str(path), f"has no column {title!r}", remedy)
    return titles, ((line, dict(zip(titles, cells, strict=False))) for line, cells in rows)


def _csv_rows(path: str | os.PathLike[str]) -> Iterator[tuple[int, list[str]]]:
    """Yield the lines of a CSV file that are not empty, each with its number."""
    text = read_text(path, MOST_BYTES, "CSV UTF-8")
    if "\0" in text:
        raise FileError(str(path), "the file is no text", "save it as CSV UTF-8")
    title = text.partition("\n")[0]
    separator = max(SEPARATORS, key=title.count)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True)
    line = 0
    try:
        for cells in reader:
            begin, line = line + 1, reader.line_num
            if any(cell.strip() for cell in cells):
                yield begin, [cell.strip() for cell in cells]
    except csv.Error as error:
        raise FileError(f"{path}, line {line + 1}", f"is no line of a table: {error}",
                        "save it as CSV UTF-8") from None


def class_list(
    folder: str | os.PathLike[str], roster: Sequence[RosterLine] | None = None,
    leave: Iterable[str | os.PathLike[str]] = (),
) -> ClassList:
    """Return the hand-ins of a folder, in the order of the roster, or of their names without one.

    A file belongs to the one whose `file` it is, else to the longest number that its name begins
    with; 7 and 07 are one number where the roster has not both.

    Parameters
    ----------
    folder : path
    roster : sequence of RosterLine, optional
    leave : iterable of path
        Files that are no hand-ins wherever they lie: key, rubric, roster.

    Raises
    ------
    FileError
        When the folder cannot be read, or holds no hand-in.
    """
    try:
        names = sorted(entry.name for entry in os.scandir(folder)
                       if not entry.name.startswith("."))
    except (OSError, ValueError) as error:
        raise FileError(str(folder), said(error) if isinstance(error, OSError) else "is no folder",
                        "name the folder of the hand-ins") from None
    away = {os.path.realpath(each) for each in leave}
    entries: list[tuple[int, ClassEntry]] = []
    passed_over: list[str] = []
    for name in names:
        path = os.path.join(folder, name)
        if os.path.realpath(path) in away:
            continue
        whose = _whose(name, roster or ())
        drawn = name.lower().endswith(SUFFIXES) and not name.lower().endswith(OURS)
        if os.path.isdir(path) or not (drawn or whose is not None):
            passed_over.append(name)
        elif whose is not None and roster is not None:
            one = roster[whose]
            entries.append((whose, ClassEntry(one.number, path, one.name, one.group)))
        else:
            number = own_number(name)
            listed = roster is None and DIGITS.fullmatch(number) is not None
            entries.append((len(roster or ()), ClassEntry(number, path, listed=listed)))
    if not entries:
        raise FileError(str(folder), "holds no hand-in", "put part files or DXF files there")
    entries.sort(key=lambda each: each[0])
    there = {whose for whose, _ in entries}
    return ClassList(
        tuple(entry for _, entry in entries),
        tuple(ClassEntry(one.number, "", one.name, one.group)
              for number, one in enumerate(roster or ()) if number not in there),
        tuple(passed_over))


def own_number(name: str) -> str:
    """Return what a file's name says of its number: the digits in front, else all of it."""
    digits = DIGITS.match(name)
    if digits:
        return digits[0]
    stem = name
    for suffix in (*SUFFIXES, ".profile"):
        if stem.lower().endswith(suffix):
            stem = stem[: -len(suffix)]
    return stem


def _whose(name: str, roster: Sequence[RosterLine]) -> int | None:
    """Return which line of a roster a file belongs to; None when it is nobody's."""
    small = name.lower()
    for place, one in enumerate(roster):
        if one.file and one.file.lower() == small:
            return place
    begun = [(len(one.number), -place) for place, one in enumerate(roster)
             if _begins(small, one.number.lower())]
    if begun:
        return -max(begun)[1]
    digits = DIGITS.match(name)
    if digits:
        for place, one in enumerate(roster):
            if DIGITS.fullmatch(one.number) and (
                    one.number.lstrip("0") == digits[0].lstrip("0")):
                return place
    return None


def _begins(name: str, number: str) -> bool:
    """Tell whether a name begins with a number that does not go on: 1 does not begin 12."""
    if not name.startswith(number):
        return False
    after = name[len(number):][:1]
    return not ((number[-1].isdigit() and after.isdigit())
                or (number[-1].isalpha() and after.isalpha()))
