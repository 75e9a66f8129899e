"""Practice without a window: which problem is on the table, how it stands, which hint was asked."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path

from sketcher.board.board import Board
from sketcher.board.exercise.attempt import (
    AttemptStanding,
    EntryStanding,
    judge_attempt,
    paper_key,
)
from sketcher.board.exercise.hints import PracticeHint, asked_hint
from sketcher.board.exercise.opened_problem import OpenedProblem, set_problem, shipped_problem
from sketcher.board.files.open_and_save import may_leave
from sketcher.board.job import Job
from sketcher.board.window_port import Host
from sketcher.errors import SketcherError
from sketcher.part.store import open_file
from sketcher.part.value import Part, begun

ELSEWHERE, QUICK = 0.0, 0.02
"""Seconds that work is tried in place: none of what is known to be long; a frame or so of a look,
which for a small part takes less than to hand it over, with a recovery copy before it."""
SMALL = 60
"""Features of a key up to which a look is tried in place (tried: 3 to 15 ms for the problems)."""


class Practising:
    """Watches what is drawn while a problem is on the table.

    Parameters
    ----------
    board : Board
    changed : callable
        Called whenever a problem came, went, or stands otherwise.
    """

    def __init__(self, board: Board, changed: Callable[[], object]) -> None:
        self.board = board
        self.problem: OpenedProblem | None = None
        self.standing = AttemptStanding(())
        self.hint: PracticeHint | None = None
        self.whole = False
        self.judged: Part | None = None
        self.failed = ""
        self._changed = changed

    # Which problem.

    def begin_shipped(self, host: Host, name: str) -> bool:
        """Put one of the shipped problems on the table, beside an empty sheet.

        Raises
        ------
        SketcherError
            When it cannot be set.
        Stopped
            When the person did not want to wait for it.
        """
        return self._begin(host, Job("Setting the problem", shipped_problem, (name,), ELSEWHERE))

    def begin_file(self, host: Host, path: Path) -> bool:
        """Put a part on the table as a problem; see `begin_shipped`."""
        part = open_file(path).part
        return self._begin(host, Job("Setting the problem", set_problem, (part,), ELSEWHERE))

    def _begin(self, host: Host, job: Job[OpenedProblem]) -> bool:
        problem = self.board.bench.worker.finish(job)
        if not may_leave(self.board, host):
            return False
        self.leave()
        self.board.load(begun(problem.key.unit))
        if len(problem.curves) <= SMALL:
            paper_key(problem.key)  # now, while nobody types
        self.problem = problem
        self.standing = AttemptStanding(
            tuple(EntryStanding(entry.id, "open") for entry in problem.entries))
        self.judged = self.board.part
        self.board.bench.say(f"Draw {problem.title} from its paper.", "done")
        self._changed()
        return True

    def leave(self) -> None:
        """Take the problem off the table; what was drawn stays as it is."""
        if self.problem is None:
            return
        for function in (judge_attempt, asked_hint):
            self.board.bench.worker.forget(function)
        self.problem, self.judged, self.failed = None, None, ""
        self._drop_hint()
        self._changed()

    # How it stands.

    def look(self) -> None:
        """See to it that the part as it stands is judged."""
        problem, part = self.problem, self.board.part
        if problem is None or part is self.judged:
            return
        job = Job("Looking at the paper", judge_attempt,
                  (problem.key, part, self.standing.pose),
                  QUICK if len(problem.curves) <= SMALL else ELSEWHERE)
        self.board.bench.worker.start(
            job, partial(self._take, problem, part), partial(self._fail, problem, part))

    def _take(self, problem: OpenedProblem, part: Part, standing: AttemptStanding) -> None:
        if problem is not self.problem or part is not self.board.part:
            return
        self.judged, self.failed = part, ""
        known, self.standing = self.standing, standing
        if self.hint is not None and known.right != standing.right:
            self._drop_hint()
        self._changed()

    def _fail(self, problem: OpenedProblem, part: Part, error: BaseException) -> None:
        if problem is not self.problem or part is not self.board.part:
            return
        if isinstance(error, SketcherError):
            self.judged, self.failed = part, str(error)
            self._changed()
        else:
            self.board.bench.notices.tell_failed(error)

    @property
    def state(self) -> str:
        """What is to be said of the drawing as a whole."""
        if self.failed:
            return self.failed
        standing, report = self.standing, self.board.report
        if not standing.finished:
            said = [f"{standing.holding} of {len(standing.entries)} hold."]
            return " ".join((*said, *standing.remarks()))
        said = ["Everything holds: the outline is closed, and nothing is left over."]
        said += standing.remarks()
        if report.freedoms:
            loose = f"{report.freedoms} freedom{'s' if report.freedoms > 1 else ''}"
            said.append(f"Right as it is drawn; {loose} still loose.")
        elif report.doubled:
            said.append(f"Bound; {', '.join(report.doubled)} doubled.")
        else:
            said.append("Bound, and nothing is doubled.")
        return " ".join(said)

    # Hints.

    def ask_hint(self) -> None:
        """Show the first half of the next step; asked again, all of it."""
        problem = self.problem
        if problem is None:
            return
        if self.hint is not None:
            self.whole = True
            self._changed()
        else:
            taken = tuple(dim.text for dim in problem.picture.dimensions if dim.form == "label")
            self.board.bench.worker.start(
                Job("Looking for the next step", asked_hint,
                    (problem.key, self.standing, taken), ELSEWHERE),
                partial(self._take_hint, problem, self.standing),
                self.board.bench.notices.tell_failed)

    @property
    def has_more(self) -> bool:
        """Whether asking again would show more."""
        return self.hint is None or (bool(self.hint.rest) and not self.whole)

    def _take_hint(
        self, problem: OpenedProblem, standing: AttemptStanding, hint: PracticeHint | None
    ) -> None:
        if problem is not self.problem or standing is not self.standing:
            return
        self.hint, self.whole = hint, False
        if hint is None:
            self.board.bench.say("There is nothing left to draw.", "done")
        self._changed()

    def _drop_hint(self) -> None:
        self.hint, self.whole = None, False
