"""``python -m tests.sheet_marks [FOLDER ...]``: a table of marks for every part, ISO and ASME.

The demo parts are always marked; each FOLDER holds more parts. ``--out FOLDER`` keeps the written
files, ``--only WORD`` takes parts whose name holds it, ``--report FILE`` writes table and faults as
Markdown.
"""

from __future__ import annotations

import argparse
import signal
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path

from sketcher.shipped import shipped
from tests.sheet_marks.deductions import points_lost
from tests.sheet_marks.written_files import Marked, marked

PRACTICES = ("ISO", "ASME")
MOST = 12  # faults of one rule that are told for one sheet


def main(argv: list[str]) -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.sheet_marks", description=__doc__,
                                     formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("folders", nargs="*", type=Path)
    parser.add_argument("--out", type=Path)
    parser.add_argument("--only", default="")
    parser.add_argument("--report", type=Path)
    parser.add_argument("--hole-table", action="store_true")
    parser.add_argument("--seconds", type=int, default=120, help="most for one sheet")
    args = parser.parse_args(argv)
    folder = args.out or Path(tempfile.mkdtemp(prefix="sheets-"))
    folder.mkdir(parents=True, exist_ok=True)
    files = [p for place in (Path(str(shipped("demo_parts", ""))), *args.folders)
             for p in sorted(place.glob("*.profile.json")) if args.only in p.name]
    more = {"hole_table": True} if args.hole_table else {}
    found = []
    for path in files:
        for practice in PRACTICES:
            began = time.monotonic()
            found.append(in_time(path, practice, folder, args.seconds, more))
            print(f"{path.name} {practice}: {found[-1].refused or found[-1].points} "
                  f"({time.monotonic() - began:.1f} s)", file=sys.stderr, flush=True)
            if args.report:
                args.report.write_text(report(found), encoding="utf-8")
    text = report(found)
    print(text if not args.report else table(found))
    return 0 if all(m.points == 100 and not m.refused for m in found) else 1


def shortened(found: Marked) -> list[str]:
    """Faults in words, at most `MOST` of a rule."""
    told: Counter[str] = Counter()
    lines = []
    for fault in found.faults:
        told[fault.rule] += 1
        if told[fault.rule] <= MOST:
            lines.append(f"- {fault}")
    return lines + [f"- {rule}: {n - MOST} more" for rule, n in told.items() if n > MOST]


def in_time(path: Path, practice: str, folder: Path, seconds: int, more: dict[str, bool]) -> Marked:
    """Mark one sheet, or say that it was not done in time."""
    def ring(*_: object) -> None:
        raise TimeoutError

    signal.signal(signal.SIGALRM, ring)
    signal.alarm(seconds)
    try:
        return marked(path, practice, folder, **more)
    except TimeoutError:
        return Marked(path.name.removesuffix(".profile.json"), practice,
                      refused=f"not done in {seconds} s")
    finally:
        signal.alarm(0)


def table(found: list[Marked]) -> str:
    """One line a part, marks by both practices."""
    rows = ["| part | ISO | ASME | sheets |", "| --- | --- | --- | --- |"]
    for name in dict.fromkeys(m.part for m in found):
        some = {m.practice: m for m in found if m.part == name}
        cells = ["refused" if m.refused else str(m.points) for m in some.values()]
        rows.append(f"| {name} | {' | '.join(cells)} | "
                    f"{'; '.join(m.about or m.refused[:60] for m in some.values())} |")
    return "\n".join(rows)


def report(found: list[Marked]) -> str:
    """The table, how often each rule, and every fault with its place."""
    counts = Counter(f.rule for m in found for f in m.faults)
    lines = [table(found), "", "Faults by rule: " + ", ".join(
        f"{rule} {n}" for rule, n in counts.most_common()), ""]
    for m in found:
        lost = ", ".join(f"{rule} -{n}" for rule, n in points_lost(m.faults).items())
        lines.append(f"## {m.part} {m.practice}: {m.refused or m.points} ({m.about}) {lost}")
        lines += shortened(m)
    return "\n".join([*lines, ""])


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
