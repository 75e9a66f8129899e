"""A gesture: many solutions follow each other, and in the end they are one step."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Protocol

from sketcher.board.steps.notices import Notices, Reason
from sketcher.board.steps.reach import check_reach
from sketcher.errors import SketcherError
from sketcher.interrupt import Stopped
from sketcher.part.history import History
from sketcher.part.value import Part
from sketcher.solve.solve_report import Solution, SolveReport


class GestureStage(Protocol):
    """Where a gesture goes on: the part that it moves, and who hears of it."""

    part: Part
    report: SolveReport
    history: History
    notices: Notices
    after_step: Callable[[], None]

    def solve(self, part: Part) -> Solution:
        """Return the solution of a part."""

    def show(self, solution: Solution, reason: Reason) -> None:
        """Put a solution in the place of the part, and tell."""

    def taken_back(self, name: str) -> bool:
        """Say that something was stopped; return False."""


class Gesture:
    """What was shifted since the last step.

    Parameters
    ----------
    stage : GestureStage
        Holds the part.
    """

    def __init__(self, stage: GestureStage) -> None:
        self._stage = stage
        self._begun: tuple[Part, SolveReport] | None = None

    @property
    def goes_on(self) -> bool:
        """Whether something was shifted that is no step yet."""
        return self._begun is not None

    def shift(self, solution: Solution) -> None:
        """Show a solution without a step in the history, as a drag goes on."""
        stage = self._stage
        if self._begun is None:
            self._begun = (stage.part, stage.report)
        begun = self._begun[1]
        # A gesture changes no freedoms, so its solutions do not tell them.
        report = replace(solution.report, freedoms=begun.freedoms, loose=begun.loose,
                         doubled=begun.doubled, clashes=begun.clashes, states=begun.states)
        stage.show(Solution(solution.part, report), "drag")

    def settle(self, name: str) -> bool:
        """Make one step of what was shifted; return whether anything was.

        What ends beyond the sheet goes back to where it began, and that is told.
        """
        stage, begun = self._stage, self._begun
        self._begun = None
        if begun is None or stage.part is begun[0]:
            return False
        with stage.notices.held():
            try:
                solution = stage.solve(stage.part)
                check_reach(solution.part)
            except SketcherError as error:
                stage.show(Solution(*begun), "drag")
                stage.notices.say(str(error), "error", error.place)
                return False
            except Stopped:
                stage.show(Solution(*begun), "drag")
                return stage.taken_back(name)
            stage.history.push(name, solution.part)
            stage.show(solution, "edit")
            stage.notices.say(f"{name}.", "done")
        return True

    def restore(self) -> bool:
        """Go back to where the gesture began; return whether one went on."""
        begun, self._begun = self._begun, None
        if begun is None:
            return False
        with self._stage.notices.held():
            self._stage.show(Solution(*begun), "drag")
            self._stage.after_step()
        return True
