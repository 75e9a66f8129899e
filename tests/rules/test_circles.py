"""No two files import each other, not even inside a function."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]


def nodes(tree: ast.AST) -> Iterator[ast.AST]:
    """Every node but those that only a type checker reads."""
    for node in ast.iter_child_nodes(tree):
        if not (isinstance(node, ast.If) and "TYPE_CHECKING" in ast.unparse(node.test)):
            yield node
            yield from nodes(node)


def imported(source: str) -> set[str]:
    """Dotted names of all that a source imports, anywhere in it."""
    found: set[str] = set()
    for node in nodes(ast.parse(source)):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            found |= {node.module, *(f"{node.module}.{alias.name}" for alias in node.names)}
    return found


def circles(sources: dict[str, str]) -> set[tuple[str, str]]:
    """Pairs of modules that import each other."""
    ways = {name: imported(source) & sources.keys() for name, source in sources.items()}
    return {(one, other) for one, others in ways.items() for other in others
            if one < other and one in ways[other]}


def test_no_two_files_import_each_other() -> None:
    sources = {}
    for path in (ROOT / "sketcher").rglob("*.py"):
        parts = path.relative_to(ROOT).with_suffix("").parts
        name = ".".join(parts).removesuffix(".__init__")
        sources[name] = path.read_text(encoding="utf-8")
    assert len(sources) > 300
    assert circles(sources) == set()


def test_a_circle_inside_a_function_is_found_and_one_of_types_is_none() -> None:
    one = "def f():\n    from p.b import g\n"
    assert circles({"p.a": one, "p.b": "import p.a\n"}) == {("p.a", "p.b")}
    typed = "from typing import TYPE_CHECKING\nif TYPE_CHECKING:\n    import p.a\n"
    assert circles({"p.a": one, "p.b": typed}) == set()
