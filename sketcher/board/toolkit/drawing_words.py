"""What several drawing tools say of what was drawn and typed."""

from __future__ import annotations

from typing import Protocol

from sketcher.board.places.pending_bindings import Tie
from sketcher.board.steps.bench import Bench


class Remarks(Protocol):
    """Who says what was drawn."""

    def remark(self, text: str) -> None:
        """Say it, unless there is trouble to tell."""


def figure_done(tool: Remarks, name: str, word: str = "") -> None:
    """Say what was drawn and how it is bound."""
    tool.remark(f"{name} drawn{', ' + word if word else ''}.")


def follows(tie: Tie) -> str:
    """Say that a typed value is nothing new."""
    value = f" {tie.value}" if tie.value is not None else ""
    return f"{tie.kind.capitalize()}{value} follows from the other bindings: no new dimension."


def freedoms_told(count: int) -> str:
    """Say what a part leaves open."""
    return f"{count} {'freedom' if count == 1 else 'freedoms'} left."


def layout_told(bench: Bench) -> None:
    """Add to what was said of a scribed curve that it is layout, and what to do with it: once."""
    told = bench.message
    if not bench.layout_told and told.severity == "done":
        bench.layout_told = True
        bench.say(f"{told.text.rstrip('.')}: layout, from which Trace (W) makes outline.", "done")
