"""Lines tangent to two circles or arcs, or to one from a point."""

from __future__ import annotations

from sketcher.board.preview import Ghost, Pointer, Preview
from sketcher.board.toolkit.drawing_words import layout_told
from sketcher.board.toolkit.scribe_tool import ScribeTool, is_line, is_round
from sketcher.errors import SketcherError
from sketcher.geometry.curves import XY, Curve, Line
from sketcher.part.edits.scribe_tangent import scribe_tangent
from sketcher.part.scribing import nearest_line, tangents
from sketcher.part.value import Part


class TangentLineTool(ScribeTool):
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
        return f"{len(self._candidates())} fit: point at the one that is meant and press."

    def takes(self, part: Part, name: str) -> bool:
        """Take rounds, and one point."""
        if len(self.ids) == 2 or name in self.ids or is_line(part, name):
            return False
        return is_round(part, name) or not any(known in part.points for known in self.ids)

    def _candidates(self) -> tuple[Line, ...]:
        names = self.ids if len(self.ids) == 2 else (*self.ids, *filter(None, (self.over,)))
        if len(names) != 2:
            return ()
        try:
            return tangents(self.bench.part, *names)
        except SketcherError:
            return ()

    def _clear(self, over: Pointer | None = None) -> Line | None:
        """Return the one that the presses choose; None where they leave it open."""
        found = self._candidates()
        chosen = self.by_presses([(line.start, line.end) for line in found], over)
        return None if chosen is None else found[chosen]

    def press(self, pointer: Pointer) -> None:
        """Choose, or scribe the candidate that is nearest."""
        self.move(pointer)
        if len(self.ids) == 2:
            self._make(pointer.at)
        elif self.over is not None:
            self.choose(pointer)
            if len(self.ids) == 2 and not self._candidates():
                names, self.ids = " and ".join(self.ids), self.ids[:1]
                self.bench.say(f"No line is tangent to {names}: one lies within the other.",
                               "warning")
            clear = self._clear()
            if clear is not None:
                self._make(own_end(clear, self.bench.part, self.ids[0]))

    def type_key(self, name: str) -> bool:
        """Take Enter, which scribes the candidate nearest to the pointer."""
        if name == "enter" and len(self.ids) == 2 and self.pointer is not None:
            self._make(self.pointer.at)
            return True
        return super().type_key(name)

    def _make(self, near: XY) -> None:
        a, b = self.ids
        if self.bench.do(f"Scribe a tangent of {a} and {b}",
                         lambda part: scribe_tangent(part, a, b, near)):
            layout_told(self.bench)
            self.ids = ()

    def drawn(self) -> tuple[Curve, ...]:
        """Return the candidate that a press would take, or that is nearest to the pointer."""
        if self.pointer is None:
            return ()
        if len(self.ids) < 2:
            clear = self._clear(self.pointer)
            return (clear,) if clear is not None else ()
        found = nearest_line(self._candidates(), self.pointer.at)
        return (found,) if found is not None else ()

    @property
    def preview(self) -> Preview:
        """Every candidate, the one that is meant in full."""
        chosen = self.drawn()
        others = tuple(Ghost(line, "layout", "hint") for line in self._candidates()
                       if line not in chosen)
        return Preview(others) + super().preview


def own_end(line: Line, part: Part, first: str) -> XY:
    """Return a place on a tangent that lies on no other: its end on a round."""
    return line.end if first in part.points else line.start


TOOL = TangentLineTool
