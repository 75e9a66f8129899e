"""Base of the tools that cut a corner by typed values: fillet, chamfer."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import NamedTuple

from sketcher.board.preview import Pointer
from sketcher.board.steps.bench import Bench
from sketcher.board.toolkit.shape_tool import Question, TwoCurvesTool
from sketcher.errors import SketcherError
from sketcher.geometry.curves import XY
from sketcher.part.curve_questions import ends_of
from sketcher.part.mirror import reflector, taken
from sketcher.part.value import Part


class BlendCorner(NamedTuple):
    """A corner to cut: of two curves near a place, or of a curve and its image in an axis `b`."""

    a: str
    b: str
    near: XY | None
    on_axis: bool = False


@dataclass(frozen=True)
class JustCut:
    """The corner that was cut last by kept values: the part before and after, the step's key."""

    corner: BlendCorner
    before: Part
    after: Part
    step: str


class BlendTool(TwoCurvesTool):
    """A tool that cuts a corner of two curves, or of a curve and its own reflection.

    A press takes the values typed last. What is typed right after such a press is meant for the
    corner just cut: it is cut anew, in the same step.
    """

    def __init__(self, bench: Bench) -> None:
        super().__init__(bench)
        self._just: JustCut | None = None

    # What a subclass says.

    def cut(self, corner: BlendCorner) -> Question:
        """Return the edit that cuts a corner by the values that are typed."""
        raise NotImplementedError

    @property
    def just_cut(self) -> bool:
        """True while typing changes the corner cut last."""
        return self._just is not None and self._just.after is self.bench.part

    # The corner.

    def corner(self) -> BlendCorner | None:
        """Return the corner of the two curves, or of one and its reflection; None without both."""
        pair = self.pair()
        if pair is None:
            return None
        (a, _), (b, _) = pair
        axes = {mirror.axis for mirror in self.bench.part.mirrors}
        if axes & {a, b}:
            return BlendCorner(*((b, a) if a in axes else (a, b)), None, True)
        return BlendCorner(a, b, self.near())

    def question(self) -> Question | None:
        """Return the cut of the corner that is chosen or pointed at."""
        corner = self.corner()
        return None if corner is None or self.takes[0][0] not in self.typed \
            else self.cut(corner)

    def _corner(self, pointer: Pointer) -> tuple[tuple[str, XY | None], ...] | None:
        return super()._corner(pointer) or self._corner_on_axis(pointer)

    def _corner_on_axis(self, pointer: Pointer) -> tuple[tuple[str, XY | None], ...] | None:
        """Return the curve that alone ends on an axis under the pointer, and the axis."""
        part = self.bench.part
        for pick in self.bench.derived.picker().points_near(pointer.at, pointer.reach):
            names = [n for n, c in part.curves.items()
                     if c.role == "outline" and pick.id in ends_of(c)]
            for mirror in part.mirrors if len(names) == 1 else ():
                if names[0] in taken(part, mirror) and reflector(part, mirror).on_axis(pick.at):
                    return ((names[0], pick.at), (mirror.axis, pick.at))
        return None

    # Cutting, and cutting anew.

    def press(self, pointer: Pointer) -> None:
        """Choose a curve or a corner; what was cut before stays as it is."""
        self._just = None
        super().press(pointer)

    def make(self, merge: str | None = None) -> bool:
        """Cut the corner, and remember it where its values were not typed for it."""
        bench, corner = self.bench, self.corner()
        before, kept = bench.part, not self._anew
        self._just = None
        step = merge or f"{self.name} {bench.history.position}"
        done = super().make(step)
        if done and kept and corner is not None:
            self._just = JustCut(corner, before, bench.part, step)
        return done

    def hold(self, row: str, text: str) -> bool:
        """Take a typed value, for the corner just cut or for the next one."""
        just, kept = self._just if self.just_cut else None, dict(self.typed)
        if not super().hold(row, text):
            return False
        if just is not None:
            self._anew = []
            try:
                self._cut_anew(just)
            except SketcherError:
                self.typed.clear()
                self.typed.update(kept)
                raise
        return True

    def _cut_anew(self, just: JustCut) -> None:
        bench = self.bench
        _, edit = self.cut(just.corner)
        if bench.do(self.step or self.label, lambda _: edit(just.before), just.step).done:
            self._just = replace(just, after=bench.part)

    def take_typed(self) -> None:
        """Make the edit, unless what was typed changed the corner just cut."""
        if not self.just_cut:
            super().take_typed()
