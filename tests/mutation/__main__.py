"""Mutation scores of the folders that hold the mathematics: `python -m tests.mutation`.

Draws mutants of each folder with a fixed seed, tries each on that folder's default tests and
prints how many die. Results are kept below the results folder as they come, so that a run can go
on where it stopped (`--resume`) or try again only what survived (`--survivors`).

``pip install -e '.[mutation]'`` brings mutmut, whose operators are used, for they come as values.
Of each folder 300 mutants are drawn; each is a fork, and only the tests that reach the changed
statement run, quickest first. At least 85 % must die. `judged.toml` names the mutants that are
equivalent, which are set aside, and those that stay alive, each with the reason. A stage or a tuned
constant that no test needs goes.
"""

from __future__ import annotations

import argparse
import json
import os
import subprocess
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Iterator
from math import inf
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[2]
TESTS = {
    "solve": ["tests/unit/solve", "tests/unit/inspect/test_sketched.py",
              "tests/outside/test_solver_handbook.py",
              "tests/outside/test_solver_scipy.py", "tests/outside/test_structure_rank.py"],
    "geometry": ["tests/unit/geometry", "tests/outside/test_geometry_*.py"],
    "inspect": ["tests/unit/inspect", "tests/outside/test_inspection_*.py",
                "tests/outside/test_hole_circle.py"],
    "part/edits": ["tests/unit/part/test_edits_*.py", "tests/unit/part/test_draft.py",
                   "tests/property/test_corner.py", "tests/property/test_tidy.py",
                   "tests/property/test_trace.py", "tests/property/test_undo.py"],
}
CALM = {"PYTHONHASHSEED": "0", "OMP_NUM_THREADS": "1", "OPENBLAS_NUM_THREADS": "1"}


def arguments() -> argparse.Namespace:
    """What was asked for."""
    parser = argparse.ArgumentParser(prog="python -m tests.mutation", description=__doc__)
    parser.add_argument("folders", nargs="*", metavar="FOLDER", help="default: " + ", ".join(TESTS))
    parser.add_argument("--sample", type=int, default=300, help="mutants a folder (default 300)")
    parser.add_argument("--seed", type=int, default=1, help="which sample (default 1)")
    parser.add_argument("--results", type=Path,
                        default=Path(tempfile.gettempdir()) / "sketcher-mutation")
    parser.add_argument("--resume", action="store_true", help="keep results of earlier runs")
    parser.add_argument("--survivors", action="store_true", help="try again what survived")
    parser.add_argument("--minutes", type=float, default=1e9, help="stop after so long")
    parser.add_argument("--quick", action="store_true",
                        help="leave out the run that shows that the order of tests is all one")
    parser.add_argument("--most", type=float, default=inf, metavar="SECONDS",
                        help="processor time of tests a mutant; the score is then a lower bound")
    parser.add_argument("--show", action="store_true", help="print survivors without a reason")
    parser.add_argument("--score", action="store_true", help="only print what is known")
    found = parser.parse_args()
    for folder in found.folders:
        if folder not in TESTS:
            parser.error(f"no such folder: {folder}; choose from {', '.join(TESTS)}")
    return found


def main() -> int:
    """Try the mutants of each folder in a process of its own, then print the scores."""
    asked = arguments()
    if any(os.environ.get(name) != value for name, value in CALM.items()):
        os.execve(sys.executable, [sys.executable, "-m", "tests.mutation", *sys.argv[1:]],
                  {**os.environ, **CALM})
    folders = asked.folders or list(TESTS)
    if not asked.score:
        if len(folders) > 1:
            for folder in folders:
                subprocess.run([sys.executable, "-m", "tests.mutation", folder, *sys.argv[1:]],
                               check=True)
            return 0
        try_folder(folders[0], asked)
    for folder in folders:
        print_score(folder, asked)
    return 0


def place(folder: str, asked: argparse.Namespace) -> Path:
    """File with the results of a folder's sample."""
    results: Path = asked.results
    results.mkdir(parents=True, exist_ok=True)
    return results / f"{folder.replace('/', '-')}-{asked.seed}.jsonl"


def known(path: Path) -> dict[str, dict[str, Any]]:
    """Results so far by the mutant's key; of two the later one."""
    lines = path.read_text(encoding="utf-8").splitlines() if path.exists() else []
    return {entry["key"]: entry for entry in map(json.loads, lines)}


def try_folder(folder: str, asked: argparse.Namespace) -> None:
    """Draw and try the mutants of one folder."""
    from tests.mutation.mutants import Drawn, draw
    from tests.mutation.trial import Trial, run_trial

    path = place(folder, asked)
    if not (asked.resume or asked.survivors):
        path.unlink(missing_ok=True)
    found = known(path)
    sample = draw(ROOT / "sketcher" / folder, asked.sample, asked.seed,
                  path.with_suffix(".sample.json"))

    def due() -> Iterator[Drawn]:
        began = time.monotonic()
        for mutant in sample.taken:
            entry = found.get(mutant.key)
            again = entry is None or (asked.survivors and entry["fate"] == "survived")
            if again and time.monotonic() - began < 60 * asked.minutes:
                yield mutant

    def report(mutant: Drawn, fate: str, why: str, seconds: float) -> None:
        entry = {"key": mutant.key, "place": mutant.place, "line": mutant.line,
                 "change": mutant.change, "fate": fate, "why": why, "seconds": round(seconds, 3)}
        with path.open("a", encoding="utf-8") as out:
            out.write(json.dumps(entry) + "\n")

    tests = [str(file) for pattern in TESTS[folder] for file in sorted(ROOT.glob(pattern))]
    trial = Trial(ROOT / "sketcher" / folder, due, report, path.with_suffix(".touch.json"),
                  not asked.quick, asked.most)
    with tempfile.TemporaryDirectory() as scratch:
        status = run_trial(trial, tests, Path(scratch) / "t")
    if status:
        sys.exit(f"{folder}: pytest ended with {status}")


def print_score(folder: str, asked: argparse.Namespace) -> None:
    """Print how many of a folder's sample died, what was set aside and what survived."""
    from tests.mutation.mutants import judged, read_draw

    path = place(folder, asked)
    sample = read_draw(path.with_suffix(".sample.json"))
    if sample is None:
        sys.exit(f"{folder}: nothing was tried yet")
    found = known(path)
    entries = [found[mutant.key] for mutant in sample.taken if mutant.key in found]
    fates = Counter(entry["fate"] for entry in entries)
    seconds = sum(entry["seconds"] for entry in entries)
    print(f"{folder}: {fates['killed']} of {len(entries)} killed = "
          f"{100 * fates['killed'] / max(len(entries), 1):.1f} % (seed {asked.seed}, of "
          f"{sample.whole} mutants; {len(sample.taken) - len(entries)} not tried; "
          f"{seconds:.0f} s)")
    for reason, count in Counter(reason for _, reason in sample.aside).most_common():
        print(f"    set aside {count}: {reason}")
    left = judged()["left"]
    for entry in entries:
        if entry["fate"] == "survived":
            reason = left.get((entry["place"], *entry["change"]))
            if reason or asked.show:
                before, after = entry["change"]
                print(f"    {entry['place']}:{entry['line']}\n        - {before}\n"
                      f"        + {after}\n        {reason or entry['why']}")


if __name__ == "__main__":
    sys.exit(main())
