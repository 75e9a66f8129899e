"""Base of the tools that repeat what is chosen."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from types import MappingProxyType

from sketcher.board.places.pending_bindings import Typed
from sketcher.board.preview import Mark, Pointer, Preview
from sketcher.board.readout.row import Row
from sketcher.board.steps.bench import Bench
from sketcher.board.toolkit.shape_tool import ShapeTool
from sketcher.errors import SketcherError
from sketcher.part.edited import Edited
from sketcher.part.instances import places
from sketcher.part.spacings import seat, text_of, whole_number
from sketcher.part.value import CircleCurve, GridPattern, Pattern

MOST_MARKED = 400
"""Curves of a preview up to which each instance of the pattern has a mark."""


class PatternTool(ShapeTool):
    """Chooses curves, then shows their pattern until a press or Enter makes it."""

    keeps_selection = True
    choosing = "Press the curves to repeat, then Enter."
    counts: tuple[str, ...] = ()
    fields: Mapping[str, str] = MappingProxyType({})
    """Row to field of the pattern, for rows that have a value of their own before one is typed."""

    def __init__(self, bench: Bench) -> None:
        super().__init__(bench)
        self.curves: tuple[str, ...] = ()
        self.ready = False

    def begin(self) -> None:
        """Take selected curves."""
        self.curves = self.bench.selection.curves(self.bench.part)
        self.ready = bool(self.curves)

    def lit(self) -> tuple[str, ...]:
        """Return the curves that are repeated."""
        return self.curves

    def is_begun(self) -> bool:
        """True while curves are chosen."""
        return bool(self.curves)

    def restart(self) -> None:
        """Choose afresh."""
        self.curves, self.ready = (), False

    def choose_less(self) -> None:
        """Go back to choosing, then let the curve chosen last go."""
        if self.ready:
            self.ready = False
        else:
            self.curves = self.curves[:-1]

    def hold(self, row: str, text: str) -> bool:
        """Take a typed value; a count is a whole number."""
        if row in self.counts:
            number = whole_number(text, row)
            self.know(row, Typed(str(number), float(number)))
            return True
        return super().hold(row, text)

    def pattern(self) -> Pattern | None:
        """Return the pattern as typed and pointed; None while something is missing."""
        raise NotImplementedError

    def rows(self) -> tuple[Row, ...]:
        """Return the values as typed, else those that the pattern would have."""
        pattern, found = self.pattern(), []
        for each in super().rows():
            if pattern is not None and not each.held and each.name in self.fields:
                text = text_of(pattern, self.fields[each.name])
                each = replace(each, text=text)
            found.append(each)
        return tuple(found)

    def meant(self, pointer: Pointer | None) -> str | None:
        """Return the curve that a press would choose: of a hole also by its center."""
        if pointer is None:
            return None
        part, picker = self.bench.part, self.bench.derived.picker()
        for point in picker.points_near(pointer.at, pointer.reach):
            holes = [(curve.radius, name) for name, curve in part.curves.items()
                     if isinstance(curve, CircleCurve) and curve.center == point.id
                     and curve.role == "outline"]
            if holes:
                return min(holes)[1]
        found = self.curve_at(pointer)
        return None if found is None else found[0]

    def choose(self, pointer: Pointer) -> None:
        """Choose the curve under the pointer, or let it go."""
        name = self.meant(pointer)
        if name is None:
            self.bench.say(self.nothing(pointer, "press the curves to repeat, then Enter"))
            return
        self.curves = tuple(n for n in self.curves if n != name) if name in self.curves \
            else (*self.curves, name)

    def type_key(self, name: str) -> bool:
        """Take Enter, which ends the choosing or makes the pattern."""
        if name == "enter" and not self.ready and self.curves:
            self.ready = True
            return True
        return super().type_key(name)

    def count(self, row: str, otherwise: int) -> int:
        """Return a count as typed."""
        return int(self.typed[row].amount) if row in self.typed else otherwise

    def done(self, made: Edited) -> None:
        """Put the tool down with the pattern's curves selected."""
        self.bench.select(self.curves)
        self.finished = True

    @property
    def preview(self) -> Preview:
        """The instances, with a mark where each one stands."""
        shown = super().preview
        if not self.ready:
            over = self.meant(self.pointer)
            return shown if over is None else shown + Preview(lit=(over,))
        found = self.outcome()
        if found is None or isinstance(found, SketcherError) or not found.made:
            return shown
        part = found.part
        at = seat(part, part.curves[self.curves[0]])
        if len(shown.curves) > MOST_MARKED:
            return shown  # so many are seen as they are, and marks on all would only cost time
        marks = tuple(Mark(place.point(at), "handle") for place in places(part, found.made[0]))
        return shown + Preview(marks=marks)


def spoken(pattern: Pattern) -> str:
    """Return a pattern in a few words for the prompt."""
    if isinstance(pattern, GridPattern):
        (across, up), (columns, rows) = pattern.step, pattern.count
        return f"{columns} by {rows}, steps {across} and {up}"
    return f"{pattern.count} places over {pattern.span}\N{DEGREE SIGN}"
