"""``sketcher inspect``: measure everything and say what is wrong."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from sketcher.errors import SketcherError
from sketcher.terminal import (
    DONE,
    FINDINGS,
    PROCESSES,
    UNUSABLE,
    Command,
    add_changes,
    add_json,
    add_process,
    option_length,
    print_json,
    progress,
    say,
    solved,
)

if TYPE_CHECKING:
    from sketcher.inspect.inspection import Inspection

LESSON = """\
Solves the part and measures the whole of it, reflection and patterns included: every dimension
against its value and limits, every joint (tangent, corner, near-tangent, gap, overrun), tangencies
away from the ends, closed contours with exact area, centroid and second moments, the symmetry, and
what a laser or a plasma cutter would mind.

A residual is what is minus what should be. For a tangency it is a length: how far the line passes
from the circle, or by how much the distance of two centers differs from the sum or the difference
of the radii.

With several FILEs each is told by its name, one that cannot be read on standard error, and the exit
status is the worst. --json then lists them under "parts".

Exit status: 0 sound, 1 findings, 2 the file cannot be read. Findings are: bindings that cannot all
hold; something that can still move; a dimension off its value or outside its limits; a joint that
is nearly tangent; a gap, an overrun, an open end; outline that is stray, drawn twice, crosses
itself, or lies off the plate or inside a hole (detached), where it is neither counted nor cut.
Redundant bindings that agree are told, but are no finding; cutting advice is advice. What the
material forbids (PVC, a plastic of an unknown kind, plasma on what does not conduct) leaves the
part sound and keeps its cutting file back. Without a material there is no advice and no mass."""


def _options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("files", metavar="FILE", nargs="+",
                        help="a part, NAME.profile.json, or - for standard input; several are "
                             "told one after the other")
    add_changes(parser)
    add_json(parser, "everything", ", in the part's unit, at full precision")
    add_process(parser, "advise for this process alone; without it for each")
    parser.add_argument("--pierce-limit", metavar="LEN",
                        help="the thickest plate that your machine pierces: 10, '3/8 in'")


def _inspect(args: argparse.Namespace) -> int:
    if len(args.files) == 1:
        inspection = _inspected(args, args.files[0])
        if args.json:
            print_json("inspection", _entry(inspection))
        else:
            print(inspection.as_text(), end="")
        return DONE if inspection.sound else FINDINGS
    status, entries, told = DONE, [], False
    for file in args.files:
        try:
            inspection = _inspected(args, file)
        except SketcherError as error:
            # the others are inspected all the same
            status = say(error, UNUSABLE)
            entries.append({"file": file, "error": str(error)})
            continue
        status = max(status, DONE if inspection.sound else FINDINGS)
        if args.json:
            entries.append({"file": file, **_entry(inspection)})
            continue
        if told:
            print()
        print(file, inspection.as_text(), sep="\n", end="")
        told = True
    if args.json:
        print_json("inspections", {"parts": entries})
    return status


def _inspected(args: argparse.Namespace, file: str) -> Inspection:
    from sketcher.inspect.inspection import inspect_part

    processes = PROCESSES if args.process is None else (args.process,)
    solution = solved(file, args.changes)
    with progress("inspecting"):
        return inspect_part(solution.part, solution.report, processes,
                            option_length("pierce-limit", args.pierce_limit, solution.part.unit))


def _entry(inspection: Inspection) -> dict[str, object]:
    from sketcher.shop.hole_rows import holes_entry

    return inspection.as_dict() | {"holes": holes_entry(inspection.part)}


COMMAND = Command("inspect", "measure everything and say what is wrong", LESSON,
                  _options, _inspect, rank=1)
