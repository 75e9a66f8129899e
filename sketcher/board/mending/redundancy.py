"""Takes back bindings that an edit made and that say nothing new."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from sketcher.part.edited import Edited
from sketcher.part.edits.draft import Draft
from sketcher.part.value import Part
from sketcher.solve.solve_report import Solution

ROUNDS = 4
"""Most times that bindings are taken back and the part is solved again."""


def lean(edited: Edited, solve: Callable[[Part], Solution]) -> Edited:
    """Return an edit's outcome without those of its bindings that follow from the others.

    Parameters
    ----------
    edited : Edited
        Its `made` names the bindings that may be taken back.
    solve : callable
        From a part to its solution.
    """
    for _ in range(ROUNDS):
        said_twice = set(solve(edited.part).report.doubled) & set(edited.made)
        if not said_twice:
            break
        draft = Draft(edited.part)
        draft.remove(*sorted(said_twice))
        made = tuple(name for name in edited.made if name not in said_twice)
        edited = replace(edited, part=draft.done(), made=made)
    return edited
