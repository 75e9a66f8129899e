"""A chain of lines and arcs in one go, piece by piece."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from math import degrees, dist

from sketcher.board.places.pending_bindings import Tie
from sketcher.board.places.point_place import Around, Spot
from sketcher.board.preview import Pointer
from sketcher.board.readout.held_values import Stage
from sketcher.board.steps.bench import Bench
from sketcher.board.steps.drawing_step import Sketch
from sketcher.board.toolkit.drawn_arcs import arc_of_radius, arc_through, heading_at, tangent_arc
from sketcher.board.toolkit.placing_tool import PlacingTool
from sketcher.geometry.bounds import RELATIVE
from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.geometry.evaluate import turn
from sketcher.geometry.project import nearest
from sketcher.part.curve_questions import ends_of
from sketcher.part.edits.draft import Draft
from sketcher.part.part_size import part_size
from sketcher.part.value import Part
from sketcher.part.whole import curve_value

LEAVING = 3.0  # reaches from the end at which the first motion tells what is meant
ALONG, OFF = 6.0, 12.0  # degrees: leaves along the tangent; has borne off it
WAYS = ("line", "tangent arc", "free arc")
PLACED = ("x", "y", "run", "rise")


@dataclass(frozen=True, slots=True)
class Joined:
    """A piece that was drawn: its curve, its start as it was before, and its end."""

    curve: str
    start: Spot
    end: str


class ChainTool(PlacingTool):
    """Draws lines and arcs that follow each other.

    The pointer chooses: leave an end along its tangent and bear off it for a tangent arc, leave it
    any other way for a line. The key A goes round line, tangent arc and free arc by hand.
    """

    name = "chain"
    label = "Chain"
    hint = "Press where the chain starts."
    key = "C"

    def __init__(self, bench: Bench) -> None:
        super().__init__(bench)
        self._start: Spot | None = None
        self._first: str | None = None
        self._pieces: list[Joined] = []
        self._far: Spot | None = None  # end of a free arc whose bulge is asked for
        self._way = "line"
        self._by_key = False
        self._left: str | None = None  # how the pointer left the end: "along", "across"

    # What is asked for.

    @property
    def way(self) -> str:
        """What the next piece is: ``"line"``, ``"tangent arc"`` or ``"free arc"``."""
        if self._way == "tangent arc" and self.before()[1] is None:
            return "line"
        return self._way

    @property
    def prompt(self) -> str:
        """What the chain wants next."""
        if self._start is None:
            return self.hint
        if self._far is not None:
            return "Press a place that the arc runs through, or type its radius."
        if self.held:
            return f"Press or Enter takes the {self.way} as shown; or type a further value."
        return (f"Press the end of the {self.way}, or type its values. A changes to "
                f"{self._next_way()}, Backspace takes the last piece back, Enter ends the chain.")

    def stage(self) -> Stage:
        """Return the rows of the piece that comes next."""
        if self._start is None:
            return Stage(("x", "y"), None, self.zero)
        origin = self._origin()
        if self._far is not None:
            return Stage(("radius",), origin, self.zero)
        if self.way == "line":
            return Stage((*PLACED, "length", "angle"), origin, self.zero, True)
        if self.way == "tangent arc":
            return Stage((*PLACED, "radius", "sweep"), origin, self.zero,
                         heading=self.before()[1])
        return Stage((*PLACED, "distance"), origin, self.zero)

    def start(self) -> tuple[XY | None, str | None]:
        """Return the end of the piece before."""
        return (None, None) if self._start is None else (self._origin(), self._start.point)

    def before(self) -> tuple[str | None, XY | None]:
        """Return the piece before and its heading at the end."""
        if self._start is None or self._start.point is None:
            return None, None
        return ending_at(self.bench.part, self._start.point)

    def around(self) -> Around:
        """Return what the snaps may look at; the chain's own start always counts as touched."""
        around = super().around()
        if self._first is None or self._first in around.touched:
            return around
        return replace(around, touched=(self._first, *around.touched))

    def is_begun(self) -> bool:
        """True once the chain has a start."""
        return self._start is not None

    def _origin(self) -> XY:
        assert self._start is not None
        if self._start.point is not None:
            return self.bench.part.points[self._start.point]
        return self._start.at

    # Ways.

    def move(self, pointer: Pointer) -> None:
        """Follow the pointer, and see how it leaves the end."""
        if self._start is not None and self._far is None and not self._by_key:
            self._watch(pointer)
        super().move(pointer)

    def _watch(self, pointer: Pointer) -> None:
        heading = self.before()[1]
        origin = self._origin()
        if heading is None or not self.bench.settings["arc_by_motion"] or self.held:
            return
        away = dist(pointer.at, origin)
        off = abs(degrees(turn(heading, (pointer.x - origin[0], pointer.y - origin[1]))))
        if away < LEAVING * pointer.reach:
            self._left, self._way = None, "line"
        elif self._left is None:
            self._left = "along" if off <= ALONG else "across"
        elif self._left == "along":
            self._way = "tangent arc" if off > OFF else "line"

    def _next_way(self) -> str:
        ways = [w for w in WAYS if w != "tangent arc" or self.before()[1] is not None]
        return ways[(ways.index(self.way) + 1) % len(ways)]

    def type_key(self, name: str) -> bool:
        """Take A, which changes what the next piece is, and the keys of all drawing tools."""
        if name == "a" and self._start is not None and self._far is None:
            self._way, self._by_key = self._next_way(), True
            self.held = {}
            self.look()
            return True
        return super().type_key(name)

    def double(self, pointer: Pointer) -> None:
        """End the chain; the presses before have drawn its last piece."""
        self.complete()

    # Pieces.

    def drawn(self, spot: Spot) -> Iterable[Curve]:
        """Return the piece that a place would draw."""
        piece = None if self._start is None else self._piece(spot)
        return () if piece is None else (piece,)

    def _piece(self, spot: Spot) -> Line | Arc | None:
        origin = self._origin()
        if self._far is not None:
            if "radius" in self.held:
                return arc_of_radius(origin, self._far.at, self.held["radius"].amount,
                                     self.pointer.at if self.pointer else spot.at)
            return arc_through(origin, spot.at, self._far.at)
        if self.is_same(origin, spot.at):
            return None
        heading = self.before()[1]
        if self.way == "tangent arc" and heading is not None:
            return tangent_arc(origin, heading, spot.at)
        return Line(origin, spot.at)

    def place(self, spot: Spot) -> None:
        """Take the start, the end of a piece, or the bulge of a free arc."""
        if self._start is None:
            self._start = spot
            self._first = spot.point
        elif self.is_same(self._origin(), spot.at) and self._far is None:
            self.bench.say("A piece needs a length: press somewhere else, or Enter to end.")
        elif self.way == "free arc" and self._far is None:
            self._far = spot
        else:
            self._join(spot)

    def take(self) -> None:
        """Take the place that is shown; a held radius of a free arc outlives it."""
        radius = self.held.get("radius") if self._far is not None else None
        if radius is not None and self.spot is not None:
            piece = self._piece(self.spot)
            if piece is None:
                self.bench.say("The ends are further apart than the diameter.", "warning")
                return
            self._commit(piece, self._far or self.spot, (Tie("radius", ("@curve",), radius.text,
                                                             True),))
            self.held = {}
            self.look()
            return
        super().take()

    def _join(self, spot: Spot) -> None:
        piece = self._piece(spot)
        if piece is None:
            self.bench.say("These places lie on one line: there is no arc through them.", "warning")
            return
        through = self._far is not None and spot.point is not None
        ties = (Tie("on", (str(spot.point), "@curve")),) if through else ()
        self._commit(piece, self._far or spot, ties)

    def _commit(self, piece: Line | Arc, end: Spot, ties: tuple[Tie, ...]) -> None:
        start, way = self._start, self.way
        assert start is not None
        before = self.before()[0]
        made: dict[str, str] = {}

        def build(sketch: Sketch) -> None:
            first = sketch.point(start)
            names = {"@from": first}
            last = sketch.point(end, names)
            if isinstance(piece, Line):
                made["curve"] = sketch.draft.line(first, last)
            else:
                center = sketch.draft.point(piece.center)
                made["curve"] = sketch.draft.arc(first, last, center, "ccw" if piece.ccw else "cw")
            names["@curve"] = made["curve"]
            sketch.named(curve=made["curve"])
            sketch.ties(ties, last, names)
            if way == "tangent arc" and before is not None and isinstance(piece, Arc):
                sketch.tie("tangent", before, made["curve"])
            made["start"], made["end"] = first, last

        if not self.draw(f"Draw {'line' if isinstance(piece, Line) else 'arc'}", build):
            return
        self._pieces.append(Joined(made["curve"], start, made["end"]))
        self._first = self._first or made["start"]
        self._far, self._by_key, self._left, self._way = None, False, None, "line"
        self._go_on(end, made["end"])

    def _go_on(self, end: Spot, last: str) -> None:
        part = self.bench.part
        first = self._first
        axis = axis_under(part, last)
        if last == first and len(self._pieces) > 1:
            self.remark("The chain is closed.")
        elif end.point is not None and len(self._others(last)) > 0:
            self.remark(f"The chain joins {self._others(last)[0]} and ends there.")
        elif axis is not None and first is not None and axis_under(part, first) is not None:
            self.remark(f"The chain ends on the axis {axis}: the half reaches it at both ends.")
        else:
            if axis is not None:
                self.remark(f"This end lies on the axis {axis}.")
            else:
                self.remark(f"{self._pieces[-1].curve} drawn{_with(end.word)}.")
            self._start = Spot(part.points[last], point=last)
            return
        self.restart()

    def _others(self, point: str) -> list[str]:
        own = {piece.curve for piece in self._pieces}
        return [n for n, c in self.bench.part.curves.items()
                if n not in own and point in ends_of(c) and c.role == "outline"]

    # Taking back and ending.

    def back(self) -> bool:
        """Take back the free arc's end, the last piece, or the start."""
        if self._far is not None:
            self._far = None
        elif self._pieces:
            piece = self._pieces.pop()
            self.bench.do(f"Take back {piece.curve}", _without(piece.curve))
            self._begin_at(piece.start)
        elif self._start is not None:
            self.restart()
        else:
            return False
        self._by_key, self._left, self._way = False, None, "line"
        return True

    def refresh(self) -> None:
        """Go back along the chain as far as undo has taken its pieces."""
        part = self.bench.part
        while self._pieces and self._pieces[-1].curve not in part.curves:
            self._begin_at(self._pieces.pop().start)
        if self._start is not None:
            self._begin_at(self._start)
        if self._far is not None:
            self._far = self._far.now(part)
        if self._first is not None and self._first not in part.points:
            self._first = None
        super().refresh()

    def _begin_at(self, spot: Spot) -> None:
        spot = spot.now(self.bench.part)
        if not self._pieces:
            self._first = spot.point
        self._start = spot

    def restart(self) -> None:
        """End this chain and wait for the start of another."""
        self._start = self._far = self._first = None
        self._pieces = []
        self._by_key, self._left, self._way = False, None, "line"


def _with(word: str) -> str:
    return f", {word}" if word else ""


def _without(curve: str) -> Callable[[Part], Part]:
    def edit(part: Part) -> Part:
        draft = Draft(part)
        draft.remove(curve)
        return draft.done()

    return edit


def ending_at(part: Part, point: str) -> tuple[str | None, XY | None]:
    """Return the newest line or arc that ends at a point, and the heading with which it leaves."""
    for name, drawn in reversed(list(part.curves.items())):
        value = curve_value(part, drawn)
        if isinstance(value, Circle) or point not in ends_of(drawn) or drawn.role != "outline":
            continue
        return name, heading_at(value, ends_of(drawn)[1] == point)
    return None, None


def axis_under(part: Part, point: str) -> str | None:
    """Return the axis on which a point lies, or None."""
    place, tolerance = part.points[point], RELATIVE * part_size(part)
    for name, curve in part.curves.items():
        if curve.role == "axis" and curve.kind == "line":
            line = curve_value(part, curve)
            if nearest(line, place, bounded=False).distance <= tolerance:
                return name
    return None


TOOL = ChainTool
