"""The inspection record against the drawing, both read from the written PDF by pdfplumber.

Every number that the drawing's balloons name is a row of the record, and says the same size.
Limits are those of ISO 2768-1:1989, class m, as its tables 1 to 3 have them.
"""

from __future__ import annotations

import csv
import io
from pathlib import Path

import pdfplumber
import pytest

from sketcher.cli import main
from sketcher.drafting.record import CSV_COLUMNS
from sketcher.shipped import shipped
from tests.demo_parts import SOUND

STRAP = shipped("demo_parts", "gate-strap.profile.json")


Rows = dict[str, dict[str, str]]


def exported(part: Path, folder: Path) -> tuple[list[str], Rows]:
    """Return the numbers in the balloons of a part's drawing, and the rows of its record."""
    sheet, record = folder / "s.pdf", folder / "r.csv"
    assert main(["export", str(part), "--sheet", str(sheet), "--record", str(record)]) == 0
    with pdfplumber.open(sheet) as document:
        page = document.pages[0]
        circles = [c for c in page.curves if abs(c["width"] - c["height"]) < 0.1
                   and 12.0 < c["width"] < 20.0]
        found = []
        for circle in circles:
            said = "".join(c["text"] for c in page.chars if _within(c, circle))
            if said.isdigit():
                found.append(said)
    text = record.read_text(encoding="utf-8-sig")
    return found, {row["no"]: row for row in csv.DictReader(io.StringIO(text))}


def _within(char: dict, circle: dict) -> bool:
    x, y = 0.5 * (char["x0"] + char["x1"]), 0.5 * (char["top"] + char["bottom"])
    return circle["x0"] < x < circle["x1"] and circle["top"] < y < circle["bottom"]


@pytest.mark.parametrize("path", SOUND, ids=lambda p: p.name.partition(".")[0])
def test_every_balloon_is_a_row_and_every_row_a_balloon(path: Path, tmp_path: Path) -> None:
    balloons, rows = exported(path, tmp_path)
    assert sorted(balloons, key=int) == list(rows)


def test_a_row_is_what_a_caliper_can_touch(tmp_path: Path) -> None:
    _, rows = exported(STRAP, tmp_path)
    told = [(row["count"], row["nominal"], row["tolerance"], row["lower"], row["upper"])
            for row in rows.values()]
    assert ("", "120", "±0.3", "119.7", "120.3") in told  # across, over 30 up to 120
    assert ("", "60", "±0.3", "59.7", "60.3") not in told
    assert ("4x", "R8", "±1", "7", "9") in told  # table 2, over 6
    assert ("", "Ø20", "±0.1", "19.9", "20.1") in told  # its own
    assert ("", "(122)", "", "", "") in told


def test_steps_of_a_pattern_and_minutes_of_an_angle_are_rows(tmp_path: Path) -> None:
    bracket = shipped("demo_parts", "shelf-bracket.profile.json")
    _, rows = exported(bracket, tmp_path)
    told = {row["id"]: (row["nominal"], row["tolerance"]) for row in rows.values()}
    assert told["n1.step1"][0] == "1 1/2"
    arm = shipped("demo_parts", "shift-arm.profile.json")
    _, rows = exported(arm, tmp_path)
    angles = [row["tolerance"] for row in rows.values() if "°" in row["nominal"]]
    assert angles
    assert all(angle.endswith(("\N{PRIME}", "°")) for angle in angles)
    assert not any("." in angle for angle in angles)


def test_no_balloons_without_a_record(tmp_path: Path) -> None:
    assert main(["export", str(STRAP), "--sheet", str(tmp_path / "s.svg")]) == 0
    plain = (tmp_path / "s.svg").read_text()
    assert main(["export", str(STRAP), "--sheet", str(tmp_path / "s.svg"), "--record",
                 str(tmp_path / "r.csv")]) == 0
    assert (tmp_path / "s.svg").read_text().count("<text") > plain.count("<text") + 15


def test_what_was_measured_is_read_back_and_judged_as_a_whole(tmp_path: Path) -> None:
    _, rows = exported(STRAP, tmp_path)
    stream = io.StringIO()
    writer = csv.DictWriter(stream, CSV_COLUMNS)
    writer.writeheader()
    values = {"120": "120.4", "24": "24.1", "R8": "8.5"}
    writer.writerows(row | {"measured": values.get(row["nominal"], "")} for row in rows.values())
    (tmp_path / "m.csv").write_text(stream.getvalue(), encoding="utf-8")
    assert main(["export", str(STRAP), "--record", str(tmp_path / "again.csv"), "--measured",
                 str(tmp_path / "m.csv")]) == 1
    again = csv.DictReader(io.StringIO((tmp_path / "again.csv").read_text(encoding="utf-8-sig")))
    verdicts = [(row["nominal"], row["verdict"]) for row in again if row["measured"]]
    assert ("120", "fail") in verdicts
    assert ("24", "pass") in verdicts
    assert ("R8", "pass") in verdicts
