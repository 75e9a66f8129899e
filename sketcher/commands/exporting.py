"""``sketcher export``: all that leaves the program by files, made of one part or of several."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Collection, Iterator
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import TYPE_CHECKING

from sketcher.commands.deliverables import deliverables
from sketcher.commands.paper.asked_drawing import (
    SETTINGS,
    add_drawing_options,
    drawn_as,
    given_for_drawing,
)
from sketcher.commands.paper.sheets_and_records import (
    SheetsTogether,
    measured_values,
    outside_limits,
    record_output,
    sheet_output,
)
from sketcher.errors import EditError, FileError
from sketcher.terminal import (
    DONE,
    FINDINGS,
    STREAM,
    Command,
    ExportWork,
    add_changes,
    add_json,
    print_json,
    progress,
    solved,
)

if TYPE_CHECKING:
    from sketcher.exchange.outputs import Form, Outputs
    from sketcher.inspect.inspection import Inspection

LESSON = """\
--cut exports a DXF for a laser or plasma cutter: closed contours only, with true arcs at real
coordinates, the inside contours on their own layer (INSIDE) and first in the file, units in the
header. No center lines, no text, no layout lines. Contours are polylines whose arcs are exact
bulges; --pieces exports single lines and arcs for controllers that want those. --form r12 is for
the simplest controllers: it has no unit in its header, so put it in the name, plate-mm.dxf.

Sizes are nominal, and the cutter's own program offsets for the kerf, once. Where it does not,
--kerf LEN does: outside contours grow and inside ones shrink by half of it; the layers and a
comment name it, and a file or a part that carries a kerf is never offset again. 'sketcher coupon'
makes a test piece to measure it by. --lead puts lead-ins on a layer of their own (LEAD), which meet
their contours end to end; --tabs leaves gaps in the outside contours.

--process names what cuts the part: holes that it does not cut well (small, threaded, or with a
closer tolerance than it holds) get a punch mark in the cutting file (MARK), the first in it, and
the sheet of the same run calls them out to be drilled. --small-holes cut cuts them all the same,
leave leaves them out.

--plate lays --copies of the part out in rows; the inside contours of each are cut before its
outside one.

--holes exports the list of holes as CSV, in the order in which they are drilled, for a mill with an
axis readout, a drill press or a scriber: X and Y from --zero along --along, size, both ends of
slots, bolt circles.

--template exports the outline at full size with center lines, punch crosses and the letters of the
holes, as a PDF of sheets that are laid together at their register marks: --paper A4 (for a part in
inches: letter), or a larger one. Every sheet has a bar of 100 mm and of 4 in each way. Print it at
100 % and measure the bars before anything is marked out. Nothing is added for the kerf: the middle
of a line is the edge. --mirrored turns it over, for scribing on the back.

--estimate exports what the same options of the cut take: length of cut, pierces, rapid travel, mass
and blank; times and prices only by --rates of your own.

--sheet exports the finished drawing with center lines, dimensions, frame and title block; the
ending chooses PDF, SVG, PNG or DXF. Standard, paper, scale, lettering, table of holes and further
pages are those that the part's file names. The options of the drawing say otherwise for this run,
for the record too: by the standard go the general tolerances, the limits of what is measured. With
several FILEs --sheet OUT.pdf holds the drawings of all of them, with a bookmark for each page; a
part that is refused keeps all from being written.

--record exports the inspection record, a table of all dimensions with their limits and a column for
what is measured, as CSV or PDF. Fill the column in, and --measured reads it back: the next record
then says pass or fail for each, and so does the sheet of a part whose drawing has an inspection
page.

A part with findings is neither cut nor drawn. --despite CODE accepts those of a code ('loose',
'near-tangent', as 'sketcher inspect' tells them), several with commas or by saying it again; every
finding has to be accepted. What no cutter can make is never cut all the same: open ends, gaps,
overruns, strays, what has no length, is drawn twice or crosses, and bindings that do not hold; nor
is what gives off poison when it is burnt. A sheet made despite findings is stamped across with
their codes, and prints what the part measures wherever it does not have a value; a reference that
differs ('reference-differs') alone needs no stamp. An outline off the plate or inside a hole
('detached') is left out of both. A sheet is read back before it leaves: where a size, a place or a
direction stands nowhere on it, that is named, and the sheet is not exported unless it is accepted
('unbuildable'). Nothing is exported when a part is refused.

With several FILEs an output that holds one part is a folder, --cut cuts/: each goes there by the
name of its FILE. --set gives a parameter or a dimension another value for this run. A FILE named -
is read from standard input; one output that is text may go to standard output (--cut -, --holes -,
--estimate -, --record -, or a sheet of one page as SVG), and all that is told goes to standard
error then.

Everything is looked at before anything is exported. An output replaces an earlier one of its kind.
A part, another kind of file, a file of another program, and a record with measured values that
would be lost are left alone unless --force is given; FILE itself, a folder, a device and another
output of the same run always.

--json prints what was exported as JSON: of each part its name, unit, the lines that are told and
what each output holds (of a cut its contours, cut length, pierces, rapid travel), and all files
under "wrote".

LEN is a length in the part's unit or with a unit of its own: 6, 1/4in, 1.5mm.

Exit status: 0 exported, 1 refused or a measured value outside its limits, 2 the file cannot be
read or replaced, or an option cannot be used."""


def _options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("files", metavar="FILE", nargs="+",
                        help="a part, NAME.profile.json, or - for standard input; several for one "
                             "PDF of all their drawings, or for folders")
    for output in deliverables():
        group = parser.add_argument_group(output.title)
        group.add_argument(f"--{output.option}", metavar=output.metavar, help=output.help)
        output.options(parser, group)
    add_drawing_options(parser)
    record = parser.add_argument_group("the inspection record")
    record.add_argument("--record", metavar="OUT",
                        help="the inspection record to export: OUT.csv or OUT.pdf")
    record.add_argument("--measured", metavar="IN.csv",
                        help="a record with its measured column filled in")
    add_changes(parser)
    parser.add_argument("--despite", metavar="CODE", action="append", default=[],
                        help="export although the part has findings of this code; may be given "
                             "more than once, or with commas")
    parser.add_argument("--force", action="store_true",
                        help="replace what is there, even a part or another kind of file")
    add_json(parser, "what was exported")


@dataclass(slots=True)
class _Exported:
    """What came of one part: the lines that are told, and the facts of each output."""

    file: str
    inspection: Inspection
    told: list[str] = field(default_factory=list)
    facts: dict[str, object] = field(default_factory=dict)
    outside: list[str] = field(default_factory=list)

    def as_dict(self) -> dict[str, object]:
        """Return the entry of ``--json``."""
        part = self.inspection.part
        return {"file": self.file, "name": part.name, "unit": part.unit,
                "findings": [finding.code for finding in self.inspection.findings],
                **self.facts, "outside limits": self.outside,
                "told": [line.strip() for line in self.told]}


def _export(args: argparse.Namespace) -> int:
    from sketcher.inspect.release import named_codes

    plan = _planned(args)
    despite = named_codes(args.despite)
    together = SheetsTogether() if len(args.files) > 1 else None
    done = [_one(args, file, despite, plan, together) for file in args.files]
    last = ([] if together is None or not args.sheet
            else list(together.write(args.sheet, plan.outputs.put)))
    wrote = plan.outputs.write()
    if args.json:
        print_json("export", {"parts": [one.as_dict() for one in done],
                              "wrote": [str(path) for path in wrote]})
    else:
        # what goes to standard output stays alone there
        streamed = plan.outputs.stream
        for one in done:
            name = f"{one.inspection.part.name}: " if together is not None else ""
            for line in one.told:
                if streamed is None:
                    print(f"{name}{line}")
                else:
                    print(line.replace(str(streamed), "standard output"), file=sys.stderr)
        for line in last:
            print(line)
    return FINDINGS if any(one.outside for one in done) else DONE


def _one(
    args: argparse.Namespace, file: str, despite: Collection[str], plan: _Planned,
    together: SheetsTogether | None,
) -> _Exported:
    """Make the outputs of one part."""
    from sketcher.inspect.inspection import inspect_part

    solution = solved(file, args.changes)
    solution = replace(solution, part=drawn_as(solution.part, args))
    with progress("inspecting"):
        inspection = inspect_part(solution.part, solution.report)
    done = _Exported(file, inspection)
    shared: dict[str, object] = {}

    def work(option: str) -> ExportWork:
        facts: dict[str, object] = {}
        done.facts[option] = facts
        return ExportWork(args, inspection, despite, str(plan.places[file, option]),
                          plan.outputs.put, facts, shared)

    for output in deliverables():
        if getattr(args, output.option) is not None:
            done.told += output.make(work(output.option))
    if args.sheet and together is not None:
        done.told += together.add(ExportWork(args, inspection, despite, "", plan.outputs.put))
    if args.record or (args.sheet and together is None):
        done.told += _paper(args, work, together is None, done)
    return done


def _paper(
    args: argparse.Namespace, work: Callable[[str], ExportWork], alone: bool, done: _Exported
) -> Iterator[str]:
    any_work = work("record" if args.record else "sheet")
    measured = measured_values(any_work)
    if args.sheet and alone:
        yield from sheet_output(work("sheet"), measured)
    if args.record:
        yield from record_output(any_work, measured)
    done.outside += outside_limits(any_work, measured)
    yield from (f"{name}: outside its limits" for name in done.outside)


@dataclass(frozen=True, slots=True)
class _Planned:
    """Where each output goes, by file and option; all of them looked at."""

    outputs: Outputs
    places: dict[tuple[str, str], Path]


def _planned(args: argparse.Namespace) -> _Planned:
    """Plan the outputs; one that could not be written, or must not, is told before the work."""
    from sketcher.exchange.outputs import DRAWING, Outputs, record_with

    wanted = (*((one.option, getattr(args, one.option), one.form()) for one in deliverables()),
              ("sheet", args.sheet, DRAWING),
              ("record", args.record, record_with(args.measured, args.record)))
    if all(name is None for _, name, _ in wanted):
        raise EditError("export", "says nothing to export, see 'sketcher export --help'",
                        "add --cut OUT.dxf, --sheet OUT.pdf or another output")
    if args.measured is not None and args.record is None and args.sheet is None:
        raise EditError("--measured", "has nothing to go into", "add --record OUT.csv")
    if args.measured is not None and len(args.files) > 1:
        raise EditError("--measured", "is for one part at a time", "export the parts one by one")
    if args.files.count(STREAM) > 1 or len(set(args.files)) < len(args.files):
        raise EditError("export", "names a FILE twice", "name each once")
    _refuse_options_alone(args)
    outputs = Outputs([file for file in args.files if file != STREAM], args.force)
    if args.json and any(name == STREAM for _, name, _ in wanted):
        raise EditError("--json", "goes to standard output, and so does an output",
                        "name a file for the output")
    return _Planned(outputs, dict(_places(args, wanted, outputs)))


def _places(
    args: argparse.Namespace, wanted: tuple[tuple[str, str | None, Form], ...], outputs: Outputs
) -> Iterator[tuple[tuple[str, str], Path]]:
    """Look at every place; with several files each output that holds one part is a folder."""
    for option, name, form in wanted:
        if name is None:
            continue
        if len(args.files) > 1 and option == "sheet" and not name.lower().endswith(".pdf"):
            raise FileError(f"--sheet {name}", "holds the drawing of one part alone",
                            "name a PDF for the drawings of several: --sheet OUT.pdf")
        if len(args.files) == 1 or option == "sheet":
            place = outputs.add(f"--{option}", name, form)
            yield from (((file, option), place) for file in args.files)
            continue
        if not (name.endswith(("/", "\\")) or Path(name).is_dir()):
            raise FileError(f"--{option} {name}", "is one file for several parts",
                            f"name a folder that is there, or end it with /: --{option} out/")
        for file in args.files:
            yield (file, option), _in_folder(name, file, option, form, outputs)


def _in_folder(name: str, file: str, option: str, form: Form, outputs: Outputs) -> Path:
    """Plan NAME.dxf for a cut, NAME.holes.csv for any other output of NAME.profile.json."""
    from sketcher.exchange.outputs import made_folder
    from sketcher.part.store import SUFFIX

    folder = made_folder(f"--{option}", name)
    stem = "part" if file == STREAM else Path(file).name.removesuffix(SUFFIX)
    middle = "" if option == "cut" else f".{option}"
    return outputs.add(f"--{option}", folder / f"{stem}{middle}{form.suffixes[0]}", form)


def _refuse_options_alone(args: argparse.Namespace) -> None:
    """Tell the option that is about outputs none of which is asked for."""
    used = {name for output in deliverables() if getattr(args, output.option) is not None
            for name in output.goes_with}
    drawn = args.sheet is not None or args.record is not None
    idle = [] if drawn else [name for name in given_for_drawing(args) if name not in used]
    if idle:
        raise EditError(_dashed(idle[0]), "is about a drawing, and none is asked",
                        "add --sheet OUT.pdf")
    for output in deliverables():
        idle = [name for name in output.goes_with if name not in (*used, *SETTINGS)
                and getattr(args, name) not in (None, False)]
        if idle:
            raise EditError(_dashed(idle[0]), f"is about --{output.option}, and none is asked",
                            f"add --{output.option} {output.metavar}")


def _dashed(option: str) -> str:
    """An option as it is typed."""
    return f"--{option.replace('_', '-')}"


COMMAND = Command("export", "export the cutting DXF, holes, a template or the sheet", LESSON,
                  _options, _export, rank=4)
