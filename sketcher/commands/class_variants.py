"""``sketcher variants``: a problem of its own for each student of a class."""

from __future__ import annotations

import argparse
import os
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from sketcher.errors import EditError
from sketcher.terminal import (
    DONE,
    Command,
    add_jobs,
    add_json,
    check_jobs,
    print_json,
    progress,
    solved,
)

if TYPE_CHECKING:
    from sketcher.marking.variant_files import VariantFiles
    from sketcher.marking.variants import ClassVariants

LESSON = """\
Gives each student of a class the same problem with other values. --vary names a parameter or a
dimension with its values, NAME=FROM..TO:STEP: wall=10..14:1, b20=wall..2*wall:0.5 mm. It may be
given more than once; each value goes with every value of the others.

DIR gets a key for each number (keys/NUMBER.profile.json, for you alone), a dimensioned sheet to
hand out (handouts/NUMBER.pdf, with the number and the code of the variant in its title block) and
variants.csv, which 'sketcher mark --variants DIR/variants.csv' marks each hand-in by.

A draw counts only where it makes as good a problem: it solves bound and without findings, on the
same sides and with the same contours; no web between contours or to an edge is below 0.6 of the
problem's narrowest (or below --least), no edge below 0.6 of its shortest; no two radii and no two
edges are equal that differ in the problem; its sheet has the problem's paper and scale and says all
that it takes to draw the part. Draws that do not count are told by their reasons.

No two students get the same part. What a number gets depends on the problem, on --vary, on --seed
and on the number, not on the order of the roster; another student more or less changes it only
where both want the same draw. Equal values always have the same code.

A draw takes about a second of one processor, most of it for its sheet.

Exit status: 0 all is written, 2 the problem, the roster or --vary cannot be used, or there are
fewer variants than students."""


def _options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("problem", metavar="PROBLEM.profile.json", help="the part to be varied")
    parser.add_argument("--roster", metavar="ROSTER.csv", required=True,
                        help="who is in the class: a CSV table with the column number")
    parser.add_argument("--out", metavar="DIR", required=True,
                        help="the folder that keys, handouts and table go to")
    parser.add_argument("--vary", metavar="NAME=FROM..TO:STEP", action="append", required=True,
                        help="values of a parameter or a dimension; may be given more than once")
    parser.add_argument("--seed", metavar="N", type=int, default=0,
                        help="another number gives other variants (default: 0)")
    parser.add_argument("--least", metavar="LEN",
                        help="the least web, in place of 0.6 of the problem's narrowest")
    add_jobs(parser)
    add_json(parser, "all of it", ", each draw that was refused with its reason")
    parser.add_argument("--force", action="store_true", help="replace what is there")


def _vary(args: argparse.Namespace) -> int:
    from sketcher.exchange.outputs import Outputs
    from sketcher.marking.problem import problem_of
    from sketcher.marking.roster import read_roster
    from sketcher.marking.variant_files import planned_variants, put_variants
    from sketcher.marking.variants import class_variants
    from sketcher.marking.varied_values import draw_space

    check_jobs(args)
    numbers = [each.number for each in read_roster(args.roster)]
    solution = solved(args.problem)
    space = draw_space(solution.part, args.vary)
    least = _least(args.least, solution.part.unit)
    with progress(f"looking at {solution.part.name}"):
        problem = problem_of(solution, args.problem, least)
    outputs = Outputs((args.problem, args.roster), args.force,
                      "choose another folder, or replace it with --force")
    files = planned_variants(outputs, args.out, numbers)
    with progress(f"making {len(numbers)} variants"):
        made = class_variants(problem, space, numbers, args.seed, args.jobs)
    put_variants(outputs, files, made)
    written = outputs.write()
    if args.json:
        print_json("variants", _told(made, files, args.seed, written))
    else:
        print(*_report(made, files, args.seed), sep="\n")
    return DONE


def _least(text: str | None, unit: str) -> float | None:
    """Return the length that --least says."""
    from sketcher.quantity.parse import evaluate

    if text is None:
        return None
    found = evaluate(text, "length", unit, place=f"--least {text}")
    if found < 0.0:
        raise EditError(f"--least {text}", "is below zero", "give a length")
    return found


def _report(made: ClassVariants, files: VariantFiles, seed: int) -> Iterator[str]:
    yield (f"{len(made.students)} variants, of {made.draws} draws that there are, by seed {seed}")
    yield f"  {made.summary()}"
    folder = files.table.parent
    yield f"wrote {files.table}, and keys and handouts in {folder}"


def _told(
    made: ClassVariants, files: VariantFiles, seed: int, written: Sequence[Path]
) -> dict[str, object]:
    return {
        "seed": seed, "draws": made.draws, "tried": made.tried,
        "variants": [{"number": each.number, "variant": each.code, "values": dict(each.draw),
                      "key": os.fspath(files.keys[each.number]),
                      "handout": os.fspath(files.handouts[each.number])}
                     for each in made.students],
        "refused": [{"values": dict(each.draw), "reason": each.reason, "detail": each.detail}
                    for each in made.refused],
        "wrote": [os.fspath(path) for path in written],
    }


COMMAND = Command("variants", "make a problem of its own for each student", LESSON, _options,
                  _vary, rank=6)
