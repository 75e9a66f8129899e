"""``sketcher import``: bound parts out of somebody else's DXF."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from sketcher.terminal import DONE, FINDINGS, Command, progress

LESSON = """\
Reads the outlines of a DXF, repairs what is broken, finds arcs, symmetry, hole patterns and round
figures, and writes parts with bindings.

Exit status: 0 written and sound, 1 written with findings or with a question open, 2 the file
cannot be read."""


def _options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", metavar="IN.dxf", help="the drawing")
    parser.add_argument("--out", metavar="NAME.profile.json", required=True,
                        help="where the part goes; several become NAME-1, NAME-2, ...")
    parser.add_argument("--unit", choices=("mm", "in"), help="what the numbers are")
    parser.add_argument("--force", action="store_true", help="replace what is there")


def _import(args: argparse.Namespace) -> int:
    from sketcher.exchange.dxf_read import read_dxf
    from sketcher.exchange.outputs import PART, Outputs
    from sketcher.intake.take_in import take_in
    from sketcher.intake.wishes import Wishes
    from sketcher.part.store import SUFFIX, content

    with progress(f"reading {args.file}"):
        drawing = read_dxf(args.file)
    with progress("taking in"):
        taken = take_in(drawing, Wishes(unit=args.unit))
    outputs = Outputs((args.file,), args.force)
    stem = args.out.removesuffix(SUFFIX)
    for number, each in enumerate(taken.parts, 1):
        name = args.out if len(taken.parts) == 1 else f"{stem}-{number}{SUFFIX}"
        path = outputs.add("--out", Path(name), PART)
        outputs.put(path, content(each.part, path))
    outputs.write()
    for question in taken.questions:
        print(f"{question.option}: {question.text}", file=sys.stderr)
    return DONE if taken.sound else FINDINGS


COMMAND = Command("import", "make bound parts of a DXF", LESSON, _options, _import, rank=0)
