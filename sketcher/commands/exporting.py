"""``sketcher export``: write the cutting file, the drawing, the inspection record."""

from __future__ import annotations

import argparse
import os
from collections.abc import Collection, Iterable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from sketcher.errors import EditError, ExportError, FileError
from sketcher.terminal import DONE, FINDINGS, Command, progress, solved

if TYPE_CHECKING:
    from sketcher.inspect.findings import Finding
    from sketcher.inspect.report import Inspection
    from sketcher.solve.report import Solution

LESSON = """\
--cut writes a DXF for a laser or plasma cutter: closed contours only, with true arcs at real
coordinates, the inside contours on their own layer (INSIDE) and first in the file, units in the
header. No center lines, no text, no layout lines. Contours are polylines whose arcs are exact
bulges; --pieces writes single lines and arcs for controllers that want those. Sizes are nominal:
nothing is offset for the kerf, which the cutter's own program does, once.

A part with findings is not cut. --despite CODE accepts those of a code ('loose', 'near-tangent', as
'sketcher inspect' tells them), several with commas or by saying it again; every finding has to be
accepted. What no cutter can make is refused all the same: open ends, gaps, overruns, strays, what
has no length, is drawn twice or crosses, and bindings that do not hold. An outline off the plate or
inside a hole ('detached') is never cut nor drawn; with --despite detached the plate alone is
written, on the sheet too. Nothing is written when a part is refused.

--sheet writes the finished drawing with center lines, dimensions, frame and title block, by the
practice and on the paper that the part's file names; the ending chooses PDF, SVG, PNG or DXF.

--record writes the inspection record, a table of all dimensions with their limits and a column for
what is measured, as CSV or PDF. Fill the column in, and --measured reads it back: the next record
then says pass or fail for each.

Exit status: 0 written, 1 refused or a measured value outside its limits, 2 the file cannot be read
or written."""


def _options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", metavar="FILE", help="a part, NAME.profile.json")
    parser.add_argument("--cut", metavar="OUT.dxf", help="the cutting DXF to write")
    parser.add_argument("--sheet", metavar="OUT",
                        help="the drawing to write: OUT.pdf, OUT.svg, OUT.png or OUT.dxf")
    parser.add_argument("--record", metavar="OUT",
                        help="the inspection record to write: OUT.csv or OUT.pdf")
    parser.add_argument("--measured", metavar="IN.csv",
                        help="a record with its measured column filled in")
    parser.add_argument("--pieces", action="store_true",
                        help="single lines and arcs in place of polylines")
    parser.add_argument("--despite", metavar="CODE", action="append", default=[],
                        help="write although the part has findings of this code; may be given more "
                             "than once, or with commas")


def _export(args: argparse.Namespace) -> int:
    from sketcher.inspect.release import NOT_DRAWN, named_codes, release_sheet
    from sketcher.inspect.report import inspect_part

    if not (args.cut or args.sheet):
        raise EditError("export", "says nothing to write, see 'sketcher export --help'",
                        "add --cut OUT.dxf or --sheet OUT.pdf")
    despite = named_codes(args.despite)
    solution = solved(args.file)
    for target in filter(None, (args.cut, args.sheet)):
        if _same_file(args.file, target):
            raise FileError(target, "is the part's own file", "choose another name")
    with progress("inspecting"):
        inspection = inspect_part(solution.part, solution.report)
    if args.cut:
        for line in write_cutting(inspection, args.cut, args.pieces, despite):
            print(line)
    if args.sheet:
        release_sheet(inspection, despite)
        if not args.cut:
            for line in _minded(f for f in inspection.findings if f.code in NOT_DRAWN):
                print(line)
    return _paper(solution, args) if args.sheet or args.record else DONE


def _paper(solution: Solution, args: argparse.Namespace) -> int:
    """Write drawing and record; a part whose bindings cannot all hold is refused."""
    from sketcher.exchange.measured_file import read_measured
    from sketcher.exchange.record_file import write_record
    from sketcher.exchange.sheet_file import write_sheet

    part = solution.part
    if not solution.report.converged:
        raise ExportError(solution.part.name, "the bindings cannot all hold",
                          "see which with 'sketcher inspect'")
    measured = read_measured(part, args.measured) if args.measured else None
    if args.sheet:
        for written in write_sheet(part, args.sheet, measured):
            print(f"wrote {written}")
    if args.record:
        failed = write_record(part, args.record, measured)
        print(f"wrote {args.record}")
        for name in failed:
            print(f"{name}: outside its limits")
        return FINDINGS if failed else DONE
    return DONE


def _minded(findings: Iterable[Finding]) -> Iterator[str]:
    for finding in findings:
        yield f"  mind: {finding.code}: {finding.text}"


def _same_file(one: str, two: str) -> bool:
    return os.path.exists(two) and os.path.samefile(one, two)


def write_cutting(
    inspection: Inspection, path: str | Path, pieces: bool = False, despite: Collection[str] = ()
) -> Iterator[str]:
    """Write the cutting file; yield what was written and the cautions that go with it."""
    from sketcher.exchange.dxf_cut import CAUTIONS, write_cut
    from sketcher.inspect.words import length

    unit = inspection.part.unit
    with progress("exporting"):
        written = write_cut(inspection, path, pieces, despite)
    yield (f"{path}: {written.outside} outside and {written.inside} inside contours, "
           f"{length(written.length, unit)} of cut, unit {unit}")
    yield from _minded(inspection.findings)
    for caution in CAUTIONS:
        yield f"  caution: {caution}"


COMMAND = Command("export", "write the cutting DXF or the sheet", LESSON, _options, _export, rank=4)
