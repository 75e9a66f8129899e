"""``python -m tests.damage``: every part spoiled in every way, taken in and judged; a table.

``--part WORD`` and ``--way WORD`` take those whose name holds it, ``--table FILE`` writes table and
faults as Markdown after each file, ``--keep FOLDER`` keeps what was written.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
from collections import Counter
from pathlib import Path

from tests.damage.judge_import import judged
from tests.damage.original import original, originals
from tests.damage.verdict import HEAD, Verdict, row, table
from tests.damage.ways import called, recipes


def main(argv: list[str]) -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.damage", description=__doc__,
                                     formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--part", default="")
    parser.add_argument("--way", default="")
    parser.add_argument("--only", action="store_true", help="the way by its whole name")
    parser.add_argument("--table", type=Path)
    parser.add_argument("--keep", type=Path)
    args = parser.parse_args(argv)
    folder = args.keep or Path(tempfile.mkdtemp(prefix="damage-"))
    folder.mkdir(parents=True, exist_ok=True)
    found: list[Verdict] = []
    print("| " + " | ".join(HEAD) + " |")
    for path in originals():
        if args.part not in path.name:
            continue
        for recipe in recipes():
            if args.way == called(recipe) if args.only else args.way in called(recipe):
                found.append(judged(original(path), recipe, folder))
                print("| " + " | ".join(row(found[-1])) + " |", flush=True)
                if args.table:
                    args.table.write_text(report(found), encoding="utf-8")
    print("\n".join(report(found).split("\n\n")[1:]))
    return 0 if not any(v.faults for v in found) else 1


def report(found: list[Verdict]) -> str:
    """Table, how often each rule was broken, every fault."""
    counts = Counter(rule for v in found for rule in v.rules)
    good = sum(not v.faults for v in found)
    lines = [table(found), "", f"{good} of {len(found)} files without a fault; files by rule: "
             + ", ".join(f"{rule} {number}" for rule, number in counts.most_common()), ""]
    for v in found:
        if v.faults:
            lines += [f"- {v.name}", *(f"  - {text}" for text in v.faults)]
    return "\n".join([*lines, ""])


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
