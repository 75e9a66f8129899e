"""``sketcher export --cut`` with the options of its file."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from sketcher import cli
from tests.demo_parts import FOLDER
from tests.r12_reader import read_r12

GUSSET = FOLDER / "roof-gusset.profile.json"


def test_r12_asks_for_the_unit_in_the_name(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert cli.main(["export", str(GUSSET), "--cut", str(tmp_path / "gusset.dxf"),
                     "--form", "r12"]) == 0
    unit = next(line.split()[-1] for line in
                read_r12((tmp_path / "gusset.dxf").read_bytes()).comments if "unit" in line)
    told = capsys.readouterr().out
    assert f"mind: R12 has no unit in its header, and this one is in {unit}" in told
    named = tmp_path / f"gusset-{unit}.dxf"
    assert str(named.name) in told
    assert cli.main(["export", str(GUSSET), "--cut", str(named), "--form", "r12"]) == 0
    assert "mind:" not in capsys.readouterr().out
    assert named.read_bytes() == (tmp_path / "gusset.dxf").read_bytes()


def test_lower_left_moves_it_there_and_one_form_replaces_the_other(tmp_path: Path) -> None:
    out = tmp_path / "gusset-in.dxf"
    assert cli.main(["export", str(GUSSET), "--cut", str(out)]) == 0
    assert b"AC1015" in out.read_bytes()
    assert cli.main(["export", str(GUSSET), "--cut", str(out), "--form", "r12",
                     "--pieces"]) == 0
    as_drawn = read_r12(out.read_bytes())
    assert cli.main(["export", str(GUSSET), "--cut", str(out), "--form", "r12",
                     "--lower-left"]) == 0
    moved = read_r12(out.read_bytes())
    assert as_drawn.low != (0.0, 0.0)
    assert moved.low == (0.0, 0.0)
    assert moved.high == pytest.approx((as_drawn.high[0] - as_drawn.low[0],
                                        as_drawn.high[1] - as_drawn.low[1]))


@pytest.mark.parametrize("option", [("--form", "r12"), ("--lower-left",)])
def test_an_option_of_the_cut_alone_is_told(
    option: tuple[str, ...], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    status = cli.main(["export", str(GUSSET), "--sheet", str(tmp_path / "a.pdf"), *option])
    assert status == 2
    assert f"{option[0]}: is about --cut" in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []


def test_what_a_laser_minds_of_a_material_is_not_told_of_plasma(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Brass throws a laser's light back; its zinc burns under either (as of the material table)."""
    part = json.loads(GUSSET.read_text("utf-8"))
    part["material"] = {"name": "brass", "thickness": 0.125}
    brass = tmp_path / "brass.profile.json"
    brass.write_text(json.dumps(part), "utf-8")
    said = {}
    for process in ("laser", "plasma"):
        assert cli.main(["export", str(brass), "--cut", str(tmp_path / "brass.dxf"),
                         "--process", process]) == 0
        said[process] = capsys.readouterr().out
    assert "light back" in said["laser"]
    assert "light back" not in said["plasma"]
    assert all("zinc fumes" in told for told in said.values())


def test_one_punch_mark_is_one(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The strap's one hole with limits of its own, ±0.1, where class 1 of ISO 9013 has ±0.25."""
    assert cli.main(["export", str(FOLDER / "gate-strap.profile.json"), "--process", "laser",
                     "--cut", str(tmp_path / "strap.dxf")]) == 0
    assert "  1 punch mark, first in the file\n" in capsys.readouterr().out
