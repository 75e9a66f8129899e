"""Patterns around a point."""

from __future__ import annotations

from types import MappingProxyType

from sketcher.board.preview import Pointer
from sketcher.board.steps.bench import Bench
from sketcher.board.toolkit.pattern_tool import PatternTool, spoken
from sketcher.board.toolkit.shape_tool import Question
from sketcher.part.curve_questions import center_of
from sketcher.part.edits.set_pattern import set_pattern
from sketcher.part.value import CircleCurve, PolarPattern


class BoltCircleTool(PatternTool):
    """Repeats curves around a point; count and span are dimensions."""

    name = "bolt circle"
    label = "Bolt circle"
    hint = "Press the center of the bolt circle: a point, or a circle or arc about it."
    ask = "Press the center of the bolt circle."
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
        self._center = next((p for p in reversed(points) if not self._is_own(p)), None)

    @property
    def prompt(self) -> str:
        """What the pattern is, and what is missing."""
        if not self.ready:
            return self.choosing
        pattern = self.pattern()
        if pattern is None or self._center is None:
            return self.opening
        return (f"{spoken(pattern)} around {self._center}, the center: type places or span; "
                "Enter makes it.")

    def _is_own(self, point: str) -> bool:
        """Tell whether a chosen circle lies about a point: all its copies would be one."""
        part = self.bench.part
        for name in self.curves:
            curve = part.curves.get(name)
            if isinstance(curve, CircleCurve) and (
                    point == curve.center or part.points[point] == part.points[curve.center]):
                return True
        return False

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
        for point in picker.points_near(pointer.at, pointer.reach):
            if not self._is_own(point.id):
                return point.id
        for pick in picker.curves_near(pointer.at, pointer.reach, drawn_only=True):
            center = center_of(part.curves[pick.id])
            if center is not None and pick.id not in self.curves and not self._is_own(center):
                return center
        return None

    def pattern(self) -> PolarPattern | None:
        """Return the pattern as typed."""
        center = self._center or self._under(self.pointer)
        if not self.ready or not self.curves or center is None:
            return None
        span = self.typed["span"].text if "span" in self.typed else "360"
        return PolarPattern(self.curves, center, self.count("places", 6), span)

    def type_key(self, name: str) -> bool:
        """Take Enter: first the center under the pointer, then the pattern."""
        under = self._under(self.pointer)
        if name == "enter" and self.ready and self._center is None and under is not None:
            self._center = under
            return True
        return super().type_key(name)

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
