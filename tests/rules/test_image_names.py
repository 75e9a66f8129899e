"""Names of images are taken apart by `part.image_id` alone; everybody else has the value."""

from __future__ import annotations

from pathlib import Path

from tests.sources import source_of

PACKAGE = Path(__file__).resolve().parents[2] / "sketcher"
MARKS = {"'", "#"}
ELSEWHERE = ("part/image_id.py", "quantity/",  # minutes and inches are written so too
             "exchange/dxf_wording.py")


def test_no_other_module_knows_the_marks_of_an_image() -> None:
    found = []
    for path in PACKAGE.rglob("*.py"):
        place = path.relative_to(PACKAGE).as_posix()
        if not place.startswith(ELSEWHERE):
            found += [f"{place}:{line}" for line, text, where in source_of(path).texts
                      if text in MARKS and where != "piece"]  # f"no point named '{name}'"
    assert found == []
