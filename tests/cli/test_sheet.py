"""The sheet from the command line: each form is written, and what cannot be is one line."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

BRACKET = Path(__file__).resolve().parents[2] / "demo_parts" / "shelf-bracket.profile.json"
STARTS = {".pdf": b"%PDF-", ".svg": b"<?xml", ".png": b"\x89PNG", ".dxf": b"  0\n"}


def export(*args: object) -> subprocess.CompletedProcess[str]:
    return subprocess.run([sys.executable, "-m", "sketcher", "export", *map(str, args)],
                          capture_output=True, text=True, timeout=120, check=False)


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
