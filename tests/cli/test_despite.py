"""Cutting a part with findings: refused, unless each of them is named."""

from __future__ import annotations

from pathlib import Path

import ezdxf
import pdfplumber
import pytest

from sketcher.part.store import load, save
from sketcher.part.value import Part
from tests.cli.test_commands import BRACKET, loose, one_line, run
from tests.demo_parts import SOUND
from tests.plates import bound, plate

__all__ = ["loose"]

STRAP = BRACKET.with_name("gate-strap.profile.json")


@pytest.fixture
def astray(tmp_path: Path) -> Path:
    """The bracket with one of its holes off the plate."""
    path = tmp_path / "astray.profile.json"
    assert run("solve", BRACKET, "--set", "b24=10", "--out", path).returncode == 0
    return path


def with_stub(part: Part) -> Part:
    """The part with a line in it that belongs to nothing."""
    points = {**part.points, "s1": (10.0, 10.0), "s2": (20.0, 10.0)}
    return part.having(
        points=points,
        curves={**part.curves, "stub": plate(points, {"stub": ("s1", "s2")}).curves["stub"]})


def test_a_loose_part_is_refused_with_its_finding(loose: Path, tmp_path: Path) -> None:
    done = run("export", loose, "--cut", tmp_path / "x.dxf")
    assert (done.returncode, done.stdout) == (1, "")
    assert "loose" in one_line(done)
    assert one_line(done).endswith("--despite loose")
    assert not (tmp_path / "x.dxf").exists()


@pytest.mark.parametrize("named", [
    ["--despite", "loose"], ["--despite", "fold,loose"],
    ["--despite", "fold", "--despite", "loose"],
])
def test_a_loose_part_is_cut_when_that_is_named(
    named: list[str], loose: Path, tmp_path: Path
) -> None:
    done = run("export", loose, "--cut", tmp_path / "x.dxf", *named)
    assert (done.returncode, done.stderr) == (0, "")
    assert "mind: loose" in done.stdout
    assert len(ezdxf.readfile(tmp_path / "x.dxf").modelspace()) == 1


def test_another_findings_name_does_not_help(loose: Path, tmp_path: Path) -> None:
    done = run("export", loose, "--cut", tmp_path / "x.dxf", "--despite", "near-tangent,detached")
    assert done.returncode == 1
    assert "loose" in one_line(done)
    assert not (tmp_path / "x.dxf").exists()


def test_an_unknown_code_is_said_before_anything_is_done(loose: Path, tmp_path: Path) -> None:
    done = run("export", loose, "--cut", tmp_path / "x.dxf", "--despite", "losse")
    assert done.returncode == 2
    assert "losse" in one_line(done)
    assert "near-tangent" in one_line(done)
    assert not (tmp_path / "x.dxf").exists()


def test_what_no_cutter_can_make_is_refused_though_named(tmp_path: Path) -> None:
    path = tmp_path / "stub.profile.json"
    save(with_stub(bound()), path)
    done = run("export", path, "--cut", tmp_path / "x.dxf", "--despite", "stray,open,loose")
    assert done.returncode == 1
    assert "stray" in one_line(done)
    assert "--despite" not in one_line(done)
    assert not (tmp_path / "x.dxf").exists()


def test_a_hole_off_the_plate_is_told_and_not_cut(astray: Path, tmp_path: Path) -> None:
    told = run("inspect", astray)
    assert told.returncode == 1
    assert "detached" in told.stdout
    done = run("export", astray, "--cut", tmp_path / "x.dxf")
    assert done.returncode == 1
    assert "(10, 3.75)" in one_line(done)
    assert not (tmp_path / "x.dxf").exists()


def test_named_the_plate_is_cut_without_it(astray: Path, tmp_path: Path) -> None:
    done = run("export", astray, "--cut", tmp_path / "x.dxf", "--despite", "detached")
    assert (done.returncode, done.stderr) == (0, "")
    assert "1 outside and 4 inside" in done.stdout
    assert "mind: detached" in done.stdout
    found = ezdxf.readfile(tmp_path / "x.dxf").modelspace()
    assert [e.dxftype() for e in found] == ["CIRCLE"] * 4 + ["LWPOLYLINE"]
    assert max(circle.dxf.center.x for circle in found.query("CIRCLE")) < 5.5


def test_the_sheet_is_refused_and_named_drawn_without_it(astray: Path, tmp_path: Path) -> None:
    done = run("export", astray, "--sheet", tmp_path / "x.svg")
    assert done.returncode == 1
    assert "detached" in one_line(done)
    assert not (tmp_path / "x.svg").exists()
    done = run("export", astray, "--sheet", tmp_path / "x.svg", "--despite", "detached")
    assert (done.returncode, done.stderr) == (0, "")
    assert "mind: detached" in done.stdout
    assert "mind: stamped: detached" in done.stdout
    assert ">detached<" in (tmp_path / "x.svg").read_text()


def test_a_loose_part_is_drawn_only_when_named_and_stamped(loose: Path, tmp_path: Path) -> None:
    done = run("export", loose, "--sheet", tmp_path / "x.pdf")
    assert (done.returncode, done.stdout) == (1, "")
    assert one_line(done).endswith("--despite loose")
    assert not (tmp_path / "x.pdf").exists()
    done = run("export", loose, "--sheet", tmp_path / "x.pdf", "--despite", "loose")
    assert (done.returncode, done.stderr) == (0, "")
    with pdfplumber.open(tmp_path / "x.pdf") as document:
        page = document.pages[0]
        stamp = [c for c in page.chars if c["non_stroking_color"] not in ((0,), (0, 0, 0))]
        assert "".join("".join(c["text"] for c in stamp).split()) == "NOTTOBEMADEloose"
        assert page.chars.index(stamp[0]) == 0  # behind all other lettering
        across = max(c["x1"] for c in stamp) - min(c["x0"] for c in stamp)
        assert across > 0.4 * float(page.width)


def test_a_number_that_the_part_has_not_is_never_printed(tmp_path: Path) -> None:
    text = STRAP.read_text()
    typed = text.replace('["p1", "p8"], "drives"', '["p1", "p8"], "value": "122", "drives"')
    assert typed != text
    (tmp_path / "typed.profile.json").write_text(typed)
    sheet = tmp_path / "x.pdf"
    for name, despite in (("typed", ("--despite", "reference-differs")), ("follows", ())):
        part = tmp_path / f"{name}.profile.json" if despite else STRAP
        made = tmp_path / f"{name}-8.profile.json"
        assert run("solve", part, "--set", "wall=8", "--out", made).returncode <= 1
        done = run("export", made, "--sheet", sheet)
        assert done.returncode == (1 if despite else 0)
        if despite:
            assert "reference-differs: b37" in one_line(done)
            assert run("export", made, "--sheet", sheet, *despite, "--force").returncode == 0
        with pdfplumber.open(sheet) as document:
            said = "".join(c["text"] for c in document.pages[0].chars)
        assert "(118)" in said
        assert "(122)" not in said
        assert "NOTTOBEMADE" not in "".join(said.split())


def test_help_lists_what_may_be_named() -> None:
    said = run("export", "--help").stdout
    assert "--despite CODE" in said


@pytest.mark.parametrize("path", SOUND, ids=lambda p: p.name[:8])
def test_demo_parts_need_no_name(path: Path, tmp_path: Path) -> None:
    assert load(path).name
    assert run("export", path, "--cut", tmp_path / "x.dxf").returncode == 0
