"""The inspection record: written, filled in, read back, judged."""

from __future__ import annotations

import csv
import io

import pytest

from sketcher.errors import FileError
from sketcher.exchange.measured_file import read_measured
from sketcher.exchange.record_file import write_record
from sketcher.part.value import Binding, Drawing, LineCurve, Part, frozen
from tests.read_back import rows


def plate(unit: str = "mm") -> Part:
    points = {"p1": (0.0, 0.0), "p2": (30.0, 0.0), "p3": (30.0, 8.0)}
    curves = {"e1": LineCurve(("p1", "p2")), "e2": LineCurve(("p2", "p3"))}
    bindings = {
        "b1": Binding("run", ("p1", "p2"), "30", tolerance=(0.1, -0.1)),
        "b2": Binding("rise", ("p2", "p3"), "8"),
        "b3": Binding("level", ("e1",)),
        "b4": Binding("angle", ("e1", "e2"), "90"),
        "b5": Binding("distance", ("p1", "p3"), "31.048", drives=False),
    }
    return Part(unit=unit, points=frozen(points), curves=frozen(curves),
                bindings=frozen(bindings), drawing=Drawing())


def filled(path, values: dict[str, str], delimiter: str = ",") -> None:
    table = rows(path)
    stream = io.StringIO()
    writer = csv.DictWriter(stream, table[0].keys(), delimiter=delimiter)
    writer.writeheader()
    for row in table:
        writer.writerow(row | {"measured": values.get(row["id"], "")})
    path.write_text(stream.getvalue(), encoding="utf-8")


def test_the_record_lists_every_dimension_with_its_limits(tmp_path) -> None:
    """General limits of 8 mm: plus and minus 0.2 (ISO 2768-1 m, over 6 up to 30)."""
    path = tmp_path / "r.csv"
    assert write_record(plate(), path) == []
    table = {row["id"]: row for row in rows(path)}
    assert list(table) == ["b1", "b2", "b4", "b5"]
    assert (table["b1"]["lower"], table["b1"]["upper"]) == ("29.9", "30.1")
    assert (table["b2"]["lower"], table["b2"]["upper"]) == ("7.8", "8.2")
    assert (table["b4"]["lower"], table["b4"]["upper"]) == ("89°", "91°")
    assert table["b5"]["lower"] == ""
    assert table["b5"]["nominal"] == "(31.048)"
    assert [row["no"] for row in table.values()] == ["1", "2", "3", "4"]
    assert all(row["measured"] == row["verdict"] == "" for row in table.values())


@pytest.mark.parametrize("delimiter", [",", ";"])
def test_measured_values_pass_up_to_the_limit_and_fail_beyond(tmp_path, delimiter) -> None:
    part, path = plate(), tmp_path / "r.csv"
    write_record(part, path)
    filled(path, {"b1": "30.1", "b2": "7.79", "b4": "90.5", "b5": "31"}, delimiter)
    measured = read_measured(part, path)
    assert measured == pytest.approx({"b1": 30.1, "b2": 7.79, "b4": 90.5, "b5": 31.0})
    assert write_record(part, tmp_path / "again.csv", measured) == ["b2"]
    table = {row["id"]: row for row in rows(tmp_path / "again.csv")}
    assert [table[k]["verdict"] for k in ("b1", "b2", "b4", "b5")] == ["pass", "fail", "pass", ""]


def test_a_value_in_the_other_unit_is_converted(tmp_path) -> None:
    part, path = plate(), tmp_path / "r.csv"
    write_record(part, path)
    filled(path, {"b1": "1.1811 in"})
    assert read_measured(part, path)["b1"] == pytest.approx(29.99994)


@pytest.mark.parametrize(
    ("content", "said"),
    [("", "no columns"), ("a,b\n1,2\n", "no columns"), ("id,measured\nzz,3\n", "line 2"),
     ("id,measured\nb3,3\n", "no dimension 'b3'"), ("id,measured\nb1,3\nb2,wide\n", "line 3")],
)
def test_a_record_that_cannot_be_read_says_where(tmp_path, content, said) -> None:
    path = tmp_path / "r.csv"
    path.write_text(content)
    with pytest.raises(FileError, match=said):
        read_measured(plate(), path)


@pytest.mark.parametrize("second", ["20", "99", ""])
def test_a_dimension_that_stands_twice_is_refused_with_both_lines(tmp_path, second) -> None:
    path = tmp_path / "r.csv"
    path.write_text(f"id,measured\nb1,99\nb2,8\nb1,{second}\n")
    with pytest.raises(FileError) as told:
        read_measured(plate(), path)
    assert told.value.place == f"{path}, line 4"
    assert "line 2" in told.value.problem


@pytest.mark.parametrize(
    ("content", "place"),
    [
        ("id,measured\nb1," + "3" * 140_000 + "\n", "line 2"),
        ('id,measured\nb2,8\nb1,"3\n', "line 3"),  # a quotation mark that stays open
        ('id,measured\nb1,"3"0\n', "line 2"),
        ("id,measured\nb1,30,05\n", "line 2"),  # a decimal comma between commas
        ("id,measured,measured\nb1,30,31\n", "line 1"),
        ("id,measured\nb2,8\n,30\n", "line 3"),  # a value of nothing
        ('id,"as\ndrawn",measured\n"b1","3\n0",30\nb2,,wide\n', "line 5"),
    ],
)
def test_a_table_that_is_broken_is_one_error_with_its_line(tmp_path, content, place) -> None:
    path = tmp_path / "r.csv"
    path.write_text(content)
    with pytest.raises(FileError) as told:
        read_measured(plate(), path)
    assert told.value.place == f"{path}, {place}"
    assert len(str(told.value)) < 500


@pytest.mark.parametrize("content", [
    "id;measured\nb1;30,05\nb4;90,5°\n",
    "sep=;\nid;measured\nb1;30,05\nb4;90,5°\n",
    "id\tmeasured\nb1\t30,05\nb4\t90,5\n",
    "id;measured\nb1;30.05\nb4;90.5\n",
    "id;lower;measured\nb1;29,9;30,05\nb2;7,8;\nb4;89;90,5\n;;\n",
    "measured;id\n 30,05 mm; b1\n90,5;b4;;\n",
    'id,measured\n"b1","30.05"\nb2\nb4,90.5,,\n',
])
def test_what_spreadsheets_write_is_read(tmp_path, content) -> None:
    path = tmp_path / "r.csv"
    for text in (content, content.replace("\n", "\r\n"), "\ufeff" + content):
        path.write_bytes(text.encode())
        assert read_measured(plate(), path) == pytest.approx({"b1": 30.05, "b4": 90.5})


@pytest.mark.parametrize(
    ("content", "line"),
    [
        ("id;measured\nb1;30,05\nb2;8.01\n", 3),
        ("id;lower;measured\nb1;29.9;30\nb2;7.8;8,01\n", 3),
        ("id;measured\nb1;1.030,05\n", 2),
        ("id;lower;measured\nb1;29.9;30,05\n", 2),
    ],
)
def test_a_file_that_mixes_decimal_marks_is_refused(tmp_path, content, line) -> None:
    path = tmp_path / "r.csv"
    path.write_text(content)
    with pytest.raises(FileError) as told:
        read_measured(plate(), path)
    assert told.value.place == f"{path}, line {line}"


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_a_value_just_beyond_its_limit_fails_again_when_it_is_read_back(tmp_path, unit) -> None:
    part, path = plate(unit), tmp_path / "r.csv"
    measured = {"b1": 30.100001, "b2": 8.0, "b4": 91.00004}
    assert write_record(part, path, measured) == ["b1", "b4"]
    again = read_measured(part, path)
    assert again == measured
    assert write_record(part, tmp_path / "again.csv", again) == ["b1", "b4"]


def test_bytes_that_are_no_text_and_other_suffixes_are_refused(tmp_path) -> None:
    (tmp_path / "r.csv").write_bytes(b"id,measured\nb1,\xff\n")
    with pytest.raises(FileError, match="UTF-8"):
        read_measured(plate(), tmp_path / "r.csv")
    with pytest.raises(FileError, match=r"\.csv or \.pdf"):
        write_record(plate(), tmp_path / "r.xyz")


def test_the_record_as_pdf_shows_verdicts(tmp_path) -> None:
    import pdfplumber

    write_record(plate(), tmp_path / "r.pdf", {"b1": 30.2})
    with pdfplumber.open(tmp_path / "r.pdf") as document:
        text = document.pages[0].extract_text()
    assert "Inspection record" in text
    line = next(line for line in text.splitlines() if line.startswith("1 Run"))
    assert line.split() == ["1", "Run", "30", "±0.1", "29.9", "30.1", "30", "30.2", "fail"]
