"""``sketcher solve``: find the exact geometry, with other values if wished."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterator
from typing import TYPE_CHECKING

from sketcher.errors import EditError
from sketcher.terminal import (
    DONE,
    FINDINGS,
    STREAM,
    Command,
    add_changes,
    add_json,
    print_json,
    reasons,
    solved,
)

if TYPE_CHECKING:
    from sketcher.part.value import Part
    from sketcher.solve.solve_report import SolveReport

LESSON = """\
Finds the geometry that satisfies every binding, near where the sketch stands: sides and tangent
senses are kept. With --set a parameter or a dimension gets another value for this run, and the
geometry is walked there; values are expressions (12.5, 1 5/8 in, 25.4 mm, wall*2). A fraction
alone is an inch size: in a part in millimetres it needs its unit.

A side that the file does not store is taken from the sketch. Where the sketch could as well mean
another part, the binding is doubtful: both parts are told, --confirm says that this side is meant,
--flip the other one. What is saved keeps its doubts until then.

Nothing is saved without --out, and nothing when the bindings cannot all hold. A part or any
other file that is there is replaced only with --force; so is FILE itself.

--json prints the same as JSON: state, freedoms, doubts, residuals by binding, every point, and
where the part was saved.

Exit status: 0 solved, 1 the bindings cannot all hold or one is doubtful, 2 the file or a value
cannot be read."""


def _options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", metavar="FILE",
                        help="a part, NAME.profile.json, or - for standard input")
    add_changes(parser)
    parser.add_argument("--flip", metavar="ID", action="append", default=[], dest="others",
                        help="mean the other side of this binding; may be given more than once")
    parser.add_argument("--confirm", metavar="ID", action="append", default=[], dest="sure",
                        help="mean the side that this binding has, which the sketch left in doubt; "
                             "may be given more than once")
    parser.add_argument("--out", metavar="OUT.profile.json",
                        help="save the solved part there; - is standard output")
    add_json(parser, "what was found, and every point as solved,")
    parser.add_argument("--force", action="store_true",
                        help="replace what is there, even FILE itself")


def _solve(args: argparse.Namespace) -> int:
    from sketcher.exchange.outputs import PART, Outputs
    from sketcher.part.store import content

    outputs = Outputs(() if args.force or args.file == STREAM else (args.file,), args.force)
    place = None
    if args.out is not None:
        place = outputs.add("--out", args.out, PART)
    if args.json and outputs.stream is not None:
        raise EditError("--json", "goes to standard output, and so does the part",
                        "name a file with --out")
    solution = solved(args.file, args.changes, args.others, args.sure)
    part, report = solution.part, solution.report
    if place is not None and report.converged:
        outputs.put(place, content(part, place))
        outputs.write()
    if args.json:
        print_json("solution", _told(part, report, args.out if report.converged else None))
    else:
        # what goes to standard output stays alone there
        told = sys.stdout if outputs.stream is None else sys.stderr
        print(*_lines(part, report), sep="\n", file=told)
        if args.out and report.converged and outputs.stream is None:
            print(f"saved to {args.out}")
    if args.out and not report.converged:
        print("nothing was saved", file=sys.stderr)
    done = report.converged and not report.clashes and not part.doubts
    return DONE if done else FINDINGS


def _lines(part: Part, report: SolveReport) -> Iterator[str]:
    yield f"{part.name}: {_outcome(report)}"
    yield from (f"  {line}" for line in reasons(report))
    yield from (f"  doubtful: {line}" for line in _doubts(part))


def _told(part: Part, report: SolveReport, saved: str | None) -> dict[str, object]:
    from sketcher.inspect.doubtful import doubt_as_dict

    return {
        "name": part.name, "unit": part.unit, "solved": report.converged, "state": report.state,
        "steps": report.iterations, "freedoms": report.freedoms,
        "loose": [loose.point for loose in report.loose],
        "doubled": list(report.doubled), "clashes": [list(clash) for clash in report.clashes],
        "doubtful": [doubt_as_dict(part, doubt) for doubt in part.doubts],
        "residuals": dict(report.residuals),
        "points": {name: list(at) for name, at in part.points.items()}, "saved": saved,
    }


def _doubts(part: Part) -> Iterator[str]:
    from sketcher.inspect.doubtful import in_words

    for doubt in part.doubts:
        yield f"{in_words(part, doubt)}; --confirm or --flip {next(iter(doubt.sides))}"


def _outcome(report: SolveReport) -> str:
    if not report.converged:
        return "not solved; the geometry stays as it was"
    steps = f"{report.iterations} Newton step{'' if report.iterations == 1 else 's'}"
    worst = max((abs(off) for off in report.residuals.values()), default=0.0)
    return f"{report.state}, {len(report.residuals)} bindings hold to {worst:.1e} after {steps}"


COMMAND = Command("solve", "find the exact geometry", LESSON, _options, _solve, rank=2)
