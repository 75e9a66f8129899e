"""``sketcher order``: print the construction in steps."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from dataclasses import asdict
from typing import TYPE_CHECKING

from sketcher.terminal import (
    DONE,
    FINDINGS,
    Command,
    add_json,
    print_json,
    progress,
    reasons,
    say,
    solved,
)

if TYPE_CHECKING:
    from sketcher.lesson.order_step import OrderStep
    from sketcher.part.value import Part

LESSON = """\
Prints the steps in which a person at a drawing board would construct the half, with straightedge,
protractor and compass: each step names the curve, the binding and the value. Where several
conditions have to be met at once the step says so.

--json prints the steps as JSON: number, text, and what each draws.

Exit status: 0 done, 1 the bindings cannot all hold, 2 the file cannot be read."""


def _options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", metavar="FILE",
                        help="a part, NAME.profile.json, or - for standard input")
    add_json(parser, "the steps")


def _order(args: argparse.Namespace) -> int:
    solution = solved(args.file)
    if not solution.report.converged:
        why = "; ".join(["not solved", *reasons(solution.report)])
        return say(f"{args.file}: {why}", FINDINGS)
    if args.json:
        print_json("order", {"name": solution.part.name, "unit": solution.part.unit,
                             "steps": [asdict(step) for step in _steps(solution.part)]})
        return DONE
    lines = list(numbered_steps(solution.part))  # nothing is printed of what cannot be constructed
    print(f"{solution.part.name}: construction order", *lines, sep="\n")
    return DONE


def numbered_steps(part: Part) -> Iterator[str]:
    """Yield the construction of a part, a line a step."""
    for step in _steps(part):
        yield f"{step.number:3}. {step.text}"


def _steps(part: Part) -> tuple[OrderStep, ...]:
    from sketcher.lesson.order import construction_order

    with progress("ordering"):
        return construction_order(part)


COMMAND = Command("order", "print the construction order in steps", LESSON, _options, _order,
                  rank=3)
