"""Moving points and curves."""

from __future__ import annotations

from collections.abc import Hashable

from sketcher.board.carrier import Carrier
from sketcher.board.held import Stage
from sketcher.board.spot import Spot
from sketcher.board.trial import Proposal
from sketcher.geometry.curves import XY
from sketcher.part.edits.move import move


class MoveTool(Carrier):
    """Moves what is chosen from one place to another; neighbours stretch."""

    name = "move"
    label = "Move"
    hint = ("Press the place to move from, then the place to move to; or type run and rise. "
            "Bindings that then hold no longer are dropped and named.")
    key = "Shift+M"

    @property
    def prompt(self) -> str:
        """What is wanted next."""
        if not self.ready:
            return self.choosing
        if self.base is None:
            return self.hint
        return "Press where it goes, or type run, rise, distance or angle."

    def stage(self) -> Stage:
        """Return the rows of the way that it goes."""
        return Stage(("run", "rise", "distance", "angle"), self.origin(), self.zero)

    def way(self, spot: Spot) -> XY:
        """Return the step from the origin to a place."""
        (x0, y0), (x, y) = self.origin(), spot.at
        return (x - x0, y - y0)

    def proposal(self, spot: Spot) -> tuple[Hashable, Proposal]:
        """Return the move to a place."""
        ids, step = self.ids, self.way(spot)
        return (ids, step), lambda part: move(part, ids, step)

    def place(self, spot: Spot) -> None:
        """Move."""
        ids, step = self.ids, self.way(spot)
        done = self.bench.do(f"Move {', '.join(ids[:3])}", lambda part: move(part, ids, step))
        self.base, self.finished = None, done


TOOL = MoveTool
