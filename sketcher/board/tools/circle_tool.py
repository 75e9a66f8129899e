"""Circles and holes."""

from __future__ import annotations

from collections.abc import Iterable
from math import dist

from sketcher.board.places.circle_rim import rim_spot
from sketcher.board.places.point_place import Around, Spot
from sketcher.board.readout.held_values import Stage
from sketcher.board.steps.bench import Bench
from sketcher.board.steps.drawing_step import Sketch
from sketcher.board.toolkit.drawing_words import figure_done
from sketcher.board.toolkit.placing_tool import PlacingTool
from sketcher.geometry.curves import Circle, Curve


class CircleTool(PlacingTool):
    """Draws circles by center and radius."""

    name = "circle"
    label = "Circle or hole"
    hint = "Press the center of the circle."
    key = "H"

    def __init__(self, bench: Bench) -> None:
        super().__init__(bench)
        self._center: Spot | None = None

    @property
    def prompt(self) -> str:
        """What is wanted next."""
        if self._center is None:
            return self.opening
        return "Press a place on the circle, or type its diameter or radius."

    @property
    def columns(self) -> tuple[str, ...]:
        """The rows of both stages."""
        return ("diameter", "radius", "x", "y")

    def stage(self) -> Stage:
        """Return the rows of the center, or of the size."""
        if self._center is None:
            return Stage(("x", "y"), None, self.zero)
        return Stage(("diameter", "radius"), self._center.at, self.zero, freedoms=1)

    def aim(self, around: Around, held: Spot | None) -> Spot:
        """Return a snapped center, or what the rim touches."""
        if self._center is None:
            return super().aim(around, held)
        return held or rim_spot(around, self._center.at)

    def is_begun(self) -> bool:
        """True once the center is taken."""
        return self._center is not None

    def drawn(self, spot: Spot) -> Iterable[Curve]:
        """Return the circle."""
        if self._center is not None and not self.is_same(self._center.at, spot.at):
            yield Circle(self._center.at, self._radius(spot))

    def _radius(self, spot: Spot) -> float:
        assert self._center is not None
        return dist(self._center.at, spot.at)

    def place(self, spot: Spot) -> bool:
        """Take the center or the size."""
        if self._center is None:
            self._center = spot
            return True
        if not spot.ties and self.pointer is not None and self._radius(spot) <= self.pointer.reach:
            # The second press of a double press, or one that missed.
            self.bench.say("A circle needs a size: press away from the center, or type a diameter.")
            return False
        center, radius = self._center, self._radius(spot)
        made: dict[str, str] = {}

        def build(sketch: Sketch) -> None:
            point = sketch.point(center)
            made["curve"] = sketch.draft.circle(point, radius, self.role)
            sketch.ties(spot.ties, point, {"@curve": made["curve"]})

        done = self.draw("Draw circle", build)
        if done:
            self.restart()
            figure_done(self, made["curve"], spot.word)
        return done

    def back(self) -> bool:
        """Let the center go."""
        begun = self.is_begun()
        self._center = None
        return begun

    def refresh(self) -> None:
        """Look again at the center, and where the pointer is."""
        if self._center is not None:
            self._center = self._center.now(self.bench.part)
        super().refresh()

    def restart(self) -> None:
        """Wait for another center."""
        self._center = None


TOOL = CircleTool
