"""Lines that touch two rounds, or one from a point."""

from __future__ import annotations

from sketcher.board.preview import Ghost, Pointer, Preview
from sketcher.board.toolkit.scribe_tool import ScribeTool, is_line, is_round
from sketcher.errors import SketcherError
from sketcher.geometry.curves import Curve, Line
from sketcher.part.edits.scribe_tangent import scribe_tangent
from sketcher.part.scribing import nearest_line, tangents
from sketcher.part.value import Part


class TouchLineTool(ScribeTool):
    """Scribes common tangents; each is shown, the pointer chooses."""

    name = "touch line"
    label = "Touching line"
    hint = "Press two circles or arcs, or a point and one of them."
    key = "Shift+O"
    first = 2

    @property
    def prompt(self) -> str:
        """What is wanted next."""
        if len(self.ids) < 2:
            return self.hint
        return f"{len(self._candidates())} fit: point at the one that is meant and press."

    def takes(self, part: Part, name: str) -> bool:
        """Take rounds, and one point."""
        if len(self.ids) == 2 or name in self.ids or is_line(part, name):
            return False
        return is_round(part, name) or not any(known in part.points for known in self.ids)

    def _candidates(self) -> tuple[Line, ...]:
        if len(self.ids) != 2:
            return ()
        try:
            return tangents(self.bench.part, *self.ids)
        except SketcherError:
            return ()

    def press(self, pointer: Pointer) -> None:
        """Choose, or scribe the candidate that is nearest."""
        self.move(pointer)
        if len(self.ids) == 2:
            self._make(pointer)
        elif self.over is not None:
            self.ids, self.over = (*self.ids, self.over), None
            if len(self.ids) == 2 and not self._candidates():
                names, self.ids = " and ".join(self.ids), self.ids[:1]
                self.bench.say(f"No line touches {names}: one lies within the other.", "warning")

    def type_key(self, name: str) -> bool:
        """Take Enter, which scribes the candidate nearest to the pointer."""
        if name == "enter" and len(self.ids) == 2 and self.pointer is not None:
            self._make(self.pointer)
            return True
        return super().type_key(name)

    def _make(self, pointer: Pointer) -> None:
        a, b = self.ids
        if self.bench.do(f"Scribe a tangent of {a} and {b}",
                         lambda part: scribe_tangent(part, a, b, pointer.at)):
            self.ids = ()

    def drawn(self) -> tuple[Curve, ...]:
        """Return the candidate nearest to the pointer."""
        if self.pointer is None:
            return ()
        found = nearest_line(self._candidates(), self.pointer.at)
        return (found,) if found is not None else ()

    @property
    def preview(self) -> Preview:
        """Every candidate, the one that is meant in full."""
        chosen = self.drawn()
        others = tuple(Ghost(line, "layout", "hint") for line in self._candidates()
                       if line not in chosen)
        return Preview(others) + super().preview


TOOL = TouchLineTool
