"""Each folder imports only from folders above it, and third parties only where they belong."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
PACKAGE = ROOT / "sketcher"
ORDER = [
    "errors", "interrupt", "shipped", "quantity", "geometry", "part", "solve", "inspect",
    "drafting", "exchange", "marking", "board", "desk", "terminal", "commands", "cli",
]
THIRD_PARTIES = {
    "scipy": ("solve/",),
    "shapely": ("inspect/", "drafting/"),
    "ezdxf": ("exchange/",),
    "PySide6": ("desk/", "exchange/pdf.py"),
    "shiboken6": ("desk/",),
    "numpy": ("geometry/", "part/", "solve/", "inspect/", "drafting/", "exchange/", "marking/",
              "board/", "desk/"),
}
KNOWN = {"font_source_sans_pro"}
FILES = sorted(PACKAGE.rglob("*.py"))


def imported(path: Path) -> list[str]:
    """Names of all modules that a file imports, anywhere in it."""
    found = []
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found += [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
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


@pytest.mark.parametrize("path", FILES, ids=place)
def test_imports_only_from_folders_above(path: Path) -> None:
    own = path.relative_to(PACKAGE).parts[0].removesuffix(".py")
    if own in {"__init__", "__main__"}:
        return
    for name in imported(path):
        parts = name.split(".")
        if parts[0] == "sketcher" and len(parts) > 1 and parts[1] in ORDER:
            assert ORDER.index(parts[1]) <= ORDER.index(own), f"{place(path)} imports {name}"


@pytest.mark.parametrize("path", FILES, ids=place)
def test_third_parties_stay_in_their_folders(path: Path) -> None:
    for name in imported(path):
        top = name.split(".")[0]
        for library, homes in THIRD_PARTIES.items():
            if top == library:
                assert place(path).startswith(homes), f"{place(path)} imports {name}"


def test_the_check_sees_a_forbidden_import(tmp_path: Path) -> None:
    sample = tmp_path / "sample.py"
    sample.write_text("def f():\n    from scipy.sparse import linalg\n    import PySide6.QtGui\n")
    assert imported(sample) == ["scipy.sparse", "PySide6.QtGui"]
