"""Moving points and curves."""

from __future__ import annotations

from collections.abc import Hashable

from sketcher.board.places.point_place import Spot
from sketcher.board.toolkit.carrying_tool import SteppingTool
from sketcher.board.toolkit.trial import Proposal
from sketcher.part.edits.move import move


class MoveTool(SteppingTool):
    """Moves what is chosen from one place to another; neighbours stretch."""

    name = "move"
    label = "Move"
    hint = ("Press the place to move from, then the place to move to; or type run and rise. "
            "Bindings that then hold no longer are dropped and named.")
    ask = "Press the place to move from, or type run and rise."
    key = "Shift+M"

    @property
    def prompt(self) -> str:
        """What is wanted next."""
        if not self.ready:
            return self.choosing
        if self.base is None:
            return self.opening
        return "Press where it goes, or type run, rise, distance or angle."

    def proposal(self, spot: Spot) -> tuple[Hashable, Proposal]:
        """Return the move to a place."""
        ids, step = self.ids, self.way(spot)
        return (ids, step), lambda part: move(part, ids, step)

    def place(self, spot: Spot) -> bool:
        """Move; what was typed says how far this once, for no point is left to measure from."""
        ids, step, typed = self.ids, self.way(spot), [t for t in spot.ties if t.typed]
        if typed:
            self._notes = [f"Moved by {spot.word}, once: a move makes no dimension."]
        done = self.carry(f"Move {', '.join(ids[:3])}", lambda part: move(part, ids, step))
        self.base, self.finished = None if done else self.base, done
        return done


TOOL = MoveTool
