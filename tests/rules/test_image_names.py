"""Names of images are taken apart by `part.image_id` alone; everybody else has the value."""

from __future__ import annotations

import ast
from pathlib import Path

PACKAGE = Path(__file__).resolve().parents[2] / "sketcher"
MARKS = {"'", "#"}
ELSEWHERE = ("part/image_id.py", "quantity/",  # minutes and inches are written so too
             "exchange/dxf_wording.py")


def test_no_other_module_knows_the_marks_of_an_image() -> None:
    found = []
    for path in PACKAGE.rglob("*.py"):
        place = path.relative_to(PACKAGE).as_posix()
        if not place.startswith(ELSEWHERE):
            tree = ast.parse(path.read_text(encoding="utf-8"))
            quotes = {id(piece) for node in ast.walk(tree) if isinstance(node, ast.JoinedStr)
                      for piece in node.values}  # f"no point named '{name}'"
            found += [f"{place}:{node.lineno}" for node in ast.walk(tree)
                      if isinstance(node, ast.Constant) and node.value in MARKS
                      and id(node) not in quotes]
    assert found == []
