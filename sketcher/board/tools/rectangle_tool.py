"""Rectangles with level and plumb sides."""

from __future__ import annotations

from collections.abc import Iterable

from sketcher.board.places.point_place import Spot
from sketcher.board.readout.held_values import Stage
from sketcher.board.steps.drawing_step import Sketch
from sketcher.board.toolkit.staged_tool import StagedTool
from sketcher.geometry.curves import XY, Curve, Line


class RectangleTool(StagedTool):
    """Draws a rectangle from corner to corner; run and rise are its sides."""

    name = "rectangle"
    label = "Rectangle"
    hint = "Press one corner of the rectangle."
    key = "R"
    prompts = (hint, "Press the opposite corner, or type run and rise.")

    @property
    def columns(self) -> tuple[str, ...]:
        """The rows of both stages."""
        return ("run", "rise", "x", "y")

    def stage(self) -> Stage:
        """Return the rows of a corner."""
        if self.asks == 0:
            return Stage(("x", "y"), None, self.zero)
        return Stage(self.columns, self.spots[0].at, self.zero)

    def refused(self, spot: Spot) -> str:
        """Return why a corner cannot be used."""
        if self.asks and (spot.at[0] == self.spots[0].at[0] or spot.at[1] == self.spots[0].at[1]):
            return "The corners are in line: a rectangle needs a run and a rise."
        return super().refused(spot)

    def drawn(self, spot: Spot) -> Iterable[Curve]:
        """Return the four sides."""
        if self.asks:
            a, b, c, d = corners(self.spots[0].at, spot.at)
            yield from (Line(a, b), Line(b, c), Line(c, d), Line(d, a))

    def figure(self, sketch: Sketch, spots: list[Spot]) -> str:
        """Draw the four sides, two level and two plumb."""
        places = corners(spots[0].at, spots[1].at)
        first = sketch.point(spots[0])
        last = sketch.point(spots[1], {"@from": first})
        ends = (first, sketch.draft.point(places[1]), last, sketch.draft.point(places[3]))
        lines = [sketch.draft.line(ends[i], ends[(i + 1) % 4], self.role) for i in range(4)]
        for line, kind in zip(lines, ("level", "plumb", "level", "plumb"), strict=True):
            sketch.tie(kind, line)
        return lines[0]


def corners(a: XY, c: XY) -> tuple[XY, XY, XY, XY]:
    """Return the corners of the level rectangle on a diagonal, the level side first."""
    return a, (c[0], a[1]), c, (a[0], c[1])


TOOL = RectangleTool
