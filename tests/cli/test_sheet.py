"""The sheet from the command line: each form is written, and what cannot be is one line."""

from __future__ import annotations

import csv
import subprocess
from pathlib import Path

import pdfplumber
import pytest

from tests import forked
from tests.read_back import words_of

BRACKET = Path(__file__).resolve().parents[2] / "demo_parts" / "shelf-bracket.profile.json"
STRAP = BRACKET.with_name("gate-strap.profile.json")
STARTS = {".pdf": b"%PDF-", ".svg": b"<?xml", ".png": b"\x89PNG", ".dxf": b"  0\n"}


def export(*args: object) -> subprocess.CompletedProcess[str]:
    return forked.run(["sketcher", "export", *map(str, args)])


@pytest.mark.parametrize("suffix", STARTS)
def test_sheet_is_written_in_each_form(suffix: str, tmp_path: Path) -> None:
    target = tmp_path / f"bracket{suffix}"
    done = export(BRACKET, "--sheet", target)
    assert done.returncode == 0, done.stderr
    assert str(target) in done.stdout
    assert target.read_bytes().lstrip(b"\xef\xbb\xbf").startswith(STARTS[suffix])
    assert target.stat().st_size > 2000


def test_cut_and_sheet_in_one_go(tmp_path: Path) -> None:
    done = export(BRACKET, "--cut", tmp_path / "a.dxf", "--sheet", tmp_path / "a.svg")
    assert done.returncode == 0, done.stderr
    assert {p.name for p in tmp_path.iterdir()} == {"a.dxf", "a.svg"}


@pytest.mark.parametrize("args", [(), ("--sheet", "x.doc")])
def test_nothing_to_write_or_an_unknown_form_is_one_line(args: tuple[str, ...]) -> None:
    done = export(BRACKET, *args)
    assert done.returncode == 2
    assert len(done.stderr.splitlines()) == 1
    assert "Traceback" not in done.stderr


def test_options_say_how_it_is_drawn_for_this_run_only(tmp_path: Path) -> None:
    """Sizes of ASME Y14.1 and ISO 216; the part's own file says nothing of its drawing."""
    before = BRACKET.read_bytes()
    done = export(BRACKET, "--sheet", tmp_path / "a.pdf", "--standard", "asme", "--paper", "c",
                  "--scale", "1:2", "--lettering", "4", "--hole-table", "--record-page",
                  "--order-page")
    assert done.returncode == 0, done.stderr
    assert BRACKET.read_bytes() == before
    with pdfplumber.open(tmp_path / "a.pdf") as document:
        first, *further = document.pages
        assert sorted((first.width / 72, first.height / 72)) == pytest.approx([17, 22], abs=0.01)
        assert len(further) >= 2
        assert "ASME Y14.5" in first.extract_text()
        assert "1:2" in first.extract_text()
        assert {"HOLE", "CONSTRUCTION", "INSPECTION"} <= set(words_of(tmp_path / "a.pdf").split())
        digits = [c for c in first.chars if c["text"] == "5"]
        assert max(c["size"] for c in digits) / 72 * 25.4 * 0.66 == pytest.approx(4.0, abs=0.02)


def test_a_record_goes_by_the_standard_that_is_asked_for(tmp_path: Path) -> None:
    """120 mm: 0.3 by ISO 2768-1, class m, over 30 up to 120; 0.5 by the block, a whole number."""
    limits = {}
    for name in ("iso", "asme"):
        done = export(STRAP, "--record", tmp_path / f"{name}.csv", "--standard", name)
        assert done.returncode == 0, done.stderr
        with (tmp_path / f"{name}.csv").open(encoding="utf-8-sig", newline="") as file:
            row = next(row for row in csv.DictReader(file) if row["nominal"] == "120")
        limits[name] = (row["lower"], row["upper"])
    assert limits == {"iso": ("119.7", "120.3"), "asme": ("119.5", "120.5")}


@pytest.mark.parametrize(("options", "named"), [
    (("--standard", "din"), "--standard"), (("--paper", "A9"), "--paper"),
    (("--standard", "asme", "--paper", "A3"), "--paper"), (("--scale", "half"), "--scale"),
    (("--scale", "0:1"), "--scale"), (("--lettering", "2.5"), "--lettering"),
    (("--lettering", "tall"), "--lettering"), (("--lettering", "nan"), "--lettering"),
])
def test_an_option_that_means_nothing_is_one_line(
    options: tuple[str, ...], named: str, tmp_path: Path
) -> None:
    done = export(BRACKET, "--sheet", tmp_path / "a.pdf", *options)
    assert done.returncode == 2
    assert len(done.stderr.splitlines()) == 1
    assert named in done.stderr
    assert not list(tmp_path.iterdir())


def test_options_of_a_drawing_need_one(tmp_path: Path) -> None:
    done = export(BRACKET, "--cut", tmp_path / "a.dxf", "--no-hole-table")
    assert done.returncode == 2
    assert "--hole-table" in done.stderr
