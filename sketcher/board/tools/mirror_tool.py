"""The mirror: choose an axis, see the reflection, read what it does, then make it."""

from __future__ import annotations

from typing import Literal

from sketcher.board.places.point_place import Spot
from sketcher.board.preview import Ghost, Pointer, Preview
from sketcher.board.readout.row import Row
from sketcher.board.steps.bench import Bench
from sketcher.board.steps.drawing_step import Sketch
from sketcher.board.toolkit.axis_reach import reaching_open_ends
from sketcher.board.toolkit.drawing_words import figure_done
from sketcher.board.toolkit.mirror_preview import MirrorReport, try_mirror
from sketcher.board.toolkit.offered_axis import OfferedAxis, offered_axis
from sketcher.board.toolkit.stroke_tool import StrokeTool
from sketcher.errors import SketcherError
from sketcher.part.edits.set_mirror import set_mirror
from sketcher.part.mirror import axis_line
from sketcher.part.value import LineCurve, Mirror, Part
from sketcher.part.whole import curve_value

SQUARE = 1e-9
"""Cosine of the angle between two axes below which they are square to each other."""


class MirrorTool(StrokeTool):
    """Reflects the half about any line, or about one that is drawn for it."""

    keeps_selection = True
    name = "mirror"
    label = "Mirror"
    hint = ("Press the line to reflect about, or press in the open and draw an axis. "
            "Any line serves, at any angle.")
    ask = "Press the line to reflect about, or press in the open and draw an axis."
    key = "M"
    group = "mirror"
    role = "axis"

    def __init__(self, bench: Bench) -> None:
        super().__init__(bench)
        self._axis: str | None = None
        self._some: tuple[str, ...] = ()
        self._chosen = False  # mirror what was selected, not the whole outline
        self._over: str | None = None
        self._offered: tuple[Part, OfferedAxis | None] | None = None
        self._told: tuple[tuple[Part, Mirror], MirrorReport | None] | None = None

    def begin(self) -> None:
        """Take a selected line as the axis, and other selected curves as what is mirrored."""
        part, names = self.bench.part, self.bench.selection.curves(self.bench.part)
        lines = [n for n in names if isinstance(part.curves[n], LineCurve)]
        axes = [n for n in lines if part.curves[n].role == "axis"]
        if len(axes) == 1 or len(names) == 1:
            self._axis = next(iter(axes or lines), None)
        self._some = tuple(n for n in names if n != self._axis)
        self._chosen = bool(self._some)

    # What it says.

    @property
    def axis(self) -> str | None:
        """The line that was chosen, or the one under the pointer."""
        return self._axis or (self._over if not self.is_begun() else None)

    @property
    def offered(self) -> OfferedAxis | None:
        """The axis that is offered while none is chosen or pointed at."""
        if self._axis or self._over or self.is_begun():
            return None
        part = self.bench.part
        if self._offered is None or self._offered[0] is not part:
            within = self.bench.settings["snap_direction"]
            self._offered = (part, offered_axis(part, self.bench.solve, within))
        return self._offered[1]

    @property
    def report(self) -> MirrorReport | None:
        """What the mirror would do; None without an axis or where it cannot be."""
        offer = self.offered
        part, axis = (self.bench.part, self.axis) if offer is None else (offer.part, offer.axis)
        if axis is None or axis not in part.curves:
            return None
        mirror = Mirror(axis, self._curves)
        key = (part, mirror)
        if self._told is None or self._told[0][0] is not key[0] or self._told[0][1] != mirror:
            try:
                self._told = (key, try_mirror(*key))
            except SketcherError:
                self._told = (key, None)
        return self._told[1]

    @property
    def prompt(self) -> str:
        """The report on the axis, then what can be done."""
        if self.is_begun():
            return "Press where the axis ends, or type its angle."
        report = self.report
        if report is None:
            return self.opening
        said = " ".join(report.lines())
        offer = self.offered
        if offer is not None:
            return (f"{offer.words} {said} Enter mirrors about it, {self._choice_words()}or press "
                    "another line.")
        if self._axis is None:
            return f"{said} Press to choose it."
        return f"{said} Enter mirrors, {self._choice_words()}Esc chooses another axis."

    @property
    def _curves(self) -> Literal["outline"] | tuple[str, ...]:
        return self._some if self._chosen and self._some else "outline"

    def _choice_words(self) -> str:
        if not self._some:
            return ""
        other = "the whole outline" if self._chosen else f"the {len(self._some)} selected curves"
        return f"O takes {other}, "

    @property
    def preview(self) -> Preview:
        """The reflection, or the axis that is being drawn."""
        report = self.report
        if report is None or self.is_begun():
            return super().preview
        ghosts = tuple(Ghost(curve, "outline", "image") for curve in report.curves)
        offer = self.offered
        if offer is not None and offer.ends:
            axis = curve_value(offer.part, offer.part.curves[offer.axis])
            ghosts = (*ghosts, Ghost(axis, "axis"))
        lit = self.axis if offer is None else offer.axis if not offer.ends else None
        return Preview(ghosts, lit=(lit,) if lit else ())

    def rows(self) -> tuple[Row, ...]:
        """Return the rows of the axis that is drawn; none while one is chosen."""
        return super().rows() if self.is_begun() else ()

    # Events.

    def move(self, pointer: Pointer) -> None:
        """Show the reflection about the line under the pointer."""
        self._over = None if self.is_begun() else self._line_at(pointer)
        if self._over is None:
            super().move(pointer)
        else:
            self.pointer, self.spot = pointer, None

    def press(self, pointer: Pointer) -> None:
        """Choose a line, or draw an axis."""
        line = None if self.is_begun() else self._line_at(pointer)
        if line is not None:
            self._axis = line
            return
        self._axis = None
        super().press(pointer)

    def _line_at(self, pointer: Pointer) -> str | None:
        part, picker = self.bench.part, self.bench.derived.picker()
        for pick in picker.curves_near(pointer.at, pointer.reach, drawn_only=True):
            if isinstance(part.curves[pick.id], LineCurve):
                return pick.id
        return None

    def type_key(self, name: str) -> bool:
        """Take Enter, which mirrors, and O, which changes what is mirrored."""
        offer = self.offered
        if (self._axis is not None or offer is not None) and not self.is_begun():
            if name == "enter":
                self._apply(offer)
                return True
            if name == "o" and self._some:
                self._chosen = not self._chosen
                return True
            if name == "escape" and self._axis is not None:
                self._axis = None
                return True
        if name == "enter" and self._over is not None and not self.is_begun():
            self._axis = self._over
            return True
        return super().type_key(name)

    def place(self, spot: Spot) -> bool:
        """Take the start or the end of an axis; a drawn axis is chosen at once."""
        if self._start is None:
            self._start = spot
            return True
        if self.is_same(self._start.at, spot.at):
            self.bench.say("An axis needs a length: press somewhere else.")
            return False
        start, made = self._start, [""]

        def build(sketch: Sketch) -> None:
            first = sketch.point(start)
            last = sketch.point(spot, {"@from": first})
            made[0] = sketch.draft.line(first, last, "axis")
            sketch.named(curve=made[0])

        done = self.draw("Draw axis", build)
        if done:
            self.restart()
            self._axis = made[0]
            figure_done(self, made[0], spot.word)
        return done

    def refresh(self) -> None:
        """Let an axis go that is no longer there."""
        if self._axis is not None and self._axis not in self.bench.part.curves:
            self._axis = None
        self._over = None
        super().refresh()

    def _apply(self, offer: OfferedAxis | None) -> None:
        base, axis = (self.bench.part, self._axis) if offer is None else (offer.part, offer.axis)
        assert axis is not None
        curves, report, solve = self._curves, self.report, self.bench.solve
        if self.bench.do(f"Mirror about {axis}", lambda _: mirrored(
                reaching_open_ends(base, axis, solve), axis, curves)):
            self.finished = True
            self.bench.select(())  # the next tool would take the axis for its first operand
            if report is not None:
                self.remark(" ".join(report.lines()))


def mirrored(part: Part, axis: str, curves: str | tuple[str, ...]) -> Part:
    """Return the part with a mirror; one square to the axis of another is a second one.

    Two axes that are not square to each other would not close the figure: then the new one stands
    in place of the old.
    """
    second = len(part.mirrors) == 1 and _are_square(part, axis, part.mirrors[0].axis)
    return set_mirror(part, axis, curves, second).part


def _are_square(part: Part, one: str, other: str) -> bool:
    if one == other:
        return False
    a, b = (axis_line(part, Mirror(name)).direction for name in (one, other))
    return abs(a[0] * b[0] + a[1] * b[1]) <= SQUARE


TOOL = MirrorTool
