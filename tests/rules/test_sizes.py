"""Files, classes and functions stay small enough to be read."""

from __future__ import annotations

import ast
from pathlib import Path

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


def too_long(place: str, text: str) -> list[str]:
    """The file, classes and functions of a text that are longer than they may be."""
    found = [place] if len(text.splitlines()) > FILE_LINES else []
    limits = {ast.ClassDef: CLASS_LINES, ast.FunctionDef: FUNCTION_LINES,
              ast.AsyncFunctionDef: FUNCTION_LINES}
    return found + [f"{place}: {node.name}" for node in ast.walk(ast.parse(text))
                    if type(node) in limits and body_lines(node) > limits[type(node)]]


def test_sizes() -> None:
    assert [name for path in FILES for name in too_long(
        path.relative_to(PACKAGE).as_posix(), path.read_text(encoding="utf-8"))] == []


def test_the_rule_sees_what_is_too_long() -> None:
    fits = "        x = 1\n" * (FUNCTION_LINES - 1)
    assert too_long("a.py", f"class A:\n    def f(self):\n        'Docstring.'\n{fits}") == []
    long = "".join(f"    def f{number}(self):\n{fits}        x = 2\n" for number in range(10))
    assert too_long("a.py", f"class A:\n{long}") == [
        "a.py", "a.py: A", *(f"a.py: f{number}" for number in range(10))]


def test_every_module_says_what_it_is() -> None:
    silent = [p for p in FILES if not ast.get_docstring(ast.parse(p.read_text(encoding="utf-8")))]
    assert silent == []
