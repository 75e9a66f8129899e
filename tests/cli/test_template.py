"""A full-size template from the command line."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.demo_parts import FOLDER
from tests.proof.command import command
from tests.read_back import words_of

STRAP = FOLDER / "gate-strap.profile.json"


def test_a_template_says_its_sheets_and_is_replaced_by_its_like_alone(tmp_path: Path) -> None:
    out = tmp_path / "t.pdf"
    said = command("export", STRAP, "--template", out, "--paper", "letter", "--mirrored")
    assert said.status == 0, said.err
    assert f"{out}: template of 1 sheet of letter, mirrored" in said.out
    assert "Print at 100 %" in said.out
    assert "MIRRORED: back side of Gate strap" in words_of(out)
    before = out.read_bytes()
    drawn = command("export", STRAP, "--sheet", out)
    assert drawn.status == 2
    assert "is not a drawing of this program" in drawn.err
    assert out.read_bytes() == before
    again = command("export", STRAP, "--template", out)
    assert again.status == 0
    assert "MIRRORED" not in words_of(out)


@pytest.mark.parametrize(("words", "told"), [
    (("--template", "t.pdf", "--paper", "A9"), "no paper 'A9' for a template"),
    (("--template", "t.svg"), "no name for a template; end it with .pdf"),
    (("--cut", "t.dxf", "--mirrored"), "--mirrored: is about --template"),
    (("--cut", "t.dxf", "--paper", "A4"), "--paper: is about a drawing"),
])
def test_what_is_wrong_is_told_and_nothing_written(words, told, tmp_path: Path) -> None:
    placed = [tmp_path / word if word.startswith("t.") else word for word in words]
    said = command("export", STRAP, *placed)
    assert said.status in (1, 2)
    assert told in said.err
    assert list(tmp_path.iterdir()) == []


def test_a_part_that_no_cutter_can_make_gets_no_template(tmp_path: Path) -> None:
    said = command("export", FOLDER / "latch-plate.profile.json", "--template", tmp_path / "t.pdf")
    assert said.status == 1
    assert "(gap)" in said.err
    assert list(tmp_path.iterdir()) == []


def test_no_heat_no_word_of_the_material(tmp_path: Path) -> None:
    """A part of PVC is not cut by heat, but may be marked out and sawn."""
    tree = json.loads(STRAP.read_text(encoding="utf-8"))
    tree["material"] = {"name": "PVC", "thickness": 5}
    path, out = tmp_path / "strap.profile.json", tmp_path / "t.pdf"
    path.write_text(json.dumps(tree), encoding="utf-8")
    assert command("export", path, "--cut", tmp_path / "t.dxf").status == 1
    said = command("export", path, "--template", out, "--holes", tmp_path / "h.csv")
    assert said.status == 0, said.err
    assert out.exists()
    assert (tmp_path / "h.csv").exists()
