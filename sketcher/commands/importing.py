"""``sketcher import``: bound parts out of somebody else's DXF."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from sketcher.errors import EditError, FileError
from sketcher.terminal import (
    DONE,
    FINDINGS,
    STREAM,
    Command,
    add_json,
    option_length,
    print_json,
    progress,
)

if TYPE_CHECKING:
    from sketcher.exchange.dxf_content import DxfContent
    from sketcher.exchange.outputs import Outputs
    from sketcher.intake.taken import Taken
    from sketcher.intake.wishes import Wishes

LESSON = """\
Reads the outlines of a DXF, repairs what is broken, finds arcs, symmetry, hole patterns and round
figures, and writes parts with bindings: what the paper would have said. A file with several
outlines becomes several parts, NAME-1.profile.json and so on, by falling area.

The report names each repair, for instance gap-4-7 (between the fourth and the seventh entity).
--keep leaves those that are named as they are drawn, or all of a kind: speck, double, overlap,
seam, gap, chords, curve, tangent, turned. What cannot be decided alone is asked: the report names
the option that answers it, and goes on with the likeliest answer.

LEN is a length as in a part, in the part's unit or with a unit of its own: 0.1, 1/64, 0.002in.

Exit status: 0 written and sound, 1 written with findings or with a question open, 2 the file
cannot be read or a wish cannot be met."""


def _options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", metavar="IN.dxf", help="the drawing")
    parser.add_argument("--out", metavar="NAME.profile.json", required=True,
                        help="where the part goes; several become NAME-1, NAME-2, ...")
    parser.add_argument("--unit", choices=("mm", "in"),
                        help="what the numbers are, whatever the header says")
    parser.add_argument("--gap", metavar="LEN",
                        help="ends up to so far apart are joined; without it 0.05 mm or 0.002 in")
    parser.add_argument("--chord", metavar="LEN",
                        help="how far an arc may lie from what it replaces, chords of free "
                             "curves among it")
    parser.add_argument("--grid", metavar="LEN",
                        help="step to which values go, tried before all others")
    parser.add_argument("--axis", metavar="ID",
                        help="the axis of symmetry to use, as the report names them, or none")
    parser.add_argument("--layers", metavar="A,B",
                        help="read these layers alone, hidden ones too")
    parser.add_argument("--keep", metavar="REPAIR", nargs="+", action="extend", default=[],
                        help="leave these as they are drawn: names or kinds of repairs")
    parser.add_argument("--picture", metavar="OUT",
                        help="the drawing with its repairs beside the part's sheet: OUT.pdf, "
                             "OUT.svg or OUT.png")
    add_json(parser, "the report", ", in the part's unit, at full precision")
    parser.add_argument("--force", action="store_true", help="replace parts that are there")


def _import(args: argparse.Namespace) -> int:
    from sketcher.exchange.dxf_read import read_dxf
    from sketcher.intake.intake_record import intake_record
    from sketcher.intake.intake_report import intake_report
    from sketcher.intake.take_in import take_in

    outputs = _planned(args)
    with progress(f"reading {args.file}"):
        drawing = read_dxf(args.file, _layers(args.layers))
    wishes = _wishes(args, drawing)
    with progress("taking in"):
        taken = take_in(drawing, wishes)
    files = _put_parts(args, taken, outputs)
    if args.picture is not None:
        _put_picture(args, taken, wishes, outputs)
    outputs.write()
    if args.json:
        print_json("import", intake_record(taken, files))
    else:
        print(intake_report(taken, files), end="")
    return DONE if taken.sound else FINDINGS


def _planned(args: argparse.Namespace) -> Outputs:
    """Look at where the part goes before the work; how many there are is not known yet."""
    from sketcher.exchange.outputs import PART, PICTURE, Outputs

    if args.out == STREAM:
        raise FileError("--out", "'-' is no file, and a drawing may become several parts",
                        "name a file that ends with .profile.json")
    Outputs((args.file,), args.force).add("--out", args.out, PART)
    outputs = Outputs((args.file,), args.force)
    if args.picture is not None:
        outputs.add("--picture", args.picture, PICTURE)
    return outputs


def _put_parts(args: argparse.Namespace, taken: Taken, outputs: Outputs) -> list[str]:
    """Keep the content of each part for writing; return the names of the files."""
    from sketcher.exchange.outputs import PART
    from sketcher.intake.part_files import part_files, put_parts

    files = part_files(taken, args.out)
    for file in files:
        outputs.add("--out", file, PART)
    put_parts(taken, files, outputs.put)
    return [str(file) for file in files]


def _put_picture(args: argparse.Namespace, taken: Taken, wishes: Wishes, outputs: Outputs) -> None:
    """Keep the picture for writing: a page for each part, in one PDF or in files with numbers."""
    from sketcher.exchange.sheet_file import WRITERS
    from sketcher.intake.before_after import before_and_after

    path = Path(args.picture)
    with progress("drawing"):
        drawn = before_and_after(taken, wishes)
        WRITERS[path.suffix.lower()](drawn, path, outputs.put)


def _wishes(args: argparse.Namespace, drawing: DxfContent) -> Wishes:
    """Return what the options ask; their lengths are in the unit that the part will have."""
    from sketcher.intake.unit_evidence import unit_verdict
    from sketcher.intake.wishes import Wishes

    unit = unit_verdict(drawing, Wishes(unit=args.unit)).unit
    return Wishes(
        unit=args.unit, gap=option_length("gap", args.gap, unit),
        chord=option_length("chord", args.chord, unit),
        grid=option_length("grid", args.grid, unit),
        axis=args.axis, keep=frozenset(args.keep))


def _layers(text: str | None) -> tuple[str, ...] | None:
    """Return the layers that the option names.

    Raises
    ------
    EditError
        When it names none.
    """
    if text is None:
        return None
    layers = tuple(name for each in text.split(",") if (name := each.strip()))
    if not layers:
        raise EditError("--layers", "names no layer", "write it like --layers 0,OUTLINE")
    return layers


COMMAND = Command("import", "make bound parts of a DXF", LESSON, _options, _import, rank=0)
