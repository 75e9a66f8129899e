"""Picking: select, and drag what is loose under all bindings."""

from __future__ import annotations

from math import dist
from typing import TYPE_CHECKING

from sketcher.board.preview import Box, Pointer, Preview
from sketcher.board.steps.bench import Bench, listed
from sketcher.board.toolkit.dimension_picking import dimension_at
from sketcher.board.toolkit.point_joining import PointJoin, joined
from sketcher.board.toolkit.tool_base import Tool
from sketcher.errors import SketcherError
from sketcher.geometry.curves import XY
from sketcher.interrupt import Stopped
from sketcher.part.value import Part

if TYPE_CHECKING:
    from sketcher.solve import Drag

BEGINS = 0.5  # reaches that the pointer must travel before a press becomes a drag


class PickTool(Tool):
    """Selects points, curves and bindings; drags loose geometry, dimension texts and a box."""

    keeps_selection = True
    name = "pick"
    label = "Pick and drag"
    hint = ("Press a curve, a point or a dimension; Shift adds to the selection. "
            "Drag what is loose, or a box over several; let go over another point to join them.")
    ask = "Press a curve, a point or a dimension; Shift adds. Drag what is loose, or a box."
    key = "P"
    group = "pick"
    types_selection = True
    lets_sheet_move = True

    def __init__(self, bench: Bench) -> None:
        super().__init__(bench)
        self._pressed: Pointer | None = None
        self._here: Pointer | None = None
        self._target: str | None = None
        self._mode = ""  # "", "box", "drag", "text", "stuck"
        self._grip: dict[str, XY] = {}
        self._drag: Drag | None = None
        self._rim: str | None = None
        self._join: PointJoin | None = None
        self._narrows = False  # the press was on one of several: let go there, it alone stays

    @property
    def prompt(self) -> str:
        """What can be done now."""
        if self._join is not None and self._join.offered is not None:
            return f"Let go to make {self._join.point} and {self._join.offered} one point; " \
                "with Ctrl it is only placed."
        if self._mode == "drag":
            return "Loose geometry follows under all bindings; let go to keep it, Esc to go back."
        if self._mode == "box":
            return "Let go to take what lies inside the box; with Ctrl, what it touches as well."
        return self.opening if self.bench.part.curves else "Take a tool to draw the first curve."

    @property
    def preview(self) -> Preview:
        """The box, when one is drawn; the point that would be joined."""
        if self._join is not None:
            return self._join.preview
        if self._mode != "box" or self._pressed is None or self._here is None:
            return Preview()
        return Preview(box=Box((self._pressed.at, self._here.at), "ctrl" in self._here.keys))

    # Events.

    def press(self, pointer: Pointer) -> None:
        """Select what is under the pointer; a motion after it may become a drag."""
        self._pressed = self._here = pointer
        self._target = self.target(pointer)
        self._mode = ""
        self._narrows = False
        adds = "shift" in pointer.keys
        if self._target is not None and "." in self._target:
            self.bench.select(self._repeated(self._target))  # a number of a pattern
            self._pressed = self._target = None
        elif self._target is None:
            if not adds:
                self.bench.select(())
        elif adds:
            self.bench.toggle((self._target,))
        elif self._target not in self.bench.selection:
            self.bench.select((self._target,))
        else:
            self._narrows = True  # when it is let go there: the press may become a drag

    def move(self, pointer: Pointer) -> None:
        """Light up what is under the pointer, or go on with the drag."""
        self._here = pointer
        if self._pressed is None:
            self.bench.hover = self.meant(pointer)
            return
        if self._mode == "" and dist(pointer.at, self._pressed.at) > BEGINS * pointer.reach:
            self._begin()
        if self._mode == "drag":
            self._follow(pointer)
        elif self._mode == "text" and self._target is not None:
            self._place_text(self._target, pointer.at)

    def release(self, pointer: Pointer) -> None:
        """End the drag or the box."""
        if self._pressed is None:
            return
        mode, begun = self._mode, self._pressed
        if mode == "box":
            names = self.bench.derived.picker().in_box(begun.at, pointer.at, "ctrl" in pointer.keys)
            kept = tuple(self.bench.selection) if "shift" in begun.keys else ()
            self.bench.select((*kept, *names))
        elif mode == "drag":
            self._let_go()
        elif mode == "text":
            self.bench.history.end_gesture()
        elif mode == "" and self._narrows and self._target is not None:
            self.bench.select((self._target,))
        self._stop()

    def _let_go(self) -> None:
        """End the drag: join what lies under the point, else keep it where it is."""
        bench, join, step = self.bench, self._join, f"Drag {self._target}"
        if join is None or join.other is None:
            bench.gesture.settle(step)
            return
        kept, gone = join.other, join.point
        try:
            made = joined(bench, bench.part, kept, gone)
        except (SketcherError, Stopped) as error:
            if bench.gesture.settle(step):
                why = f"{error}. " if isinstance(error, SketcherError) else ""
                bench.say(f"{why}{gone} is only placed.", "warning", gone)
            return
        if bench.do(f"Join {gone} to {kept}", lambda _: made).done:
            bench.select((kept,))

    def type_key(self, name: str) -> bool:
        """Give a drag up with Escape."""
        if name == "escape" and self._pressed is not None:
            if self._mode == "text":
                self.bench.undo()
            self._stop()
            return True
        return False

    def leave(self) -> None:
        """Give a drag up."""
        self._stop()

    def refresh(self) -> None:
        """Give a drag up: what it began from is no longer there."""
        self._stop()

    def _stop(self) -> None:
        self.bench.gesture.restore()
        self._pressed, self._mode, self._drag, self._grip = None, "", None, {}
        self._rim = self._join = None

    # Targets.

    def target(self, pointer: Pointer) -> str | None:
        """Return what a press means: a dimension's text, a point, a curve, a binding's sign."""
        text = dimension_at(self.bench, pointer, text_only=True)
        if text is not None:
            return text
        found = self.bench.derived.picker().nearest(pointer.at, pointer.reach)
        if found is not None and (found.what == "point" or found.drawn):
            return found.source
        return dimension_at(self.bench, pointer) or (found.source if found else None)

    def meant(self, pointer: Pointer) -> tuple[str, ...]:
        """Return what a press would select; of a number of a pattern, what that repeats."""
        found = self.target(pointer)
        if found is not None and "." in found:
            return self._repeated(found)
        return (found,) if found else ()

    def is_blank(self, pointer: Pointer) -> bool:
        """Tell whether nothing lies there."""
        return self.target(pointer) is None

    def _repeated(self, spacing: str) -> tuple[str, ...]:
        """Return the curves that the pattern of a spacing repeats."""
        pattern = self.bench.part.patterns.get(spacing.split(".", 1)[0])
        return () if pattern is None else pattern.curves

    # Dragging.

    def _begin(self) -> None:
        assert self._pressed is not None
        part, target = self.bench.part, self._target
        if target is None:
            self._mode = "box"
        elif target in part.bindings:
            self._mode = "text"
            self.bench.history.end_gesture()
        else:
            self._mode = "drag"
            self._grip = {name: part.points[name] for name in self._grips(target)}
            if target in {each.point for each in self.bench.report.loose} - part.points.keys():
                # A free radius follows the pointer; the center stays as far as it can.
                self._rim = target
            elif target in part.points:
                self._join = PointJoin(self.bench, target)
            if not self._is_loose(part, target):
                self._join = None
                self._mode = "stuck"
                self.bench.say(f"{target} is bound and does not move: {holders(part, target)}.",
                               "note", target)

    def _grips(self, target: str) -> tuple[str, ...]:
        part = self.bench.part
        return (target,) if target in part.points else part.curves[target].points

    def _is_loose(self, part: Part, target: str) -> bool:
        loose = {each.point for each in self.bench.report.loose}
        if target in loose or not loose.isdisjoint(self._grips(target)):
            return True
        curve = part.curves.get(target)
        # An arc's radius is free when its points are; a circle's is listed by its own id.
        return curve is not None and self.bench.report.states.get(target) == "loose"

    def _follow(self, pointer: Pointer) -> None:
        from sketcher.solve import Drag

        assert self._pressed is not None
        bench, target = self.bench, self._target
        if self._drag is None:
            rim = () if self._rim is None else (self._rim,)
            self._drag = Drag(bench.part, (*self._grip, *rim))
        dx, dy = pointer.x - self._pressed.x, pointer.y - self._pressed.y
        if self._rim is not None:
            goal = {**self._grip, self._rim: pointer.at}
        else:
            goal = {name: (x + dx, y + dy) for name, (x, y) in self._grip.items()}
        if self._join is not None:
            self._join.look(pointer)
            if self._join.offered is not None:
                goal = {self._join.point: bench.part.points[self._join.offered]}
        try:
            bench.gesture.shift(self._drag.to(goal))
        except SketcherError as error:
            bench.say(str(error), "error", target or "")

    def _place_text(self, binding: str, at: XY) -> None:
        def edit(part: Part) -> Part:
            placed = {**part.drawing.placed, binding: at}
            return placing(part, placed)

        self.bench.do(f"Place {binding}", edit, merge=f"place {binding}")


def placing(part: Part, placed: dict[str, XY]) -> Part:
    """Return the part with other places of its dimension texts."""
    from dataclasses import replace

    from sketcher.part.value import frozen

    return part.having(drawing=replace(part.drawing, placed=frozen(placed)))


def holders(part: Part, target: str) -> str:
    """Say which bindings hold a point or a curve."""
    names = [target]
    if target in part.curves:
        names += part.curves[target].points
    names += [n for n, c in part.curves.items() if not set(c.points).isdisjoint(names)]
    direct = [b for b, binding in part.bindings.items()
              if binding.drives and target in binding.of]
    near = [b for b, binding in part.bindings.items()
            if binding.drives and b not in direct and not set(names).isdisjoint(binding.of)]
    found = (direct + near)[:6]
    if not found:
        return "no binding of its own holds it, its neighbours do"
    more = " and others" if len(direct + near) > len(found) else ""
    return f"{listed(found)}{more} hold{'s' if len(found) == 1 and not more else ''} it"


TOOL = PickTool
