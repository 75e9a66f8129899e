"""Arcs by center, start and end."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from math import degrees, dist

from sketcher.board.places.pending_bindings import typed_tie
from sketcher.board.places.point_place import Around, Spot
from sketcher.board.places.snap_choice import snapped
from sketcher.board.preview import Pointer
from sketcher.board.readout.held_values import Stage
from sketcher.board.steps.bench import Bench
from sketcher.board.steps.drawing_step import Sketch
from sketcher.board.toolkit.staged_tool import StagedTool
from sketcher.board.toolkit.turning import FollowedTurn
from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.geometry.project import nearest


class ArcByCenterTool(StagedTool):
    """Draws arcs; the pointer's way round the center tells the turn."""

    name = "arc center"
    label = "Arc about a center"
    hint = "Press the center of the arc."
    key = "A"
    step = "Draw arc"
    prompts = (
        hint,
        "Press where the arc starts, or type its radius.",
        "Go round to where the arc ends, or type its sweep. R turns the other way.",
    )

    def __init__(self, bench: Bench) -> None:
        super().__init__(bench)
        self._turning = FollowedTurn((0.0, 0.0), (0.0, 0.0))

    @property
    def columns(self) -> tuple[str, ...]:
        """The rows of all stages."""
        return ("radius", "angle", "x", "y", "sweep")

    def stage(self) -> Stage:
        """Return the rows of the center, the start or the end."""
        if self.asks == 0:
            return Stage(("x", "y"), None, self.zero)
        if self.asks == 1:
            return Stage(("radius", "angle", "x", "y"), self.spots[0].at, self.zero)
        return Stage(("sweep",), self.spots[0].at, self.zero, freedoms=1)

    def start(self) -> tuple[XY | None, str | None]:
        """Return the center, from which level and plumb are judged."""
        return (self.spots[0].at, self.spots[0].point) if self.spots else (None, None)

    def move(self, pointer: Pointer) -> None:
        """Follow the pointer round the center."""
        if self.asks == 2:
            self._turning.follow(pointer.at)
        super().move(pointer)

    def press(self, pointer: Pointer) -> None:
        """Take a place; the last motion counts."""
        self.move(pointer)
        super().press(pointer)

    def type_key(self, name: str) -> bool:
        """Take R, which turns the arc the other way."""
        if name == "r" and self.asks == 2:
            self._turning.flip()
            self.look()
            return True
        return super().type_key(name)

    def look(self) -> None:
        """Find the place; a typed sweep fixes it."""
        if self.asks == 2 and "sweep" in self.held:
            typed = self.held["sweep"]
            self.spot = Spot(self._turning.end_of(typed.amount), f"sweep {typed.text}",
                             (typed_tie("sweep", ("@curve",), typed),))
            return
        super().look()

    def aim(self, around: Around, held: Spot | None) -> Spot:
        """Return a snapped place; the end only where it lies on the circle."""
        if self.asks < 2:
            return super().aim(around, held)
        center, start = self.spots[0].at, self.spots[1].at
        ring = Circle(center, dist(start, center))
        foot = nearest(ring, around.pointer.at).point
        return snapped(around, Spot(foot, locus=ring))

    def drawn_values(self, spot: Spot) -> Mapping[str, float]:
        """Return the sweep of the arc."""
        return {"sweep": abs(degrees(self._arc(spot).sweep))} if self.asks == 2 else {}

    def refresh(self) -> None:
        """Look again at the places taken; the way round goes on from where they stand."""
        super().refresh()
        if self.asks == 2:
            self._turning.center, self._turning.start = self.spots[0].at, self.spots[1].at

    def _arc(self, spot: Spot) -> Arc:
        return self._turning.arc(spot.at)

    def drawn(self, spot: Spot) -> Iterable[Curve]:
        """Return the radius, or the arc."""
        if self.asks == 1:
            yield Line(self.spots[0].at, spot.at)
        elif self.asks == 2:
            yield self._arc(spot)

    def place(self, spot: Spot) -> bool:
        """Take a place."""
        if self.asks == 1:
            self._turning = FollowedTurn(self.spots[0].at, spot.at)
        return super().place(spot)

    def figure(self, sketch: Sketch, spots: list[Spot]) -> str:
        """Draw the arc."""
        center = sketch.point(spots[0])
        names = {"@from": center}
        first = sketch.point(spots[1], names)
        last = sketch.point(spots[2], names)
        arc = self._arc(spots[2])
        name = sketch.draft.arc(first, last, center, "ccw" if arc.ccw else "cw", self.role)
        sketch.named(curve=name)
        return name


TOOL = ArcByCenterTool
