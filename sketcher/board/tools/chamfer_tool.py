"""Chamfers: press a corner, or two curves, and type one leg or two."""

from __future__ import annotations

from sketcher.board.places.pending_bindings import Typed
from sketcher.board.toolkit.blend_tool import BlendCorner, BlendTool
from sketcher.board.toolkit.shape_tool import Question
from sketcher.errors import EditError
from sketcher.part.edited import Edited
from sketcher.part.edits.chamfer import chamfer
from sketcher.part.edits.chamfer_on_axis import chamfer_on_axis
from sketcher.part.value import Part


class ChamferTool(BlendTool):
    """Cuts corners straight; the legs are dimensions."""

    name = "chamfer"
    label = "Chamfer"
    hint = ("Type the leg (the other one too where it differs), then press a corner, or two "
            "curves: the first leg lies on the first.")
    ask = "Type the leg, then press a corner or two curves."
    key = "Shift+F"
    takes = (("leg", "length"), ("other leg", "length"))

    @property
    def prompt(self) -> str:
        """What is missing, or what typing changes."""
        if self.just_cut:
            return f"{self._legs()}: type another leg for it, or press the next corner."
        if len(self.picked) == 2:
            a, b = (name for name, _ in self.picked)
            if "leg" not in self.typed:
                return f"Type the leg on {a}; Tab goes to the one on {b}."
            return f"Enter cuts the corner of {a} and {b}; Esc chooses another one."
        if len(self.picked) == 1:
            return f"Press the curve that meets {self.picked[0][0]}."
        if "leg" in self.typed:
            return f"Press a corner to cut it by {self._legs()}; Backspace makes the legs equal."
        return self.opening

    def _legs(self) -> str:
        other = self.typed.get("other leg", self.typed["leg"])
        return f"{self.typed['leg'].text} by {other.text}"

    def cut(self, corner: BlendCorner) -> Question:
        """Return the chamfer of two curves, or of a curve and its reflection."""
        a, b, near, on_axis = corner
        leg = self.typed["leg"]
        other = self.typed.get("other leg", leg)
        if on_axis:
            return (a, b, leg.text, other.text), lambda part: cut_across(part, a, b, leg, other)
        return ((a, b, leg.text, other.text, near),
                lambda part: chamfer(part, a, b, leg.text, other.text, near))

    def type_key(self, name: str) -> bool:
        """Take Backspace: without a corner chosen it lets the other leg go."""
        if name == "backspace" and not self.picked:
            return self.let_go("other leg")
        return super().type_key(name)


def cut_across(part: Part, name: str, axis: str, leg: Typed, other: Typed) -> Edited:
    """Cut the corner of a curve and its reflection, where both legs are one."""
    if other.amount != leg.amount:
        raise EditError("other leg", "is as long as the leg where a curve meets its reflection",
                        "let it go with Backspace")
    return chamfer_on_axis(part, name, axis, leg.text)


TOOL = ChamferTool
