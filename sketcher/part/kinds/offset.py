"""Offset: distance square to a line, or radial distance of concentric rounds."""

from __future__ import annotations

from collections.abc import Sequence

from sketcher.part.equations import POINT_LINE, STEP
from sketcher.part.operand_forms import Kind, Row, Slot, center_of, line_ends, operand_type
from sketcher.part.value import Part


class Offset(Kind):
    """Distance from a line to a point or to a parallel line; or between concentric rounds."""

    name = "offset"
    quantity = "length"
    hint = ("Distance square to a line, to a point or to a second line, which is then parallel; "
            "or the radial distance of two rounds, which are then concentric.")
    forms = (("line", "point"), ("line", "line"), ("round", "round"))

    def rows(self, part: Part, of: Sequence[str], side: str | None) -> list[Row]:
        """Return the distance of the point or of both ends, or the step of the radii."""
        first, second = of
        kind = operand_type(part, second)
        if kind == "point":
            return [Row(POINT_LINE, (*line_ends(part, first), second))]
        if kind == "line":
            base = line_ends(part, first)
            return [Row(POINT_LINE, (*base, end)) for end in line_ends(part, second)]
        return [Row(STEP, (), (first, second))]

    def unions(self, part: Part, of: Sequence[str]) -> list[tuple[Slot, Slot]]:
        """Return the centers of rounds as one point."""
        if operand_type(part, of[0]) == "line":
            return []
        one, other = (center_of(part, name) for name in of)
        return [((one, axis), (other, axis)) for axis in "xy"]


KIND = Offset()
