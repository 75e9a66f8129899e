"""Base of the tools that put what is chosen elsewhere: move, copy, rotate."""

from __future__ import annotations

from collections.abc import Hashable

from sketcher.board.places.point_place import Spot
from sketcher.board.preview import Pointer, Preview
from sketcher.board.readout.held_values import Stage
from sketcher.board.steps.bench import Bench
from sketcher.board.toolkit.drawing_words import freedoms_told
from sketcher.board.toolkit.placing_tool import NO_PLACE, PlacingTool
from sketcher.board.toolkit.trial import Proposal, Trial
from sketcher.errors import SketcherError
from sketcher.geometry.curves import XY


class CarryingTool(PlacingTool):
    """First chooses points and curves, unless some are selected; then asks for places."""

    keeps_selection = True
    group = "shape"
    choosing = "Press the curves and points to take along, then Enter."

    def __init__(self, bench: Bench) -> None:
        super().__init__(bench)
        self.ids: tuple[str, ...] = ()
        self.ready = False  # what is taken along has been chosen
        self.base: Spot | None = None
        self.trial = Trial(bench)

    # What a subclass says.

    def proposal(self, spot: Spot) -> tuple[Hashable, Proposal] | None:
        """Return the edit that a place would make, and what tells it from others."""
        raise NotImplementedError

    # Choosing.

    def begin(self) -> None:
        """Take what is selected."""
        self.ids = self.bench.selection.geometry(self.bench.part)
        self.ready = bool(self.ids)

    def is_begun(self) -> bool:
        """True once something was chosen here or a place was taken."""
        return self.base is not None or (bool(self.ids) and not self.ready)

    def restart(self) -> None:
        """Let the place go, then what was chosen."""
        if self.base is None and not self.ready:
            self.ids = ()
        self.base = None

    def back(self) -> bool:
        """Let the place go."""
        had = self.base is not None
        self.base = None
        return had

    def origin(self) -> XY:
        """Return where typed values count from: the place taken first, or the first point."""
        if self.base is not None:
            return self.base.at
        part = self.bench.part
        point = self.base_point()
        return part.points[point] if point is not None else self.zero

    def base_point(self) -> str | None:
        """Return the point of what is carried that goes to the place; None for a free place."""
        part = self.bench.part
        named = [p for n in self.ids for p in ((n,) if n in part.points else
                                               part.curves[n].points if n in part.curves else ())]
        if self.base is not None:
            return self.base.point if self.base.point in named else None
        return named[0] if named else None

    def carry(self, name: str, edit: Proposal) -> bool:
        """Make an edit; what becomes of typed values, and what is loose then, is told with it."""
        bench, before = self.bench, self.bench.report.freedoms
        done = bench.do(name, edit).done
        told = bench.message
        if done and told.severity not in ("warning", "error"):
            if bench.report.freedoms > before:
                self._notes.append(freedoms_told(bench.report.freedoms))
            if self._notes:
                bench.say(". ".join((told.text.rstrip("."), " ".join(self._notes))), "done")
        self._notes = []
        return done

    # Events.

    def look(self) -> None:
        """Find the place once everything is chosen."""
        if self.ready:
            super().look()
        else:
            self.spot = None

    def press(self, pointer: Pointer) -> None:
        """Choose what is under the pointer, or take a place."""
        if self.ready:
            super().press(pointer)
            return
        self.pointer = pointer
        found = self.bench.derived.picker().nearest(pointer.at, pointer.reach)
        if found is None:
            self.bench.say("Nothing is there: press a curve or a point.")
            return
        name = found.source
        self.ids = tuple(n for n in self.ids if n != name) if name in self.ids \
            else (*self.ids, name)

    def type_key(self, name: str) -> bool:
        """Take Enter, which ends the choosing, and the keys of all tools that ask for places."""
        if not self.ready and name == "enter" and self.ids:
            self.ready = True
            self.next_stage()
            self.look()
            return True
        if not self.ready and name in ("escape", "backspace") and self.ids:
            self.ids = self.ids[:-1]
            return True
        return super().type_key(name) if self.ready else False

    def take(self) -> None:
        """Take the first place; a later one, or one that was typed, makes the edit."""
        spot, typed = self.spot, bool(self.held)
        if spot is not None and self.base is None and not typed \
                and not spot.word.startswith(NO_PLACE):
            self.base = spot
            self.next_stage()
            self.look()
            return
        super().take()

    def refresh(self) -> None:
        """Let go what is no longer there."""
        part = self.bench.part
        self.ids = tuple(n for n in self.ids if n in part.points or n in part.curves)
        if not self.ids:
            self.ready, self.base = False, None
        if self.base is not None:
            self.base = self.base.now(part)
        super().refresh()

    # Showing.

    @property
    def preview(self) -> Preview:
        """What would come and go."""
        shown = super().preview
        spot = self.spot
        asked = self.proposal(spot) if self.ready and spot is not None and (
            self.base is not None or self.held) else None
        if asked is None or isinstance(self.trial.of(*asked), SketcherError):
            return shown + Preview(lit=self.ids)
        return shown + Preview(self.trial.ghosts, lit=self.ids)


class SteppingTool(CarryingTool):
    """A carrier whose second place, or whose run and rise, says how far things go."""

    @property
    def columns(self) -> tuple[str, ...]:
        """The rows of the way that things go."""
        return ("run", "rise", "distance", "angle")

    def stage(self) -> Stage:
        """Return the rows of the way that it goes."""
        return Stage(self.columns, self.origin(), self.zero)

    def way(self, spot: Spot) -> XY:
        """Return the step from the origin to a place."""
        (x0, y0), (x, y) = self.origin(), spot.at
        return (x - x0, y - y0)
