"""The measured values of an inspection record, read back from its CSV file.

The title line tells what separates the cells: a comma, a semicolon or a tab, whichever makes `id`
and `measured` cells of it. Where it is not the comma, numbers may have a decimal comma, as a
spreadsheet writes them in the countries that use one; a file in which some numbers have a comma
and others a point is refused, for then nobody knows what `1,234` is.
"""

from __future__ import annotations

import csv
import io
import os
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from sketcher.drafting.record import EARLIER_COLUMNS, RecordRow, record
from sketcher.errors import FileError, QuantityError
from sketcher.part.atomic import read_text
from sketcher.part.value import Part
from sketcher.quantity.written import evaluate_written

MOST_BYTES = 4_000_000
SEPARATORS = (",", ";", "\t")
SAYS_SEPARATOR = re.compile(r"sep=(.)\r?\n")
"""First line by which some spreadsheets say what separates the cells."""
COMMA = re.compile(r"(?<![\d.,])(\d*),(\d+)(?![\d.,])")
POINT = re.compile(r"\d\.|\.\d")
NUMBERS = ("lower", "upper", "as drawn", "measured")
"""Columns that hold bare numbers, by which the decimal mark of the file is known."""


def read_measured(part: Part, path: str | os.PathLike[str]) -> dict[str, float]:
    """Read the measured column of a record; empty cells are left out.

    Values may be written as everywhere in the program: ``1 5/8``, ``25.4 mm``, ``30°``.

    Raises
    ------
    FileError
        When the file is no record of this part, names a dimension twice, mixes decimal marks, or
        has a value that cannot be understood; names the line.
    """
    table = _CsvTable(str(path), read_text(path, MOST_BYTES, "CSV UTF-8"))
    marks = _Marks()
    rows = {name: row for row in record(part) for name in (*row.stands_for, row.id)}
    found: dict[str, float] = {}
    lines: dict[str, int] = {}
    for line, row in table.rows():
        place = f"{path}, line {line}"
        name, value = row["id"], row["measured"]
        if table.separator != ",":
            marks.see(row, line, place)
            value = COMMA.sub(lambda comma: f"{comma[1] or 0}.{comma[2]}", value)
        if name in lines:
            raise FileError(place, f"{name!r} stands in line {lines[name]} already",
                            "leave one of the two")
        if name:
            lines[name] = line
        if value:
            dimension = _row_of(rows, name, place, table.earlier)
            found[dimension.id] = _measured(part, dimension, value, place)
    return found


def filled_in(data: bytes) -> bool:
    """Tell whether a record has a measured value; one that cannot be read counts as filled in."""
    try:
        table = _CsvTable("", data.decode("utf-8-sig"))
        return any(row["measured"] for _, row in table.rows())
    except (FileError, UnicodeDecodeError):
        return True


def _row_of(
    rows: Mapping[str, RecordRow], name: str, place: str, earlier: bool
) -> RecordRow:
    row = rows.get(name)
    if row is None:
        raise FileError(place, f"the part has no dimension {name!r} on its drawing",
                        "use the record of this part")
    if earlier and row.factor != 1.0:
        raise FileError(place, f"{name!r} is half of what the drawing says, {row.text}",
                        "measure the whole, into a record made anew")
    return row


def _measured(part: Part, row: RecordRow, said: str, place: str) -> float:
    try:
        return evaluate_written(said, "angle" if row.angular else "length", part.unit, {}, place)
    except QuantityError as error:
        raise FileError(place, error.problem, error.remedy) from error


class _CsvTable:
    """Rows of a CSV text by the titles of their columns, each with the line where it begins."""

    def __init__(self, path: str, text: str) -> None:
        self._path = path
        self._before = 0
        says = SAYS_SEPARATOR.match(text)
        if says:
            text = text[says.end():]
            self._before = 1
        self._text = text
        for separator in (says[1],) if says else SEPARATORS:
            titles = self._first_row(separator)
            if {"id", "measured"} <= set(titles):
                self.separator, self._titles = separator, titles
                self.earlier = set(EARLIER_COLUMNS) <= set(titles) and "no" not in titles
                break
        else:
            raise FileError(path, "has no columns 'id' and 'measured'",
                            "start from a record that --record wrote")
        for title in ("id", "measured"):
            if titles.count(title) > 1:
                raise FileError(f"{path}, line {1 + self._before}",
                                f"has two columns {title!r}", "leave one of the two")

    def _first_row(self, separator: str) -> list[str]:
        stream = io.StringIO(self._text, newline="")
        try:
            return [cell.strip() for cell in next(csv.reader(stream, delimiter=separator), [])]
        except csv.Error:
            return []

    def rows(self) -> Iterator[tuple[int, dict[str, str]]]:
        """Go through the rows below the titles; empty ones are left out."""
        stream = io.StringIO(self._text, newline="")
        reader = csv.reader(stream, delimiter=self.separator, strict=True)
        line = 0
        try:
            next(reader)  # the titles
            line = reader.line_num
            for cells in reader:
                line, begins = reader.line_num, line + 1
                if any(cell.strip() for cell in cells):
                    yield begins + self._before, self._named(cells, begins + self._before)
        except csv.Error as error:
            raise FileError(f"{self._path}, line {line + 1 + self._before}", str(error),
                            "save the table as CSV again") from None

    def _named(self, cells: list[str], line: int) -> dict[str, str]:
        stripped = [cell.strip() for cell in cells]
        count = len(self._titles)
        if any(stripped[count:]):
            raise FileError(f"{self._path}, line {line}", "has more cells than the title line",
                            "write the decimal mark as a point, or separate by semicolons")
        stripped += [""] * (count - len(stripped))
        return dict(zip(self._titles, stripped, strict=False))


@dataclass(slots=True)
class _Marks:
    """Where a decimal comma and a decimal point were seen first."""

    seen: dict[str, int] = field(default_factory=dict)

    def see(self, row: dict[str, str], line: int, place: str) -> None:
        """Note the decimal marks of a row; two sorts in one file are refused."""
        for title in NUMBERS:
            cell = row.get(title, "")
            for mark, pattern in (("comma", COMMA), ("point", POINT)):
                if pattern.search(cell):
                    self.seen.setdefault(mark, line)
        if len(self.seen) == 2:
            first = min(self.seen.values())
            raise FileError(place, "some numbers have a decimal comma and others a decimal point"
                            + (f" (line {first})" if first != line else ""),
                            "use one of them in the whole file")


__all__ = ["MOST_BYTES", "filled_in", "read_measured"]
