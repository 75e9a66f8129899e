"""The outline: lines and arcs in one go, piece by piece."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from math import degrees

from sketcher.board.places.pending_bindings import Tie
from sketcher.board.places.point_place import Around, Spot
from sketcher.board.preview import Pointer
from sketcher.board.readout.held_conflicts import listed
from sketcher.board.readout.held_values import Stage
from sketcher.board.steps.bench import Bench
from sketcher.board.steps.drawing_step import Sketch
from sketcher.board.toolkit.drawn_arcs import tangent_arc
from sketcher.board.toolkit.free_arc import FreeArc, is_center
from sketcher.board.toolkit.joining_tool import Joined, JoiningTool, leaves_along
from sketcher.board.toolkit.tool_base import Way
from sketcher.errors import SketcherError
from sketcher.geometry.curves import Arc, Curve, Line

WAYS = {
    "line": ("Line", "A straight line."),
    "tangent arc": ("Tangent arc", "An arc that leaves the piece before without a corner."),
    "free arc": ("Free arc", "Press its end and then a place on it; or press an existing center, "
                             "then its end."),
}
ENDING = "Enter ends the outline."
PLACED = ("run", "rise", "x", "y")


class OutlineTool(JoiningTool):
    """Draws lines and arcs that follow each other.

    What the next piece is stands in the readout: a line, a tangent arc or a free arc; Space goes
    round them.
    """

    name = "outline"
    label = "Outline"
    hint = "Press where the outline starts."
    key = "C"

    def __init__(self, bench: Bench) -> None:
        super().__init__(bench)
        self._free = FreeArc()
        self._way = "line"

    # What is asked for.

    @property
    def way(self) -> str:
        """What the next piece is: ``"line"``, ``"tangent arc"`` or ``"free arc"``."""
        if self._way == "tangent arc" and self.before()[1] is None:
            return "line"
        return self._way

    @property
    def prompt(self) -> str:
        """What the outline wants next."""
        if self._start is None:
            return self.opening
        if self._free.center is not None:
            return "Go round to where the arc ends, or type its sweep."
        if self._free.far is not None:
            return "Press a place on the arc, or its center; or type its radius."
        if self.way == "free arc":
            return "Press the end of the arc, or the center that it goes round. Enter ends."
        return f"Press the end of the {self.way}. Space: another piece. {ENDING}"

    @property
    def columns(self) -> tuple[str, ...]:
        """The values of the piece, then those of its end, which stand for all pieces."""
        rows = self.stage().rows
        own = [row for row in rows if row not in PLACED]
        return (*(own if self._start is not None else ("length", "angle")), "", "")[:2] + PLACED

    def ways(self) -> tuple[Way, ...]:
        """Return what the next piece can be."""
        open_ = self._start is not None and not self._free.is_begun
        return tuple(
            Way(name, label, name == self.way, hint,
                open_ and (name != "tangent arc" or self.before()[1] is not None))
            for name, (label, hint) in WAYS.items())

    def choose_way(self, name: str) -> None:
        """Change what the next piece is; what is held of its end stays."""
        if not any(way.name == name and way.usable for way in self.ways()):
            return
        self._way = name
        rows = self.stage().rows
        gone = {row: typed for row, typed in self.held.items() if row not in rows}
        if gone:
            self.bench.say(f"{listed(gone)}: a {name} has none, so it is let go.")
        self.held = {row: typed for row, typed in self.held.items() if row in rows}
        self.look()

    def stage(self) -> Stage:
        """Return the rows of the piece that comes next."""
        if self._start is None:
            return Stage(("x", "y"), None, self.zero)
        origin = self._origin()
        if self._free.center is not None:
            return Stage(("sweep",), self._free.center.at, self.zero, freedoms=1)
        if self._free.far is not None:
            return Stage(("radius",), None, self.zero, freedoms=1)
        if self.way == "line":
            return Stage(("length", "angle", *PLACED), origin, self.zero, True)
        if self.way == "tangent arc":
            return Stage(("radius", "sweep", *PLACED), origin, self.zero,
                         heading=self.before()[1])
        return Stage(("distance", *PLACED), origin, self.zero)

    # Events.

    def move(self, pointer: Pointer) -> None:
        """Follow the pointer, round the center of an arc that has one."""
        if self._free.turning is not None:
            self._free.turning.follow(pointer.at)
        super().move(pointer)

    def press(self, pointer: Pointer) -> None:
        """Take a place; the last motion counts."""
        self.move(pointer)
        super().press(pointer)

    def look(self) -> None:
        """Find the place; a typed sweep fixes it."""
        if self._free.turning is not None and "sweep" in self.held:
            self.spot = self._free.swept(self.held["sweep"])
        else:
            super().look()

    def aim(self, around: Around, held: Spot | None) -> Spot:
        """Return a snapped place; about a center only one on the circle."""
        return super().aim(around, held) if self._free.turning is None else self._free.aim(around)

    def type_key(self, name: str) -> bool:
        """Take R, which lets an arc about a center turn the other way."""
        if name == "r" and self._free.turning is not None:
            self._free.turning.flip()
            self.look()
            return True
        return super().type_key(name)

    # Pieces.

    def drawn(self, spot: Spot) -> Iterable[Curve]:
        """Return the piece that a place would draw."""
        piece = None if self._start is None else self._piece(spot)
        return () if piece is None else (piece,)

    def _piece(self, spot: Spot) -> Line | Arc | None:
        origin = self._origin()
        if self._free.is_begun:
            pointer = self.pointer.at if self.pointer else spot.at
            return self._free.arc(origin, spot.at, self.held.get("radius"), pointer)
        if self.is_same(origin, spot.at):
            return None
        heading = self.before()[1]
        if self.way == "tangent arc" and heading is not None:
            return tangent_arc(origin, heading, spot.at)
        return Line(origin, spot.at)

    def drawn_values(self, spot: Spot) -> Mapping[str, float]:
        """Return radius and sweep of the arc that is shown."""
        piece = self._piece(spot) if self._free.is_begun else None
        if not isinstance(piece, Arc):
            return {}
        return {"radius": piece.radius, "sweep": abs(degrees(piece.sweep))}

    def place(self, spot: Spot) -> bool:
        """Take the start, the end of a piece, or what a free arc still lacks."""
        if self._start is None:
            self._start = spot
            self._first = spot.point
            return True
        if self._free.is_begun:
            return self._finish_arc(spot)
        if self.is_same(self._origin(), spot.at):
            self.bench.say("A piece needs a length: press somewhere else, or Enter to end.")
            return False
        if self.way == "free arc":
            if is_center(self.bench.part, spot) and not self.held:
                self._free.about(spot, self._origin())
            else:
                self._free.far = spot
            return True
        return self._join(spot)

    def take(self) -> None:
        """Take the place that is shown; a held radius of a free arc outlives it."""
        radius = self.held.get("radius") if self._free.far is not None else None
        if radius is None or self.spot is None:
            super().take()
            return
        piece = self._piece(self.spot)
        if piece is None:
            self.bench.say("The ends are further apart than the diameter.", "warning")
        elif self._commit(piece, self._free.far or self.spot,
                          (Tie("radius", ("@curve",), radius.text, True),)):
            self.next_stage()
            self.look()

    def _finish_arc(self, spot: Spot) -> bool:
        """Take the end about a center, the center of two ends, or a place on the arc."""
        free, origin = self._free, self._origin()
        if free.center is not None and self.is_same(origin, spot.at):
            self.bench.say("An arc needs a length: go round to its end.")
            return False
        if free.far is None or not is_center(self.bench.part, spot):
            return self._join(spot)
        try:
            end, arc = free.end_about(spot, origin)
        except SketcherError as error:
            self.bench.say(str(error), "warning")
            return False
        return self._commit(arc, end, (), spot.point)

    def _join(self, spot: Spot) -> bool:
        piece = self._piece(spot)
        if piece is None:
            self.bench.say("These places lie on one line: there is no arc through them.", "warning")
            return False
        if self._free.center is not None:
            return self._commit(piece, spot, (), self._free.center.point)
        far = self._free.far
        through = far is not None and spot.point is not None
        ties = (Tie("on", (str(spot.point), "@curve")),) if through else ()
        return self._commit(piece, far or spot, ties)

    def _commit(
        self, piece: Line | Arc, end: Spot, ties: tuple[Tie, ...], about: str | None = None
    ) -> bool:
        start, way = self._start, self.way
        assert start is not None
        before, heading = self.before()
        made: dict[str, str] = {}

        def build(sketch: Sketch) -> None:
            first = sketch.point(start)
            names = {"@from": first}
            last = sketch.point(end, names)
            if isinstance(piece, Line):
                made["curve"] = sketch.draft.line(first, last)
            else:
                center = about or sketch.draft.point(piece.center)
                made["curve"] = sketch.draft.arc(first, last, center, "ccw" if piece.ccw else "cw")
            names["@curve"] = made["curve"]
            sketch.named(curve=made["curve"])
            sketch.ties(ties, last, names)
            smooth = way == "tangent arc" or (about is not None and leaves_along(heading, piece))
            if smooth and before is not None and isinstance(piece, Arc):
                sketch.tie("tangent", before, made["curve"], own=True)
            made["start"], made["end"] = first, last

        if not self.draw(f"Draw {'line' if isinstance(piece, Line) else 'arc'}", build):
            return False
        self._free.clear()
        self._way = "line"
        self.join(Joined(made["curve"], start, made["end"]), made["start"], end)
        return True

    # Taking back and ending.

    def one_back(self, key: str) -> bool:
        """Let a value or a part of an arc go; then Escape ends the outline, Backspace unpicks."""
        if key == "escape" and not self.held and not self._free.is_begun \
                and self._start is not None:
            self.complete()
            return True
        return super().one_back(key)

    def back(self) -> bool:
        """Take back a free arc's end or center, the last piece, or the start."""
        if self._free.is_begun:
            self._free.clear()
            return True
        self._way = "line"
        return self.take_back()

    def refresh(self) -> None:
        """Look again at what is taken of a free arc, too."""
        start = None if self._start is None else self._start.now(self.bench.part)
        if start is None:
            self._free.clear()
        elif self._free.is_begun:
            self._free.now(self.bench.part, start.at)
        super().refresh()

    def restart(self) -> None:
        """End this outline and wait for the start of another."""
        super().restart()
        self._free.clear()
        self._way = "line"


TOOL = OutlineTool
