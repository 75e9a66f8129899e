"""What ``sketcher order`` writes beside the steps that it prints, one output a file.

Each module has `OUTPUT`, a `LessonOutput`; its option is taken into the command from here.
"""

from __future__ import annotations

import argparse
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from sketcher.exchange.outputs import Outputs
    from sketcher.lesson.order_step import OrderStep
    from sketcher.solve.solve_report import Solution


@dataclass(frozen=True, slots=True)
class LessonWork:
    """One output of a construction, to be made.

    Parameters
    ----------
    args : argparse.Namespace
        All that was given on the command line.
    solution : Solution
        Of the part; it has converged.
    steps : tuple of OrderStep
        Its construction.
    place : str
        Where the output goes, as it was given.
    outputs : Outputs
        Takes what is to be written (`add`, `put`); it is written when all outputs are made.
    """

    args: argparse.Namespace
    solution: Solution
    steps: tuple[OrderStep, ...]
    place: str
    outputs: Outputs


@dataclass(frozen=True, slots=True)
class LessonOutput:
    """Something that ``sketcher order`` writes, by an option of its own.

    Parameters
    ----------
    option : str
        Its name without dashes; its value is the place.
    metavar, help : str
        How the place is written in the help, and what the output is.
    make : callable
        Makes it; yields what is to be told, a line each.
    """

    option: str
    metavar: str
    help: str
    make: Callable[[LessonWork], Iterable[str]]
