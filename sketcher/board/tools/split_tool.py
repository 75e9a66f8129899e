"""Splitting a curve at a place, a circle at two."""

from __future__ import annotations

from dataclasses import replace

from sketcher.board.places.pending_bindings import Tie
from sketcher.board.places.point_place import Around, Spot
from sketcher.board.places.snap_choice import snapped
from sketcher.board.preview import Pointer, Preview
from sketcher.board.steps.bench import Bench
from sketcher.board.steps.drawing_step import Sketch
from sketcher.board.toolkit.shape_tool import Question, ShapeTool
from sketcher.geometry.curves import Circle
from sketcher.geometry.project import nearest
from sketcher.part.edited import Edited
from sketcher.part.edits.draft import Draft
from sketcher.part.edits.split import split
from sketcher.part.value import CircleCurve, LineCurve, Part
from sketcher.part.whole import curve_value

CLOSE = 1e-7
"""Share of the reach within which a place that a snap found lies on the curve."""


class SplitTool(ShapeTool):
    """Splits the curve under the pointer at the place that the snaps show."""

    name = "split"
    label = "Split"
    hint = "Press a place on a line or an arc to split it there; on a circle press two."
    key = "I"

    def __init__(self, bench: Bench) -> None:
        super().__init__(bench)
        self._first: tuple[str, Spot] | None = None
        self._seen: tuple[tuple[object, ...], tuple[str, Spot] | None] | None = None

    @property
    def prompt(self) -> str:
        """What is missing."""
        return "Press the second place on the circle." if self._first else self.opening

    def is_begun(self) -> bool:
        """True when a circle waits for its second place."""
        return self._first is not None

    def restart(self) -> None:
        """Let the first place go."""
        self._first = None

    def lit(self) -> tuple[str, ...]:
        """Return the curve that is meant."""
        found = self._first or self.place()
        return (found[0],) if found else ()

    def place(self) -> tuple[str, Spot] | None:
        """Return the curve under the pointer and the place on it, snapped where a snap agrees."""
        key = (self.bench.part, self.pointer, self._first)
        if self._seen is None or any(a is not b for a, b in zip(key, self._seen[0], strict=True)):
            self._seen = (key, self._look())
        return self._seen[1]

    def _look(self) -> tuple[str, Spot] | None:
        found = self.curve_at(self.pointer)
        if found is None or self.pointer is None:
            return None
        name, at = found
        if self._first is not None and name != self._first[0]:
            return None
        part, curve = self.bench.part, curve_value(self.bench.part, self.bench.part.curves[name])
        if self.bench.settings["snaps"] and "ctrl" not in self.pointer.keys:
            around = Around(self.pointer, part, self.bench.derived.picker(), zero=self.bench.zero)
            spot = snapped(around)
            on = nearest(curve, spot.at)
            if spot.locus is None and spot.word and on.distance <= CLOSE * self.pointer.reach:
                return name, replace(spot, at=on.point)
        return name, Spot(at)

    def question(self) -> Question | None:
        """Return the split at the place, or at the two places of a circle."""
        found = self.place()
        if found is None:
            return None
        name, spot = found
        round_ = isinstance(self.bench.part.curves[name], CircleCurve)
        if round_ and self._first is None:
            return None
        first = self._first[1] if self._first is not None else spot
        other = spot if round_ else None
        return ((name, first.at, other and other.at),
                lambda part: self._split(part, name, first, other))

    def _split(self, part: Part, name: str, spot: Spot, other: Spot | None) -> Edited:
        edited = split(part, name, spot.at, other.at if other else None)
        sketch = Sketch(edited.part, self.bench.zero, self.bench.settings["bind_drawn"])
        for point, place in zip(edited.made[1:], (spot, other), strict=False):
            assert place is not None
            for tie in place.ties:
                kept = _after(part, name, tie)
                if kept is None:
                    continue
                if kept.kind == "middle" and len(kept.of) == 3:
                    _forget_in_line(sketch.draft, point)
                sketch.ties((kept,), point)
        return replace(edited, part=sketch.finish(self.bench.solve))

    @property
    def preview(self) -> Preview:
        """The place, and the second piece."""
        found = self.place()
        shown = super().preview
        if found is None:
            return shown
        _, spot = found
        marks, words = spot.marks, spot.words
        if self._first is not None:
            marks += self._first[1].marks
        return Preview(tuple(g for g in shown.curves if g.mood == "new"), marks,
                       shown.words + words, lit=shown.lit)

    def press(self, pointer: Pointer) -> None:
        """Split, or take the first place of a circle."""
        self.pointer = pointer
        found = self.place()
        if found is None:
            self.bench.say(self.nothing(pointer, "press a place on the curve to be split"))
            return
        curve = curve_value(self.bench.part, self.bench.part.curves[found[0]])
        if isinstance(curve, Circle) and self._first is None:
            self._first = found
            return
        self.make()


def _after(part: Part, name: str, tie: Tie) -> Tie | None:
    """Return what a snap showed as it holds once the curve is split; None where it says nothing."""
    if name not in tie.of:
        return tie
    curve = part.curves[name]
    if tie.kind == "middle" and isinstance(curve, LineCurve):
        return replace(tie, of=("@", *curve.ends))
    return None


def _forget_in_line(draft: Draft, point: str) -> None:
    """Drop what the split bound: halfway between the ends is in line with them."""
    for name, binding in list(draft.bindings.items()):
        if binding.kind == "in line" and binding.of[1] == point:
            draft.remove(name)


TOOL = SplitTool
