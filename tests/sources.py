"""What the rules about the program's files look at, taken from each file once."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

STATEMENTS = ("body", "orelse", "finalbody", "handlers", "cases")
"""Where a node has its statements: imports and definitions are never inside an expression."""


@dataclass(frozen=True)
class Source:
    """What a file says: few and small things of its tree, which takes a long time to walk."""

    docstring: str | None
    lines: int
    imports: tuple[tuple[ast.Import | ast.ImportFrom, bool], ...]
    """Each import, and whether only a type checker reads it."""
    definitions: tuple[tuple[str, type[ast.AST], int], ...]
    """Each class and function: its name, which of them, lines without its docstring."""
    texts: tuple[tuple[int, str, str], ...]
    """Each constant text: line, text, and "bare" (a docstring), "piece" (of an f-string) or ""."""


@cache  # seven rules ask for every file, and to parse them all takes seconds
def source_of(path: Path) -> Source:
    """Return what a file says."""
    return source(path.read_text(encoding="utf-8"))


def source(text: str) -> Source:
    """Return what a text says."""
    tree = ast.parse(text)
    found = list(statements(tree, False))
    return Source(
        ast.get_docstring(tree), len(text.splitlines()),
        tuple((node, typed) for node, typed in found
              if isinstance(node, ast.Import | ast.ImportFrom)),
        tuple((node.name, type(node), body_lines(node)) for node, _ in found
              if isinstance(node, ast.ClassDef | ast.FunctionDef | ast.AsyncFunctionDef)),
        tuple(texts(tree)))


def statements(node: ast.AST, typed: bool) -> Iterator[tuple[ast.AST, bool]]:
    """Yield every statement below a node, and whether only a type checker reads it."""
    typed = typed or (isinstance(node, ast.If) and "TYPE_CHECKING" in ast.unparse(node.test))
    for name in STATEMENTS:
        for each in getattr(node, name, ()):
            yield each, typed
            yield from statements(each, typed)


def body_lines(node: ast.ClassDef | ast.FunctionDef | ast.AsyncFunctionDef) -> int:
    """Lines of a definition without its docstring."""
    first = node.body[0]
    skip = 0
    if isinstance(first, ast.Expr) and isinstance(first.value, ast.Constant):
        skip = first.end_lineno - first.lineno + 1
    return node.end_lineno - node.lineno + 1 - skip


def texts(tree: ast.AST) -> Iterator[tuple[int, str, str]]:
    """Yield line, text and place of each constant text."""
    places: dict[int, str] = {}
    for node in ast.walk(tree):  # parents come before what they hold
        if isinstance(node, ast.Expr):
            places[id(node.value)] = "bare"
        elif isinstance(node, ast.JoinedStr):
            places.update((id(piece), "piece") for piece in node.values)
        elif isinstance(node, ast.Constant) and isinstance(node.value, str):
            yield node.lineno, node.value, places.get(id(node), "")
