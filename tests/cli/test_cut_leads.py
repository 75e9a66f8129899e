"""``sketcher export --cut`` with lead-ins and tabs: the written file alone is read."""

from __future__ import annotations

from itertools import pairwise
from math import atan2, dist
from pathlib import Path

import pytest

from sketcher import cli
from tests.demo_parts import FOLDER
from tests.r12_reader import Drawn, read_r12

GUSSET = FOLDER / "roof-gusset.profile.json"
BRACKET = FOLDER / "shelf-bracket.profile.json"


def exported(path: Path, out: Path, *options: str) -> list[Drawn]:
    """What stands in the cutting file of a part."""
    assert cli.main(["export", str(path), "--cut", str(out), "--form", "r12", *options]) == 0
    return read_r12(out.read_bytes()).entities


def length(of: Drawn) -> float:
    """Length of an entity; an arc by its chord and bulge."""
    total = 0.0
    for a, b, bend in of.segments:
        chord = dist(a, b)
        # radius c (1 + b^2) / (4 b), sweep 4 atan b (DXF reference: the bulge)
        total += chord if not bend else abs(chord * (1.0 + bend**2) / bend * atan2(bend, 1.0))
    return total


@pytest.mark.parametrize(("path", "unit"), [(GUSSET, "mm"), (BRACKET, "in")])
def test_every_contour_is_led_into_from_where_its_lead_ends(
    path: Path, unit: str, tmp_path: Path
) -> None:
    found = exported(path, tmp_path / f"part-{unit}.dxf", "--lead", "auto", "--process", "laser")
    contours = [k for k, one in enumerate(found) if one.layer in {"INSIDE", "OUTSIDE"}]
    assert len(contours) > 2
    for k in contours:
        lead = found[k - 1]
        assert lead.layer == "LEAD"
        assert not lead.closed
        assert dist(lead.segments[-1][1], found[k].segments[0][0]) < 1e-9
    # Of length max(t, 3 mm, 2.5 kerfs): the gusset is 4 mm thick, the bracket 3/16 in.
    outer = found[contours[-1] - 1]
    assert length(outer) == pytest.approx({"mm": 4.0, "in": 0.1875}[unit], abs=1e-6)


def test_a_length_is_read_in_any_unit_and_tabs_leave_the_outside_open(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    found = exported(GUSSET, tmp_path / "part-mm.dxf", "--lead", "1/4 in", "--tabs", "3",
                     "--tab-width", "2", "--process", "laser")
    outside = [one for one in found if one.layer == "OUTSIDE"]
    assert len(outside) == 4
    assert not any(one.closed for one in outside)
    # The gap is the tab and the kerf, which half on either side eats into it.
    for one, other in pairwise(outside):
        assert dist(one.segments[-1][1], other.segments[0][0]) == pytest.approx(2.2, abs=1e-6)
    told = capsys.readouterr().out
    assert "lead-ins of 6.35 mm onto" in told
    assert "tabs of 2 mm on" in told


@pytest.mark.parametrize(("options", "said"), [
    (("--lead", "0"), "--lead 0: is not above zero"),
    (("--lead", "400"), "lead-in of the contour of e4+e4': with 400 mm it meets"),
    (("--tabs", "2"), "name the process, or give the width of a tab"),
    (("--tabs", "-2", "--process", "laser"), "--tabs -2: is not a whole number"),
    (("--tab-width", "2"), "--tab-width: does nothing without --tabs"),
    (("--tabs", "90", "--process", "laser"), "give fewer or narrower tabs"),
])
def test_what_cannot_be_is_refused_in_one_line_and_nothing_is_written(
    options: tuple[str, ...], said: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "part-mm.dxf"
    assert cli.main(["export", str(GUSSET), "--cut", str(out), *options]) != 0
    told = capsys.readouterr().err
    assert said in told
    assert told.count("\n") == 1
    assert not out.exists()


@pytest.mark.parametrize("option", [("--lead", "auto"), ("--tabs", "2"), ("--tab-width", "2")])
def test_an_option_without_a_cut_is_told(
    option: tuple[str, ...], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert cli.main(["export", str(GUSSET), "--sheet", str(tmp_path / "a.pdf"), *option]) != 0
    assert "is about --cut, and none is asked" in capsys.readouterr().err
