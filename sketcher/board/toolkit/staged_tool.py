"""Base of the tools that collect several places and then draw one figure."""

from __future__ import annotations

from math import dist
from typing import ClassVar

from sketcher.board.places.point_place import Spot
from sketcher.board.steps.bench import Bench
from sketcher.board.steps.drawing_step import Sketch
from sketcher.board.toolkit.drawing_words import figure_done
from sketcher.board.toolkit.placing_tool import PlacingTool
from sketcher.geometry.curves import XY


class StagedTool(PlacingTool):
    """Collects as many places as it has prompts, then draws.

    A subclass gives `prompts` and `figure`, and `refused` where a place cannot be used.
    """

    prompts: ClassVar[tuple[str, ...]] = ()
    step: ClassVar[str] = ""

    def __init__(self, bench: Bench) -> None:
        super().__init__(bench)
        self.spots: list[Spot] = []

    def figure(self, sketch: Sketch, spots: list[Spot]) -> str:
        """Draw the figure and return its chief curve."""
        raise NotImplementedError

    def refused(self, spot: Spot) -> str:
        """Return why a place cannot be used; empty when it can."""
        if any(dist(known.at, spot.at) == 0.0 for known in self.spots):
            return "This place is taken already: press somewhere else."
        return ""

    @property
    def prompt(self) -> str:
        """What is wanted next."""
        return self.prompts[len(self.spots)]

    @property
    def asks(self) -> int:
        """How many places are taken already."""
        return len(self.spots)

    def start(self) -> tuple[XY | None, str | None]:
        """Return the place before, from which level and plumb are judged."""
        return (self.spots[-1].at, self.spots[-1].point) if self.spots else (None, None)

    def is_begun(self) -> bool:
        """True once a place is taken."""
        return bool(self.spots)

    def place(self, spot: Spot) -> bool:
        """Take a place; with the last one draw."""
        reason = self.refused(spot)
        if reason:
            self.bench.say(reason)
            return False
        if len(self.spots) + 1 < len(self.prompts):
            self.spots.append(spot)
            return True
        spots, made = [*self.spots, spot], [""]

        def build(sketch: Sketch) -> None:
            made[0] = self.figure(sketch, spots)

        done = self.draw(self.step or f"Draw {self.label.lower()}", build)
        if done:
            self.restart()
            figure_done(self, made[0], spot.word)
        return done

    def back(self) -> bool:
        """Let the last place go."""
        if self.spots:
            self.spots.pop()
            return True
        return False

    def refresh(self) -> None:
        """Look again at the places taken, and where the pointer is."""
        self.spots = [spot.now(self.bench.part) for spot in self.spots]
        super().refresh()

    def restart(self) -> None:
        """Wait for the first place again."""
        self.spots = []
