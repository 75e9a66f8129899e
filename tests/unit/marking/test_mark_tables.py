"""The tables of a class, read back by Python's own reader of CSV."""

from __future__ import annotations

import csv
import io

import pytest

from sketcher.marking.class_worker import Marked
from sketcher.marking.mark_tables import (
    MARKS,
    deductions_table,
    marks_table,
    sheet_names,
    shown_files,
)
from sketcher.marking.marking_rule import Mistake
from sketcher.marking.marks import Deduction, Marks
from sketcher.marking.roster import ClassEntry


def rows(data: bytes) -> list[list[str]]:
    return list(csv.reader(io.StringIO(data.decode("utf-8-sig"), newline="")))


# OWASP, "CSV Injection" (from memory): cells that begin with = + - @, tab or carriage return, also
# after what a spreadsheet may take for a separator.
@pytest.mark.parametrize("text", ["=1+1", "+1+1", "-2+3", "@SUM(A1)", "\t=1", "\r=1", " =1",
                                  "a;=1", "a\n=1", '=HYPERLINK("x")'])
def test_no_cell_is_a_formula(text: str) -> None:
    entry = ClassEntry("7", "/x/7.dxf", text)
    [_, row] = rows(marks_table([Marked(entry, Marks("7.dxf", 90.0, 100.0))]))
    for cell in row[1].split(";"):
        assert not cell.strip().startswith(("=", "+", "-", "@")), row
    assert "\n" not in row[1]


def test_rows_have_points_places_and_reasons() -> None:
    mistake = Mistake((12.00004, -0.00001), "22", "20", "drawn with 22, not 20", (1,), 4)
    good = Marked(ClassEntry("7", "/x/7.dxf", "B, A"), Marks(
        "7.dxf", 87.5, 100.0, (Deduction(1, "wrong-value", 12.5, mistake),), unit="in",
        turned=90.0, mirrored=True))
    bad = Marked(ClassEntry("8", "/x/8.dxf"), Marks("8.dxf", 0.0, 100.0, ungraded="8.dxf: no"))
    absent = ClassEntry("9", "", "C")
    assert rows(marks_table([good, bad], [absent], columns=("late",)))[1:] == [
        ["7", "B, A", "7.dxf", "87.5", "100", "1", "", "in", "90", "yes", ""],
        ["8", "", "8.dxf", "", "100", "", "8.dxf: no", "", "", "", ""],
        ["9", "C", "", "", "", "", "nothing handed in", "", "", "", ""]]
    assert rows(marks_table([bad], names=False))[1][6] == "the file: no"
    assert rows(deductions_table([good, bad]))[1:] == [
        ["7.dxf", "wrong-value", "12.5", "4", "12", "0", "22", "20", "drawn with 22, not 20"]]


def test_no_two_sheets_have_one_name() -> None:
    entries = [ClassEntry("7", "/x/7.dxf"), ClassEntry("7", "/x/7.profile.json"),
               ClassEntry("8", "/x/8-Rowan.DXF"), ClassEntry("x", "/x/x.dxf", listed=False),
               ClassEntry("y", "/x/y.dxf", listed=False)]
    assert list(sheet_names(entries).values()) == [
        "7.dxf.marked.pdf", "7.profile.json.marked.pdf", "8-Rowan.marked.pdf", "x.marked.pdf",
        "y.marked.pdf"]
    assert list(shown_files(entries, names=False).values()) == [
        "7.dxf", "7-2.profile.json", "8.DXF", "unlisted-1.dxf", "unlisted-2.dxf"]


def test_a_table_that_somebody_wrote_into_is_not_replaced_unasked() -> None:
    one = Marked(ClassEntry("7", "/x/7.dxf"), Marks("7.dxf", 90.0, 100.0))
    table = marks_table([one], columns=("late",))
    assert MARKS.own(table)
    assert not MARKS.own(table.replace(b"no,\r\n", b"no,2 days\r\n"))
    assert not MARKS.own(b"number,name,group\r\n7,,\r\n")
