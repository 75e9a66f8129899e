"""Takes back bindings that an edit made and that say nothing new."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from typing import NamedTuple

from sketcher.part.edited import Edited
from sketcher.part.edits.draft import Draft
from sketcher.part.value import Part
from sketcher.solve.solve_report import Solution

ROUNDS = 4
"""Most times that bindings are taken back and the part is solved again: of what was taken back,
each may hide another that is redundant, and no edit makes so many that hide each other deeper."""


class Lean(NamedTuple):
    """A part without its superfluous bindings.

    Parameters
    ----------
    part : Part
        Not solved.
    solution : Solution
        The last one; of `part` itself, unless the rounds ran out.
    gone : tuple of str
        Bindings that were taken back.
    """

    part: Part
    solution: Solution
    gone: tuple[str, ...]


def without_superfluous(
    part: Part, solve: Callable[[Part], Solution],
    superfluous: Callable[[Part, Solution], Iterable[str]],
) -> Lean:
    """Return a part without the bindings that its solution shows to be superfluous.

    Parameters
    ----------
    part : Part
        The part as an edit left it.
    solve : callable
        From a part to its solution.
    superfluous : callable
        From a part and its solution to the bindings to take back; none ends it.
    """
    gone: list[str] = []
    for _ in range(ROUNDS):
        solution = solve(part)
        names = sorted(superfluous(part, solution))
        if not names:
            break
        draft = Draft(part)
        draft.remove(*names)
        part = draft.done()
        gone += names
    return Lean(part, solution, tuple(gone))


def lean(edited: Edited, solve: Callable[[Part], Solution]) -> Edited:
    """Return an edit's outcome without those of its bindings that follow from the others.

    Parameters
    ----------
    edited : Edited
        Its `made` names the bindings that may be taken back.
    solve : callable
        From a part to its solution.
    """
    found = without_superfluous(
        edited.part, solve,
        lambda part, solution: set(solution.report.doubled) & set(edited.made))
    if not found.gone:
        return edited
    made = tuple(name for name in edited.made if name not in found.gone)
    return replace(edited, part=found.part, made=made)
