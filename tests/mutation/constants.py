"""Which tuned constants the tests hold: `python -m tests.mutation.constants solve inspect`.

Each number that a module of a folder names in capitals is doubled and halved, one at a time, and
those of the folder's default tests that run a function which uses it run, quickest first, until one
fails. What no test notices is printed, with the reason where `judged.toml` gives one (`constants`).

A tuned number has a test on either side of it.
"""

from __future__ import annotations

import argparse
import ast
import functools
import importlib
import json
import sys
import tempfile
import time
from collections.abc import Iterator
from dataclasses import dataclass, field
from importlib.machinery import SourceFileLoader
from pathlib import Path
from types import CodeType
from typing import Any

import pytest

from tests.mutation.__main__ import ROOT, TESTS
from tests.mutation.mutants import judged_constants
from tests.mutation.trial import Trial, forked, run_trial

PLAIN = {"MappingProxyType", "radians"}


@dataclass(frozen=True)
class Change:
    """One number of a module's constants, doubled or halved."""

    path: Path
    name: str
    number: str
    by: str
    text: str

    @property
    def key(self) -> str:
        """File and constant, the number as written where there are several, and the change."""
        return f"{self.path.relative_to(ROOT).as_posix()}:{self.name}{self.number} {self.by}"


def changes(folder: Path) -> Iterator[Change]:
    """All numbers of the constants of the modules below a folder, each changed both ways."""
    for path in sorted(folder.rglob("*.py")):
        text = path.read_text(encoding="utf-8")
        for node in ast.parse(text).body:
            if isinstance(node, ast.Assign | ast.AnnAssign) and node.value:
                target = node.targets[0] if isinstance(node, ast.Assign) else node.target
                pairs = [(target, node.value)]
                if isinstance(target, ast.Tuple) and isinstance(node.value, ast.Tuple):
                    pairs = list(zip(target.elts, node.value.elts, strict=True))
                for name, value in pairs:
                    if isinstance(name, ast.Name) and name.id.strip("_").isupper():
                        yield from changes_of(path, text, name.id, value)


def changes_of(path: Path, text: str, name: str, value: ast.expr) -> Iterator[Change]:
    """The changed numbers of one constant."""
    numbers = list(quantities(value))
    lines = text.splitlines(keepends=True)
    for place, node in enumerate(numbers, 1):
        line, (first, last) = lines[node.lineno - 1], (node.col_offset, node.end_col_offset)
        for by, factor in (("x 2", 2), ("/ 2", 0.5)):
            assert isinstance(node.value, int | float)
            other = type(node.value)(node.value * factor)
            changed = [*lines]
            changed[node.lineno - 1] = f"{line[:first]}{other!r}{line[last:]}"
            label = f"[{place}: {node.value!r}]" if len(numbers) > 1 else ""
            yield Change(path, name, label, by, "".join(changed))


def quantities(value: ast.expr) -> Iterator[ast.Constant]:
    """The numbers of a value but zero; those that a function is called with are no tuned ones."""
    if isinstance(value, ast.Constant):
        if type(value.value) in (int, float) and value.value:
            yield value
    elif not isinstance(value, ast.Lambda | ast.Call) or (
            isinstance(value, ast.Call) and ast.unparse(value.func) in PLAIN):
        for node in ast.iter_child_nodes(value):
            if isinstance(node, ast.expr):
                yield from quantities(node)


def changed_on_import(change: Change) -> None:
    """Let the module of a change be compiled from its changed text in this process."""
    usual = SourceFileLoader.get_code

    def get_code(self: SourceFileLoader, fullname: str) -> CodeType | None:
        if Path(self.path) == change.path:
            return compile(change.text, self.path, "exec")
        return usual(self, fullname)

    SourceFileLoader.get_code = get_code  # type: ignore[method-assign]


@dataclass
class Ordered(Trial):
    """A pytest plugin that runs some tests, quickest first, until one fails."""

    chosen: tuple[str, ...] = ()
    answer: str = "the tests cannot be collected"

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        """Run the chosen tests."""
        items = {item.nodeid: item for item in session.items}
        if not session.testsfailed:
            self.answer = self.first_failure([items[name] for name in self.chosen])
        return True


@dataclass
class Looking(Trial):
    """A pytest plugin that notes which tests touch which lines, and their times."""

    found: dict[str, Any] = field(default_factory=dict)

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        """Look at all tests."""
        self.found = self.looked({item.nodeid: item for item in session.items})
        return True


def seen(folder: str, store: Path) -> dict[str, Any]:
    """Which tests touch which lines of a folder, and their times; kept in a file."""
    trial = Looking(ROOT / "sketcher" / folder, tuple, lambda *_: None, store, False)
    run(folder, trial)
    return trial.found


def tried(folder: str, change: Change, names: list[str], seconds: dict[str, float]) -> str:
    """The first test that fails under a change; empty if none does."""
    changed_on_import(change)
    trial = Ordered(Path(), tuple, lambda *_: None, Path(), seconds=seconds, chosen=tuple(names))
    run(folder, trial)
    return trial.answer


def run(folder: str, trial: Trial) -> None:
    """Collect a folder's tests for a plugin."""
    tests = [str(file) for pattern in TESTS[folder] for file in sorted(ROOT.glob(pattern))]
    with tempfile.TemporaryDirectory() as scratch:
        run_trial(trial, tests, Path(scratch) / "t")


def users(folder: Path, name: str) -> set[tuple[str, int]] | None:
    """Lines of the functions that use a constant by its name; None where a module itself does."""
    found: set[tuple[str, int]] = set()
    for path in folder.rglob("*.py"):
        tree = ast.parse(path.read_text(encoding="utf-8"))
        inside: set[ast.AST] = set()
        for node in ast.walk(tree):
            if isinstance(node, ast.FunctionDef) and (uses := mentions(node, name)):
                inside |= uses
                found |= {(path.relative_to(ROOT).as_posix(), line)
                          for line in range(node.lineno, (node.end_lineno or node.lineno) + 1)}
        if mentions(tree, name) - inside:
            return None
    return found


def mentions(tree: ast.AST, name: str) -> set[ast.AST]:
    """Places that read a name."""
    return {node for node in ast.walk(tree)
            if (isinstance(node, ast.Name) and node.id == name and isinstance(node.ctx, ast.Load))
            or (isinstance(node, ast.Attribute) and node.attr == name)}


def sweep(
    folder: str, asked: argparse.Namespace, known: dict[str, str]
) -> Iterator[tuple[str, str]]:
    """Each change that is not known yet with the test that notices it, empty if none does."""
    until = time.monotonic() + 60 * asked.minutes
    store = asked.results / f"{folder}.touch.json"
    look = forked(lambda: seen(folder, store), wall=2000.0)
    if not look.said or not look.value:
        sys.exit(f"{folder}: fails without any change")
    seconds = look.value["seconds"]
    touching = {(file, line): tests for file, line, tests in look.value["touching"]}
    for change in changes(ROOT / "sketcher" / folder):
        if asked.only in change.key and change.key not in known and time.monotonic() < until:
            lines = users(ROOT / "sketcher" / folder, change.name)
            names = list(seconds) if lines is None else list({
                test for line in lines for test in touching.get(line, ())})
            names.sort(key=lambda test: seconds[test])
            usual = sum(seconds[name] for name in names)
            done = forked(functools.partial(tried, folder, change, names, seconds),
                          wall=100.0 + 50.0 * usual)
            yield change.key, done.value if done.said else "hangs or ends the process"


def main() -> None:
    """Change the constants of each folder and print those that no test holds."""
    parser = argparse.ArgumentParser(prog="python -m tests.mutation.constants", description=__doc__)
    parser.add_argument("folders", nargs="*", metavar="FOLDER",
                        default=["solve", "geometry", "inspect"])
    parser.add_argument("--only", default="", help="what has this in FILE:NAME, as printed")
    parser.add_argument("--minutes", type=float, default=1e9, help="stop after so long")
    parser.add_argument("--results", type=Path,
                        default=Path(tempfile.gettempdir()) / "sketcher-constants")
    parser.add_argument("--resume", action="store_true", help="keep results of earlier runs")
    asked = parser.parse_args()
    asked.results.mkdir(parents=True, exist_ok=True)
    for module in ("coverage", "hypothesis", "numpy", "scipy.sparse.linalg", "shapely", "sympy"):
        importlib.import_module(module)
    for folder in asked.folders:
        kept = asked.results / f"{folder}.json"
        known: dict[str, str] = {}
        if asked.resume and kept.exists():
            known = json.loads(kept.read_text(encoding="utf-8"))
        for key, test in sweep(folder, asked, known):
            known[key] = test
            print(f"{key}: {test or 'NOT NOTICED'}", flush=True)
            kept.write_text(json.dumps(known, indent=1), encoding="utf-8")
        print_count(folder, known)


def print_count(folder: str, known: dict[str, str]) -> None:
    """Print how many changes of a folder's constants are noticed, and those that are not."""
    tried = {key: test for key, test in known.items() if key.startswith(f"sketcher/{folder}/")}
    left = [key for key, test in tried.items() if not test]
    print(f"{folder}: {len(tried) - len(left)} of {len(tried)} changed constants are noticed")
    reasons = judged_constants()
    for key in left:
        print(f"    {key}: {reasons.get(key.rsplit(' ', 2)[0], 'NO REASON')}")


if __name__ == "__main__":
    main()
