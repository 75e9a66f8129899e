"""On: a point lies on a curve."""

from __future__ import annotations

from collections.abc import Sequence

from sketcher.part.equations import ON_LINE, RADIAL
from sketcher.part.forms import Kind, Row, center_of, line_ends, operand_type
from sketcher.part.value import Part


class On(Kind):
    """A point lies on the unbounded line, or on the full circle, of a curve."""

    name = "on"
    hint = "The point lies on the curve or on its continuation."
    forms = (("point", "line"), ("point", "round"))
    has_sides = False
    incident = True

    def rows(self, part: Part, of: Sequence[str], side: str | None) -> list[Row]:
        """Return the distance from the line, or from the center less the radius."""
        point, curve = of
        if operand_type(part, curve) == "line":
            return [Row(ON_LINE, (*line_ends(part, curve), point))]
        return [Row(RADIAL, (point, center_of(part, curve)), (curve,))]


KIND = On()
