"""Arcs by center, start and end."""

from __future__ import annotations

from collections.abc import Iterable
from math import cos, degrees, dist, pi, sin, tau

from sketcher.board.places.point_place import Around, Spot
from sketcher.board.places.snap_choice import free, snapped
from sketcher.board.preview import Pointer
from sketcher.board.readout.held_values import Stage
from sketcher.board.readout.row import Row
from sketcher.board.steps.bench import Bench
from sketcher.board.steps.drawing_step import Sketch
from sketcher.board.toolkit.drawn_arcs import turned
from sketcher.board.toolkit.staged_tool import StagedTool
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
        self._sweep = 0.0

    def stage(self) -> Stage:
        """Return the rows of the center, the start or the end."""
        if self.asks == 0:
            return Stage(("x", "y"), None, self.zero)
        if self.asks == 1:
            return Stage(("x", "y", "radius", "angle"), self.spots[0].at, self.zero)
        return Stage(("sweep",), self.spots[0].at, self.zero)

    def start(self) -> tuple[XY | None, str | None]:
        """Return the center, from which level and plumb are judged."""
        return (self.spots[0].at, self.spots[0].point) if self.spots else (None, None)

    def move(self, pointer: Pointer) -> None:
        """Follow the pointer round the center."""
        if self.asks == 2:
            center, start = self.spots[0].at, self.spots[1].at
            step = (turned(center, start, pointer.at) - self._sweep + pi) % tau - pi
            swept = self._sweep + step
            self._sweep = swept if abs(swept) < tau else turned(center, start, pointer.at)
        super().move(pointer)

    def press(self, pointer: Pointer) -> None:
        """Take a place; the last motion counts."""
        self.move(pointer)
        super().press(pointer)

    def type_key(self, name: str) -> bool:
        """Take R, which turns the arc the other way."""
        if name == "r" and self.asks == 2:
            self._sweep += -tau if self._sweep > 0.0 else tau
            self.look()
            return True
        return super().type_key(name)

    def look(self) -> None:
        """Find the place; a typed sweep fixes it."""
        if self.asks == 2 and "sweep" in self.held:
            self.spot = free(self._end_of_sweep())
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

    def _end_of_sweep(self) -> XY:
        (cx, cy), (sx, sy) = self.spots[0].at, self.spots[1].at
        turn = self.held["sweep"].amount * pi / 180.0 * (1.0 if self._sweep >= 0.0 else -1.0)
        c, s = cos(turn), sin(turn)
        x, y = sx - cx, sy - cy
        return (cx + c * x - s * y, cy + s * x + c * y)

    def rows(self) -> tuple[Row, ...]:
        """Return the rows, with the sweep as it is drawn."""
        rows = super().rows()
        if self.asks == 2 and self.spot is not None and "sweep" not in self.held:
            arc = self._arc(self.spot)
            from sketcher.board.readout.readout_content import row

            return (row(self.bench, "sweep", abs(degrees(arc.sweep)), None, True),)
        return rows

    def _arc(self, spot: Spot) -> Arc:
        return Arc(self.spots[0].at, self.spots[1].at, spot.at, self._sweep >= 0.0)

    def drawn(self, spot: Spot) -> Iterable[Curve]:
        """Return the radius, or the arc."""
        if self.asks == 1:
            yield Line(self.spots[0].at, spot.at)
        elif self.asks == 2:
            yield self._arc(spot)

    def place(self, spot: Spot) -> None:
        """Take a place."""
        if self.asks == 1:
            self._sweep = 0.0
        super().place(spot)

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
