"""Chamfers: press a corner, or two curves, and type one leg or two."""

from __future__ import annotations

from sketcher.board.toolkit.shape_tool import Question, TwoCurvesTool
from sketcher.part.edits.chamfer import chamfer


class ChamferTool(TwoCurvesTool):
    """Cuts corners straight; the legs are dimensions."""

    name = "chamfer"
    label = "Chamfer"
    hint = ("Type the leg (the other one too where it differs), then press a corner, or two "
            "curves: the first leg lies on the first.")
    key = "Shift+F"
    takes = (("leg", "length"), ("other leg", "length"))

    @property
    def prompt(self) -> str:
        """What is missing."""
        if len(self.picked) == 2:
            a, b = (name for name, _ in self.picked)
            if "leg" not in self.typed:
                return f"Type the leg on {a}; Tab goes to the one on {b}."
            return f"Enter cuts the corner of {a} and {b}; Esc chooses another one."
        if len(self.picked) == 1:
            return f"Press the curve that meets {self.picked[0][0]}."
        if "leg" in self.typed:
            return f"Press a corner to cut it by {self._legs()}; Backspace makes the legs equal."
        return self.hint

    def _legs(self) -> str:
        other = self.typed.get("other leg", self.typed["leg"])
        return f"{self.typed['leg'].text} by {other.text}"

    def question(self) -> Question | None:
        """Return the chamfer of the two curves."""
        pair, leg = self.pair(), self.typed.get("leg")
        if pair is None or leg is None:
            return None
        (a, _), (b, _) = pair
        other = self.typed.get("other leg", leg)
        near = self.near()
        return ((a, b, leg.text, other.text, near),
                lambda part: chamfer(part, a, b, leg.text, other.text, near))

    def type_key(self, name: str) -> bool:
        """Take Backspace: without a corner chosen it lets the other leg go."""
        if name == "backspace" and not self.picked:
            return self.let_go("other leg")
        return super().type_key(name)


TOOL = ChamferTool
