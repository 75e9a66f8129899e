"""``sketcher order FILE --figure OUT``: the construction on paper, read back from the files."""

from __future__ import annotations

import json
from pathlib import Path

import pdfplumber

from sketcher.lesson.order import construction_order
from sketcher.part.store import load
from sketcher.solve.solver import solve
from tests.demo_parts import FOLDER
from tests.proof.command import command
from tests.read_back import words_of

FLANGE = FOLDER / "pump-flange.profile.json"
A4 = {(595, 842), (842, 595)}  # points, upright and lying (ISO 216: 210 x 297 mm)


def test_every_step_is_on_an_a4_page_with_its_number_in_a_ring(tmp_path: Path) -> None:
    out = tmp_path / "flange.pdf"
    said = command("order", FLANGE, "--figure", out)
    assert said.status == 0, said.err
    steps = construction_order(solve(load(FLANGE)).part)
    assert f"{out}: construction in {len(steps)} steps" in said.out
    numbers = []
    with pdfplumber.open(out) as document:
        for page in document.pages:
            assert (round(page.width), round(page.height)) in A4
            numbers += [word["text"] for word in page.extract_words(x_tolerance=1.0)
                        if word["text"].isdigit()]
    for step in steps:  # in the text a full stop follows the number
        assert str(step.number) in numbers


def test_a_figure_replaces_its_like_and_nothing_else(tmp_path: Path) -> None:
    out = tmp_path / "flange.svg"
    assert command("order", FLANGE, "--figure", out).status == 0
    assert command("order", FLANGE, "--figure", out).status == 0
    out.write_text("mine", encoding="utf-8")
    refused = command("order", FLANGE, "--figure", out)
    assert refused.status == 2
    assert str(out) in refused.err
    assert out.read_text(encoding="utf-8") == "mine"
    assert command("order", FLANGE, "--figure", out, "--force").status == 0


def test_with_json_the_file_is_named_there(tmp_path: Path) -> None:
    out = tmp_path / "flange.pdf"
    said = command("order", FLANGE, "--figure", out, "--json")
    assert json.loads(said.out)["wrote"] == [str(out)]
    assert "Construction order" in words_of(out)


def test_a_name_of_another_kind_is_refused_before_the_work(tmp_path: Path) -> None:
    said = command("order", FLANGE, "--figure", tmp_path / "flange.dxf")
    assert said.status == 2
    assert "end it with .pdf or .svg or .png" in said.err
    assert list(tmp_path.iterdir()) == []
