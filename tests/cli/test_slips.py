"""What is typed wrong at the shop's commands: one line that names the option, and no file."""

from __future__ import annotations

from pathlib import Path

import pytest

from sketcher.cli import main
from sketcher.shipped import shipped

STRAP = str(shipped("demo_parts", "gate-strap.profile.json"))
FLANGE = str(shipped("demo_parts", "pump-flange.profile.json"))
NINES = "9" * 5000
"""More digits than Python makes a number of."""
ROUND = ("--plate", "900x600", "--copies")


@pytest.mark.parametrize(("options", "said"), [
    (("--kerf", "atuo"), "--kerf atuo: is no length; write it like --kerf 0.1"),
    (("--kerf", "1 @"), "--kerf: "),
    (("--lead", "nan"), "--lead nan: is no length"),
    (("--tabs", "1.5"), "--tabs 1.5: is not a whole number, 0 or more"),
    (("--tabs", NINES), "is not a whole number, 0 or more"),
    ((*ROUND, NINES), "is not a whole number, 1 or more"),
    ((*ROUND, "²"), "--copies ²: is not a whole number, 1 or more"),
    (("--between", "3"), "--between: does nothing without --plate; add --plate WxH"),
    (("--grain",), "--grain: does nothing without --plate"),
    (("--mark", "cross"), "--mark: does nothing without --process"),
])
def test_a_slip_at_the_cut(
    options: tuple[str, ...], said: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "strap.dxf"
    assert main(["export", STRAP, "--cut", str(out), *options]) == 2
    error = capsys.readouterr().err
    assert said in error
    assert error.count("\n") == 1
    assert not out.exists()


@pytest.mark.parametrize(("words", "said"), [
    (("export", STRAP, "--holes", "h.csv", "--zero", ""), "--zero: "),
    (("export", STRAP, "--holes", "h.csv", "--along", ""), "--along: "),
    (("export", STRAP, "--template", "t.pdf", "--paper", ""), "--paper: there is no paper ''"),
    (("export", STRAP, FLANGE, "--cut", ""), "--cut: is empty; name a folder"),
    (("export", STRAP, FLANGE, "--sheet", "-"), "--sheet -: holds the drawing of one"),
    (("export", STRAP, FLANGE, "--sheet", "s.svg"), "--sheet s.svg: holds the drawing of one"),
    (("export", "", "--cut", "c.dxf"), "FILE: is empty"),
    (("inspect", ""), "FILE: is empty"),
    (("demo", "--folder", "", "--headless"), "--folder: is empty; name a folder"),
    (("demo", "--folder", STRAP, "--headless"), "name a folder with --folder"),
    (("demo", "--class", ""), "--class: is empty; name a folder"),
    (("coupon", "--process", "laser", "--measured", "slot=1.5"),
     "measured slot 1.5: is not a whole number"),
    (("coupon", "--process", "laser", "--measured", "slot=٣"), "is not a whole number"),
    (("coupon", "--process", "laser", "--measured", "slot=2", "--gauge", "1e9"),
     "gauge 1000000000"),
    (("coupon", "--process", "laser", "--measured", "width=nan"), "width nan: is no length"),
    (("coupon", "--process", "laser", "--measured", "width=49.8", "--gauge", "6"),
     "--gauge: does nothing without --measured slot=NUMBER"),
    (("coupon", "--process", "laser", "--measured", "width=49.8", "--form", "r12"),
     "--form: does nothing without --out OUT.dxf"),
])
def test_a_slip_anywhere_else(
    words: tuple[str, ...], said: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(list(words)) == 2
    error = capsys.readouterr().err
    assert said in error
    assert error.count("\n") == 1
    assert not list(tmp_path.iterdir())
