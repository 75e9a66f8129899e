"""The center line of a curved slot with its two edges and its round ends, as layout."""

from __future__ import annotations

from collections.abc import Iterable
from math import atan2, degrees, dist

from sketcher.board.places.point_place import Spot
from sketcher.board.readout.held_values import Stage
from sketcher.board.steps.bench import Bench
from sketcher.board.steps.drawing_step import Sketch
from sketcher.board.toolkit.dimension_picking import pixel
from sketcher.board.toolkit.placing_tool import PlacingTool
from sketcher.board.toolkit.scribe_tool import held_fast, rounded
from sketcher.errors import SketcherError
from sketcher.geometry.curves import Curve, Line
from sketcher.part.edited import Edited
from sketcher.part.edits.draft import Draft
from sketcher.part.edits.scribe_slot import scribe_slot
from sketcher.part.value import Part
from sketcher.part.whole import curve_value
from sketcher.quantity.format import exact

PROMPTS = (
    "Press the center of the slot's center line.",
    "Type the radius of the center line, Tab, and the angle of its first end; or press there.",
    "Type the angle of the other end, or press there.",
    "Type the radius of the ends, or the width of the slot; or press a place on its edge.",
)


class SlotCenterLineTool(PlacingTool):
    """Scribes a curved slot: center, first end, second end, width."""

    name = "slot center line"
    label = "Slot center line"
    hint = PROMPTS[0]
    key = "Shift+K"
    group = "scribe"
    role = "layout"

    def __init__(self, bench: Bench) -> None:
        super().__init__(bench)
        self._center: Spot | None = None
        self._values: list[str] = []  # radius, first angle, second angle

    @property
    def prompt(self) -> str:
        """What is wanted next."""
        return PROMPTS[self._asks]

    @property
    def _asks(self) -> int:
        return 0 if self._center is None else (1, 1, 2, 3)[len(self._values)]

    @property
    def first_row(self) -> str:
        """The value that is asked for."""
        return ("", "distance", "angle", "radius")[self._asks]

    def stage(self) -> Stage:
        """Return the rows of what is asked for."""
        rows = (("x", "y"), ("distance", "angle"), ("angle",), ("radius", "diameter"))[self._asks]
        return Stage(rows, None if self._center is None else self._center.at, self.zero)

    def is_begun(self) -> bool:
        """True once the center is taken."""
        return self._center is not None

    def look(self) -> None:
        """Find the center by the snaps; then the pointer itself counts."""
        if self._center is None:
            super().look()
        elif self.pointer is not None:
            self.spot = Spot(self.pointer.at)

    def hold(self, row: str, text: str) -> bool:
        """Hold a value; what is complete is taken at once."""
        if not super().hold(row, text):
            return False
        full = {1: {"distance", "angle"} <= self.held.keys(), 2: "angle" in self.held,
                3: bool(self.held)}
        if full.get(self._asks, False):
            self.take()
        return True

    def take(self) -> None:
        """Take what is asked for."""
        if self._center is None:
            super().take()
            return
        values = self._now()
        if self._asks == 3:
            if not self._make(values):
                return
            self.restart()
        else:
            self._values = values
        self.held = {}
        self._fresh = False
        self.look()

    def place(self, spot: Spot) -> None:
        """Take the center."""
        if self.pointer is not None:
            self._center = held_fast(self.bench, self.pointer, spot)

    def back(self) -> bool:
        """Let the last value go."""
        if len(self._values) == 3:
            self._values.pop()
        elif self._values:
            self._values = []
        elif self._center is not None:
            self._center = None
        else:
            return False
        return True

    def restart(self) -> None:
        """Wait for another center."""
        self._center, self._values = None, []

    def refresh(self) -> None:
        """Look again at the center."""
        if self._center is not None:
            self._center = self._center.now(self.bench.part)
        super().refresh()

    # Values.

    def _polar(self) -> tuple[float, float]:
        assert self._center is not None
        assert self.pointer is not None
        (cx, cy), at = self._center.at, self.pointer.at
        return dist(at, (cx, cy)), degrees(atan2(at[1] - cy, at[0] - cx)) % 360.0

    def _now(self) -> list[str]:
        """Return the values so far with that which is asked for: held, else of the pointer."""
        assert self.pointer is not None
        away, turn = self._polar()
        px = pixel(self.bench, self.pointer)
        angle = self.held["angle"].text if "angle" in self.held else exact(float(round(turn)))
        if self._asks == 1:
            size = self.held["distance"].text if "distance" in self.held else exact(
                rounded(away, px))
            return [size, angle]
        if self._asks == 2:
            return [*self._values, angle]
        if "radius" in self.held:
            return [*self._values, self.held["radius"].text]
        if "diameter" in self.held:
            return [*self._values, f"({self.held['diameter'].text})/2"]
        path = self.typed_length(self._values[0])
        return [*self._values, exact(rounded(abs(away - path), px))]

    def typed_length(self, text: str) -> float:
        """Return what a length of the part comes to."""
        from sketcher.quantity.parse import evaluate

        return evaluate(text, "length", self.bench.part.unit, self.bench.derived.values())

    def _edited(self, part: Part, center: str, values: list[str]) -> Edited:
        radius, one, other, half = values
        return scribe_slot(part, center, radius, (one, other), half)

    def _make(self, values: list[str]) -> bool:
        bench, spot = self.bench, self._center
        assert spot is not None

        def edit(part: Part) -> Edited:
            sketch = Sketch(part, bench.zero)
            name = sketch.point(spot)
            return self._edited(sketch.finish(bench.solve), name, values)

        return bench.do("Scribe a slot center line", edit).done

    def drawn(self, spot: Spot) -> Iterable[Curve]:
        """Return the ray, the path, or the whole slot."""
        if self._center is None or self.pointer is None:
            return
        away, _ = self._polar()
        if self._asks == 1:
            yield Line(self._center.at, self.pointer.at)
            return
        values = self._now()
        if self._asks == 2:
            values.append(exact(0.01 * away) if away > 0.0 else "1")
        draft = Draft(self.bench.part)
        center = draft.point(self._center.at)
        try:
            edited = self._edited(draft.done(), center, values)
        except SketcherError:
            return
        names = [n for n in edited.made if n in edited.part.curves]
        for name in names[:1] if self._asks == 2 else names:
            yield curve_value(edited.part, edited.part.curves[name])


TOOL = SlotCenterLineTool
