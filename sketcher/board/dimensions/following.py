"""Dimensions of a part that moves: each goes along with what it measures, and nothing is laid out.

A layout compares every piece of ink with every other and takes more time than all the rest of a
frame. While a gesture goes on each dimension keeps what the layout before it has decided. What does
not move is not even looked at, and at rest all are laid out again.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from sketcher.board.dimensions.desk_layout import (
    DeskLayout,
    ground_of,
    on_screen,
    scale_of,
    sizes_of,
    states_of,
)
from sketcher.board.dimensions.desk_measures import DeskReader, spacings
from sketcher.board.dimensions.dimension_lines import MARKS, DimLines
from sketcher.board.dimensions.follower import Follower
from sketcher.board.dimensions.shown_center_lines import CenterLine
from sketcher.drafting.measured import Measured
from sketcher.drafting.paper_view import View
from sketcher.geometry.bounds import Box, bounds_of
from sketcher.geometry.curves import XY
from sketcher.part.value import Part
from sketcher.solve.solve_report import SolveReport

Extent = Callable[[], Box | None]
"""Returns the box around the outline of the whole part, None without an outline."""
PLACES_ALONE = ("bindings", "patterns", "parameters", "drawing", "unit", "mirrors")


class Following:
    """The dimensions of one layout while the part that it was made for moves.

    Parameters
    ----------
    part, report, px, size, centers
        What the layout was made for, as for `lay_out_on_desk`.
    layout : DeskLayout
    """

    def __init__(
        self, part: Part, report: SolveReport, px: float, size: float,
        centers: Sequence[CenterLine], layout: DeskLayout,
    ) -> None:
        self.layout, self.lines = layout, layout.lines
        self._begun = self._part = part
        self._zoom = (px, size)
        self._view, self._states = scale_of(px, size), states_of(part, report)
        self._reader = DeskReader(part, self._view)
        self._followers = self._made(centers)

    def _made(self, centers: Sequence[CenterLine]) -> list[Follower]:
        part, view, sizes = self._part, self._view, sizes_of(self._part)
        ground = ground_of(part, view, centers)
        self._corners: Sequence[XY] = _corners(bounds_of(ground.outline)) if ground.outline else ()
        steps = {one.id: one for one in spacings(part, view)}
        return [Follower(steps.get(line.binding) or self._measured(part, line.binding),
                         view.point(line.anchor), self.layout.places.get(line.binding), sizes,
                         ground, self._corners)
                for line in self.layout.lines]

    def fits(self, part: Part, px: float, size: float) -> bool:
        """Tell whether another part differs in places alone, at the same zoom."""
        return (px, size) == self._zoom and all(
            getattr(self._begun, name) is getattr(part, name) for name in PLACES_ALONE)

    def at(self, part: Part, extent: Extent) -> tuple[DimLines, ...] | None:
        """Return the dimensions of a part that `fits`; None where one has come to another form."""
        if part is self._part:
            return self.lines
        corners = self._corners
        if any(follower.is_in_row for follower in self._followers):
            box = extent()
            corners = () if box is None else _corners(box, self._view)
        steps = {one.id: one for one in spacings(part, self._view)}
        lines = []
        for follower, line in zip(self._followers, self.lines, strict=True):
            now = self._now(part, follower, steps)
            if now is None:
                return None
            if now == follower.now and not (follower.is_in_row and corners != self._corners):
                lines.append(line)
            elif follower.is_like(now):
                lines.append(on_screen(follower.draw(now, corners), self._view, part,
                                       self._states))
            else:
                return None
        self._part, self._corners, self.lines = part, corners, tuple(lines)
        return self.lines

    def _now(
        self, part: Part, follower: Follower, steps: dict[str, Measured]
    ) -> Measured | None:
        """Return what a dimension measures in a part; None where it has gone."""
        binding = part.bindings.get(follower.begun.id)
        if binding is None:
            return steps.get(follower.begun.id)
        if all(_stays(name, self._part, part) for name in binding.of):
            return follower.now
        return self._measured(part, follower.begun.id)

    def _measured(self, part: Part, name: str) -> Measured:
        if self._reader.part is not part:
            self._reader = DeskReader(part, self._view)
        return self._reader.bound(name, part.bindings[name], MARKS.get(self._states[name], ""))


def _corners(box: Box, view: View | None = None) -> list[XY]:
    x0, y0, x1, y1 = box
    corners = [(x0, y0), (x1, y0), (x0, y1), (x1, y1)]
    return corners if view is None else [view.point(at) for at in corners]


def _stays(name: str, was: Part, part: Part) -> bool:
    """Tell whether a point or a curve is the very one that it was."""
    curve = part.curves.get(name)
    if curve is None:
        return was.points[name] is part.points[name]
    return curve is was.curves[name] and all(
        was.points[point] is part.points[point] for point in curve.points)
