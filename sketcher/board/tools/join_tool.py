"""Joining two curves that go on into each other."""

from __future__ import annotations

from sketcher.board.toolkit.shape_tool import Question, TwoCurvesTool
from sketcher.part.edits.join import join


class JoinTool(TwoCurvesTool):
    """Makes one curve of two lines in line, or of two arcs of one circle."""

    name = "join"
    label = "Join"
    hint = "Press the point between two curves that continue each other, or press both."
    key = "J"

    @property
    def prompt(self) -> str:
        """What is missing."""
        if len(self.picked) == 1:
            return f"Press the curve that continues {self.picked[0][0]}."
        return self.opening

    def question(self) -> Question | None:
        """Return the join of the two curves."""
        pair = self.pair()
        if pair is None:
            return None
        (a, _), (b, _) = pair
        return (a, b), lambda part: join(part, a, b)


TOOL = JoinTool
