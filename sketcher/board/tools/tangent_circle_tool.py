"""Circles tangent to two things at a radius, or to three."""

from __future__ import annotations

from sketcher.board.places.pending_bindings import Typed
from sketcher.board.preview import Ghost, Pointer, Preview
from sketcher.board.readout.readout_content import row
from sketcher.board.readout.row import Row
from sketcher.board.steps.bench import Bench
from sketcher.board.toolkit.drawing_words import layout_told
from sketcher.board.toolkit.scribe_tool import ScribeTool
from sketcher.errors import EditError, SketcherError
from sketcher.geometry.curves import XY, Curve
from sketcher.geometry.tangent_circles import TouchCircle
from sketcher.part.edits.scribe_touching import scribe_touching
from sketcher.part.scribing import nearest_circle, touching
from sketcher.part.value import Part


class TangentCircleTool(ScribeTool):
    """Scribes the circle that touches nearest to where things were pressed.

    Where the presses leave it open, all are shown and the pointer chooses.
    """

    name = "tangent circle"
    label = "Tangent circle"
    hint = ("Press two curves, each about where the circle touches it, and type the radius; or "
            "press three. A circle through a point counts as tangent to it.")
    ask = "Press two curves where the circle touches, then type its radius; or press three."
    key = "O"
    first = 3

    def __init__(self, bench: Bench) -> None:
        super().__init__(bench)
        self._radius: Typed | None = None

    @property
    def prompt(self) -> str:
        """What is wanted next."""
        if len(self.ids) < 2:
            return self.opening
        if self._is_ready():
            count = len(self._candidates())
            return f"{count} fit: point at the one that is meant and press."
        return f"Type the radius tangent to {' and '.join(self.ids)}, or press a third curve."

    def _is_ready(self) -> bool:
        return len(self.ids) == 3 or (len(self.ids) == 2 and self._radius is not None)

    def _candidates(self) -> tuple[TouchCircle, ...]:
        if not self._is_ready():
            return ()
        size = self._radius.amount if self._radius is not None else None
        try:
            return touching(self.bench.part, self.ids, size)
        except SketcherError:
            return ()

    def takes(self, part: Part, name: str) -> bool:
        """Take up to three while none is ready."""
        return not self._is_ready() and name not in self.ids

    def rows(self) -> tuple[Row, ...]:
        """Return the radius, once two are chosen."""
        if len(self.ids) != 2:
            return ()
        return (row(self.bench, "radius", None, self._radius, True),)

    def press(self, pointer: Pointer) -> None:
        """Choose, or scribe the candidate that is nearest."""
        self.move(pointer)
        if self._is_ready():
            self._make(pointer.at)
        elif self.over is not None:
            self.choose(pointer)
            self._check()
            self._make_clear()

    def _check(self) -> None:
        if self._is_ready() and not self._candidates():
            names, self._radius = " and ".join(self.ids), None
            self.ids = self.ids[:2] if len(self.ids) == 3 else self.ids
            self.bench.say(f"No circle is tangent to {names} so.", "warning")

    def hold(self, row: str, text: str) -> bool:
        """Take the radius."""
        if row != "radius" or len(self.ids) != 2:
            return False
        typed = self.typed(text)
        if not typed.amount > 0.0:
            raise EditError("radius", f"{typed.text} is not above zero", "give a positive radius")
        if not touching(self.bench.part, self.ids, typed.amount):
            names = " and ".join(self.ids)
            raise EditError("radius", f"no circle of {typed.text} is tangent to {names}",
                            "type another")
        self._radius = typed
        return True

    def take_typed(self) -> None:
        """Scribe the circle that the presses choose; else the pointer chooses among those shown."""
        self._make_clear()

    def let_go(self, row: str) -> bool:
        """Let the radius go."""
        held, self._radius = self._radius is not None, None
        return held

    def let_choice_go(self, left: tuple[str, ...]) -> None:
        """Let choices and the radius go."""
        self.ids, self._radius = left, None

    def type_key(self, name: str) -> bool:
        """Take Enter, which scribes the candidate nearest to the pointer."""
        if name == "enter" and self._is_ready() and self.pointer is not None:
            self._make(self.pointer.at)
            return True
        if name == "escape" and self._radius is not None:
            return self.let_go("radius")
        return super().type_key(name)

    def _make_clear(self) -> None:
        """Scribe the circle that the presses choose, if they choose one."""
        found = self._candidates()
        chosen = self.by_presses([circle.touches for circle in found])
        if chosen is not None:
            self._make(found[chosen].circle.center)

    def _make(self, near: XY) -> None:
        ids, radius = self.ids, self._radius.text if self._radius is not None else None
        if self.bench.do(f"Scribe a circle tangent to {', '.join(ids)}",
                         lambda part: scribe_touching(part, ids, near, radius)):
            layout_told(self.bench)
            self.let_choice_go(())

    # Showing.

    def _shown(self) -> tuple[tuple[TouchCircle, ...], TouchCircle | None]:
        """Return the circles that fit what is chosen, typed or pointed at, and the one meant.

        While a radius is typed, or a third curve is pointed at, the presses choose, as they will
        when it is taken; where they leave it open, the pointer does.
        """
        names, size = self.ids, self._typed_size()
        if len(names) == 2 and size is None and self._radius is None and self.over is not None:
            names = (*names, self.over)
        coming = size is not None or names != self.ids
        if not coming:
            found = self._candidates()
        else:
            try:
                found = touching(self.bench.part, names, size)
            except SketcherError:
                found = ()
        if self.pointer is None or not found:
            return found, None
        over = self.pointer if names != self.ids else None
        chosen = self.by_presses([c.touches for c in found], over) if coming else None
        return found, nearest_circle(found, self.pointer.at) if chosen is None else found[chosen]

    def _typed_size(self) -> float | None:
        """Return the radius that is being typed; None while it is none."""
        if not self.typing.strip():
            return None
        try:
            size = self.typed(self.typing).amount
        except SketcherError:
            return None  # half typed
        return size if size > 0.0 else None

    def drawn(self) -> tuple[Curve, ...]:
        """Return the circle that is meant."""
        _, meant = self._shown()
        return () if meant is None else (meant.circle,)

    @property
    def preview(self) -> Preview:
        """Every circle that fits, the one that is meant in full."""
        found, meant = self._shown()
        others = tuple(Ghost(c.circle, "layout", "hint") for c in found if c is not meant)
        return Preview(others) + super().preview


TOOL = TangentCircleTool
