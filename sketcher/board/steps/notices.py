"""What the board tells its listeners: changes of the part, and things said to the person."""

from __future__ import annotations

import sys
from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal, TypeAlias

from sketcher.board.steps.refusals import begun
from sketcher.errors import SketcherError
from sketcher.interrupt import Stopped
from sketcher.part.value import Part
from sketcher.solve.solve_report import SolveReport

Severity: TypeAlias = Literal["note", "done", "warning", "error"]
Reason: TypeAlias = Literal[
    "edit", "undo", "redo", "load", "drag", "saved", "selection", "tool", "preview", "message",
    "settings", "exported",
]

PART_REASONS: frozenset[str] = frozenset({"edit", "undo", "redo", "load", "drag"})
"""Reasons for which `before` and `after` differ."""


@dataclass(frozen=True, slots=True)
class Message:
    """The last thing said; `place` names what it is about: a binding's id, a field, or nothing."""

    text: str
    severity: Severity = "note"
    place: str = ""


@dataclass(frozen=True, slots=True)
class Change:
    """One notice.

    Parameters
    ----------
    before, after : Part
        The part as it was and as it is; the very same object unless the reason is about the part.
    report : SolveReport
        What the solver found out about `after`.
    reason : str
        What happened, one of `Reason`.
    """

    before: Part
    after: Part
    report: SolveReport
    reason: Reason


Listener: TypeAlias = Callable[[Change], None]


class Notices:
    """Who listens, and what they have not heard yet.

    What happens within `held` is told once it is over, so that a listener finds the part, the tool
    in hand and the selection in the state that holds, and hears of each thing once. That something
    looks otherwise is told only where nothing else is: every other reason says as much.

    Parameters
    ----------
    state : callable
        Returns the part and the report as they stand.
    """

    def __init__(self, state: Callable[[], tuple[Part, SolveReport]]) -> None:
        self.message = Message("")
        self._state = state
        self._listeners: list[Listener] = []
        self._before: Part | None = None
        self._reasons: list[Reason] = []
        self._depth = 0

    def say(self, text: str, severity: Severity = "note", place: str = "") -> None:
        """Say something to the person at the board."""
        parts = (self._state()[0], *((self._before,) if self._before is not None else ()))
        self.message = Message(begun(text, *parts), severity, place)
        self.add("message")

    def tell_failed(self, error: BaseException) -> None:
        """Tell why a job made nothing; whoever stopped it knows."""
        if isinstance(error, SketcherError):
            self.say(str(error), "error", error.place)
        elif not isinstance(error, Stopped):
            sys.excepthook(type(error), error, error.__traceback__)

    def listen(self, listener: Listener) -> Callable[[], None]:
        """Call `listener` with every `Change`; the returned function ends that."""
        self._listeners.append(listener)

        def leave() -> None:
            if listener in self._listeners:
                self._listeners.remove(listener)

        return leave

    def add(self, reason: Reason, before: Part | None = None) -> None:
        """Note that something happened; `before` is the part as it was, where the part changed."""
        with self.held():
            if reason in PART_REASONS:
                self._before = self._before or before
                reason = self._merged(reason)
            if reason not in self._reasons:
                self._reasons.append(reason)

    def _merged(self, reason: Reason) -> Reason:
        """Return the one reason for all changes of the part so far; a drag is the least of them."""
        for place, known in enumerate(self._reasons):
            if known in PART_REASONS:
                if reason == "drag" or known == "load":
                    return known
                self._reasons[place] = reason
        return reason

    def held(self) -> Notices:
        """Tell nothing before the block, and every block around it, is left."""
        return self

    def __enter__(self) -> None:
        self._depth += 1

    def __exit__(self, *_: object) -> None:
        self._depth -= 1
        if self._depth:
            return
        before, reasons = self._before, self._reasons
        if len(reasons) > 1 and "preview" in reasons:
            reasons.remove("preview")
        self._before, self._reasons = None, []
        errors: list[Exception] = []
        for reason in reasons:
            part, report = self._state()
            was = before if reason in PART_REASONS and before is not None else part
            for listener in tuple(self._listeners):
                try:
                    listener(Change(was, part, report, reason))
                except Exception as error:  # noqa: BLE001 - all hear it before one may fail
                    errors.append(error)
        if errors:
            raise errors[0]
