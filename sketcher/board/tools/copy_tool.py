"""Copying curves, once or several times."""

from __future__ import annotations

from collections.abc import Hashable
from dataclasses import replace

from sketcher.board.places.pending_bindings import Tie
from sketcher.board.places.point_place import Spot
from sketcher.board.steps.drawing_step import Sketch
from sketcher.board.toolkit.carrying_tool import SteppingTool
from sketcher.board.toolkit.drawing_words import follows
from sketcher.board.toolkit.trial import Proposal
from sketcher.geometry.curves import XY
from sketcher.part.edited import Edited
from sketcher.part.edits.copy import copy
from sketcher.part.value import Part

BETWEEN = ("run", "rise", "level", "plumb", "distance", "angle")


class CopyTool(SteppingTool):
    """Copies what is chosen with the bindings among it; a typed run or rise is a dimension."""

    name = "copy"
    label = "Copy"
    hint = ("Press the place to copy from, then one place for each copy; or type run and rise, "
            "which become dimensions between the original and the copy.")
    ask = "Press the place to copy from, or type run and rise."
    key = "Shift+C"

    @property
    def prompt(self) -> str:
        """What is wanted next."""
        if not self.ready:
            return self.choosing
        if self.base is None:
            return self.opening
        return "Press where a copy goes, or type run, rise, distance or angle; Esc ends."

    def proposal(self, spot: Spot) -> tuple[Hashable, Proposal] | None:
        """Return the copy at a place."""
        ids, step = self.ids, self.way(spot)
        if step == (0.0, 0.0):
            return None
        return (ids, step), lambda part: copy(part, ids, step)

    def place(self, spot: Spot) -> bool:
        """Copy, and bind the copy to the original by what was typed."""
        ids, step, base = self.ids, self.way(spot), self.base_point()
        if step == (0.0, 0.0):
            self.bench.say("The copy would lie on the original: give another place.")
            return False
        return self.carry(f"Copy {', '.join(ids[:3])}",
                          lambda part: self._copied(part, ids, step, spot, base))

    def _copied(
        self, part: Part, ids: tuple[str, ...], step: XY, spot: Spot, base: str | None
    ) -> Edited:
        edited = copy(part, ids, step)
        target = None if base is None else copy_of(part, edited, ids, base)
        if base is None or target is None:
            return edited
        bench = self.bench
        sketch = Sketch(edited.part, bench.zero, bench.settings["bind_drawn"],
                        bench.settings["bind_typed"])
        sketch.ties((t for t in spot.ties if _says_where(t)), target, {"@from": base})
        done = sketch.finish(bench.solve)
        self._notes = [follows(tie) for tie in sketch.implied]
        return replace(edited, part=done)


def copy_of(part: Part, edited: Edited, ids: tuple[str, ...], point: str) -> str | None:
    """Return the point of a copy that stands for a point of the original."""
    curves = [name for name in dict.fromkeys(ids) if name in part.curves]
    for name, made in zip(curves, edited.made, strict=False):
        points = part.curves[name].points
        if point in points:
            return edited.part.curves[made].points[points.index(point)]
    if not curves and point in ids:
        return edited.made[ids.index(point)]
    return None


def _says_where(tie: Tie) -> bool:
    return tie.typed and tie.kind in BETWEEN and set(tie.of) <= {"@", "@from"}


TOOL = CopyTool
