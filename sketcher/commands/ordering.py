"""``sketcher order``: print the construction in steps."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from functools import cache
from itertools import groupby
from typing import TYPE_CHECKING

from sketcher.commands import lesson_outputs
from sketcher.commands.lesson_outputs import LessonOutput, LessonWork
from sketcher.registry import collect
from sketcher.terminal import (
    DONE,
    FINDINGS,
    STREAM,
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
    from sketcher.solve.solve_report import Solution

LESSON = """\
Prints the steps in which a person at a drawing board would construct the half, with straightedge,
protractor and compass: each step names the curve, the binding and the value. Where several
conditions have to be met at once the step says so.

--moves prints beneath each step what the hand does for it, numbered 4.1, 4.2 and on: lines through
two points, circles of the compass, and where they cross. A point, line or circle that is drawn only
to get at others is called by the number of its step and a letter, 7A.

--json prints the steps as JSON: of each its number, text, the curves it draws, the points it finds,
the bindings it uses, its stage and sub-steps; "together" is true where places are taken as
computed. With --moves each step has "moves", each with its text and its strokes. "do" says what a
stroke is; each makes the thing "name" of things named before it:

  mark      a given point, "at" its place
  level     the level line along the edge of the board, "through" a point
  rule      the line along the straightedge, "through" two points
  protract  the line through the point "at", by the protractor "degrees" counter-clockwise from the
            line "base" as it runs to the right (upward where it is plumb); "text" as the paper says
  swing     the circle about "center" with the "opening": its "amount", and the "span" of two points
            between which it is taken; without one the "text" is the paper's own number, or where
            "free" is true any opening would do
  cross     the point where the two things "of" cross; "which" of two is meant by a "word": upper,
            lower, left, right, nearer to the point "of" or farther from it; only where there is one
  call      a second name for the point "of"
  go over   the curve "name" drawn heavily "on" a line or circle, between the points "ends" (a whole
            circle without); an arc goes the "way" ccw or cw from the first to the second

Places beside these ("ends" of lines, "spans", "shape", "at" of a circle and of a crossing) are for
pictures. All are in the part's unit, angles of "spans" in radians.

Exit status: 0 done, 1 the bindings cannot all hold, 2 the file cannot be read, or a file cannot be
written."""


def _options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", metavar="FILE",
                        help="a part, NAME.profile.json, or - for standard input")
    parser.add_argument("--moves", action="store_true",
                        help="tell what the hand does for each step as well")
    for output in _outputs():
        parser.add_argument(f"--{output.option}", metavar=output.metavar, help=output.help)
    if _outputs():
        parser.add_argument("--force", action="store_true",
                            help="replace what is there, even a part or another kind of file")
    add_json(parser, "the steps")


@cache
def _outputs() -> tuple[LessonOutput, ...]:
    return tuple(collect(lesson_outputs.__name__, "OUTPUT"))


def _order(args: argparse.Namespace) -> int:
    solution = solved(args.file)
    if not solution.report.converged:
        why = "; ".join(["not solved", *reasons(solution.report)])
        return say(f"{args.file}: {why}", FINDINGS)
    part = solution.part
    steps = _steps(part)  # nothing is printed of what cannot be constructed
    told, wrote = _made(args, solution, steps)
    if args.json:
        from sketcher.lesson.stroke_form import step_form

        files = {"told": told, "wrote": wrote} if wrote else {}
        print_json("order", {"name": part.name, "unit": part.unit, **files,
                             "steps": [step_form(step, args.moves) for step in steps]})
    elif told:
        print(*told, sep="\n")
    else:
        print(f"{part.name}: construction order", *_lines(steps, args.moves), sep="\n")
    return DONE


def _made(
    args: argparse.Namespace, solution: Solution, steps: tuple[OrderStep, ...]
) -> tuple[list[str], list[str]]:
    """Make the outputs that are asked for; return what is told, and the files."""
    wanted = [output for output in _outputs() if _place(args, output) is not None]
    if not wanted:
        return [], []
    from sketcher.exchange.outputs import Outputs

    outputs = Outputs([] if args.file == STREAM else [args.file], args.force)
    told: list[str] = []
    for output in wanted:
        told += output.make(LessonWork(args, solution, steps, _place(args, output), outputs))
    return told, [str(path) for path in outputs.write()]


def _place(args: argparse.Namespace, output: LessonOutput) -> str:
    place: str = getattr(args, output.option.replace("-", "_"))
    return place


def numbered_steps(part: Part, moves: bool = False) -> Iterator[str]:
    """Yield the construction of a part: its stages, their steps, and what these consist of."""
    return _lines(_steps(part), moves)


def _lines(steps: tuple[OrderStep, ...], moves: bool) -> Iterator[str]:
    for stage, group in groupby(steps, lambda step: step.stage):
        yield from ("", stage) if stage else ()
        for step in group:
            yield f"{step.number:3}. {step.text}"
            yield from (f"       {text}" for text in step.substeps)
            if moves:
                yield from (f"     {step.number}.{k} {move.text}"
                            for k, move in enumerate(step.moves, 1))


def _steps(part: Part) -> tuple[OrderStep, ...]:
    from sketcher.lesson.order import construction_order

    with progress("ordering"):
        return construction_order(part)


COMMAND = Command("order", "print the construction order in steps", LESSON, _options, _order,
                  rank=3)
