"""The first part, step by step: which prompt is at hand, found by looking at the part."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

from sketcher.board.steps.notices import PART_REASONS, Change
from sketcher.board.tools.outline_tool import ENDING
from sketcher.board.tour.half_view import HalfView
from sketcher.registry import collect

if TYPE_CHECKING:
    from sketcher.board.board import Board
    from sketcher.board.tour.tour_prompt import Prompt

MIRRORED = 8
"""Rank of the prompt after which a half need not be one any more: it may have been made whole."""
LOOKS = PART_REASONS | {"exported"}


@cache
def prompts() -> tuple[Prompt, ...]:
    """Return the prompts of the folder in their order."""
    found = collect("sketcher.board.tour.prompts", "PROMPT", "_prompt")
    return tuple(sorted(found, key=lambda prompt: prompt.rank))


@dataclass(frozen=True, slots=True)
class TourState:
    """How far the part is: the prompt at hand, None after the last; and what it still misses."""

    prompt: Prompt | None
    missing: str = ""


class Tour:
    """Watches the board while it is on.

    Every prompt looks at the part alone, so that it does not matter in which way or order things
    were done; what is undone is asked for again.

    Parameters
    ----------
    board : Board
    changed : callable
        Called whenever the tour is at another place, or was begun or left.
    """

    def __init__(self, board: Board, changed: Callable[[], object]) -> None:
        self.board = board
        self.is_on = False
        self.deeds: frozenset[str] = frozenset()
        self.standing = TourState(None)
        self._changed = changed
        board.bench.notices.listen(self._hear)

    def begin(self, deeds: frozenset[str] = frozenset()) -> None:
        """Watch the part on the bench from now on; `deeds` is what was done with it before."""
        self.is_on, self.deeds = True, deeds
        self.standing = self._look()
        self._changed()

    def leave(self) -> None:
        """Watch no more."""
        if self.is_on:
            self.is_on = False
            self._changed()

    def note(self, deed: str) -> None:
        """Note what no part shows: ``exported``, or ``inspected`` once there is a whole part."""
        early = deed == "inspected" and "mirrored" not in self.deeds
        if self.is_on and not early and deed not in self.deeds:
            self.deeds |= {deed}
        self.look_again()

    def look_again(self) -> None:
        """Find the prompt at hand anew."""
        if not self.is_on:
            return
        standing = self._look()
        if standing != self.standing:
            self.standing = standing
            self._changed()

    def _look(self) -> TourState:
        bench = self.board.bench
        view = HalfView(bench.part, bench.report, bench.derived.known_inspection(), self.deeds)
        for prompt in prompts():
            if prompt.rank < MIRRORED and "mirrored" in self.deeds:
                continue
            missing = prompt.missing(view)
            if missing:
                return TourState(prompt, missing)
            if prompt.rank == MIRRORED:
                self.deeds |= {"mirrored"}
        return TourState(None)

    def _hear(self, change: Change) -> None:
        if not self.is_on or change.reason not in LOOKS:
            return
        if change.reason == "load":
            self.leave()
        elif change.reason == "exported":
            self.note("exported")
        else:
            self.look_again()


def asked(prompt: Prompt, board: Board, labels: Mapping[str, str]) -> str:
    """Return what a prompt asks for, with the words and keys that stand in the window.

    Parameters
    ----------
    prompt : Prompt
    board : Board
        For the tools.
    labels : mapping of str to str
        What the menus call each action, by its name.
    """
    words = {name.replace(" ", "_"): f"{tool.word()} ({tool.key})" for name, tool in
             board.tools.items()}
    words |= {name.replace(".", "_"): label.removesuffix(" ...")
              for name, label in labels.items()}
    words["outline_ends"] = ENDING
    return prompt.ask.format_map(words)
