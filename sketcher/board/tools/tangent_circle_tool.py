"""Circles tangent to two things at a radius, or to three."""

from __future__ import annotations

from sketcher.board.places.pending_bindings import Typed
from sketcher.board.readout.readout_content import row
from sketcher.board.readout.row import Row
from sketcher.board.steps.bench import Bench
from sketcher.board.toolkit.tangent_tool import TangentTool
from sketcher.errors import EditError, SketcherError
from sketcher.geometry.curves import XY, Circle
from sketcher.geometry.tangent_circles import TouchCircle
from sketcher.part.edits.scribe_touching import scribe_touching
from sketcher.part.scribing import nearest_circle, touching
from sketcher.part.value import Part


class TangentCircleTool(TangentTool[TouchCircle]):
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
        if self.is_ready():
            return self.count_told()
        return f"Type the radius tangent to {' and '.join(self.ids)}, or press a third curve."

    def is_ready(self) -> bool:
        """Tell whether three are chosen, or two and the radius."""
        return len(self.ids) == 3 or (len(self.ids) == 2 and self._radius is not None)

    def coming(self) -> tuple[str, ...]:
        """Return what is chosen, with a third curve under the pointer while no radius is given."""
        open_yet = len(self.ids) == 2 and self._radius is None and not self.is_typing()
        return (*self.ids, self.over) if open_yet and self.over is not None else self.ids

    def is_typing(self) -> bool:
        """Tell whether a radius is being typed."""
        return self._typed_size() is not None

    def solutions(self, names: tuple[str, ...]) -> tuple[TouchCircle, ...]:
        """Return the circles that touch two things at the radius, or three."""
        size = self._typed_size()
        if size is None and self._radius is not None:
            size = self._radius.amount
        return touching(self.bench.part, names, size)

    def nearest(self, found: tuple[TouchCircle, ...], near: XY) -> TouchCircle | None:
        """Return the circle nearest to a place."""
        return nearest_circle(found, near)

    def curve(self, one: TouchCircle) -> Circle:
        """Return the circle itself."""
        return one.circle

    def touches(self, one: TouchCircle) -> tuple[XY, ...]:
        """Return where it touches."""
        return tuple(one.touches)

    def own_place(self, one: TouchCircle) -> XY:
        """Return its center."""
        return one.circle.center

    def takes(self, part: Part, name: str) -> bool:
        """Take up to three while none is ready."""
        return not self.is_ready() and name not in self.ids

    def rows(self) -> tuple[Row, ...]:
        """Return the radius, once two are chosen."""
        if len(self.ids) != 2:
            return ()
        return (row(self.bench, "radius", None, self._radius, True),)

    def miss(self) -> None:
        """Say that there is none; the first two stay chosen."""
        names, self._radius = " and ".join(self.ids), None
        self.ids = self.ids[:2]
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
        self.make_clear()

    def let_go(self, row: str) -> bool:
        """Let the radius go."""
        held, self._radius = self._radius is not None, None
        return held

    def let_choice_go(self, left: tuple[str, ...]) -> None:
        """Let choices and the radius go."""
        self.ids, self._radius = left, None

    def type_key(self, name: str) -> bool:
        """Take Escape, which lets the radius go first, and the keys of all tangent tools."""
        if name == "escape" and self._radius is not None:
            return self.let_go("radius")
        return super().type_key(name)

    def scribe(self, near: XY) -> bool:
        """Scribe the circle nearest to a place."""
        ids, radius = self.ids, self._radius.text if self._radius is not None else None
        return self.bench.do(f"Scribe a circle tangent to {', '.join(ids)}",
                             lambda part: scribe_touching(part, ids, near, radius)).done

    def _typed_size(self) -> float | None:
        """Return the radius that is being typed; None while it is none."""
        if not self.typing.strip():
            return None
        try:
            size = self.typed(self.typing).amount
        except SketcherError:
            return None  # half typed
        return size if size > 0.0 else None


TOOL = TangentCircleTool
