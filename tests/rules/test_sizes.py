"""Files, classes and functions stay small enough to be read."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

PACKAGE = Path(__file__).resolve().parents[2] / "sketcher"
FILES = sorted(PACKAGE.rglob("*.py"))
FILE_LINES, CLASS_LINES, FUNCTION_LINES = 500, 300, 60


def body_lines(node: ast.AST) -> int:
    """Lines of a definition without its docstring."""
    first = node.body[0]
    skip = 0
    if isinstance(first, ast.Expr) and isinstance(first.value, ast.Constant):
        skip = first.end_lineno - first.lineno + 1
    return node.end_lineno - node.lineno + 1 - skip


@pytest.mark.parametrize("path", FILES, ids=lambda p: p.relative_to(PACKAGE).as_posix())
def test_sizes(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert len(text.splitlines()) <= FILE_LINES, path
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.ClassDef):
            assert body_lines(node) <= CLASS_LINES, f"{path}: class {node.name}"
        elif isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            assert body_lines(node) <= FUNCTION_LINES, f"{path}: {node.name}"


def test_every_module_says_what_it_is() -> None:
    silent = [p for p in FILES if not ast.get_docstring(ast.parse(p.read_text(encoding="utf-8")))]
    assert silent == []
