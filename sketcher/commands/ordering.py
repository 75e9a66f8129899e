"""``sketcher order``: print the construction in steps."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from typing import TYPE_CHECKING

from sketcher.terminal import DONE, FINDINGS, Command, progress, reasons, say, solved

if TYPE_CHECKING:
    from sketcher.part.value import Part

LESSON = """\
Prints the steps in which a person at a drawing board would construct the half, with straightedge,
protractor and compass: each step names the curve, the binding and the value. Where several
conditions have to be met at once the step says so.

Exit status: 0 done, 1 the bindings cannot all hold, 2 the file cannot be read."""


def _options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", metavar="FILE", help="a part, NAME.profile.json")


def _order(args: argparse.Namespace) -> int:
    solution = solved(args.file)
    if not solution.report.converged:
        why = "; ".join(["not solved", *reasons(solution.report)])
        return say(f"{args.file}: {why}", FINDINGS)
    lines = list(numbered_steps(solution.part))  # nothing is printed of what cannot be constructed
    print(f"{solution.part.name}: construction order", *lines, sep="\n")
    return DONE


def numbered_steps(part: Part) -> Iterator[str]:
    """Yield the construction of a part, a line a step."""
    from sketcher.solve.order import construction_order

    with progress("ordering"):
        steps = construction_order(part)
    for step in steps:
        yield f"{step.number:3}. {step.text}"


COMMAND = Command("order", "print the construction order in steps", LESSON, _options, _order,
                  rank=3)
