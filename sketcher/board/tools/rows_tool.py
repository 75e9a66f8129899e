"""Patterns in columns and rows."""

from __future__ import annotations

from math import dist
from types import MappingProxyType

from sketcher.board.preview import Pointer
from sketcher.board.readout.readout_content import row
from sketcher.board.readout.row import Row
from sketcher.board.toolkit.pattern_tool import PatternTool, spoken
from sketcher.board.toolkit.shape_tool import Question
from sketcher.geometry.curves import XY
from sketcher.part.edits.set_pattern import set_pattern
from sketcher.part.spacings import seat
from sketcher.part.value import GridPattern
from sketcher.quantity.format import exact


class RowsTool(PatternTool):
    """Repeats curves in columns and rows; the steps are dimensions."""

    name = "rows"
    label = "Rows of holes"
    hint = ("Press where the next hole along the row, or in the next row, would be; or type steps, "
            "columns and rows. Enter makes the rows.")
    ask = "Press where the next hole would be, or type steps, columns and rows."
    key = "Ctrl+G"
    takes = (("step", "length"), ("row step", "length"), ("columns", "number"), ("rows", "number"),
             ("turn", "angle"))
    counts = ("columns", "rows")
    fields = MappingProxyType({"columns": "columns", "rows": "rows", "turn": "angle"})

    @property
    def prompt(self) -> str:
        """What the rows are, and what is missing."""
        if not self.ready:
            return self.choosing
        pattern = self.pattern()
        return self.opening if pattern is None else (
            f"{spoken(pattern)}: type steps, columns, rows or the turn; Enter or a press makes it.")

    def rows(self) -> tuple[Row, ...]:
        """Return steps and counts, those that the pointer shows where none are typed."""
        shown = {row.name: row for row in super().rows()}
        for name, value in zip(("step", "row step"), self._steps(), strict=True):
            if name not in self.typed and self.ready and self.pointer is not None:
                shown[name] = row(self.bench, name, value, None, True, "length")
        return tuple(shown.values())

    def pattern(self) -> GridPattern | None:
        """Return the grid as typed and as the pointer shows it."""
        if not self.ready or not self.curves:
            return None
        typed = self.typed
        if "step" not in typed and "row step" not in typed and (
                self.pointer is None or self._rests(self.pointer)):
            return None
        along, up = (typed[n].text if n in typed else exact(value)
                     for n, value in zip(("step", "row step"), self._steps(), strict=True))
        tall = 2 if "row step" in typed and "step" not in typed else 1
        wide = 1 if tall == 2 else 2
        counts = (self.count("columns", wide), self.count("rows", tall))
        angle = typed["turn"].text if "turn" in typed else "0"
        return GridPattern(self.curves, (along, up), counts, angle)

    def question(self) -> Question | None:
        """Return the grid."""
        pattern = self.pattern()
        return None if pattern is None else (pattern, lambda part: set_pattern(part, pattern))

    def press(self, pointer: Pointer) -> None:
        """Choose curves, or make the grid."""
        if self.ready:
            super().press(pointer)
        else:
            self.pointer = pointer
            self.choose(pointer)

    def _rests(self, pointer: Pointer) -> bool:
        """Tell whether the pointer is still on what is repeated: it shows no step yet."""
        part = self.bench.part
        return dist(pointer.at, seat(part, part.curves[self.curves[0]])) <= pointer.reach

    def _steps(self) -> XY:
        """Return the steps to the pointer, rounded as the readout shows them."""
        if self.pointer is None or not self.curves:
            return (0.0, 0.0)
        bench, part = self.bench, self.bench.part
        x, y = seat(part, part.curves[self.curves[0]])
        places = bench.settings["in_places" if part.unit == "in" else "mm_places"]
        return (round(self.pointer.x - x, places), round(self.pointer.y - y, places))


TOOL = RowsTool
