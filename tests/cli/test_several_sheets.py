"""Several parts in one PDF from the command line, read back by PDFium."""

from __future__ import annotations

import subprocess
from pathlib import Path

import pypdfium2
import pytest

from sketcher.shipped import shipped
from tests import forked


def export(*args: object) -> subprocess.CompletedProcess[str]:
    return forked.run(["sketcher", "export", *map(str, args)])


def demo(name: str) -> Path:
    return Path(str(shipped("demo_parts", f"{name}.profile.json")))


def test_all_parts_are_in_one_file_in_the_order_given(tmp_path: Path) -> None:
    out = tmp_path / "all.pdf"
    done = export(demo("pump-flange"), demo("gate-strap"), "--sheet", out, "--record-page")
    assert done.returncode == 0, done.stderr
    read = pypdfium2.PdfDocument(out)
    titles = [mark.get_title() for mark in read.get_toc()]
    assert len(titles) == len(read) >= 4
    names = [title.partition(":")[0] for title in titles]
    assert names == sorted(names, key=["Pump flange", "Gate strap"].index)
    assert {"Pump flange", "Gate strap"} == set(names)
    for number, name in enumerate(names):
        assert name.lower() in read[number].get_textpage().get_text_bounded().lower()


def test_one_refused_part_leaves_what_was_there(tmp_path: Path) -> None:
    out = tmp_path / "all.pdf"
    done = export(demo("gate-strap"), demo("latch-plate"), "--sheet", out)
    assert done.returncode == 1
    assert "Latch plate" in done.stderr
    assert not out.exists()


@pytest.mark.parametrize(("options", "word"), [
    (("--cut", "x.dxf"), "--cut"), (("--record", "x.csv"), "--record"),
    (("--sheet", "x.svg"), ".pdf"),
])
def test_what_is_for_one_part_says_so(options: tuple[str, str], word: str, tmp_path: Path) -> None:
    placed = (options[0], tmp_path / options[1])
    done = export(demo("gate-strap"), demo("pump-flange"), *placed)
    assert done.returncode in (1, 2)
    assert word in done.stderr
    assert "Traceback" not in done.stderr
    assert not list(tmp_path.iterdir())
