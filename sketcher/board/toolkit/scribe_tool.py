"""Base of the scribe tools: things that are chosen one after the other, values that round well."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import ceil, dist, log10
from typing import ClassVar

from sketcher.board.places.pending_bindings import Tie, Typed, read_typed, typed_tie
from sketcher.board.places.point_place import Around, Spot
from sketcher.board.preview import Ghost, Pointer, Preview
from sketcher.board.steps.bench import Bench
from sketcher.board.toolkit.dimension_picking import pixel
from sketcher.board.toolkit.tool_base import Tool
from sketcher.errors import SketcherError
from sketcher.geometry.curves import XY, Curve
from sketcher.geometry.evaluate import direction_at
from sketcher.part.scribing import chosen_by_presses
from sketcher.part.value import LineCurve, Part
from sketcher.quantity.format import exact


def rounded(value: float, px: float) -> float:
    """Return a value as a person would read it off the screen: to a decimal about one pixel."""
    step = 10.0 ** ceil(log10(px)) if px > 0.0 else 1.0
    return round(round(value / step) * step, 12)


class ScribeTool(Tool):
    """A tool that takes points and curves under the pointer and scribes from them.

    A subclass says what it takes (`takes`) and what it would scribe (`drawn`).
    """

    group = "scribe"
    first: ClassVar[int] = 1
    """How many selected things are taken along when the tool is taken in hand."""

    def __init__(self, bench: Bench) -> None:
        super().__init__(bench)
        self.ids: tuple[str, ...] = ()
        self._pressed: dict[str, XY] = {}
        self.pointer: Pointer | None = None
        self.over: str | None = None

    # What a subclass says.

    def takes(self, part: Part, name: str) -> bool:
        """Tell whether a point or curve can be chosen now."""
        return name not in self.ids

    def drawn(self) -> tuple[Curve, ...]:
        """Return the curves that would be scribed."""
        return ()

    # Choosing.

    def begin(self) -> None:
        """Take what is selected, where all of it can be used."""
        part = self.bench.part
        names = self.bench.selection.geometry(part)
        if not 0 < len(names) <= self.first:
            return
        for name in names:
            if not self.takes(part, name):
                self.ids = ()
                return
            self.ids = (*self.ids, name)

    def target(self, pointer: Pointer) -> str | None:
        """Return the point or curve under the pointer that can be chosen."""
        picker, part = self.bench.derived.picker(), self.bench.part
        near = [*picker.points_near(pointer.at, pointer.reach),
                *picker.curves_near(pointer.at, pointer.reach, drawn_only=True)]
        return next((pick.id for pick in near if self.takes(part, pick.id)), None)

    def move(self, pointer: Pointer) -> None:
        """Show what would be chosen, or scribed."""
        self.pointer = pointer
        self.over = self.target(pointer)

    def choose(self, pointer: Pointer) -> None:
        """Take what is under the pointer, and remember where it was pressed."""
        assert self.over is not None
        self._pressed[self.over] = pointer.at
        self.ids, self.over = (*self.ids, self.over), None

    def by_presses(self, contacts: Sequence[Sequence[XY]], over: Pointer | None = None
                   ) -> int | None:
        """Return which of several solutions touches nearest to where things were pressed.

        `over` stands for the press that is still to come on what is under the pointer. None where
        something was not pressed but selected, or where the presses leave it open.
        """
        pressed = dict(self._pressed)
        names = self.ids
        if over is not None and self.over is not None:
            pressed[self.over] = over.at
            names = (*names, self.over)
        if not all(name in pressed for name in names):
            return None
        return chosen_by_presses(contacts, [pressed[name] for name in names])

    def typed(self, text: str, quantity: str = "length") -> Typed:
        """Return a typed value in the part's unit.

        Raises
        ------
        QuantityError
            When it cannot be understood.
        """
        bench = self.bench
        return read_typed(text, quantity, bench.part, bench.shown_unit, bench.derived.values())

    @property
    def preview(self) -> Preview:
        """What is chosen, what would be chosen, and what would be scribed."""
        try:
            curves = self.drawn()
        except SketcherError:
            curves = ()  # half typed
        ghosts = tuple(Ghost(curve, "layout") for curve in curves)
        over = (self.over,) if self.over is not None and not ghosts else ()
        return Preview(ghosts, lit=(*self.ids, *over))

    def type_key(self, name: str) -> bool:
        """Take Backspace and Escape, which let the last choice go."""
        if name in ("escape", "backspace") and self.ids:
            self.let_choice_go(self.ids[:-1])
            return True
        return False

    def let_choice_go(self, left: tuple[str, ...]) -> None:
        """Keep only these."""
        self.ids = left

    def refresh(self) -> None:
        """Let go what is no longer there."""
        part = self.bench.part
        left = tuple(n for n in self.ids if n in part.points or n in part.curves)
        if left != self.ids:
            self.let_choice_go(left)
        if self.pointer is not None:
            self.move(self.pointer)


def crossing_spot(bench: Bench, pointer: Pointer) -> Spot | None:
    """Return the crossing of two drawn curves under the pointer, bound on both."""
    from sketcher.board.snaps.crossing_snap import SNAP

    around = Around(pointer, bench.part, bench.derived.picker())
    found = [spot for spot in SNAP.find(around) if len(spot.ties) == 2]
    return min(found, key=lambda spot: dist(spot.at, pointer.at), default=None)


def held_fast(bench: Bench, pointer: Pointer, spot: Spot) -> Spot:
    """Return a spot that leaves no freedom: what the snaps leave open is counted from the zero.

    The distances are those at the pointer, rounded to what the eye can tell.
    """
    if spot.point is not None or len(spot.ties) > 1 or any(t.kind == "fixed" for t in spot.ties):
        return spot
    if not spot.ties:
        crossing = crossing_spot(bench, replace(pointer, x=spot.at[0], y=spot.at[1]))
        if crossing is not None:
            return crossing
    zero, px = bench.zero.place(bench.part), pixel(bench, pointer)
    x, y = (rounded(at - base, px) for at, base in zip(spot.at, zero, strict=True))
    run = typed_tie("run", ("@zero", "@"), Typed(exact(x), x))
    rise = typed_tie("rise", ("@zero", "@"), Typed(exact(y), y))
    if spot.ties and spot.locus is not None:
        ux, uy = direction_at(spot.locus, spot.at)
        return replace(spot, ties=(*spot.ties, run if abs(ux) >= abs(uy) else rise))
    at = (zero[0] + x, zero[1] + y)
    ties = (run, rise) if x or y else (Tie("fixed", ("@",)),)
    return replace(spot, at=at, ties=ties)


def is_line(part: Part, name: str) -> bool:
    """Tell whether an id is a line."""
    return isinstance(part.curves.get(name), LineCurve)


def is_round(part: Part, name: str) -> bool:
    """Tell whether an id is an arc or a circle."""
    return name in part.curves and not is_line(part, name)
