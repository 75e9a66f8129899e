"""No two files import each other, not even inside a function."""

from __future__ import annotations

import ast
from pathlib import Path

from tests.sources import Source, source, source_of

ROOT = Path(__file__).resolve().parents[2]


def imported(said: Source) -> set[str]:
    """Dotted names of all that a source imports, anywhere in it, for more than a type checker."""
    found: set[str] = set()
    for node, typed in said.imports:
        if typed:
            continue
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif node.module:
            found |= {node.module, *(f"{node.module}.{alias.name}" for alias in node.names)}
    return found


def circles(sources: dict[str, Source]) -> set[tuple[str, str]]:
    """Pairs of modules that import each other."""
    ways = {name: imported(source) & sources.keys() for name, source in sources.items()}
    return {(one, other) for one, others in ways.items() for other in others
            if one < other and one in ways[other]}


def test_no_two_files_import_each_other() -> None:
    sources = {}
    for path in (ROOT / "sketcher").rglob("*.py"):
        parts = path.relative_to(ROOT).with_suffix("").parts
        name = ".".join(parts).removesuffix(".__init__")
        sources[name] = source_of(path)
    assert len(sources) > 300
    assert circles(sources) == set()


def test_a_circle_inside_a_function_is_found_and_one_of_types_is_none() -> None:
    one = source("def f():\n    from p.b import g\n")
    assert circles({"p.a": one, "p.b": source("import p.a\n")}) == {("p.a", "p.b")}
    typed = source("from typing import TYPE_CHECKING\nif TYPE_CHECKING:\n    import p.a\n")
    assert circles({"p.a": one, "p.b": typed}) == set()
