"""Fillets: press a corner, or two curves, and type the radius."""

from __future__ import annotations

from sketcher.board.preview import Pointer
from sketcher.board.toolkit.shape_tool import Question, TwoCurvesTool
from sketcher.geometry.curves import XY
from sketcher.part.curve_questions import ends_of
from sketcher.part.edits.fillet import fillet
from sketcher.part.edits.fillet_on_axis import fillet_on_axis
from sketcher.part.mirror import reflector, taken


class FilletTool(TwoCurvesTool):
    """Rounds corners with a tangent arc whose radius is a dimension."""

    name = "fillet"
    label = "Fillet"
    hint = ("Press a corner, or two curves, and type the radius. The lost corner stays as a "
            "point, so that dimensions to it still hold.")
    key = "F"
    takes = (("radius", "length"),)

    @property
    def prompt(self) -> str:
        """What is missing."""
        if len(self.picked) == 2 and "radius" not in self.typed:
            return "Type the radius of the fillet and press Enter; Esc chooses another corner."
        if len(self.picked) == 1:
            return f"Press the curve that meets {self.picked[0][0]}."
        if "radius" in self.typed:
            return f"Press a corner to round it with radius {self.typed['radius'].text}."
        return self.hint

    def question(self) -> Question | None:
        """Return the fillet of the two curves, or of a curve and its reflection."""
        pair, radius = self.pair(), self.typed.get("radius")
        if pair is None or radius is None:
            return None
        (a, _), (b, _) = pair
        axes = {mirror.axis for mirror in self.bench.part.mirrors}
        if {a, b} & axes:
            a, b = (b, a) if a in axes else (a, b)
            return (a, b, radius.text), lambda part: fillet_on_axis(part, a, b, radius.text)
        near = self.near()
        return (a, b, radius.text, near), lambda part: fillet(part, a, b, radius.text, near)

    def _corner(self, pointer: Pointer) -> tuple[tuple[str, XY | None], ...] | None:
        return super()._corner(pointer) or self._corner_on_axis(pointer)

    def _corner_on_axis(self, pointer: Pointer) -> tuple[tuple[str, XY | None], ...] | None:
        """Return the curve that alone ends on an axis under the pointer, and the axis."""
        part = self.bench.part
        for pick in self.bench.derived.picker().points_near(pointer.at, pointer.reach):
            names = [n for n, c in part.curves.items()
                     if c.role == "outline" and pick.id in ends_of(c)]
            for mirror in part.mirrors if len(names) == 1 else ():
                if names[0] in taken(part, mirror) and reflector(part, mirror).on_axis(pick.at):
                    return ((names[0], pick.at), (mirror.axis, pick.at))
        return None

    def valued(self, row: str) -> None:
        """Round the corner that waits for its radius."""
        if len(self.picked) == 2:
            self.make()


TOOL = FilletTool
