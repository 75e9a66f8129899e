"""The guide is short, and every file, folder and function that it names is there."""

from __future__ import annotations

import ast
import re
from pathlib import Path

from tests.rules.test_imports import ORDER, ROOMS

ROOT = Path(__file__).resolve().parents[2]
GUIDE = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
FOLDERS = (ROOT, ROOT / "sketcher")
WORDS = 2200  # what is read in ten minutes, at 220 a minute (common practice, no source)
NAMED = re.compile(r"`([\w/*.]*\.(?:py|toml|json|md)|[\w/]+/)`(?: `(\w+)`)?")


def found(name: str) -> list[Path]:
    """What a name in the guide can mean: from the top, in the program, or anywhere in it."""
    paths = [path for folder in FOLDERS for path in folder.glob(name.rstrip("/"))]
    return paths or list((ROOT / "sketcher").rglob(name.rstrip("/")))


def names(path: Path) -> set[str]:
    """Functions and classes of a file, methods too."""
    return {node.name for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
            if isinstance(node, ast.FunctionDef | ast.ClassDef)}


def missing(text: str) -> list[str]:
    """What a text names that is not there; capitals in a name stand for any name."""
    lost = []
    for name, function in NAMED.findall(text):
        if "NAME" in name:
            paths = found(name.rpartition("/")[0] + "/")
        else:
            paths = found(name)
        if not paths or (function and not any(function in names(path) for path in paths)):
            lost.append(f"{name} {function}".strip())
    return lost


def test_what_the_guide_names_is_there() -> None:
    assert len(NAMED.findall(GUIDE)) > 80
    assert missing(GUIDE) == []


def test_the_rule_sees_what_is_gone() -> None:
    assert missing("`part/value.py` `having`, `solve/`, `edits/`, `board/tools/NAME_tool.py`") == []
    assert missing("`part/valeu.py`, `solv/`, `part/value.py` `haveing`, `tool/NAME.py`") == [
        "part/valeu.py", "solv/", "part/value.py haveing", "tool/NAME.py"]


def test_the_guide_names_every_folder_and_room() -> None:
    places = [name for name in (*ORDER, *ROOMS) if (ROOT / "sketcher" / name).is_dir()
              or (ROOT / "sketcher" / "board" / name).is_dir()]
    assert len(places) > 20
    assert [name for name in places if f"`{name}/`" not in GUIDE] == []


def test_the_guide_is_read_in_ten_minutes() -> None:
    assert len(GUIDE.split()) <= WORDS
