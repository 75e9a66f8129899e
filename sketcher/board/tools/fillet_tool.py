"""Fillets: press a corner, or two curves, and type the radius."""

from __future__ import annotations

from sketcher.board.toolkit.blend_tool import BlendCorner, BlendTool
from sketcher.board.toolkit.shape_tool import Question
from sketcher.part.edits.fillet import fillet
from sketcher.part.edits.fillet_on_axis import fillet_on_axis


class FilletTool(BlendTool):
    """Rounds corners with a tangent arc whose radius is a dimension."""

    name = "fillet"
    label = "Fillet"
    hint = ("Press a corner, or two curves, and type the radius. The lost corner stays as a "
            "point, so that dimensions to it still hold.")
    ask = "Press a corner or two curves, and type the radius."
    key = "F"
    takes = (("radius", "length"),)

    @property
    def prompt(self) -> str:
        """What is missing, or what typing changes."""
        if self.just_cut:
            return (f"R{self.typed['radius'].text}: type another radius for it, "
                    "or press the next corner.")
        if len(self.picked) == 2 and "radius" not in self.typed:
            return "Type the radius of the fillet and press Enter; Esc chooses another corner."
        if len(self.picked) == 1:
            return f"Press the curve that meets {self.picked[0][0]}."
        if "radius" in self.typed:
            return f"Press a corner to round it with radius {self.typed['radius'].text}."
        return self.opening

    def cut(self, corner: BlendCorner) -> Question:
        """Return the fillet of two curves, or of a curve and its reflection."""
        a, b, near, on_axis = corner
        radius = self.typed["radius"].text
        if on_axis:
            return (a, b, radius), lambda part: fillet_on_axis(part, a, b, radius)
        return (a, b, radius, near), lambda part: fillet(part, a, b, radius, near)


TOOL = FilletTool
