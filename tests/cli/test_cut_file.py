"""``sketcher export --cut`` with the options of its file."""

from __future__ import annotations

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
