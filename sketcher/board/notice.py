"""What the board tells its listeners: changes of the part, and things said to the person."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal, TypeAlias

from sketcher.part.value import Part
from sketcher.solve.report import SolveReport

Severity: TypeAlias = Literal["note", "done", "warning", "error"]
Reason: TypeAlias = Literal[
    "edit", "undo", "redo", "load", "drag", "saved", "selection", "tool", "preview", "message",
    "settings",
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
