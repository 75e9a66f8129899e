"""Sharp corners of two curves that cross or stop short of each other."""

from __future__ import annotations

from sketcher.board.preview import Pointer
from sketcher.board.toolkit.shape_tool import Question, TwoCurvesTool
from sketcher.geometry.curves import XY
from sketcher.part.edits.corner import corner


class CornerTool(TwoCurvesTool):
    """Lets two curves end in one shared point."""

    name = "corner"
    label = "Sharp corner"
    hint = "Press two curves that cross or stop short, each on the side that stays."
    key = "V"

    @property
    def prompt(self) -> str:
        """What is missing."""
        if len(self.picked) == 1:
            return f"Press the curve that {self.picked[0][0]} is to meet, on the side that stays."
        if len(self.picked) == 2:
            return "Enter brings them to a corner; Esc chooses other curves."
        return self.opening

    def question(self) -> Question | None:
        """Return the corner of the two curves."""
        pair = self.pair()
        if pair is None:
            return None
        (a, at_a), (b, at_b) = pair
        # Of several crossings the one that is nearer to the second place is meant.
        return (a, at_a, b, at_b), lambda part: corner(part, a, b, at_b, at_a, at_b)

    def _corner(self, pointer: Pointer) -> tuple[tuple[str, XY | None], ...] | None:
        return None  # where two curves share an end there is nothing to do


TOOL = CornerTool
