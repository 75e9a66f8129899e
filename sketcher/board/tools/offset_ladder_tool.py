"""A ladder: offsets of a line, or circles about a center, all typed at once."""

from __future__ import annotations

from math import dist

from sketcher.board.places.pending_bindings import Typed
from sketcher.board.places.point_place import Spot
from sketcher.board.preview import Pointer, Preview
from sketcher.board.readout.readout_content import row
from sketcher.board.readout.row import Row
from sketcher.board.steps.bench import Bench
from sketcher.board.steps.drawing_step import Sketch
from sketcher.board.toolkit.dimension_picking import pixel
from sketcher.board.toolkit.drawing_words import layout_told
from sketcher.board.toolkit.scribe_tool import ScribeTool, crossing_spot, rounded
from sketcher.geometry.curves import XY, Curve
from sketcher.geometry.project import distance
from sketcher.part.edited import Edited
from sketcher.part.edits.draft import Draft
from sketcher.part.edits.scribe_ladder import scribe_ladder
from sketcher.part.scribing import read_ladder
from sketcher.part.value import Part
from sketcher.part.whole import curve_value
from sketcher.quantity.format import exact


class OffsetLadderTool(ScribeTool):
    """Scribes offsets to the side of the pointer, or concentric circles, at many values."""

    name = "offset ladder"
    label = "Offset ladder"
    hint = ("Press the line that the offsets count from, a circle or arc, or the center "
            "of circles: a point or a crossing.")
    ask = "Press a line, a circle, an arc or a center to count from."
    key = "Q"

    def __init__(self, bench: Bench) -> None:
        super().__init__(bench)
        self._spot: Spot | None = None  # a crossing that is to be a center
        self._held: Typed | None = None  # the ladder as typed

    # What it says.

    @property
    def _chosen(self) -> bool:
        return bool(self.ids) or self._spot is not None

    @property
    def _center(self) -> XY | None:
        """The center of the circles; None where a curve is the base."""
        if self._spot is not None:
            return self._spot.at
        return self.bench.part.points.get(self.ids[0]) if self.ids else None

    @property
    def prompt(self) -> str:
        """What is wanted next."""
        if not self._chosen:
            return self.opening
        if self._center is not None:
            return "Type all radii, 12, 24, 36.5 or +12 +12 +12.5; or press one."
        return "Type all distances, 12, 24 or +12 +12, to the pointer's side; or press one."

    def rows(self) -> tuple[Row, ...]:
        """Return the row of the ladder, with the distance at the pointer."""
        if not self._chosen:
            return ()
        return (row(self.bench, "ladder", self._away(), self._held, True),)

    def _away(self) -> float:
        if self.pointer is None:
            return 0.0
        at, center = self.pointer.at, self._center
        if center is not None:
            return dist(at, center)
        base = self.bench.part.curves[self.ids[0]]
        return distance(curve_value(self.bench.part, base), at, bounded=False)

    # Choosing.

    def move(self, pointer: Pointer) -> None:
        """Show what would be chosen, or scribed."""
        super().move(pointer)
        if self._crossing(pointer) is not None:
            self.over = None

    def press(self, pointer: Pointer) -> None:
        """Take the base, scribe the ladder that is held, or one rung at the pointer."""
        self.move(pointer)
        if self._held is not None:
            self._make(self._held.text)
            return
        crossing = self._crossing(pointer)
        if crossing is not None:
            self.ids, self._spot = (), crossing
        elif self.over is not None:
            self.ids, self._spot, self.over = (self.over,), None, None
        elif self._chosen:
            away = rounded(self._away(), pixel(self.bench, pointer))
            if away > 0.0:
                self._make(exact(away))

    def _crossing(self, pointer: Pointer) -> Spot | None:
        """Return the crossing under the pointer where no point is."""
        if self.bench.derived.picker().nearest_point(pointer.at, pointer.reach) is not None:
            return None
        return crossing_spot(self.bench, pointer)

    def let_choice_go(self, left: tuple[str, ...]) -> None:
        """Let the base go."""
        self.ids, self._spot, self._held = left, None, None

    def type_key(self, name: str) -> bool:
        """Take Backspace and Escape, which let the base go."""
        if name in ("escape", "backspace") and self._chosen:
            if not self.let_go("ladder"):
                self.let_choice_go(())
            return True
        if name == "enter" and self._chosen and self._held is not None:
            self._make(self._held.text)
            return True
        return False

    # Scribing.

    def hold(self, row: str, text: str) -> bool:
        """Hold the whole ladder; the pointer still tells the side."""
        if row != "ladder" or not self._chosen:
            return False
        ladder = self._read(text)
        self._rungs(ladder)  # what cannot be scribed leaves the entry open, with the reason
        self._held = Typed(ladder, self._away())
        return True

    def let_go(self, row: str) -> bool:
        """Let the ladder go."""
        held, self._held = self._held is not None, None
        return held

    def _read(self, text: str) -> str:
        """Return the ladder with every value as the part stores it."""
        rungs = [("+" if rung.onward else "") + self.typed(rung.text).text
                 for rung in read_ladder(text)]
        return ", ".join(rungs)

    def _toward(self) -> XY:
        return self.pointer.at if self.pointer is not None else (0.0, 0.0)

    def _make(self, ladder: str) -> None:
        bench, spot, toward, base = self.bench, self._spot, self._toward(), list(self.ids)

        def edit(part: Part) -> Edited:
            if spot is not None:
                sketch = Sketch(part, bench.zero)
                base[:] = [sketch.point(spot)]
                part = sketch.finish(bench.solve)
            return scribe_ladder(part, base[0], ladder, toward)

        if bench.do(f"Scribe an offset ladder of {ladder}", edit):
            layout_told(bench)
            self.ids, self._spot, self._held = (base[0],), None, None

    def drawn(self) -> tuple[Curve, ...]:
        """Return the rungs as they are typed, or the one at the pointer."""
        if not self._chosen or self.pointer is None:
            return ()
        text = self.typing
        if text:
            ladder = self._read(text)
        elif self._held is not None:
            ladder = self._held.text
        elif self.over is not None or self._crossing(self.pointer) is not None:
            return ()
        else:
            ladder = exact(rounded(self._away(), pixel(self.bench, self.pointer)))
        return self._rungs(ladder)

    def _rungs(self, ladder: str) -> tuple[Curve, ...]:
        """Return the rungs of a ladder as they would stand."""
        draft = Draft(self.bench.part)
        base = draft.point(self._spot.at) if self._spot is not None else self.ids[0]
        made = scribe_ladder(draft.done(), base, ladder, self._toward())
        return tuple(curve_value(made.part, made.part.curves[n])
                     for n in made.made if n in made.part.curves)

    @property
    def preview(self) -> Preview:
        """The base, the rungs, and the crossing under the pointer."""
        spot = self._spot
        if spot is None and self.pointer is not None and not self.typing:
            spot = self._crossing(self.pointer)
        shown = super().preview
        return shown if spot is None else shown + Preview(marks=spot.marks, words=spot.words)


TOOL = OffsetLadderTool
