"""Straight slots: two round ends and two lines."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from math import dist

from sketcher.board.places.circle_rim import rim_spot
from sketcher.board.places.point_place import Around, Spot
from sketcher.board.readout.held_values import Stage
from sketcher.board.steps.drawing_step import Sketch
from sketcher.board.toolkit.staged_tool import StagedTool
from sketcher.geometry.curves import XY, Arc, Curve, Line
from sketcher.geometry.project import distance

PLACED = ("run", "rise", "x", "y")


class SlotTool(StagedTool):
    """Draws a slot by the centers of its ends and its radius."""

    name = "slot"
    label = "Straight slot"
    hint = "Press the center of one end of the slot."
    key = "S"
    prompts = (
        hint,
        "Press the center of the other end, or type length and angle.",
        "Press a place on the edge, or type the width of the slot or the radius of its ends.",
    )

    @property
    def columns(self) -> tuple[str, ...]:
        """The rows of all stages; the size stands in the first place, where typing begins."""
        return (("width", "radius") if self.asks == 2 else ("distance", "angle")) + PLACED

    def stage(self) -> Stage:
        """Return the rows of a center, or of the width."""
        if self.asks == 0:
            return Stage(("x", "y"), None, self.zero)
        if self.asks == 1:
            rows = ("distance", "angle", *PLACED)
            return Stage(rows, self.spots[0].at, self.zero, along=("@edge",))
        return Stage(("width", "radius"), self.spots[1].at, self.zero, freedoms=1)

    def aim(self, around: Around, held: Spot | None) -> Spot:
        """Return a snapped center, or the place on the edge."""
        if self.asks < 2:
            return super().aim(around, held)
        return held or rim_spot(around, self.spots[1].at)

    def _radius(self, spot: Spot) -> float:
        """Distance of the place from the path; beyond its ends from the nearer center."""
        if spot.ties:
            return dist(self.spots[1].at, spot.at)
        return distance(Line(self.spots[0].at, self.spots[1].at), spot.at)

    def drawn_values(self, spot: Spot) -> Mapping[str, float]:
        """Return the size of the ends as they are drawn."""
        if self.asks < 2:
            return {}
        return {"width": 2.0 * self._radius(spot), "radius": self._radius(spot)}

    def refused(self, spot: Spot) -> str:
        """Return why a place cannot be used."""
        if self.asks == 2 and self._radius(spot) == 0.0:
            return "A slot needs a width: press beside its path."
        return "" if self.asks == 2 else super().refused(spot)

    def drawn(self, spot: Spot) -> Iterable[Curve]:
        """Return the path, or the slot."""
        if self.asks == 1:
            yield Line(self.spots[0].at, spot.at)
        elif self.asks == 2 and self._radius(spot) > 0.0:
            a, b = self.spots[0].at, self.spots[1].at
            p, q, r, s = edges(a, b, self._radius(spot))
            yield from (Line(p, q), Arc(b, q, r, True), Line(r, s), Arc(a, s, p, True))

    def figure(self, sketch: Sketch, spots: list[Spot]) -> str:
        """Draw two lines and two arcs, tangent at all four joints and of one radius."""
        radius = self._radius(spots[2])
        one = sketch.point(spots[0])
        other = sketch.point(spots[1], {"@from": one})
        draft = sketch.draft
        p, q, r, s = (draft.point(place) for place in edges(spots[0].at, spots[1].at, radius))
        lines = (draft.line(p, q, self.role), draft.line(r, s, self.role))
        ends = (draft.arc(q, r, other, "ccw", self.role), draft.arc(s, p, one, "ccw", self.role))
        sketch.named(edge=lines[0])
        sketch.ties(spots[2].ties, other,
                    {"@curve": ends[0], "@edge": lines[0], "@facing": lines[1]})
        for line in lines:
            for end in ends:
                sketch.tie("tangent", line, end)
        sketch.tie("equal", *ends)
        return lines[0]


def edges(a: XY, b: XY, radius: float) -> tuple[XY, XY, XY, XY]:
    """Return the four joints of a slot, counter-clockwise, the right edge from a to b first."""
    ux, uy = Line(a, b).direction
    nx, ny = -uy * radius, ux * radius
    return ((a[0] - nx, a[1] - ny), (b[0] - nx, b[1] - ny), (b[0] + nx, b[1] + ny),
            (a[0] + nx, a[1] + ny))


TOOL = SlotTool
