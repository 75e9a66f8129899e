"""Patterns around a point."""

from __future__ import annotations

from types import MappingProxyType

from sketcher.board.preview import Pointer
from sketcher.board.steps.bench import Bench
from sketcher.board.toolkit.pattern_tool import PatternTool, spoken
from sketcher.board.toolkit.shape_tool import Question
from sketcher.part.curve_questions import center_of
from sketcher.part.edits.set_pattern import set_pattern
from sketcher.part.value import PolarPattern


class BoltCircleTool(PatternTool):
    """Repeats curves around a point; count and span are dimensions."""

    name = "bolt circle"
    label = "Bolt circle"
    hint = "Press the center of the bolt circle: a point, or a circle or arc about it."
    key = "Ctrl+Shift+G"
    takes = (("places", "number"), ("span", "angle"))
    counts = ("places",)
    fields = MappingProxyType({"places": "count", "span": "span"})

    def __init__(self, bench: Bench) -> None:
        super().__init__(bench)
        self._center: str | None = None

    def begin(self) -> None:
        """Take selected curves, and a point selected with them as the center."""
        super().begin()
        points = self.bench.selection.points(self.bench.part)
        self._center = points[-1] if points else None

    @property
    def prompt(self) -> str:
        """What the pattern is, and what is missing."""
        if not self.ready:
            return self.choosing
        pattern = self.pattern()
        if pattern is None:
            return self.opening
        return f"{spoken(pattern)} around {pattern.center}: type places or span; Enter makes it."

    def choose_less(self) -> None:
        """Let the center go first, then the curves."""
        if self._center is not None:
            self._center = None
        else:
            super().choose_less()

    def _under(self, pointer: Pointer | None) -> str | None:
        if pointer is None:
            return None
        picker, part = self.bench.derived.picker(), self.bench.part
        point = picker.nearest_point(pointer.at, pointer.reach)
        if point is not None:
            return point.id
        for pick in picker.curves_near(pointer.at, pointer.reach, drawn_only=True):
            center = center_of(part.curves[pick.id])
            if center is not None and pick.id not in self.curves:
                return center
        return None

    def pattern(self) -> PolarPattern | None:
        """Return the pattern as typed."""
        center = self._center or self._under(self.pointer)
        if not self.ready or not self.curves or center is None:
            return None
        span = self.typed["span"].text if "span" in self.typed else "360"
        return PolarPattern(self.curves, center, self.count("places", 6), span)

    def question(self) -> Question | None:
        """Return the pattern."""
        pattern = self.pattern()
        return None if pattern is None else (pattern, lambda part: set_pattern(part, pattern))

    def press(self, pointer: Pointer) -> None:
        """Choose curves, then the center; once more makes the pattern."""
        self.pointer = pointer
        if not self.ready:
            self.choose(pointer)
            return
        center = self._under(pointer)
        if self._center is not None and center in (None, self._center):
            self.make()
        elif center is not None:
            self._center = center
        else:
            self.bench.say(self.hint)


TOOL = BoltCircleTool
