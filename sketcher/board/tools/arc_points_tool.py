"""Arcs by their two ends and a place between."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from sketcher.board.places.pending_bindings import Tie
from sketcher.board.places.point_place import Spot
from sketcher.board.readout.held_values import Stage
from sketcher.board.steps.drawing_step import Sketch
from sketcher.board.toolkit.drawn_arcs import arc_of_radius, arc_through
from sketcher.board.toolkit.staged_tool import StagedTool
from sketcher.geometry.curves import Arc, Curve, Line


class ArcByPointsTool(StagedTool):
    """Draws arcs through three places."""

    name = "arc points"
    label = "Arc through three places"
    hint = "Press where the arc starts."
    key = "T"
    step = "Draw arc"
    prompts = (
        hint,
        "Press where the arc ends.",
        "Press a place that the arc runs through, or type its radius.",
    )

    @property
    def columns(self) -> tuple[str, ...]:
        """The rows of all stages."""
        return ("radius", "distance", "run", "rise", "x", "y")

    def stage(self) -> Stage:
        """Return the rows of an end, or of the bulge."""
        if self.asks == 0:
            return Stage(("x", "y"), None, self.zero)
        if self.asks == 1:
            rows = ("distance", "run", "rise", "x", "y")
            return Stage(rows, self.spots[0].at, self.zero)
        return Stage(("radius",), None, self.zero, freedoms=1)

    def _arc(self, spot: Spot) -> Arc | None:
        start, end = self.spots[0].at, self.spots[1].at
        if "radius" in self.held and self.pointer is not None:
            return arc_of_radius(start, end, self.held["radius"].amount, self.pointer.at)
        return arc_through(start, spot.at, end)

    def drawn(self, spot: Spot) -> Iterable[Curve]:
        """Return the chord, or the arc."""
        if self.asks == 1:
            yield Line(self.spots[0].at, spot.at)
        elif self.asks == 2:
            arc = self._arc(spot)
            if arc is not None:
                yield arc

    def drawn_values(self, spot: Spot) -> Mapping[str, float]:
        """Return the radius of the arc."""
        arc = self._arc(spot) if self.asks == 2 else None
        return {} if arc is None else {"radius": arc.radius}

    def take(self) -> None:
        """Take the place that is shown; a held radius becomes a dimension."""
        if self.asks == 2 and "radius" in self.held and self.spot is not None:
            arc, typed = self._arc(self.spot), self.held["radius"]
            if arc is None:
                self.bench.say("The ends are further apart than the diameter.", "warning")
                return
            middle = Spot(_middle(arc), ties=(Tie("radius", ("@curve",), typed.text, True),))
            if self.place(middle):
                self.next_stage()
            self.look()
            return
        super().take()

    def refused(self, spot: Spot) -> str:
        """Return why a place cannot be used."""
        if self.asks == 2 and self._arc(spot) is None:
            return "These places lie on one line: there is no arc through them."
        return super().refused(spot)

    def figure(self, sketch: Sketch, spots: list[Spot]) -> str:
        """Draw the arc."""
        first = sketch.point(spots[0])
        last = sketch.point(spots[1], {"@from": first})
        arc = arc_through(spots[0].at, spots[2].at, spots[1].at)
        assert arc is not None
        center = sketch.draft.point(arc.center)
        name = sketch.draft.arc(first, last, center, "ccw" if arc.ccw else "cw", self.role)
        sketch.named(curve=name)
        via = spots[2]
        ties = (Tie("on", (via.point, "@curve")),) if via.point is not None else tuple(
            tie for tie in via.ties if tie.of == ("@curve",))
        sketch.ties(ties, "", {"@curve": name})
        return name


def _middle(arc: Arc) -> tuple[float, float]:
    from sketcher.geometry.evaluate import midpoint

    return midpoint(arc)


TOOL = ArcByPointsTool
