"""Lines tangent to two circles or arcs, or to one from a point."""

from __future__ import annotations

from sketcher.board.toolkit.scribe_tool import is_line, is_round
from sketcher.board.toolkit.tangent_tool import TangentTool
from sketcher.geometry.curves import XY, Line
from sketcher.part.edits.scribe_tangent import scribe_tangent
from sketcher.part.scribing import nearest_line, tangents
from sketcher.part.value import Part


class TangentLineTool(TangentTool[Line]):
    """Scribes the common tangent that touches nearest to where the two were pressed.

    Where the presses leave it open, all are shown and the pointer chooses.
    """

    name = "tangent line"
    label = "Tangent line"
    hint = ("Press two circles or arcs, each about where the line touches it, or a point and one "
            "of them.")
    key = "Shift+O"
    first = 2

    @property
    def prompt(self) -> str:
        """What is wanted next."""
        if len(self.ids) < 2:
            return self.opening if not self.ids else (
                f"Press what the line from {self.ids[0]} touches.")
        return self.count_told()

    def takes(self, part: Part, name: str) -> bool:
        """Take rounds, and one point."""
        if len(self.ids) == 2 or name in self.ids or is_line(part, name):
            return False
        return is_round(part, name) or not any(known in part.points for known in self.ids)

    def is_ready(self) -> bool:
        """Tell whether both are chosen."""
        return len(self.ids) == 2

    def coming(self) -> tuple[str, ...]:
        """Return what is chosen, with what is under the pointer once one is."""
        return (*self.ids, self.over) if len(self.ids) == 1 and self.over is not None else self.ids

    def solutions(self, names: tuple[str, ...]) -> tuple[Line, ...]:
        """Return the tangents of two rounds, or of a point and a round."""
        return tangents(self.bench.part, *names) if len(names) == 2 else ()

    def nearest(self, found: tuple[Line, ...], near: XY) -> Line | None:
        """Return the tangent nearest to a place."""
        return nearest_line(found, near)

    def curve(self, one: Line) -> Line:
        """Return the tangent itself."""
        return one

    def touches(self, one: Line) -> tuple[XY, ...]:
        """Return its ends."""
        return (one.start, one.end)

    def own_place(self, one: Line) -> XY:
        """Return its end on a round."""
        return own_end(one, self.bench.part, self.ids[0])

    def miss(self) -> None:
        """Say that there is none; the first stays chosen."""
        names, self.ids = " and ".join(self.ids), self.ids[:1]
        self.bench.say(f"No line is tangent to {names}: one lies within the other.", "warning")

    def scribe(self, near: XY) -> bool:
        """Scribe the tangent nearest to a place."""
        a, b = self.ids
        return self.bench.do(f"Scribe a tangent of {a} and {b}",
                             lambda part: scribe_tangent(part, a, b, near)).done


def own_end(line: Line, part: Part, first: str) -> XY:
    """Return a place on a tangent that lies on no other: its end on a round."""
    return line.end if first in part.points else line.start


TOOL = TangentLineTool
