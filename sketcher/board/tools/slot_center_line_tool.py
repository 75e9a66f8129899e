"""The center line of a curved slot with its two edges and its round ends, as layout."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from math import atan2, degrees, dist
from typing import Literal

from sketcher.board.places.point_place import Spot
from sketcher.board.readout.held_values import Stage
from sketcher.board.steps.bench import Bench
from sketcher.board.steps.drawing_step import Sketch
from sketcher.board.toolkit.dimension_picking import pixel
from sketcher.board.toolkit.drawing_words import figure_done
from sketcher.board.toolkit.placing_tool import PlacingTool
from sketcher.board.toolkit.scribe_tool import held_fast, rounded
from sketcher.errors import SketcherError
from sketcher.geometry.curves import Curve, Line
from sketcher.part.edited import Edited
from sketcher.part.edits.draft import Draft
from sketcher.part.edits.scribe_slot import Direction, SlotEnd, scribe_slot
from sketcher.part.value import Part
from sketcher.part.whole import curve_value
from sketcher.quantity.format import exact

PROMPTS = (
    "Press the center of the slot's center line.",
    "Press the center of the first end, or type its distance and angle from there.",
    "Go round to the center of the other end, or type its angle.",
    "Press a place on the edge, or type the width of the slot or the radius of its ends.",
)
ROWS = (("x", "y"), ("distance", "angle"), ("angle",), ("width", "radius"))
NEAR = 1e-7
"""Share of the path's radius within which a point lies on the path."""


class SlotCenterLineTool(PlacingTool):
    """Scribes a curved slot: center, two ends, width; the ends may be points that exist.

    A point that exists and lies on the center line becomes its end; of another one the
    direction counts.
    """

    name = "slot center line"
    label = "Slot center line"
    hint = PROMPTS[0]
    key = "Shift+K"
    group = "scribe"
    role = "layout"

    def __init__(self, bench: Bench) -> None:
        super().__init__(bench)
        self._center: Spot | None = None
        self._size = ""  # the path's radius as typed, or as pressed
        self._ends: list[Direction] = []

    @property
    def prompt(self) -> str:
        """What is wanted next."""
        return PROMPTS[self._asks]

    @property
    def _asks(self) -> int:
        return 0 if self._center is None else 1 + len(self._ends)

    @property
    def columns(self) -> tuple[str, ...]:
        """The rows of all stages; the size stands in the first place, where typing begins."""
        return ("width", "radius", "x", "y") if self._asks == 3 else (
            "distance", "angle", "x", "y")

    def stage(self) -> Stage:
        """Return the rows of what is asked for."""
        return Stage(ROWS[self._asks], None if self._center is None else self._center.at,
                     self.zero, freedoms=1 if self._asks > 1 else 2)

    def start(self) -> tuple[tuple[float, float] | None, str | None]:
        """Return the center, from which level and plumb are judged."""
        return (None, None) if self._center is None else (self._center.at, self._center.point)

    def is_begun(self) -> bool:
        """True once the center is taken."""
        return self._center is not None

    def look(self) -> None:
        """Find the center and the ends by the snaps; where none is, the pointer itself counts."""
        super().look()
        if self._center is None or self.pointer is None or self.spot is None:
            return
        if self.spot.point is None or self._asks == 3:
            self.spot = Spot(self.pointer.at)

    def take_typed(self) -> None:
        """Take what is asked for; the pointer gives what is not typed."""
        self.type_key("enter")

    def take(self) -> None:
        """Take what is asked for."""
        if self._center is None:
            super().take()
            return
        try:
            size, ends, half = self._now()
        except SketcherError as error:
            self.bench.say(str(error), "warning")
            return
        if self._asks == 3:
            if not self._make(size, ends, half):
                return
            self.restart()
        else:
            self._size, self._ends = size, ends
        self.next_stage()
        self.look()

    def place(self, spot: Spot) -> bool:
        """Take the center."""
        if self.pointer is not None:
            self._center = held_fast(self.bench, self.pointer, spot)
        return True

    def back(self) -> bool:
        """Let the last stage go."""
        if self._ends:
            self._ends.pop()
        elif self._center is not None:
            self._center = None
        else:
            return False
        return True

    def restart(self) -> None:
        """Wait for another center."""
        self._center, self._size, self._ends = None, "", []

    def refresh(self) -> None:
        """Look again at the center; an end whose point is gone is asked for again."""
        part = self.bench.part
        if self._center is not None:
            self._center = self._center.now(part)
        for number, end in enumerate(self._ends):
            if isinstance(end, SlotEnd) and end.point not in part.points:
                self._ends = self._ends[:number]
                break
        super().refresh()

    # Values.

    def _polar(self) -> tuple[float, float]:
        assert self._center is not None
        assert self.spot is not None
        (cx, cy), at = self._center.at, self.spot.at
        return dist(at, (cx, cy)), degrees(atan2(at[1] - cy, at[0] - cx)) % 360.0

    def _now(self) -> tuple[str, list[Direction], str]:
        """Return the path's radius, its ends and half the width: held, else of the pointer."""
        assert self.pointer is not None
        away, _ = self._polar()
        px = pixel(self.bench, self.pointer)
        if self._asks == 1:
            end = self._end(None if "distance" in self.held else away)
            pressed = exact(away) if isinstance(end, SlotEnd) else exact(rounded(away, px))
            size = self.held["distance"].text if "distance" in self.held else pressed
            return size, [end], ""
        path = self._length(self._size)
        if self._asks == 2:
            return self._size, [*self._ends, self._end(path)], ""
        held = self.held.get("width") or self.held.get("radius")
        if held is not None:
            half = held.text
        else:
            half = exact(rounded(abs(away - path), px))
        return self._size, self._ends, half

    @property
    def _by(self) -> Literal["radius", "width"]:
        """The dimension that says how wide the slot is."""
        return "width" if "width" in self.held else "radius"

    def _end(self, path: float | None) -> Direction:
        """Return the direction that is held, the point under the pointer, or whole degrees.

        `path` is the radius of the path on which a point must lie to be its end; None where a typed
        radius decides.
        """
        assert self.spot is not None
        if "angle" in self.held:
            return self.held["angle"].text
        away, turn = self._polar()
        if self.spot.point is None:
            return exact(float(round(turn)))
        on_path = path is not None and abs(away - path) <= NEAR * path
        return SlotEnd(self.spot.point, on_path)

    def _length(self, text: str) -> float:
        """Return what a length of the part comes to."""
        from sketcher.quantity.parse import evaluate

        return evaluate(text, "length", self.bench.part.unit, self.bench.derived.values())

    def drawn_values(self, spot: Spot) -> Mapping[str, float]:
        """Return the size of the ends as they are drawn."""
        if self._asks < 3:
            return {}
        try:
            half = self._length(self._now()[2]) * (0.5 if self._by == "width" else 1.0)
        except SketcherError:
            return {}
        return {"width": 2.0 * half, "radius": half}

    # The path.

    def _make(self, size: str, ends: list[Direction], half: str) -> bool:
        bench, spot, by = self.bench, self._center, self._by
        assert spot is not None

        def edit(part: Part) -> Edited:
            sketch = Sketch(part, bench.zero)
            center = sketch.point(spot)
            base = sketch.finish(bench.solve)
            made = scribe_slot(base, center, size, (ends[0], ends[1]), half, by)
            loose = _unshared(ends)
            if loose == ends or not _says_twice(made.part, part):
                return made
            # Both ends are fixed already: an arc through both would say one of them again.
            return scribe_slot(base, center, size, (loose[0], loose[1]), half, by)

        def _says_twice(made: Part, before: Part) -> bool:
            return len(bench.solve(made).report.doubled) > len(bench.solve(before).report.doubled)

        done = bench.do("Scribe a slot center line", edit).done
        if done:
            figure_done(self, "Slot center line", "its region is ready to be traced")
        return done

    def drawn(self, spot: Spot) -> Iterable[Curve]:
        """Return the ray, the path, or the whole slot."""
        if self._center is None or self.pointer is None:
            return
        away, _ = self._polar()
        if self._asks == 1:
            yield Line(self._center.at, spot.at)
            return
        draft = Draft(self.bench.part)
        center = self._center.point or draft.point(self._center.at)
        try:
            size, ends, half = self._now()
            if self._asks == 2:
                half = exact(0.01 * away) if away > 0.0 else "1"
            by = self._by if self._asks == 3 else "radius"
            edited = scribe_slot(draft.done(), center, size, (ends[0], ends[1]), half, by)
        except SketcherError:
            return
        names = [n for n in edited.made if n in edited.part.curves]
        for name in names[:1] if self._asks == 2 else names:
            yield curve_value(edited.part, edited.part.curves[name])


def _unshared(ends: list[Direction]) -> list[Direction]:
    """Return the ends with the other one only in the direction of its point."""
    other = ends[1]
    return [ends[0], SlotEnd(other.point)] if isinstance(other, SlotEnd) else ends


TOOL = SlotCenterLineTool
