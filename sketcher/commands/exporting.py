"""``sketcher export``: write the cutting file, the drawing, the inspection record."""

from __future__ import annotations

import argparse
from collections.abc import Collection, Iterable, Iterator
from dataclasses import replace
from typing import TYPE_CHECKING

from sketcher.commands.deliverables import deliverables
from sketcher.errors import EditError, ExportError, SketcherError
from sketcher.terminal import DONE, FINDINGS, Command, ExportWork, progress, solved

if TYPE_CHECKING:
    from sketcher.exchange.outputs import Outputs
    from sketcher.inspect.findings import Finding
    from sketcher.inspect.inspection import Inspection
    from sketcher.part.value import Part

LESSON = """\
--cut exports a DXF for a laser or plasma cutter: closed contours only, with true arcs at real
coordinates, the inside contours on their own layer (INSIDE) and first in the file, units in the
header. No center lines, no text, no layout lines. Contours are polylines whose arcs are exact
bulges; --pieces exports single lines and arcs for controllers that want those. --form r12 is for
the simplest controllers: it has no unit in its header, so put it in the name, plate-mm.dxf. Sizes
are nominal, and the cutter's own program offsets for the kerf, once. Where it does not, --kerf LEN
does: outside contours grow and inside ones shrink by half of it; the layers and a comment name it,
and a file or a part that carries a kerf is never offset again. 'sketcher coupon' makes a test piece
to measure it by.

A part with findings is neither cut nor drawn. --despite CODE accepts those of a code ('loose',
'near-tangent', as 'sketcher inspect' tells them), several with commas or by saying it again; every
finding has to be accepted. What no cutter can make is never cut all the same: open ends, gaps,
overruns, strays, what has no length, is drawn twice or crosses, and bindings that do not hold. A
sheet made despite findings is stamped across with their codes, and prints what the part measures
wherever it does not have a value; a reference that differs ('reference-differs') alone needs no
stamp. An outline off the plate or inside a hole ('detached') is left out of both. A sheet is read
back before it leaves: where a size, a place or a direction stands nowhere on it, that is named, and
the sheet is not exported unless it is accepted ('unbuildable'). Nothing is exported when a part is
refused.

--sheet exports the finished drawing with center lines, dimensions, frame and title block; the
ending chooses PDF, SVG, PNG or DXF. Standard, paper, scale, lettering, table of holes and further
pages are those that the part's file names. The options below say otherwise for this run, for the
record too: by the standard go the general tolerances, the limits of what is measured. With several
FILEs --sheet OUT.pdf holds the drawings of all of them, with a bookmark for each page; a part that
is refused keeps all from being written.

--process names what cuts the part: holes that it does not cut well (small, threaded, or with a
closer tolerance than it holds) get a punch mark in the cutting file, and the sheet of the same run
calls them out to be drilled. --small-holes cut cuts them all the same, leave leaves them out.

--holes exports the list of holes as CSV, in the order in which they are drilled, for a mill with an
axis readout, a drill press or a scriber: X and Y from --zero along --along, size, both ends of
slots, bolt circles.

--record exports the inspection record, a table of all dimensions with their limits and a column for
what is measured, as CSV or PDF. Fill the column in, and --measured reads it back: the next record
then says pass or fail for each.

--template exports the outline at full size with center lines, punch crosses and the letters of the
holes, as a PDF of sheets that are laid together at their register marks: --paper A4 (for a part in
inches: letter), or a larger one. Every sheet has a bar of 100 mm and of 4 in each way. Print it at
100 % and measure the bars before anything is marked out. Nothing is added for the kerf: the middle
of a line is the edge. --mirrored turns it over, for scribing on the back.

--measured goes into the record, and into the sheet of a part whose drawing has an inspection page.

Everything is looked at before anything is exported. An output replaces an earlier one of its kind.
A part, another kind of file, a file of another program, and a record with measured values that
would be lost are left alone unless --force is given; FILE itself, a folder, a device and another
output of the same run always.

Exit status: 0 exported, 1 refused or a measured value outside its limits, 2 the file cannot be
read or replaced."""


def _options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("files", metavar="FILE", nargs="+",
                        help="a part, NAME.profile.json; several for one PDF of all their drawings")
    for output in deliverables():
        parser.add_argument(f"--{output.option}", metavar=output.metavar, help=output.help)
        output.options(parser)
    parser.add_argument("--sheet", metavar="OUT",
                        help="the drawing to export: OUT.pdf, OUT.svg, OUT.png or OUT.dxf")
    drawing = parser.add_argument_group("the drawing, for this run")
    drawing.add_argument("--standard", type=str.upper, choices=("ISO", "ASME"),
                         help="by which the sheet is drawn: iso or asme")
    drawing.add_argument("--paper", metavar="NAME",
                         help="auto, an ISO sheet (A4, 'A4 lying', A3, ... A0) or an ASME one (A, "
                              "'A upright', B, ... E)")
    drawing.add_argument("--scale", metavar="SCALE",
                         help="auto, or paper to part: 1:1, 1:2, 5:1")
    drawing.add_argument("--lettering", metavar="MM", type=float,
                         help="height of all lettering on paper, 3 mm (0.12 in) or more")
    drawing.add_argument("--zero", metavar="POINT|EDGE,EDGE",
                         help="from where holes are measured: a point, a hole, or the corner where "
                              "two edges meet; auto is a corner")
    drawing.add_argument("--along", metavar="EDGE|POINT,POINT",
                         help="which way their X runs: along an edge or from place to place; level")
    for name, words in PAGES.items():
        drawing.add_argument(f"--{name}", action=argparse.BooleanOptionalAction, help=words)
    parser.add_argument("--record", metavar="OUT",
                        help="the inspection record to export: OUT.csv or OUT.pdf")
    parser.add_argument("--measured", metavar="IN.csv",
                        help="a record with its measured column filled in")
    parser.add_argument("--despite", metavar="CODE", action="append", default=[],
                        help="export although the part has findings of this code; may be given "
                             "more than once, or with commas")
    parser.add_argument("--force", action="store_true",
                        help="replace what is there, even a part or another kind of file")


PAGES = {"hole-table": "a table of holes on the sheet, or none",
         "record-page": "a further page with the inspection record, or none",
         "order-page": "a further page with the construction order, or none"}
SETTINGS = {"standard": "practice", "paper": "sheet", "scale": "scale", "lettering": "lettering",
            "hole_table": "hole_table", "record_page": "inspection_page",
            "order_page": "order_page", "zero": "table_zero", "along": "table_along"}
"""Options by what they set of a `Drawing`."""
OF_HOLES = ("zero", "along")
"""Those of them that the list of holes goes by too."""


def _export(args: argparse.Namespace) -> int:
    from sketcher.inspect.inspection import inspect_part
    from sketcher.inspect.release import named_codes

    outputs = _planned(args)
    despite = named_codes(args.despite)
    if len(args.files) > 1:
        return _several(args, despite, outputs)
    solution = solved(args.files[0])
    solution = replace(solution, part=drawn_as(solution.part, args))
    measured = _measured(solution.part, args)
    with progress("inspecting"):
        inspection = inspect_part(solution.part, solution.report)
    told: list[str] = []
    for output in deliverables():
        place = getattr(args, output.option)
        if place is not None:
            told += output.make(ExportWork(args, inspection, despite, place, outputs.put))
    failed = (_paper(inspection, args, despite, measured, outputs, told)
              if args.sheet or args.record else [])
    outputs.write()
    for line in told:
        print(line)
    return FINDINGS if failed else DONE


def _planned(args: argparse.Namespace) -> Outputs:
    """Plan the outputs; one that could not be written, or must not, is told before the work."""
    from sketcher.exchange.outputs import DRAWING, Outputs, record_with

    wanted = (*((f"--{one.option}", getattr(args, one.option), one.form())
                for one in deliverables()),
              ("--sheet", args.sheet, DRAWING),
              ("--record", args.record, record_with(args.measured, args.record)))
    if all(name is None for _, name, _ in wanted):
        raise EditError("export", "says nothing to export, see 'sketcher export --help'",
                        "add --cut OUT.dxf, --sheet OUT.pdf or --record OUT.csv")
    if args.measured is not None and args.record is None and args.sheet is None:
        raise EditError("--measured", "has nothing to go into", "add --record OUT.csv")
    given = [option for option in _given_for_drawing(args)
             if args.holes is None or option not in OF_HOLES]
    if given and args.sheet is None and args.record is None:
        raise EditError(f"--{given[0].replace('_', '-')}", "is about a drawing, and none is asked",
                        "add --sheet OUT.pdf")
    if len(args.files) > 1:
        _refuse_for_several(args)
    _refuse_options_alone(args)
    outputs = Outputs(tuple(args.files), args.force)
    for option, name, form in wanted:
        if name is not None:
            outputs.add(option, name, form)
    return outputs


def _given_for_drawing(args: argparse.Namespace) -> list[str]:
    """Return the options of the drawing that are given; paper may be for a template alone."""
    elsewhere = {"paper"} if args.template and not (args.sheet or args.record) else set()
    return [option for option in SETTINGS
            if option not in elsewhere and getattr(args, option) is not None]


def _refuse_options_alone(args: argparse.Namespace) -> None:
    """Tell the option that is about outputs none of which is asked for."""
    used = {name for output in deliverables() if getattr(args, output.option) is not None
            for name in output.goes_with}
    for output in deliverables():
        given = [name for name in output.goes_with if name not in used and getattr(args, name)]
        if given:
            raise EditError(f"--{given[0].replace('_', '-')}",
                            f"is about --{output.option}, and none is asked",
                            f"add --{output.option} {output.metavar}")


def _refuse_for_several(args: argparse.Namespace) -> None:
    """Tell the option that is about one part alone."""
    for option in (*(output.option for output in deliverables()), "record", "measured"):
        if getattr(args, option):
            raise EditError(f"--{option}", "is for one part at a time",
                            "export the parts one by one")


def _several(args: argparse.Namespace, despite: Collection[str], outputs: Outputs) -> int:
    """Draw several parts into one PDF; a part that is refused keeps all of it from being written.

    A sheet that lacks one of its parts would look whole.
    """
    from sketcher.drafting.center_findings import center_findings
    from sketcher.drafting.sheet import pages
    from sketcher.exchange.sheet_file import lacks_of, write_sheets
    from sketcher.inspect.inspection import inspect_part
    from sketcher.inspect.release import UNBUILDABLE, release_made, release_sheet, stamp_codes

    drawings, told = [], []
    for file in args.files:
        solution = solved(file)
        part = drawn_as(solution.part, args)
        inspection = inspect_part(part, solution.report)
        on_paper = center_findings(part)
        release_sheet(inspection, despite, on_paper)
        told += [f"{part.name}:{line}" for line in _minded((*inspection.findings, *on_paper))]
        stamp = stamp_codes(inspection)
        with progress(f"drawing {part.name}"):
            drawings.append(pages(part, None, stamp))
            lacks = lacks_of(part, drawings[-1][0], stamp)
        release_made(part.name, lacks, despite)
        told += [f"{part.name}:  mind: {UNBUILDABLE}: {lack}" for lack in lacks]
        told += [f"{part.name}:  mind: stamped: {', '.join(stamp)}"] if stamp else []
    sheet = write_sheets(drawings, args.sheet, outputs.put)
    outputs.write()
    for line in (*(f"wrote {file}" for file in sheet.files), *told):
        print(line)
    if sheet.caution:
        print(f"  mind: {sheet.caution}")
    return DONE


def drawn_as(part: Part, args: argparse.Namespace) -> Part:
    """Return the part with the drawing that the options ask for.

    A sheet that the file names goes back to fit where another standard is asked for.

    Raises
    ------
    SketcherError
        For a sheet, a scale or a height of lettering that there is not.
    """
    from sketcher.drafting.paper_scale import scale_value
    from sketcher.drafting.paper_sizes import checked_lettering, sheet_named, sheet_names

    changes = {SETTINGS[option]: getattr(args, option) for option in _given_for_drawing(args)}
    if args.sheet and args.record:
        changes["balloons"] = True
    if args.process:  # sheet and cutting file of one run say the same of the holes to be drilled
        changes["cut_by"] = "" if args.small_holes == "cut" else args.process
    if not changes:
        return part
    for field in ("sheet", "scale"):
        if str(changes.get(field, "")).lower() == "auto":
            changes[field] = "auto"
    practice = changes.get("practice", part.drawing.practice)
    if changes.get("sheet", "auto") != "auto":
        changes["sheet"] = sheet_named(changes["sheet"], practice, "--paper").name
    elif part.drawing.sheet not in ("auto", *sheet_names(practice)):
        changes["sheet"] = "auto"
    if changes.get("scale", "auto") != "auto":
        scale_value(changes["scale"], "--scale")
    if "lettering" in changes:
        checked_lettering(changes["lettering"], "--lettering")
    part = part.having(drawing=replace(part.drawing, **changes))
    if args.zero or args.along:
        from sketcher.drafting.holes import drawn_axes

        try:
            drawn_axes(part)
        except SketcherError as error:
            place = error.place.replace("drawing.table_", "--")
            raise EditError(place, error.problem, error.remedy) from None
    return part


def _measured(part: Part, args: argparse.Namespace) -> dict[str, float] | None:
    from sketcher.exchange.measured_file import read_measured

    if args.measured is None:
        return None
    if args.record is None and not part.drawing.inspection_page:
        raise EditError("--measured", "the drawing of this part has no inspection page",
                        "add --record OUT.csv")
    return read_measured(part, args.measured)


def _paper(
    inspection: Inspection, args: argparse.Namespace, despite: Collection[str],
    measured: dict[str, float] | None, outputs: Outputs, told: list[str],
) -> list[str]:
    """Draw sheet and record; return the dimensions measured outside their limits."""
    from sketcher.drafting.center_findings import center_findings
    from sketcher.drafting.record import FAIL, record
    from sketcher.exchange.record_file import write_record
    from sketcher.exchange.sheet_file import write_sheet
    from sketcher.inspect.release import UNBUILDABLE, release_made, release_sheet, stamp_codes

    part, stamp = inspection.part, stamp_codes(inspection)
    if args.sheet:
        on_paper = center_findings(part)
        release_sheet(inspection, despite, on_paper)
        told += _minded(on_paper if args.cut else (*inspection.findings, *on_paper))
    if args.record and not inspection.report.converged:
        raise ExportError(part.name, "the bindings cannot all hold",
                          "see which with 'sketcher inspect'")
    if args.sheet:
        with progress("drawing"):
            sheet = write_sheet(part, args.sheet, measured, stamp, True, outputs.put)
        release_made(part.name, sheet.lacks, despite)
        told += [f"wrote {file}" for file in sheet.files]
        told += [f"  mind: {sheet.caution}"] if sheet.caution else []
        told += [f"  mind: {UNBUILDABLE}: {lack}" for lack in sheet.lacks]
        told += [f"  mind: stamped: {', '.join(stamp)}"] if stamp else []
    if args.record:
        write_record(part, args.record, measured, stamp, outputs.put)
        told.append(f"wrote {args.record}")
    failed = [row.id for row in record(part, measured) if row.verdict == FAIL]
    told += [f"{name}: outside its limits" for name in failed]
    return failed


def _minded(findings: Iterable[Finding]) -> Iterator[str]:
    for finding in findings:
        yield f"  mind: {finding.code}: {finding.text}"


COMMAND = Command("export", "export the cutting DXF or the sheet", LESSON, _options, _export,
                  rank=4)
