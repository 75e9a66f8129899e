"""The list of holes from the command line, and in the inspection file."""

from __future__ import annotations

import csv
import io
import json
import subprocess
from pathlib import Path

from tests import forked

BRACKET = Path(__file__).resolve().parents[2] / "demo_parts" / "shelf-bracket.profile.json"


def sketcher(*args: object) -> subprocess.CompletedProcess[str]:
    return forked.run(["sketcher", *map(str, args)])


def rows(path: Path) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(path.read_text(encoding="utf-8-sig"), newline="")))


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
