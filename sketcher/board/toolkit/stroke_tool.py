"""Base of the tools that draw one line between two places."""

from __future__ import annotations

from collections.abc import Iterable

from sketcher.board.places.point_place import Spot
from sketcher.board.readout.held_values import Stage
from sketcher.board.steps.bench import Bench
from sketcher.board.steps.drawing_step import Sketch
from sketcher.board.toolkit.drawing_words import figure_done
from sketcher.board.toolkit.placing_tool import PlacingTool
from sketcher.geometry.curves import XY, Curve, Line

ROWS = ("length", "angle", "run", "rise", "x", "y")


class StrokeTool(PlacingTool):
    """Draws single lines of the subclass's role."""

    def __init__(self, bench: Bench) -> None:
        super().__init__(bench)
        self._start: Spot | None = None

    @property
    def prompt(self) -> str:
        """What is wanted next."""
        if self._start is None:
            return self.opening
        return "Press where it ends, or type values; Tab walks the rows, Enter takes it."

    @property
    def columns(self) -> tuple[str, ...]:
        """The rows of both stages."""
        return ROWS

    def stage(self) -> Stage:
        """Return the rows of the start, or of the end."""
        if self._start is None:
            return Stage(("x", "y"), None, self.zero)
        return Stage(ROWS, self._start.at, self.zero, True)

    def start(self) -> tuple[XY | None, str | None]:
        """Return the start of the line."""
        return (None, None) if self._start is None else (self._start.at, self._start.point)

    def is_begun(self) -> bool:
        """True once the start is taken."""
        return self._start is not None

    def drawn(self, spot: Spot) -> Iterable[Curve]:
        """Return the line."""
        if self._start is not None and not self.is_same(self._start.at, spot.at):
            yield Line(self._start.at, spot.at)

    def place(self, spot: Spot) -> bool:
        """Take the start or the end."""
        if self._start is None:
            self._start = spot
            return True
        if self.is_same(self._start.at, spot.at):
            self.bench.say("A line needs a length: press somewhere else.")
            return False
        start, made = self._start, {}

        def build(sketch: Sketch) -> None:
            first = sketch.point(start)
            last = sketch.point(spot, {"@from": first})
            made["line"] = sketch.draft.line(first, last, self.role)
            sketch.named(curve=made["line"])

        done = self.draw(f"Draw {self.label.lower()}", build)
        if done:
            self.restart()
            figure_done(self, made["line"], spot.word)
        return done

    def back(self) -> bool:
        """Let the start go."""
        begun = self.is_begun()
        self._start = None
        return begun

    def refresh(self) -> None:
        """Look again at the start, and where the pointer is."""
        if self._start is not None:
            self._start = self._start.now(self.bench.part)
        super().refresh()

    def restart(self) -> None:
        """Wait for another start."""
        self._start = None
