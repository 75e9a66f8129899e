"""The list of holes from the command line, and in the inspection file."""

from __future__ import annotations

import csv
import io
import json
import subprocess
from pathlib import Path

import ezdxf
import pdfplumber

from tests import forked

BRACKET = Path(__file__).resolve().parents[2] / "demo_parts" / "shelf-bracket.profile.json"


def sketcher(*args: object) -> subprocess.CompletedProcess[str]:
    return forked.run(["sketcher", *map(str, args)])


def rows(path: Path) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(path.read_text(encoding="utf-8-sig"), newline="")))


def said_on(sheet: Path) -> str:
    with pdfplumber.open(sheet) as pdf:
        return pdf.pages[0].extract_text()


def test_the_list_is_written_from_the_zero_that_is_asked_for(tmp_path: Path) -> None:
    target = tmp_path / "holes.csv"
    done = sketcher("export", BRACKET, "--holes", target)
    assert done.returncode == 0, done.stderr
    assert "5 holes and 0 slots, from X 0 in Y 0 in of the part" in done.stdout
    # The drawing of the part dimensions the grid: 2.75 and .5625 to its first hole, steps of 1.5
    # and 1.125.
    places = {(row["X (in)"], row["Y (in)"]) for row in rows(target) if row["size"] == "Ø9/32"}
    assert places == {("2.7500", "0.5625"), ("4.2500", "0.5625"), ("2.7500", "1.6875"),
                      ("4.2500", "1.6875")}
    done = sketcher("export", BRACKET, "--holes", target, "--zero", "h1")
    assert done.returncode == 0, done.stderr
    assert ("1.5000", "1.1250") in {(row["X (in)"], row["Y (in)"]) for row in rows(target)}


def test_a_zero_that_there_is_not_is_one_line_that_names_the_option(tmp_path: Path) -> None:
    done = sketcher("export", BRACKET, "--holes", tmp_path / "h.csv", "--zero", "nowhere")
    assert (done.returncode, len(done.stderr.splitlines())) == (2, 1), done.stderr
    assert "--zero: no point named 'nowhere'" in done.stderr
    done = sketcher("export", BRACKET, "--holes", tmp_path / "h.csv", "--along", "h1")
    assert "--along: h1 is round" in done.stderr
    done = sketcher("export", BRACKET, "--cut", tmp_path / "h.dxf", "--zero", "h1")
    assert "--zero: is about a drawing" in done.stderr
    assert not list(tmp_path.iterdir())


def test_the_inspection_file_has_the_holes() -> None:
    holes = json.loads(sketcher("inspect", BRACKET, "--json").stdout)["holes"]
    assert holes["rows"][0]["name"] == "A1"
    assert {row["size"] for row in holes["rows"]} == {"Ø.375 ±.005", "Ø9/32"}
    assert holes["rows"][0]["at"] == [1.0, 3.75]
    assert (holes["turn"], holes["bolt_circles"]) == (0.0, [])


def test_a_sheet_and_a_cutting_file_of_one_run_say_the_same_of_small_holes(tmp_path: Path) -> None:
    """6 mm thick: plasma cuts no hole below 12 mm (common practice, no source), and holds ±0.9
    at a size of 36 (ISO 9013:2017, class 2, as printed on a trade page)."""
    flange = BRACKET.with_name("pump-flange.profile.json")
    cut, sheet = tmp_path / "a.dxf", tmp_path / "a.pdf"
    done = sketcher("export", flange, "--cut", cut, "--sheet", sheet, "--process", "plasma",
                    "--mark", "circle")
    assert done.returncode == 0, done.stderr
    inside = [e for e in ezdxf.readfile(cut).modelspace() if e.dxf.layer == "INSIDE"]
    assert [e.dxf.radius for e in inside] == [6.5, 6.5]
    words = said_on(sheet)
    assert "6x Ø6.6 drill equally spaced" in words
    assert "Ø36 +0.05 drill" in words
    assert "Ø13 drill" not in words
    done = sketcher("export", flange, "--cut", cut, "--sheet", sheet, "--process", "plasma",
                    "--small-holes", "cut")
    assert done.returncode == 0, done.stderr
    assert len([e for e in ezdxf.readfile(cut).modelspace() if e.dxf.layer == "INSIDE"]) == 9
    assert "drill" not in said_on(sheet)


def test_an_option_about_small_holes_without_a_process_is_one_line(tmp_path: Path) -> None:
    done = sketcher("export", BRACKET, "--cut", tmp_path / "a.dxf", "--small-holes", "mark")
    assert (done.returncode, len(done.stderr.splitlines())) == (1, 1), done.stderr
    assert "name laser or plasma" in done.stderr


def test_the_list_on_standard_output_begins_with_its_titles() -> None:
    done = sketcher("export", BRACKET, "--holes", "-")
    assert done.returncode == 0, done.stderr
    assert done.stdout.startswith("order,name,kind,size,")
