"""Curved slots: two round ends and two concentric arcs."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from math import dist

from sketcher.board.places.circle_rim import rim_spot
from sketcher.board.places.point_place import Around, Spot
from sketcher.board.places.snap_choice import snapped
from sketcher.board.readout.held_values import Stage
from sketcher.board.steps.drawing_step import Sketch
from sketcher.board.toolkit.drawn_arcs import turned
from sketcher.board.toolkit.staged_tool import StagedTool
from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.geometry.project import nearest


class CurvedSlotTool(StagedTool):
    """Draws a slot along an arc: center of the path, centers of both ends, radius."""

    name = "curved slot"
    label = "Curved slot"
    hint = "Press the center of the slot's center line."
    key = "K"
    prompts = (
        hint,
        "Press the center of one end, or type its distance from there.",
        "Go round to the center of the other end.",
        "Press a place on the edge, or type the width of the slot or the radius of its ends.",
    )

    @property
    def columns(self) -> tuple[str, ...]:
        """The rows of all stages."""
        return ("distance", "angle", "x", "y", "width", "radius")

    def stage(self) -> Stage:
        """Return the rows of the place that is asked for."""
        if self.asks == 0:
            return Stage(("x", "y"), None, self.zero)
        if self.asks == 1:
            return Stage(("distance", "angle", "x", "y"), self.spots[0].at, self.zero)
        if self.asks == 2:
            return Stage(("angle",), self.spots[0].at, self.zero, freedoms=1)
        return Stage(("width", "radius"), self.spots[2].at, self.zero, freedoms=1)

    def start(self) -> tuple[XY | None, str | None]:
        """Return the center of the path, from which level and plumb are judged."""
        return (self.spots[0].at, self.spots[0].point) if self.spots else (None, None)

    @property
    def _path(self) -> float:
        return dist(self.spots[0].at, self.spots[1].at)

    def aim(self, around: Around, held: Spot | None) -> Spot:
        """Return a snapped center, the second end on the path, or a place on the edge."""
        if self.asks < 2:
            return super().aim(around, held)
        if self.asks == 3:
            return held or rim_spot(around, self.spots[2].at)
        ring = Circle(self.spots[0].at, self._path)
        if held is not None:
            return replace(held, at=nearest(ring, held.at).point, locus=None)
        return snapped(around, Spot(nearest(ring, around.pointer.at).point, locus=ring))

    def _radius(self, spot: Spot) -> float:
        if spot.ties:
            return dist(self.spots[2].at, spot.at)
        return min(abs(dist(spot.at, self.spots[0].at) - self._path), 0.999 * self._path)

    def drawn_values(self, spot: Spot) -> Mapping[str, float]:
        """Return the size of the ends as they are drawn."""
        if self.asks < 3:
            return {}
        return {"width": 2.0 * self._radius(spot), "radius": self._radius(spot)}

    def refused(self, spot: Spot) -> str:
        """Return why a place cannot be used."""
        if self.asks == 3:
            radius = self._radius(spot)
            if radius == 0.0:
                return "A slot needs a width: press beside its path."
            return "The slot is wider than its path allows." if radius >= self._path else ""
        return super().refused(spot)

    def drawn(self, spot: Spot) -> Iterable[Curve]:
        """Return the path so far, or the slot."""
        if self.asks == 1:
            yield Line(self.spots[0].at, spot.at)
        elif self.asks == 2:
            ccw = turned(self.spots[0].at, self.spots[1].at, spot.at) >= 0.0
            yield Arc(self.spots[0].at, self.spots[1].at, spot.at, ccw)
        elif self.asks == 3 and 0.0 < self._radius(spot) < self._path:
            yield from self._curves(self._radius(spot))

    def _ends(self) -> tuple[Spot, Spot]:
        """Return the two ends so that the path runs counter-clockwise."""
        one, other = self.spots[1], self.spots[2]
        ccw = turned(self.spots[0].at, one.at, other.at) >= 0.0
        return (one, other) if ccw else (other, one)

    def _curves(self, radius: float) -> tuple[Arc, Arc, Arc, Arc]:
        center = self.spots[0].at
        one, other = (spot.at for spot in self._ends())
        p, q, r, s = joints(center, one, other, radius, self._path)
        return (Arc(center, p, q, True), Arc(other, q, r, True), Arc(center, r, s, False),
                Arc(one, s, p, True))

    def figure(self, sketch: Sketch, spots: list[Spot]) -> str:
        """Draw four arcs, tangent at all four joints."""
        radius = self._radius(spots[3])
        draft, center = sketch.draft, sketch.point(spots[0])
        names = {"@from": center}
        ids = [sketch.point(spot, names) for spot in spots[1:3]]
        swapped = self._ends()[0] is not spots[1]
        one, other = reversed(ids) if swapped else ids
        first, last = (spot.at for spot in self._ends())
        p, q, r, s = (draft.point(place)
                      for place in joints(spots[0].at, first, last, radius, self._path))
        rims = (draft.arc(p, q, center, "ccw", self.role),
                draft.arc(r, s, center, "cw", self.role))
        caps = (draft.arc(q, r, other, "ccw", self.role), draft.arc(s, p, one, "ccw", self.role))
        sketch.ties(spots[3].ties, other, {"@curve": caps[1 if swapped else 0],
                                           "@edge": rims[0], "@facing": rims[1]})
        for rim in rims:
            for cap in caps:
                sketch.tie("tangent", rim, cap)
        return rims[0]


def joints(
    center: XY, one: XY, other: XY, radius: float, path: float
) -> tuple[XY, XY, XY, XY]:
    """Return the joints of a curved slot: outer from one to other, then inner back."""

    def at(end: XY, size: float) -> XY:
        share = size / path
        return (center[0] + (end[0] - center[0]) * share, center[1] + (end[1] - center[1]) * share)

    return (at(one, path + radius), at(other, path + radius), at(other, path - radius),
            at(one, path - radius))


TOOL = CurvedSlotTool
