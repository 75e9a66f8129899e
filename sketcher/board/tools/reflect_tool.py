"""Reflecting single points and curves about a line."""

from __future__ import annotations

from sketcher.board.preview import Pointer
from sketcher.board.steps.bench import Bench
from sketcher.board.toolkit.shape_tool import Question, ShapeTool
from sketcher.part.edits.reflect import reflect
from sketcher.part.value import LineCurve


class ReflectTool(ShapeTool):
    """Adds bound images of what is chosen on the other side of a line, or puts it there."""

    keeps_selection = True
    name = "reflect"
    label = "Reflect"
    hint = "Press the line to reflect about. The images are bound as reflections."
    key = "Shift+W"

    def __init__(self, bench: Bench) -> None:
        super().__init__(bench)
        self.ids: tuple[str, ...] = ()
        self._ready = False
        self._keep = True

    def begin(self) -> None:
        """Take what is selected."""
        self.ids = self.bench.selection.geometry(self.bench.part)
        self._ready = bool(self.ids)

    @property
    def prompt(self) -> str:
        """What is wanted next."""
        if not self._ready:
            return "Press the curves and points to reflect, then Enter."
        other = "W puts them on the other side instead." if self._keep else (
            "Bindings that then hold no longer are dropped. W keeps the originals.")
        return f"Press the line to reflect {', '.join(self.ids[:3])} about. {other}"

    def lit(self) -> tuple[str, ...]:
        """Return what is reflected and the line that is meant."""
        axis = self._axis(self.pointer) if self._ready else None
        return (*self.ids, axis) if axis else self.ids

    def is_begun(self) -> bool:
        """True while things were chosen here."""
        return bool(self.ids)

    def restart(self) -> None:
        """Choose afresh."""
        self.ids, self._ready = (), False

    def choose_less(self) -> None:
        """Go back to choosing, then let what was chosen last go."""
        if self._ready:
            self._ready = False
        else:
            self.ids = self.ids[:-1]

    def _axis(self, pointer: Pointer | None) -> str | None:
        if pointer is None:
            return None
        part, picker = self.bench.part, self.bench.derived.picker()
        for pick in picker.curves_near(pointer.at, pointer.reach, drawn_only=True):
            if isinstance(part.curves[pick.id], LineCurve) and pick.id not in self.ids:
                return pick.id
        return None

    def question(self) -> Question | None:
        """Return the reflection about the line under the pointer."""
        axis = self._axis(self.pointer) if self._ready else None
        if axis is None:
            return None
        ids, keep = self.ids, self._keep
        return (ids, axis, keep), lambda part: reflect(part, ids, axis, keep)

    def press(self, pointer: Pointer) -> None:
        """Choose what is reflected, then the line."""
        self.pointer = pointer
        if self._ready:
            if not self.make() and self._axis(pointer) is None:
                self.bench.say("No line is there: press the line to reflect about.")
            return
        found = self.bench.derived.picker().nearest(pointer.at, pointer.reach)
        if found is None:
            self.bench.say("Nothing is there: press a curve or a point.")
        elif found.source in self.ids:
            self.ids = tuple(n for n in self.ids if n != found.source)
        else:
            self.ids = (*self.ids, found.source)

    def type_key(self, name: str) -> bool:
        """Take Enter (ends the choosing, or reflects) and W (keeps the originals or not)."""
        if name == "w":
            self._keep = not self._keep
            return True
        if name == "enter" and not self._ready and self.ids:
            self._ready = True
            return True
        return super().type_key(name)

    def done(self, made: object) -> None:
        """Put the tool down."""
        self.finished = True


TOOL = ReflectTool
