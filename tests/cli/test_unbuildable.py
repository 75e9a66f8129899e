"""A sheet by which alone the part cannot be made is told, and leaves only when that is accepted."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from tests.proof.command import command


def plate(folder: Path, **drawing: Any) -> Path:
    """A plate of 80 x 50 with a hole: it stays where it is drawn, and no dimension says where."""
    tree = {
        "format": "part-profile", "version": 1, "name": "Plate", "unit": "mm",
        "material": {"name": "mild steel", "thickness": 3.0},
        "points": {"p1": [0, 0], "p2": [80, 0], "p3": [80, 50], "p4": [0, 50], "k1": [30, 20]},
        "curves": {**{f"e{k}": {"kind": "line", "ends": [f"p{k}", f"p{k % 4 + 1}"],
                                "role": "outline"} for k in range(1, 5)},
                   "h1": {"kind": "circle", "center": "k1", "radius": 4, "role": "outline"}},
        "bindings": {
            "b1": {"kind": "fixed", "of": ["p1"]}, "b2": {"kind": "level", "of": ["e1"]},
            "b3": {"kind": "plumb", "of": ["e2"]}, "b4": {"kind": "level", "of": ["e3"]},
            "b5": {"kind": "plumb", "of": ["e4"]},
            "b6": {"kind": "run", "of": ["p1", "p2"], "value": "80"},
            "b7": {"kind": "rise", "of": ["p2", "p3"], "value": "50"},
            "b8": {"kind": "diameter", "of": ["h1"], "value": "8"},
            "b9": {"kind": "fixed", "of": ["k1"]}},
        "patterns": {}, "drawing": drawing}
    path = folder / "plate.profile.json"
    path.write_text(json.dumps(tree), encoding="utf-8")
    return path


def test_a_place_that_stands_nowhere_stops_the_sheet(tmp_path: Path) -> None:
    out = tmp_path / "plate.pdf"
    said = command("export", plate(tmp_path), "--sheet", out, "--cut", tmp_path / "plate.dxf")
    assert said.status == 1
    assert "not drawn: unbuildable: the level place of the center of h1 stands nowhere" in said.err
    assert "at (30, 20) (and 1 more)" in said.err
    assert "--despite unbuildable" in said.err
    assert [path.name for path in tmp_path.iterdir()] == ["plate.profile.json"]


def test_what_is_accepted_leaves_and_is_told(tmp_path: Path) -> None:
    out = tmp_path / "plate.svg"
    said = command("export", plate(tmp_path), "--sheet", out, "--despite", "unbuildable")
    assert said.status == 0
    assert out.exists()
    minded = [line for line in said.out.splitlines() if "mind: unbuildable: " in line]
    assert len(minded) == 2
    assert "stamped" not in said.out


@pytest.mark.parametrize("drawing", [{"dimensions": False}, {"hole_table": True}])
def test_an_exercise_and_a_table_of_holes_are_not_judged(
    tmp_path: Path, drawing: dict[str, bool]
) -> None:
    out = tmp_path / "plate.svg"
    said = command("export", plate(tmp_path, **drawing), "--sheet", out)
    assert said.status == 0
    assert "unbuildable" not in said.out + said.err


def test_among_several_the_part_is_named(tmp_path: Path) -> None:
    path, other = plate(tmp_path), tmp_path / "other.profile.json"
    other.write_text(path.read_text(encoding="utf-8").replace('"Plate"', '"Other"'))
    out = tmp_path / "both.pdf"
    said = command("export", path, other, "--sheet", out)
    assert said.status == 1
    assert "Plate: not drawn: unbuildable" in said.err
    assert not out.exists()
