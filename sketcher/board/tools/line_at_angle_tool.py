"""A line at an angle from level or from another line, with a fixed end."""

from __future__ import annotations

from collections.abc import Hashable, Iterable
from math import atan2, degrees

from sketcher.board.places.pending_bindings import Typed
from sketcher.board.places.point_place import Spot
from sketcher.board.preview import Preview
from sketcher.board.readout.held_conflicts import said
from sketcher.board.readout.held_values import Stage
from sketcher.board.readout.readout_content import row
from sketcher.board.readout.row import Row
from sketcher.board.readout.typed_direction import is_signed, signed, to_level, ways
from sketcher.board.steps.bench import Bench
from sketcher.board.steps.drawing_step import Sketch
from sketcher.board.steps.reach import check_place
from sketcher.board.toolkit.dimension_picking import pixel
from sketcher.board.toolkit.drawing_words import layout_told
from sketcher.board.toolkit.placing_tool import PlacingTool
from sketcher.board.toolkit.scribe_tool import held_fast, is_line, rounded
from sketcher.errors import SketcherError
from sketcher.geometry.curves import XY, Curve, Line
from sketcher.part.edited import Edited
from sketcher.part.edits.draft import Draft
from sketcher.part.edits.scribe_slope import scribe_slope
from sketcher.part.value import Part
from sketcher.part.whole import curve_value
from sketcher.quantity.format import exact

EXTENTS = ("run", "rise", "length")


class LineAtAngleTool(PlacingTool):
    """Scribes a line through a point at an angle; it ends at a run, a rise or a length."""

    name = "line at angle"
    label = "Line at angle"
    hint = "Press the point that the line goes through."
    key = "Shift+Q"
    group = "scribe"
    role = "layout"

    def __init__(self, bench: Bench) -> None:
        super().__init__(bench)
        self._start: Spot | None = None
        self._base: str | None = None
        self._extents = EXTENTS  # the first one follows the angle

    def begin(self) -> None:
        """Measure from a selected line."""
        names = self.bench.selection.curves(self.bench.part)
        if len(names) == 1 and is_line(self.bench.part, names[0]):
            self._base = names[0]

    @property
    def prompt(self) -> str:
        """What is wanted next."""
        if self._start is None:
            return self.opening
        against = self._base or "level"
        return (f"Press the end, or type the angle from {against} and the {self._extents[0]}. "
                f"E: {self._extents[1]}; W: from a line.")

    @property
    def columns(self) -> tuple[str, ...]:
        """The rows of both stages; X and Y of the start stand apart."""
        return ("angle", *self._extents, "x", "y")

    @property
    def stage_mark(self) -> Hashable:
        """The start taken or not: another order of the extents is the same stage."""
        return self._stages

    def stage(self) -> Stage:
        """Return the rows of the start, or of the line."""
        if self._start is None:
            return Stage(("x", "y"), None, self.zero)
        return Stage(("angle", *self._extents), self._start.at, self.zero, True)

    def rows(self) -> tuple[Row, ...]:
        """Return the rows, with the angle counted from the base line."""
        rows = super().rows()
        if self._start is None or self._base is None or "angle" in self.held or self.spot is None:
            return rows
        turned = self._angle()
        return tuple(row(self.bench, "angle", turned, None, True) if r.name == "angle" else r
                     for r in rows)

    def is_begun(self) -> bool:
        """True once the start is taken."""
        return self._start is not None

    def start(self) -> tuple[XY | None, str | None]:
        """Return the start of the line."""
        return (None, None) if self._start is None else (self._start.at, self._start.point)

    def look(self) -> None:
        """Find the start by the snaps; the end is the pointer itself."""
        if self._start is None:
            super().look()
        elif self.pointer is not None:
            self.spot = Spot(self.pointer.at)

    def place(self, spot: Spot) -> bool:
        """Take the start."""
        if self._start is None and self.pointer is not None:
            self._start = held_fast(self.bench, self.pointer, spot)
        return True

    def take(self) -> None:
        """Take the start, or scribe the line that is shown."""
        if self._start is None:
            super().take()
        elif self._scribe():
            self.restart()
            self.next_stage()
            self.look()

    def hold(self, row: str, text: str) -> bool:
        """Hold a value; the line ends at one extent, so another one takes its place."""
        if self._start is None or row not in (*EXTENTS, "angle"):
            return super().hold(row, text)
        typed = self.read(row, text)
        gone = [n for n in self.held if row in EXTENTS and n in EXTENTS and n != row]
        for name in gone:
            self.bench.say(f"{said(row, typed)} stands instead of {said(name, self.held[name])}.")
        self.held = {n: t for n, t in self.held.items() if n not in (*gone, row)} | {row: typed}
        self._fresh = True
        self.look()
        if "angle" in self.held and any(name in self.held for name in EXTENTS):
            try:
                check_place(row, self._try().end)
            except SketcherError:
                self.let_go(row)
                raise
        return True

    def _try(self) -> Line:
        """Return the line that would be scribed.

        Raises
        ------
        SketcherError
            When the values allow no line.
        """
        assert self._start is not None
        draft = Draft(self.bench.part)
        start = draft.point(self._start.at)
        edited = self._edited(draft.done(), start)
        line = curve_value(edited.part, edited.part.curves[edited.made[0]])
        assert isinstance(line, Line)
        return line

    def type_key(self, name: str) -> bool:
        """Take W (angle from the line under the pointer, or level) and E (another extent)."""
        if name == "e" and self._start is not None:
            self._extents = (*self._extents[1:], self._extents[0])
            return True
        if name == "w" and self._start is not None and self.pointer is not None:
            near = self.bench.derived.picker().curves_near(
                self.pointer.at, self.pointer.reach, drawn_only=True)
            self._base = next((p.id for p in near if is_line(self.bench.part, p.id)), None)
            return True
        return super().type_key(name)

    def back(self) -> bool:
        """Let the start go."""
        begun = self.is_begun()
        self._start = None
        return begun

    def restart(self) -> None:
        """Wait for another start."""
        self._start = None

    def refresh(self) -> None:
        """Look again at the start and the base line."""
        if self._start is not None:
            self._start = self._start.now(self.bench.part)
        if self._base is not None and self._base not in self.bench.part.curves:
            self._base = None
        super().refresh()

    # The line.

    def _angle(self) -> float:
        """Return the angle at the pointer against the base, between 0 and 90 degrees."""
        assert self._start is not None
        assert self.spot is not None
        x, y = self.spot.at[0] - self._start.at[0], self.spot.at[1] - self._start.at[1]
        turn = degrees(atan2(y, x))
        return to_level(turn - self._base_turn())

    def _base_turn(self) -> float:
        """Return the direction of the base line in degrees; level is zero."""
        if self._base is None:
            return 0.0
        line = curve_value(self.bench.part, self.bench.part.curves[self._base])
        assert isinstance(line, Line)
        return degrees(atan2(line.direction[1], line.direction[0]))

    def _values(self) -> tuple[str, tuple[str, str | float]]:
        """Return the angle and the extent as held, else as the pointer says, rounded."""
        assert self._start is not None
        assert self.pointer is not None
        angle = self.held["angle"].text if "angle" in self.held else exact(
            float(round(self._angle())))
        for name in EXTENTS:
            if name in self.held:
                return angle, (name, self.held[name].text)
        x, y = self.pointer.x - self._start.at[0], self.pointer.y - self._start.at[1]
        size = rounded((x * x + y * y) ** 0.5, pixel(self.bench, self.pointer))
        return angle, ("length", size)

    def _edited(self, part: Part, start: str) -> Edited:
        angle, extent = self._values()
        return scribe_slope(part, start, angle, self._toward(), self._base, extent)

    def _toward(self) -> XY:
        """Return a place on the way that is meant: the pointer's, unless a typed sign outweighs."""
        assert self._start is not None
        assert self.pointer is not None
        (x, y), at = self._start.at, self.meant
        if "angle" in self.held:
            allowed = ways(self.held["angle"], (at[0] - x, at[1] - y), self._base_turn())
            run, rise = self.held.get("run"), self.held.get("rise")
            way = next((way for way in allowed if _goes(run, way[0]) and _goes(rise, way[1])),
                       allowed[0])
            return x + way[0], y + way[1]
        if "run" in self.held:
            at = (x + signed(self.held["run"], at[0] - x), at[1])
        if "rise" in self.held:
            at = (at[0], y + signed(self.held["rise"], at[1] - y))
        return at

    def _scribe(self) -> bool:
        start, bench = self._start, self.bench
        assert start is not None

        def edit(part: Part) -> Edited:
            sketch = Sketch(part, bench.zero)
            name = sketch.point(start)
            return self._edited(sketch.finish(bench.solve), name)

        done = bench.do("Scribe a line at an angle", edit).done
        if done:
            layout_told(bench)
        return done

    def drawn(self, spot: Spot) -> Iterable[Curve]:
        """Return the line."""
        if self._start is None or self.pointer is None:
            return
        try:
            line = self._try()
        except SketcherError:
            return
        yield line

    @property
    def preview(self) -> Preview:
        """The line, and the line that its angle is measured from."""
        return super().preview + Preview(lit=(self._base,) if self._base else ())


def _goes(extent: Typed | None, along: float) -> bool:
    """Tell whether a way goes to the side that the sign of an extent says, where it has one."""
    return extent is None or not is_signed(extent) or extent.amount * along > 0.0


TOOL = LineAtAngleTool
