"""Every module's name is its own, no plural of another's; so is every class's."""

from __future__ import annotations

import re
from collections import defaultdict
from pathlib import Path

PACKAGE = Path(__file__).resolve().parents[2] / "sketcher"
SHARED = {"rules"}
"""What several folders call the folder that holds one rule a file."""
LOOSE = 12  # files that may stand beside the rooms of the board


def singular(name: str) -> str:
    """Return a name without the ending of a plural."""
    if name.endswith("ies"):
        return f"{name[:-3]}y"
    if name.endswith(("ses", "xes", "ches", "shes")):
        return name[:-2]
    return name[:-1] if name.endswith("s") and not name.endswith("ss") else name


def modules() -> list[Path]:
    """All modules and folders of the program; a folder and its main module may share a name."""
    files = [path for path in PACKAGE.rglob("*.py") if not path.name.startswith("__")]
    folders = [path.parent for path in PACKAGE.rglob("__init__.py") if path.parent != PACKAGE]
    return files + [path for path in folders
                    if not (path / f"{path.name}.py").exists() and path.name not in SHARED]


def test_no_two_modules_have_names_that_are_taken_for_each_other() -> None:
    found = defaultdict(list)
    for path in modules():
        found[singular(path.stem)].append(path.relative_to(PACKAGE).as_posix())
    assert {name: places for name, places in found.items() if len(places) > 1} == {}


def test_no_two_classes_have_one_name() -> None:
    found = defaultdict(list)
    for path in PACKAGE.rglob("*.py"):
        for name in re.findall(r"^class (\w+)", path.read_text(encoding="utf-8"), re.MULTILINE):
            found[name].append(path.relative_to(PACKAGE).as_posix())
    assert {name: places for name, places in found.items() if len(places) > 1} == {}


def test_the_board_has_few_loose_files() -> None:
    loose = [path.name for path in (PACKAGE / "board").glob("*.py") if path.stem != "__init__"]
    assert len(loose) <= LOOSE


def test_every_room_of_the_board_says_what_it_is_for_and_what_it_may_not_touch() -> None:
    for path in (PACKAGE / "board").glob("*/__init__.py"):
        text = path.read_text(encoding="utf-8")
        assert text.count(".") >= 2, path
