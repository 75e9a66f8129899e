"""What was read off the paper, and which points of the fresh part stand for it."""

from __future__ import annotations

from dataclasses import dataclass, field
from math import dist

from sketcher.drafting.rebuild.drawn_fields import DrawnField
from sketcher.drafting.rebuild.drawn_marks import DrawnMarks
from sketcher.drafting.rebuild.drawn_outline import (
    DrawnOutline,
    looks_level,
    looks_plumb,
    off_line,
)
from sketcher.drafting.rebuild.redrawn import Redrawn
from sketcher.geometry.curves import XY, Circle, Line
from sketcher.geometry.meet import meet


@dataclass(slots=True)
class OnPaper:
    """The outline and center lines of a sheet, and the ids of the fresh part that stand for them.

    Parameters
    ----------
    outline, marks : DrawnOutline, DrawnMarks
    redrawn : Redrawn
        Grows with what is asked for.
    corners : list of str
        Point of each corner of the outline.
    curves : list of str
        Curve of each curve of the outline.
    centers : dict of str to (x, y)
        Points that are centers of rounds and rings; those in `marked` carry a mark.
    """

    outline: DrawnOutline
    marks: DrawnMarks
    redrawn: Redrawn
    corners: list[str] = field(default_factory=list)
    curves: list[str] = field(default_factory=list)
    centers: dict[str, XY] = field(default_factory=dict)
    marked: set[str] = field(default_factory=set)
    rings: list[str] = field(default_factory=list)
    fields: list[DrawnField] = field(default_factory=list)
    _lines: dict[int, str] = field(default_factory=dict)
    _on: dict[int, list[str]] = field(default_factory=dict)

    @property
    def tol(self) -> float:
        """DrawnPlaces nearer than this are one."""
        return self.redrawn.tol

    def field_of(self, *places: XY) -> DrawnField | None:
        """Return the field of tiny holes in which places lie."""
        return next((f for f in self.fields if all(f.holds(at) for at in places)), None)

    def center_at(self, at: XY, marked: bool = True) -> str | None:
        """Return the center at a place: one that carries a mark, or also any other."""
        found = [name for name, place in self.centers.items()
                 if dist(place, at) < self.tol and (not marked or name in self.marked)]
        return min(found, key=lambda name: (name not in self.marked, name), default=None)

    def on_line(self, mark: int) -> list[str]:
        """Return the marked centers that a straight center line runs over, in its order."""
        if mark not in self._on:
            line = self.marks.lines[mark]
            found = [name for name in self.marked if self.marks.runs_over(line, self.centers[name])]
            self._on[mark] = sorted(found, key=lambda name: (dist(self.centers[name], line.start),
                                                             name))
        return self._on[mark]

    def line_of(self, mark: int) -> str:
        """Return a straight center line as a layout line; its open ends say nothing."""
        if mark not in self._lines:
            self._lines[mark] = self._laid(mark, self.on_line(mark))
        return self._lines[mark]

    def _laid(self, mark: int, on: list[str]) -> str:
        redrawn, line = self.redrawn, self.marks.lines[mark]
        if len(on) >= 2:
            return redrawn.line(on[0], on[-1])
        hub = self.hub_of(mark)
        if hub is not None:
            return redrawn.line(hub, on[0])
        on = on or [self._end(line)]
        start = redrawn.points[on[0]]
        end = redrawn.point(max((line.start, line.end), key=lambda p: dist(p, start)))
        at = redrawn.points[end]
        name = redrawn.line(on[0], end)
        if looks_level(line):
            redrawn.bind("level", name)
            redrawn.bind("run", on[0], end, value=abs(at[0] - start[0]))
        elif looks_plumb(line):
            redrawn.bind("plumb", name)
            redrawn.bind("rise", on[0], end, value=abs(at[1] - start[1]))
        else:
            redrawn.bind("distance", on[0], end, value=dist(start, at))
        return name

    def hub_of(self, mark: int) -> str | None:
        """Return the center of the ring whose radius a tick through one of its holes is."""
        line, on = self.marks.lines[mark], self.on_line(mark)
        if len(on) != 1:
            return None
        at = self.centers[on[0]]
        for ring in self.marks.rings:
            if abs(dist(at, ring.center) - ring.radius) < self.tol and (
                    off_line(line, ring.center) < self.tol):
                return self.center_at(ring.center)
        return None

    def _end(self, line: Line) -> str:
        """Return a first point of a line without a center: where it crosses the outline."""
        for number, drawn in enumerate(self.outline.curves):
            for crossing in meet(line, drawn.curve, bounded=(False, True)):
                at = self.redrawn.point(crossing.point)
                self.redrawn.bind("on", at, self.curves[number])
                return at
        return self.redrawn.point(line.start)

    def straight(self) -> list[tuple[Line, str | None, int]]:
        """Return every drawn line: outline with its id, then center lines with their number."""
        found: list[tuple[Line, str | None, int]] = [
            (drawn.curve, name, -1) for drawn, name in zip(self.outline.curves, self.curves,
                                                           strict=True)
            if isinstance(drawn.curve, Line)]
        return found + [(line, None, k) for k, line in enumerate(self.marks.lines)]


def laid_on_paper(outline: DrawnOutline, marks: DrawnMarks, redrawn: Redrawn) -> OnPaper:
    """Draw the outline and the rings of the center lines anew, without any binding."""
    paper = OnPaper(outline, marks, redrawn)
    paper.corners = [redrawn.point(at) for at in outline.corners]
    for drawn in outline.curves:
        curve = drawn.curve
        if isinstance(curve, Line):
            assert drawn.ends is not None
            start, end = (paper.corners[k] for k in drawn.ends)
            name = redrawn.line(start, end, "outline")
        else:
            center = _center(paper, curve.center)
            if isinstance(curve, Circle):
                name = redrawn.circle(center, curve.radius, "outline")
            else:
                assert drawn.ends is not None
                start, end = (paper.corners[k] for k in drawn.ends)
                name = redrawn.arc(start, end, center, curve.ccw)
        paper.curves.append(name)
        redrawn.names[name] = drawn.name
    for ring in marks.rings:
        paper.rings.append(redrawn.circle(_center(paper, ring.center, ring=True), ring.radius))
    return paper


def _center(paper: OnPaper, at: XY, ring: bool = False) -> str:
    """Return the point of a center; rounds about one mark share it."""
    known = paper.center_at(at)
    if known is not None:
        return known
    name = paper.redrawn.point(at)
    paper.centers[name] = at
    if ring or paper.marks.marked(at):
        paper.marked.add(name)
    return name


def square_over(line: Line, at: XY, way: XY, tol: float) -> bool:
    """Tell whether a line runs over a place, square to a direction (unit vector)."""
    ux, uy = line.direction
    return off_line(line, at) < tol and abs(ux * way[0] + uy * way[1]) < 1e-3
