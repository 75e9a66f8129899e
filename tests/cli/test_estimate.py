"""``sketcher export --estimate``: the file, with rates and without, as text and as JSON."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from sketcher.cli import main
from sketcher.shipped import shipped
from sketcher.shop import planning
from sketcher.shop.cut_rates import TEMPLATE
from sketcher.shop.planning import plan_cut

STRAP = str(shipped("demo_parts", "gate-strap.profile.json"))


def exported(*options: str) -> int:
    return main(["export", STRAP, *options])


def test_an_estimate_with_and_without_rates(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    plain, timed, told = (tmp_path / name for name in ("plain.txt", "timed.txt", "told.json"))
    assert exported("--estimate", str(plain)) == 0
    template = plain.read_text("utf-8").partition("written so:\n\n")[2]
    assert template == TEMPLATE
    assert "--rates" in capsys.readouterr().out
    thickness = json.loads(Path(STRAP).read_text("utf-8"))["material"]["thickness"]
    rates = tmp_path / "own.toml"
    rates.write_text(template.replace("= 0 ", "= 1 ").replace("thickness = 3",
                                                              f"thickness = {thickness}"))
    assert exported("--estimate", str(timed), "--rates", str(rates)) == 0
    assert "t = L / v + n p + R / r + s" in timed.read_text("utf-8")
    assert exported("--estimate", str(told), "--rates", str(rates)) == 0
    found = json.loads(told.read_text("utf-8"))
    (plasma,) = found["times"]
    # All rates are 1: minutes are lengths, and a sixtieth of the pierces.
    assert plasma["minutes"] == pytest.approx(
        found["cut"] + found["pierces"] / 60.0 + found["rapid"] + 1.0)
    assert exported("--estimate", str(timed)) == 0  # its own kind is replaced


def test_what_is_chosen_for_the_cut_counts_in_its_estimate(tmp_path: Path) -> None:
    """One, and two on a plate: twice the cut, twice the mass, and the plate as the blank."""
    one, two = tmp_path / "one.json", tmp_path / "two.json"
    assert exported("--estimate", str(one)) == 0
    assert exported("--estimate", str(two), "--copies", "2", "--plate", "400x300") == 0
    single, double = (json.loads(path.read_text("utf-8")) for path in (one, two))
    assert double["copies"] == 2
    assert double["blank"] == [400.0, 300.0]
    for quantity in ("cut", "mass"):
        assert double[quantity] == pytest.approx(2.0 * single[quantity])
    assert double["pierces"] == 2 * single["pierces"]


def test_what_cannot_be_estimated_is_refused_in_one_line(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out, rates = str(tmp_path / "e.txt"), tmp_path / "own.toml"
    rates.write_text(TEMPLATE)
    for options, words in (
        (("--estimate", out, "--rates", str(rates)), "own.toml: rapid"),
        (("--estimate", out, "--rates", str(tmp_path / "none.toml")), "none.toml"),
        (("--rates", str(rates), "--cut", str(tmp_path / "c.dxf")), "--rates"),
        (("--estimate", str(tmp_path / "e.pdf")), "e.pdf"),
        (("--estimate", out, "--pieces"), "--pieces"),
        (("--sheet", str(tmp_path / "s.svg"), "--copies", "2"), "--copies"),
    ):
        assert exported(*options) in {1, 2}
        said = capsys.readouterr().err
        assert words in said
        assert said.count("\n") == 1
        assert not Path(out).exists()


def test_cut_and_estimate_of_one_run_go_by_one_plan(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    made = []

    def counted(*given: object) -> object:
        made.append(plan_cut(*given))  # type: ignore[arg-type]
        return made[-1]

    monkeypatch.setattr(planning, "plan_cut", counted)
    assert exported("--cut", str(tmp_path / "c.dxf"), "--estimate", str(tmp_path / "e.json")) == 0
    assert len(made) == 1
    found = json.loads((tmp_path / "e.json").read_text("utf-8"))
    assert list(found)[:2] == ["format", "version"]
    assert found["cut"] == pytest.approx(sum(path.length for path in made[0].paths))
