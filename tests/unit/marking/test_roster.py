"""The list of a class and whose file is whose. Expected values follow from the texts themselves."""

from __future__ import annotations

from pathlib import Path

import pytest

from sketcher.errors import FileError
from sketcher.marking.roster import class_list, own_number, read_roster


def roster(folder: Path, data: bytes | str) -> Path:
    path = folder / "roster.csv"
    path.write_bytes(data if isinstance(data, bytes) else data.encode())
    return path


@pytest.mark.parametrize("text", [
    "number,name,group\n7,A,g\n12,\"B, with comma\",g\n",
    "\ufeffNumber;Name;Group\r\n7;A;g\r\n12;B, with comma;g\r\n",
    "group\tnumber\tmail\tname\n\ng\t7\tx\tA\ng\t12\ty\tB, with comma\n",
])
def test_separators_marks_quotes_and_the_order_of_columns(tmp_path: Path, text: str) -> None:
    found = read_roster(roster(tmp_path, text))
    assert [(one.number, one.name, one.group) for one in found] == [
        ("7", "A", "g"), ("12", "B, with comma", "g")]


@pytest.mark.parametrize(("data", "said"), [
    ("name,group\nA,g\n", "has no column 'number'"),
    ("number,name,name\n1,a,b\n", "line 1: has two columns 'name'"),
    ("number,name\n1,a\n\n1,b\n", "line 4: the number '1' stands in line 2 already"),
    ("number,file\n1,a.dxf\n2,A.dxf\n", "line 3: the file 'A.dxf' stands in line 2 already"),
    ("number,name\n,a\n", "line 2: has no number"),
    ("number,name\n", "lists nobody"),
    ('number,name\n1,"a\n', "is no line of a table"),
    (b"number,name\n1,\xff\xfe\n", "not UTF-8"),
    (b"number\0,name\n", "is no text"),
    ("", "has no column 'number'"),
])
def test_a_bad_roster_is_one_error_that_names_the_line(
    tmp_path: Path, data: bytes | str, said: str
) -> None:
    with pytest.raises(FileError) as error:
        read_roster(roster(tmp_path, data))
    assert said in str(error.value)
    assert str(tmp_path / "roster.csv") in str(error.value)


def test_a_file_belongs_to_the_longest_number_it_begins_with_or_to_the_file_said(
    tmp_path: Path
) -> None:
    hand_ins = tmp_path / "in"
    hand_ins.mkdir()
    for name in ("1-strap.dxf", "12.profile.json", "012b.DXF", "120_x.dxf", "A7plate.dxf",
                 "oddly named.dxf", "7-late.dwg", "notes.txt", ".hidden.dxf", "key.profile.json",
                 "class.rubric.json", "class.marking.json"):
        (hand_ins / name).write_text("x")
    (hand_ins / "sub").mkdir()
    lines = read_roster(roster(tmp_path, "number,name,file\n12,B\n1,A\nA7,C\n7,D\n"
                                         "99,E,Oddly named.dxf\n50,F\n"))
    found = class_list(hand_ins, lines, [hand_ins / "key.profile.json"])
    assert [(each.number, each.file, each.listed) for each in found.entries] == [
        ("12", "012b.DXF", True), ("12", "12.profile.json", True), ("1", "1-strap.dxf", True),
        ("A7", "A7plate.dxf", True), ("7", "7-late.dwg", True),
        ("99", "oddly named.dxf", True), ("120", "120_x.dxf", False)]
    assert [each.number for each in found.absent] == ["50"]
    assert found.passed_over == ("class.marking.json", "class.rubric.json", "notes.txt",
                                 "sub")
    without = class_list(hand_ins, None, [hand_ins / "key.profile.json"])
    assert [each.number for each in without.entries] == ["012", "1", "12", "120", "A7plate",
                                                         "oddly named"]
    assert [each.listed for each in without.entries] == [True, True, True, True, False, False]
    assert own_number("plate.profile.json") == "plate"


def test_a_folder_without_hand_ins_is_an_error(tmp_path: Path) -> None:
    for place in (tmp_path, tmp_path / "none", roster(tmp_path, "number\n1\n")):
        with pytest.raises(FileError, match=str(place)):
            class_list(place)
