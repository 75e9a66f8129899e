"""Base of the shape tools that end a curve at others: cut back, extend."""

from __future__ import annotations

from sketcher.board.preview import Pointer
from sketcher.board.steps.bench import Bench
from sketcher.board.toolkit.shape_tool import Question, ShapeTool
from sketcher.geometry.curves import XY
from sketcher.part.edited import Edited
from sketcher.part.value import Part


class EdgeTool(ShapeTool):
    """Works on the curve under the pointer; curves selected before are the only edges."""

    def __init__(self, bench: Bench) -> None:
        super().__init__(bench)
        self._edges: tuple[str, ...] | None = None

    def edit(self, part: Part, name: str, at: XY, edges: tuple[str, ...] | None) -> Edited:
        """Return what a press at a place on a curve makes."""
        raise NotImplementedError

    def begin(self) -> None:
        """Take selected curves as the edges."""
        self._edges = self.bench.selection.curves(self.bench.part) or None

    def lit(self) -> tuple[str, ...]:
        """Return the edges that were chosen."""
        return self._edges or ()

    def is_begun(self) -> bool:
        """True while only chosen edges count."""
        return self._edges is not None

    def restart(self) -> None:
        """Let every curve count as an edge."""
        self._edges = None

    @property
    def prompt(self) -> str:
        """What to press, and which curves count."""
        if self._edges is None:
            return self.opening
        return f"Only {', '.join(self._edges)} count as edges; Esc lets every curve count."

    def question(self) -> Question | None:
        """Return the edit at the place under the pointer."""
        found = self.curve_at(self.pointer)
        if found is None:
            return None
        (name, at), edges = found, self._edges
        return (name, at, edges), lambda part: self.edit(part, name, at, edges)

    def press(self, pointer: Pointer) -> None:
        """Make the edit, or say that nothing is there."""
        if self.curve_at(pointer) is None:
            self.pointer = pointer
            self.bench.say(self.nothing(pointer, "press a curve"))
        else:
            super().press(pointer)

    def make(self, merge: str | None = None) -> bool:
        """Make the edit; the edges stay for the next one."""
        kept = self._edges
        done = super().make(merge)
        self._edges = kept
        return done
