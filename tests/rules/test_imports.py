"""Each folder imports only from folders above it, and third parties only where they belong."""

from __future__ import annotations

import ast
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.sources import source_of

ROOT = Path(__file__).resolve().parents[2]
PACKAGE = ROOT / "sketcher"
ORDER = [
    "errors", "interrupt", "progress", "registry", "shipped", "quantity", "geometry", "part",
    "solve", "inspect", "lesson", "drafting", "shop", "exchange", "intake", "marking", "board",
    "desk", "terminal", "commands", "cli",
]
ROOMS = [
    "settings", "job", "window_port", "dimensions", "preview", "places", "snaps",
    "steps", "readout", "toolkit", "ledger", "mending", "tools", "board", "files",
    "exercise", "tour", "teaching", "action_table", "actions",
]
"""Files and rooms of the board: each imports only from those before it."""
THIRD_PARTIES = {
    "scipy": ("solve/", "marking/"),
    "shapely": ("geometry/", "inspect/", "drafting/", "shop/", "intake/"),
    "ezdxf": ("exchange/",),
    "fontTools": ("exchange/",),
    "PySide6": ("desk/", "exchange/pdf.py"),
    "shiboken6": ("desk/",),
    "numpy": ("geometry/", "part/", "solve/", "inspect/", "lesson/", "drafting/", "shop/",
              "exchange/", "intake/", "marking/", "board/", "desk/"),
}
KNOWN = {"font_source_sans_pro"}
FILES = sorted(PACKAGE.rglob("*.py"))


def imported(path: Path) -> list[str]:
    """Names of all modules that a file imports, anywhere in it."""
    found = []
    for node, _ in source_of(path).imports:
        if isinstance(node, ast.Import):
            found += [alias.name for alias in node.names]
        else:
            if node.level:
                base = path.relative_to(ROOT).parent.parts
                base = base[: len(base) - node.level + 1]
                found.append(".".join([*base, node.module] if node.module else base))
            else:
                found.append(node.module or "")
                if node.module == "sketcher":
                    found[-1:] = [f"sketcher.{alias.name}" for alias in node.names]
    return found


def place(path: Path) -> str:
    return path.relative_to(PACKAGE).as_posix()


def from_below(path: Path) -> list[str]:
    """What a file imports from folders below its own."""
    own = path.relative_to(PACKAGE).parts[0].removesuffix(".py")
    if own in {"__init__", "__main__"}:
        return []
    return [name for name in imported(path)
            if (parts := name.split("."))[0] == "sketcher" and len(parts) > 1
            and parts[1] in ORDER and ORDER.index(parts[1]) > ORDER.index(own)]


def from_later_rooms(path: Path) -> list[str]:
    """What a file of the board imports from rooms that come after its own."""
    folder, *rest = path.relative_to(PACKAGE).parts
    if folder != "board" or rest == ["__init__.py"]:
        return []
    own = ROOMS.index(rest[0].removesuffix(".py"))
    return [name for name in imported(path)
            if (parts := name.split("."))[:2] == ["sketcher", "board"] and len(parts) > 2
            and ROOMS.index(parts[2]) > own]


def astray(path: Path) -> list[str]:
    """What a file imports from third parties that belong to other folders."""
    return [name for name in imported(path)
            if not place(path).startswith(THIRD_PARTIES.get(name.split(".")[0], ("",)))]


def offences(rule: Callable[[Path], list[str]]) -> dict[str, list[str]]:
    """All files that break a rule, with what breaks it."""
    return {place(path): found for path in FILES if (found := rule(path))}


def test_imports_only_from_folders_above() -> None:
    assert offences(from_below) == {}


def test_rooms_of_the_board_import_only_from_rooms_before() -> None:
    assert offences(from_later_rooms) == {}


def test_third_parties_stay_in_their_folders() -> None:
    assert offences(astray) == {}


def test_the_rules_see_what_breaks_them(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    sample = tmp_path / "sketcher" / "geometry" / "sample.py"
    sample.parent.mkdir(parents=True)
    sample.write_text("from ..solve import rank\nfrom sketcher import errors, part\nimport numpy\n"
                      "def f():\n    from scipy.sparse import linalg\n    import PySide6.QtGui\n")
    monkeypatch.setitem(globals(), "ROOT", tmp_path)
    monkeypatch.setitem(globals(), "PACKAGE", tmp_path / "sketcher")
    monkeypatch.setitem(globals(), "FILES", [sample])
    assert offences(from_below) == {"geometry/sample.py": ["sketcher.solve", "sketcher.part"]}
    assert offences(astray) == {"geometry/sample.py": ["scipy.sparse", "PySide6.QtGui"]}
