"""Base of the tools that scribe what is tangent to several things: all that fits is shown."""

from __future__ import annotations

from typing import Generic, TypeVar

from sketcher.board.preview import Ghost, Pointer, Preview
from sketcher.board.toolkit.drawing_words import layout_told
from sketcher.board.toolkit.scribe_tool import ScribeTool
from sketcher.errors import SketcherError
from sketcher.geometry.curves import XY, Curve

Fit = TypeVar("Fit")
"""What fits, as the geometry gives it: a line, a circle with the places where it touches."""


class TangentTool(ScribeTool, Generic[Fit]):
    """Takes things until they fix a curve, then lets the presses or the pointer choose it.

    Where the presses leave it open, all that fits is shown and the pointer chooses. A subclass says
    when enough is chosen, what fits, how it looks, and makes the step.
    """

    # What a subclass says.

    def is_ready(self) -> bool:
        """Tell whether enough is chosen, so that a press takes what fits nearest to it."""
        raise NotImplementedError

    def coming(self) -> tuple[str, ...]:
        """Return what is chosen with the press that is still to come; `ids` without one."""
        return self.ids

    def is_typing(self) -> bool:
        """Tell whether a value is being typed that fixes a curve with what is chosen."""
        return False

    def solutions(self, names: tuple[str, ...]) -> tuple[Fit, ...]:
        """Return all that is tangent to some points and curves; nothing where they fix none.

        Raises
        ------
        SketcherError
            When nothing can be tangent to them.
        """
        raise NotImplementedError

    def nearest(self, found: tuple[Fit, ...], near: XY) -> Fit | None:
        """Return what is nearest to a place in the part's unit."""
        raise NotImplementedError

    def curve(self, one: Fit) -> Curve:
        """Return the curve of what fits."""
        raise NotImplementedError

    def touches(self, one: Fit) -> tuple[XY, ...]:
        """Return where it touches each of what is chosen, in that order."""
        raise NotImplementedError

    def own_place(self, one: Fit) -> XY:
        """Return a place that nothing else that fits is nearer to."""
        raise NotImplementedError

    def miss(self) -> None:
        """Say that nothing fits, and let go what was chosen last."""
        raise NotImplementedError

    def scribe(self, near: XY) -> bool:
        """Scribe what fits nearest to a place, in one step; return whether that was done."""
        raise NotImplementedError

    # Choosing among what fits.

    def fitting(self, names: tuple[str, ...] | None = None) -> tuple[Fit, ...]:
        """Return all that fits some things, or once enough is chosen those chosen."""
        if names is None and not self.is_ready():
            return ()
        try:
            return self.solutions(self.ids if names is None else names)
        except SketcherError:
            return ()

    def count_told(self) -> str:
        """Return what is wanted next once all that fits is shown."""
        return f"{len(self.fitting())} fit: point at the one that is meant and press."

    def press(self, pointer: Pointer) -> None:
        """Choose, or scribe what fits nearest to the pointer."""
        self.move(pointer)
        if self.is_ready():
            self.make(pointer.at)
        elif self.over is not None:
            self.choose(pointer)
            if self.is_ready() and not self.fitting():
                self.miss()
            self.make_clear()

    def type_key(self, name: str) -> bool:
        """Take Enter, which scribes what fits nearest to the pointer."""
        if name == "enter" and self.is_ready() and self.pointer is not None:
            self.make(self.pointer.at)
            return True
        return super().type_key(name)

    def make(self, near: XY) -> None:
        """Scribe what fits nearest to a place, and begin afresh."""
        if self.scribe(near):
            layout_told(self.bench)
            self.let_choice_go(())

    def make_clear(self) -> None:
        """Scribe what the presses choose, if they choose one."""
        found = self.fitting()
        chosen = self.by_presses([self.touches(one) for one in found])
        if chosen is not None:
            self.make(self.own_place(found[chosen]))

    # Showing.

    def shown(self) -> tuple[tuple[Fit, ...], Fit | None]:
        """Return all that fits what is chosen, typed or pointed at, and the one that is meant.

        While something is still to be pressed or typed the presses choose, as they will when it
        is; where they leave it open, the pointer does.
        """
        names = self.coming()
        is_coming = names != self.ids or self.is_typing()
        found = self.fitting(names) if is_coming else self.fitting()
        if self.pointer is None or not found:
            return found, None
        over = self.pointer if names != self.ids else None
        chosen = self.by_presses([self.touches(one) for one in found], over) \
            if is_coming else None
        return found, self.nearest(found, self.pointer.at) if chosen is None else found[chosen]

    def drawn(self) -> tuple[Curve, ...]:
        """Return the curve that is meant."""
        _, meant = self.shown()
        return () if meant is None else (self.curve(meant),)

    @property
    def preview(self) -> Preview:
        """All that fits, the one that is meant in full."""
        found, meant = self.shown()
        others = tuple(Ghost(self.curve(one), "layout", "hint")
                       for one in found if one is not meant)
        return Preview(others) + super().preview
