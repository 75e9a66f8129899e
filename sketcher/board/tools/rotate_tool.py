"""Turning points and curves about a place."""

from __future__ import annotations

from collections.abc import Hashable
from math import atan2, degrees

from sketcher.board.places.pending_bindings import read_typed
from sketcher.board.places.point_place import Spot
from sketcher.board.readout.held_values import Stage
from sketcher.board.readout.readout_content import row
from sketcher.board.readout.row import Row
from sketcher.board.toolkit.carrying_tool import CarryingTool
from sketcher.board.toolkit.trial import Proposal
from sketcher.part.edits.rotate import rotate


class RotateTool(CarryingTool):
    """Turns what is chosen about a place, by a typed angle or by whole degrees."""

    name = "rotate"
    label = "Rotate"
    hint = "Press the place to turn about; typing an angle at once turns about the readout's zero."
    ask = "Press the place to turn about, or type the angle about the zero."
    key = "Shift+R"

    @property
    def prompt(self) -> str:
        """What is wanted next."""
        if not self.ready:
            return self.choosing
        if self.base is None:
            return self.opening
        return "Press the direction that level goes to, or type the angle, counter-clockwise."

    @property
    def columns(self) -> tuple[str, ...]:
        """The rows of both stages."""
        return ("angle", "x", "y")

    def stage(self) -> Stage:
        """Return the rows of the place; the angle has a row of its own."""
        return Stage(("x", "y"), None, self.zero) if self.base is None \
            else Stage(("angle",), None, self.zero, freedoms=1)

    def rows(self) -> tuple[Row, ...]:
        """Return the rows of the place, and the angle."""
        turn = None if self.base is None or self.spot is None else self.turn(self.spot)
        angle = row(self.bench, "angle", turn, self.held.get("angle"), True)
        return (angle,) if self.base is not None else (angle, *super().rows())

    def turn(self, spot: Spot) -> float:
        """Return the angle in degrees that a place means."""
        if "angle" in self.held:
            return self.held["angle"].amount
        x0, y0 = self.base.at if self.base is not None else self.zero
        return float(round(degrees(atan2(spot.at[1] - y0, spot.at[0] - x0))))

    def hold(self, row: str, text: str) -> bool:
        """Hold the angle, which has no place of its own; other values hold the place."""
        if row != "angle" or not self.ready:
            return super().hold(row, text)
        bench = self.bench
        self.held = {"angle": read_typed(
            text, "angle", bench.part, bench.shown_unit, bench.derived.values())}
        self._fresh = True
        self.look()
        return True

    def take(self) -> None:
        """Turn by the angle that is held, wherever the pointer is; else take the place."""
        if "angle" in self.held:
            self._turn(self.held["angle"].amount)
        else:
            super().take()

    def take_typed(self) -> None:
        """Take the place, or turn."""
        if "angle" in self.held:
            self.take()
        else:
            super().take_typed()

    def proposal(self, spot: Spot) -> tuple[Hashable, Proposal] | None:
        """Return the turn that a place means."""
        if self.base is None:
            return None
        ids, center, angle = self.ids, self.base.at, self.turn(spot)
        return (ids, center, angle), lambda part: rotate(part, ids, center, angle)

    def place(self, spot: Spot) -> bool:
        """Take the center, when it was typed; else turn."""
        if self.base is None:
            self.base = spot
            if any(tie.typed for tie in spot.ties):
                self._notes = [f"{spot.word.capitalize()} was the place to turn about: "
                               "a turn makes no dimension."]
            return True
        return self._turn(self.turn(spot))

    def _turn(self, angle: float) -> bool:
        ids, center = self.ids, self.base.at if self.base is not None else self.zero
        if "angle" in self.held:
            self._notes.append(f"Turned by angle {self.held['angle'].text}, once: "
                               "a turn makes no dimension.")
        done = self.carry(f"Rotate {', '.join(ids[:3])}",
                          lambda part: rotate(part, ids, center, angle))
        self.base, self.finished = None if done else self.base, done
        return done


TOOL = RotateTool
