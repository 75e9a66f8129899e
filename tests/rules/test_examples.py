"""Examples in docstrings run and show what they say."""

from __future__ import annotations

import doctest
import importlib
from pathlib import Path

import sketcher

PACKAGE = Path(sketcher.__file__).parent
PROMPT = ">>> "


def module_of(path: Path) -> str:
    """Dotted name of a file of the package."""
    parts = path.relative_to(PACKAGE.parent).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def test_examples_show_what_they_say() -> None:
    shown = [path for path in sorted(PACKAGE.rglob("*.py"))
             if PROMPT in path.read_text(encoding="utf-8")]
    assert shown
    wrong = {}
    for path in shown:
        report = []
        runner = doctest.DocTestRunner(verbose=False)
        tried = 0
        for example in doctest.DocTestFinder().find(importlib.import_module(module_of(path))):
            tried += runner.run(example, out=report.append).attempted
        written = path.read_text(encoding="utf-8").count(PROMPT)
        if report or tried != written:
            wrong[module_of(path)] = "".join(report) or f"only {tried} of {written} examples found"
    assert wrong == {}
