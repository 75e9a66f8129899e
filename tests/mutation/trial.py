"""Try mutants of one folder on its tests, each in a fork of one process that has it all imported.

The tests are collected once and run once to see which of them touch which lines. For each mutant a
fork exchanges the code of the one function in place, so that every module that holds the function
sees it, and runs the tests that touch the changed statement, quickest first, until one fails. A
mutant also dies when its tests take many times the processor time that they need without it.
"""

from __future__ import annotations

import ast
import contextlib
import functools
import gc
import importlib
import json
import os
import resource
import select
import signal
import sys
import time
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from itertools import accumulate
from math import inf
from pathlib import Path
from types import FunctionType, ModuleType
from typing import Any

import coverage
import hypothesis
import pytest

from tests.mutation.mutants import ROOT, Drawn, code_of, digest_of

MEMORY = 3 << 30  # what a fork may take beyond what it starts with
SLOWER = 8.0  # times the usual processor time, after which a mutant counts as hanging
GRACE = 3.0  # seconds of processor time that every mutant may take


@dataclass
class Fork:
    """What a forked child hands back."""

    value: Any = None
    said: bool = False
    seconds: float = 0.0


def forked(work: Callable[[], Any], wall: float | None = None) -> Fork:
    """Do something in a fork and give what it returns; `said` is false where it came to an end."""
    readable, writable = os.pipe()
    sys.stdout.flush()
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    child = os.fork()
    if child == 0:
        os.close(readable)
        code = 1
        with contextlib.suppress(BaseException):
            if wall is not None:
                bounded()
            with os.fdopen(writable, "w") as out:
                json.dump(work(), out)
            code = 0
        os._exit(code)
    os.close(writable)
    pieces = list(received(readable, None if wall is None else time.monotonic() + wall))
    if pieces[-1:] == [None]:
        os.kill(child, signal.SIGKILL)
    os.close(readable)
    _, status = os.waitpid(child, 0)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    spent = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    if status or None in pieces:
        return Fork(seconds=spent)
    return Fork(json.loads(b"".join(piece for piece in pieces if piece)), True, spent)


def bounded() -> None:
    """Limit this process's memory, and silence it."""
    pages = int(Path("/proc/self/statm").read_text().split()[0])
    size = pages * resource.getpagesize() + MEMORY
    resource.setrlimit(resource.RLIMIT_AS, (size, size))
    nothing = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nothing, 1)
    os.dup2(nothing, 2)


def allow(seconds: float) -> None:
    """End this process when it takes so much more processor time."""
    limit = int(time.process_time() + seconds) + 1
    resource.setrlimit(resource.RLIMIT_CPU, (limit, resource.RLIM_INFINITY))


def received(source: int, until: float | None) -> Iterator[bytes | None]:
    """Pieces from a pipe to its end; None when time is up."""
    while True:
        wait = None if until is None else max(until - time.monotonic(), 0)
        if not select.select([source], [], [], wait)[0]:
            yield None
            return
        piece = os.read(source, 1 << 16)
        if not piece:
            return
        yield piece


def exchange(mutant: Drawn) -> None:
    """Give a function the code and the defaults of its mutant."""
    dotted = mutant.file.removesuffix(".py").replace("/", ".").removesuffix(".__init__")
    function = live(importlib.import_module(dotted), mutant.owner)
    function.__code__ = code_of(mutant.text, mutant.file, mutant.owner)
    set_defaults(function, mutant)


def live(module: ModuleType, owner: str) -> FunctionType:
    """The function that a module really runs under a name."""
    *classes, name = owner.split(".")
    holder: Any = module
    for part in classes:
        holder = getattr(holder, part)
    found = vars(holder)[name]
    while not isinstance(found, FunctionType):
        found = found.__func__ if hasattr(found, "__func__") else found.__wrapped__
    return found


def set_defaults(function: FunctionType, mutant: Drawn) -> None:
    """Evaluate the mutant's defaults where they differ from those of the source."""
    original = (ROOT / mutant.file).read_text(encoding="utf-8")
    old, new = (definition(text, mutant.owner).args for text in (original, mutant.text))
    if ast.dump(old) == ast.dump(new):
        return

    def value(node: ast.expr) -> Any:
        return eval(compile(ast.Expression(node), "default", "eval"), function.__globals__)

    function.__defaults__ = tuple(map(value, new.defaults)) or None
    function.__kwdefaults__ = {arg.arg: value(default) for arg, default in zip(
        new.kwonlyargs, new.kw_defaults, strict=True) if default is not None} or None


def definition(text: str, owner: str) -> ast.FunctionDef:
    """The definition of a function in a text."""
    node: Any = ast.parse(text)
    for part in owner.split("."):
        node = next(n for n in reversed(node.body) if getattr(n, "name", None) == part)
    assert isinstance(node, ast.FunctionDef)
    return node


def stopped(reason: str) -> BaseException:
    """Say why nothing can be tried, which pytest does only with its terminal."""
    print(reason, file=sys.stderr, flush=True)
    return pytest.Session.Interrupted(reason)


@dataclass
class Trial:
    """A pytest plugin that tries mutants where the tests would run."""

    folder: Path
    choose: Callable[[], Iterable[Drawn]]
    report: Callable[[Drawn, str, str, float], None]
    store: Path
    control: bool = True
    most: float = inf
    failed: list[str] = field(default_factory=list)
    seconds: dict[str, float] = field(default_factory=dict)
    touching: dict[tuple[str, int], set[str]] = field(default_factory=lambda: defaultdict(set))
    broken: bool = False

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        """Note what failed."""
        if report.failed:
            self.failed.append(report.nodeid)

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        """Look which tests touch what, then try the mutants."""
        if session.testsfailed:
            raise stopped("the tests cannot be collected")
        items = {item.nodeid: item for item in session.items}
        gc.collect()
        gc.freeze()
        found = self.looked(items)
        self.seconds = found["seconds"]
        for name, line, tests in found["touching"]:
            self.touching[name, line] |= set(tests)
        print(f"{len(items)} tests, {sum(self.seconds.values()):.0f} s", flush=True)
        for mutant in self.choose():
            self.try_one(mutant, items)
        return True

    def looked(self, items: dict[str, pytest.Item]) -> dict[str, Any]:
        """What the tests touch without any mutant; only what changed since is looked at again."""
        digest = digest_of(sorted((ROOT / "sketcher").rglob("*.py")))
        files = {name: digest_of([ROOT / name.split("::")[0]]) for name in items}
        known: dict[str, Any] = {"digest": digest, "files": {}, "seconds": {}, "touching": []}
        if self.store.exists():
            before = json.loads(self.store.read_text(encoding="utf-8"))
            known = before if before["digest"] == digest else known
        same = {name for name in items if known["files"].get(name) == files[name]}
        due = [item for name, item in items.items() if name not in same]
        found = {"digest": digest, "files": files, "touching": [
            (name, line, kept) for name, line, tests in known["touching"]
            if (kept := [test for test in tests if test in same])],
            "seconds": {name: known["seconds"][name] for name in same}}
        if due:
            first = forked(lambda: self.look(due))
            if not first.said or first.value["failed"]:
                failed = first.value["failed"] if first.said else "no answer"
                raise stopped(f"fails without any mutant: {failed}")
            found["seconds"] |= first.value["seconds"]
            found["touching"] += first.value["touching"]
            if self.control:
                calm = sorted(due, key=lambda item: found["seconds"][item.nodeid])
                control = forked(lambda: self.first_failure(calm))
                if not control.said or control.value:
                    raise stopped(f"fails in another order: {control.value}")
            self.store.write_text(json.dumps(found), encoding="utf-8")
        return found

    def look(self, items: list[pytest.Item]) -> dict[str, Any]:
        """Run all tests and note their times and the lines of the folder that each touches."""
        cover = coverage.Coverage(data_file=None, include=[f"{self.folder}/*"], config_file=False)
        seconds: dict[str, float] = {}
        cover.start()
        for number, item in enumerate(items):
            cover.switch_context(str(number))
            began = time.process_time()
            self.run(item, items[number + 1] if number + 1 < len(items) else None)
            seconds[item.nodeid] = time.process_time() - began
        cover.stop()
        data = cover.get_data()
        touching = [(Path(name).relative_to(ROOT).as_posix(), line,
                     [items[int(number)].nodeid for number in numbers if number])
                    for name in data.measured_files()
                    for line, numbers in data.contexts_by_lineno(name).items()]
        return {"failed": self.failed, "seconds": seconds, "touching": touching}

    @staticmethod
    def run(item: pytest.Item, following: pytest.Item | None) -> None:
        """Run one test with its fixtures."""
        item.config.hook.pytest_runtest_protocol(item=item, nextitem=following)

    def tests_of(self, mutant: Drawn) -> list[str]:
        """The tests that touch a mutant's statement, quickest first, as many as `most` allows."""
        found: set[str] = set()
        for line in range(mutant.first, mutant.last + 1):
            found |= self.touching.get((mutant.file, line), set())
        names = sorted(found, key=lambda name: self.seconds[name])
        spent = list(accumulate(self.seconds[name] for name in names))
        return [name for name, until in zip(names, spent, strict=True)
                if until <= self.most or name == names[0]]

    def try_one(self, mutant: Drawn, items: dict[str, pytest.Item]) -> None:
        """Run the tests of a mutant until one fails."""
        names = self.tests_of(mutant)
        if not names:
            self.report(mutant, "survived", "no test runs this statement", 0.0)
            return
        chosen = [items[name] for name in names]
        usual = sum(self.seconds[name] for name in names)
        done = forked(functools.partial(self.kill, mutant, chosen), 100.0 + 50.0 * usual)
        if not done.said:
            self.report(mutant, "killed", "hangs or ends the process", done.seconds)
        elif done.value:
            self.report(mutant, "killed", done.value, done.seconds)
        else:
            self.report(mutant, "survived", f"{len(chosen)} tests pass", done.seconds)

    def kill(self, mutant: Drawn, chosen: list[pytest.Item]) -> str:
        """The first test that fails under a mutant, empty if none does."""
        exchange(mutant)
        return self.first_failure(chosen)

    def first_failure(self, chosen: list[pytest.Item]) -> str:
        """Run tests until one fails and name it; empty if none does."""
        for item, following in zip(chosen, [*chosen[1:], None], strict=True):
            allow(GRACE + SLOWER * self.seconds.get(item.nodeid, 60.0))
            self.run(item, following)
            if self.failed:
                return self.failed[0]
        return ""


def run_trial(trial: Trial, tests: list[str], scratch: Path) -> int:
    """Collect tests in this process and hand them to a trial."""
    hypothesis.settings.register_profile(
        "mutation", derandomize=True, database=None, deadline=None,
        phases=(hypothesis.Phase.explicit, hypothesis.Phase.generate))
    hypothesis.settings.load_profile("mutation")
    options = ["--import-mode=importlib", "-o", "addopts=", f"--basetemp={scratch}",
               "-W", "ignore::pytest.PytestAssertRewriteWarning",
               "-W", "ignore::pytest.PytestConfigWarning"]
    for plugin in ("cacheprovider", "faulthandler", "xdist", "benchmark", "pytest-qt", "terminal",
                   "unraisableexception", "threadexception"):
        options += ["-p", f"no:{plugin}"]
    return pytest.main([*options, *tests], plugins=[trial])
