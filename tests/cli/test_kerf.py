"""``export --kerf`` and ``coupon`` on the command line."""

from __future__ import annotations

import json
from pathlib import Path

import ezdxf
import pytest
from ezdxf import bbox

from sketcher.cli import main
from tests.demo_parts import SOUND
from tests.r12_reader import read_r12

FLANGE = str(next(path for path in SOUND if path.name.startswith("pump")))


def test_a_kerf_is_offset_named_and_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    radii = {}
    for kerf in ((), ("--kerf", "1/16in")):
        assert main(["export", FLANGE, "--cut", str(tmp_path / "cut.dxf"), *kerf]) == 0
        circles = ezdxf.readfile(tmp_path / "cut.dxf").modelspace().query("CIRCLE")
        radii[bool(kerf)] = sorted((c.dxf.layer[:6], c.dxf.radius) for c in circles)
    told = capsys.readouterr().out
    assert "offset for a kerf of 1.5875 mm: outside contours grow" in told
    assert "caution: Offset for a kerf of 1.5875 mm: switch the kerf" in told
    assert len(radii[False]) > 2
    for (layer, nominal), (_, way) in zip(radii[False], radii[True], strict=True):
        # half of 1/16 in
        assert way - nominal == pytest.approx(0.79375 * (1 if layer == "OUTSID" else -1), abs=1e-8)


@pytest.mark.parametrize(("process", "kerf"), [("laser", "0.2"), ("plasma", "1.5")])
def test_the_usual_kerf_is_taken_on_request_and_never_unasked(
    process: str, kerf: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """0.2 and 1.5 mm: common practice, no source."""
    run = ["export", FLANGE, "--cut", str(tmp_path / "cut.dxf"), "--process", process]
    assert main([*run, "--kerf", "auto"]) == 0
    told = capsys.readouterr().out
    assert f"offset for a kerf of {kerf} mm" in told
    assert f"a kerf of {kerf} mm is only what is usual for {process}" in told
    assert main(run) == 0
    assert "offset for a kerf" not in capsys.readouterr().out


@pytest.mark.parametrize(("given", "status", "told"), [
    (("--kerf", "auto"), 2, "add --process laser or --process plasma"),
    (("--kerf", "0"), 2, "--kerf 0: is not above zero"),
    (("--kerf", "wide"), 2, "--kerf wide: "),
    (("--kerf", "80"), 1, "with a kerf of 80 mm: is no wider than the kerf and vanishes"),
])
def test_a_kerf_that_cannot_be_is_one_line(
    given: tuple[str, str], status: int, told: str, tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
) -> None:
    out = tmp_path / "cut.dxf"
    assert main(["export", FLANGE, "--cut", str(out), *given]) == status
    said = capsys.readouterr()
    assert told in said.err
    assert said.err.count("\n") == 1
    assert not out.exists()


def test_a_coupon_is_written_and_its_readings_give_the_kerf(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out, kind = tmp_path / "coupon.dxf", ["coupon", "--process", "plasma"]
    assert main([*kind, "--out", str(out)]) == 0
    told = capsys.readouterr().out
    assert "width and height: kerf = 120 - what the caliper says; 118.2 gives 1.8 mm" in told
    assert "cut it on its lines" in told
    assert "Nominal size: not offset for the kerf. Let" not in told
    space = ezdxf.readfile(out).modelspace()
    found = {(e.dxftype(), e.dxf.layer) for e in space}
    assert ("LWPOLYLINE", "LEAD") in found
    (outline,) = space.query('LWPOLYLINE[layer=="OUTSIDE"]')
    xs, ys = zip(*outline.get_points("xy"), strict=True)
    assert outline.closed
    assert (min(xs), min(ys), max(xs), max(ys)) == (0.0, 0.0, 120.0, 120.0)
    assert len(xs) == 5 + 4 * 7 + 1  # and where the cut begins
    inside = space.query('*[layer=="INSIDE"]')
    widths = sorted(bbox.extents([e]).size.x for e in inside)
    assert widths == pytest.approx([12.0, 21.0], abs=1e-6)
    assert main([*kind, "--measured", "width=118.5", "height=118.3", "hole1=22.6", "slot=3"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines == ["width: kerf 1.5 mm", "height: kerf 1.7 mm", "hole1: kerf 1.6 mm",
                     "slot: kerf 1.4 to 1.8 mm",
                     "kerf 1.6 mm, give or take 0.1 mm; export with --kerf 1.6mm"]


def test_a_coupon_for_the_simplest_controllers(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "coupon.dxf"
    assert main(["coupon", "--process", "laser", "--out", str(out), "--form", "r12"]) == 0
    found = read_r12(out.read_bytes())
    assert "unit mm" in found.comments
    assert {entity.layer for entity in found.entities} == {"INSIDE", "OUTSIDE", "LEAD"}
    assert "put it in the name, coupon-mm.dxf" in capsys.readouterr().out


def test_a_coupon_in_inches_as_json(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["coupon", "--process", "laser", "--unit", "in", "--thickness", "1/16", "--json",
                 "--measured", "hole2=.509", "width=4.366"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert (found["format"], found["version"], found["unit"]) == (
        "part-profile-coupon", 1, "in")
    assert (found["side"], found["holes"], found["gauge"]) == (4.375, [0.875, 0.5], 0.25)
    assert found["kerf"] == pytest.approx(0.009)
    assert found["spread"] == pytest.approx(0.0)


@pytest.mark.parametrize(("given", "told"), [
    ((), "says neither what to export nor what was measured"),
    (("--measured", "widht=3"), "is no reading of the coupon"),
    (("--measured", "slot=two"), "measured slot two: is not a whole number"),
    (("--measured", "width=121"), "tells of no kerf"),
])
def test_what_a_coupon_cannot_do_is_one_line(
    given: tuple[str, ...], told: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["coupon", "--process", "laser", *given]) == 2
    said = capsys.readouterr().err
    assert told in said
    assert said.count("\n") == 1
