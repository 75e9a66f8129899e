"""Base of a tool whose pieces follow each other, each from the end of the one before."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from sketcher.board.places.point_place import Around, Spot
from sketcher.board.preview import Pointer
from sketcher.board.steps.bench import Bench
from sketcher.board.toolkit.drawn_arcs import heading_at
from sketcher.board.toolkit.placing_tool import PlacingTool
from sketcher.geometry.bounds import RELATIVE
from sketcher.geometry.curves import XY, Arc, Circle, Line
from sketcher.geometry.project import nearest
from sketcher.inspect.words import plural
from sketcher.part.curve_questions import ends_of
from sketcher.part.edits.draft import Draft
from sketcher.part.part_size import part_size
from sketcher.part.value import Part
from sketcher.part.whole import curve_value


@dataclass(frozen=True, slots=True)
class Joined:
    """A piece that was drawn: its curve, its start as it was before, and its end."""

    curve: str
    start: Spot
    end: str


class JoiningTool(PlacingTool):
    """Knows where the next piece begins, which were drawn, and when they are at their end."""

    def __init__(self, bench: Bench) -> None:
        super().__init__(bench)
        self._start: Spot | None = None
        self._first: str | None = None
        self._pieces: list[Joined] = []

    def start(self) -> tuple[XY | None, str | None]:
        """Return the end of the piece before."""
        return (None, None) if self._start is None else (self._origin(), self._start.point)

    @property
    def drawn_from(self) -> str:
        """The end of the last piece, or the point that the outline begins at."""
        return "" if self._start is None else self._start.point or ""

    def before(self) -> tuple[str | None, XY | None]:
        """Return the piece before and its heading at the end."""
        if self._start is None or self._start.point is None:
            return None, None
        return ending_at(self.bench.part, self._start.point)

    def around(self) -> Around:
        """Return what the snaps may look at; the outline's own start always counts as touched."""
        around = super().around()
        if self._first is None or self._first in around.touched:
            return around
        return replace(around, touched=(self._first, *around.touched))

    def is_begun(self) -> bool:
        """True once the outline has a start."""
        return self._start is not None

    def _origin(self) -> XY:
        assert self._start is not None
        if self._start.point is not None:
            return self.bench.part.points[self._start.point]
        return self._start.at

    def double(self, pointer: Pointer) -> None:
        """End the outline; the presses before have drawn its last piece."""
        self.complete()

    # Going on.

    def join(self, made: Joined, first: str, end: Spot) -> None:
        """Go on from the end of a piece that was drawn."""
        self._pieces.append(made)
        self._first = self._first or first
        self._go_on(end, made.end)

    def _go_on(self, end: Spot, last: str) -> None:
        part = self.bench.part
        first = self._first
        axis = axis_under(part, last)
        if last == first and len(self._pieces) > 1:
            self.remark("The outline is closed.")
        elif end.point is not None and len(self._others(last)) > 0:
            self.remark(f"The outline joins {self._others(last)[0]} and ends there.")
        elif axis is not None and first is not None and axis_under(part, first) is not None:
            self.remark(f"The outline ends on the axis {axis}: the half reaches it at both ends.")
        else:
            if axis is not None:
                self.remark(f"This end lies on the axis {axis}.")
            else:
                self.remark(f"{self._pieces[-1].curve} drawn{_with(end.word)}.")
            self._start = Spot(part.points[last], point=last)
            return
        self.restart()

    def _others(self, point: str) -> list[str]:
        own = {piece.curve for piece in self._pieces}
        return [n for n, c in self.bench.part.curves.items()
                if n not in own and point in ends_of(c) and c.role == "outline"]

    # Taking back and ending.

    def complete(self) -> None:
        """End the outline; its pieces stay."""
        drawn = len(self._pieces)
        if self._start is not None:
            self.restart()
            self.next_stage()
            self.remark(f"The outline ends here, with {plural(drawn, 'piece')}." if drawn
                        else "Nothing was drawn.")

    def take_back(self) -> bool:
        """Take back the last piece, or the start; return whether there was one."""
        if self._pieces:
            piece = self._pieces.pop()
            self.bench.do(f"Take back {piece.curve}", _without(piece.curve))
            self._begin_at(piece.start)
        elif self._start is not None:
            self.restart()
        else:
            return False
        return True

    def refresh(self) -> None:
        """Go back along the pieces as far as undo has taken them."""
        part = self.bench.part
        while self._pieces and self._pieces[-1].curve not in part.curves:
            self._begin_at(self._pieces.pop().start)
        if self._start is not None:
            self._begin_at(self._start)
        if self._first is not None and self._first not in part.points:
            self._first = None
        super().refresh()

    def _begin_at(self, spot: Spot) -> None:
        spot = spot.now(self.bench.part)
        if not self._pieces:
            self._first = spot.point
        self._start = spot

    def restart(self) -> None:
        """End here and wait for the start of another."""
        self._start = self._first = None
        self._pieces = []


def _with(word: str) -> str:
    return f", {word}" if word else ""


def _without(curve: str) -> Callable[[Part], Part]:
    def edit(part: Part) -> Part:
        draft = Draft(part)
        draft.remove(curve)
        return draft.done()

    return edit


def ending_at(part: Part, point: str) -> tuple[str | None, XY | None]:
    """Return the newest line or arc that ends at a point, and the heading with which it leaves."""
    for name, drawn in reversed(list(part.curves.items())):
        value = curve_value(part, drawn)
        if isinstance(value, Circle) or point not in ends_of(drawn) or drawn.role != "outline":
            continue
        return name, heading_at(value, ends_of(drawn)[1] == point)
    return None, None


def leaves_along(heading: XY | None, piece: Line | Arc) -> bool:
    """Tell whether an arc leaves its start in the direction in which the piece before arrived."""
    if heading is None or not isinstance(piece, Arc):
        return False
    x, y = heading_at(piece, False)
    across, along = heading[0] * y - heading[1] * x, heading[0] * x + heading[1] * y
    return abs(across) <= RELATIVE and along < 0.0


def axis_under(part: Part, point: str) -> str | None:
    """Return the axis on which a point lies, or None."""
    place, tolerance = part.points[point], RELATIVE * part_size(part)
    for name, curve in part.curves.items():
        if curve.role == "axis" and curve.kind == "line":
            line = curve_value(part, curve)
            if nearest(line, place, bounded=False).distance <= tolerance:
                return name
    return None
