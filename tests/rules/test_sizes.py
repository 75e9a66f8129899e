"""Files, classes and functions stay small enough to be read."""

from __future__ import annotations

import ast
from pathlib import Path

from tests.sources import Source, source, source_of

PACKAGE = Path(__file__).resolve().parents[2] / "sketcher"
FILES = sorted(PACKAGE.rglob("*.py"))
FILE_LINES, CLASS_LINES, FUNCTION_LINES = 500, 300, 60


def too_long(place: str, said: Source) -> list[str]:
    """The file, classes and functions of a text that are longer than they may be."""
    found = [place] if said.lines > FILE_LINES else []
    limits = {ast.ClassDef: CLASS_LINES, ast.FunctionDef: FUNCTION_LINES,
              ast.AsyncFunctionDef: FUNCTION_LINES}
    return found + [f"{place}: {name}" for name, kind, lines in said.definitions
                    if lines > limits[kind]]


def test_sizes() -> None:
    assert [name for path in FILES for name in too_long(
        path.relative_to(PACKAGE).as_posix(), source_of(path))] == []


def test_the_rule_sees_what_is_too_long() -> None:
    fits = "        x = 1\n" * (FUNCTION_LINES - 1)
    short = source(f"class A:\n    def f(self):\n        'Docstring.'\n{fits}")
    assert too_long("a.py", short) == []
    long = "".join(f"    def f{number}(self):\n{fits}        x = 2\n" for number in range(10))
    assert too_long("a.py", source(f"class A:\n{long}")) == [
        "a.py", "a.py: A", *(f"a.py: f{number}" for number in range(10))]


def test_every_module_says_what_it_is() -> None:
    assert [path for path in FILES if not source_of(path).docstring] == []
