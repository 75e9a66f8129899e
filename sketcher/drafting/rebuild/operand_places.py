"""What a dimension starts from: the place of its extension line, looked up in what is drawn."""

from __future__ import annotations

from dataclasses import dataclass
from math import dist

from sketcher.drafting.rebuild.drawn_outline import (
    along,
    heading,
    off_line,
    turned_from,
    unit_between,
)
from sketcher.drafting.rebuild.evident import over_lost_corners
from sketcher.drafting.rebuild.on_paper import OnPaper, square_over
from sketcher.geometry.curves import XY, Line
from sketcher.geometry.meet import meet
from sketcher.geometry.project import distance

NEAR = 1e-3
"""Sine of the angle within which a direction is that of a line."""


@dataclass(frozen=True, slots=True)
class Operand:
    """A point of the fresh part, and the line square to the dimension that it stands for."""

    point: str
    line: str | None = None
    round: str | None = None


class DrawnPlaces:
    """Looks up what lies at places of the paper."""

    def __init__(self, paper: OnPaper) -> None:
        self.paper = paper
        self._lost: dict[tuple[int, int], tuple[XY, str | None]] | None = None
        self._made: dict[tuple[str, str], str] = {}

    def operand(self, at: XY, way: XY) -> Operand | None:
        """Return what a length along `way` starts from at a place, or None for nothing drawn.

        A center, an edge square to the length, a corner, a lost sharp corner, the outermost place
        of a round, a center line square to the length; in this order.
        """
        paper = self.paper
        center = paper.center_at(at)
        if center is not None:
            return Operand(center)
        edge = self._edge(at, way)
        if edge is not None:
            return edge
        for number, corner in enumerate(paper.outline.corners):
            if dist(corner, at) < paper.tol:
                return Operand(paper.corners[number])
        return (self._sharp(at) or self._extreme(at, way) or self._center_line(at, way)
                or self._bare(at))

    def _edge(self, at: XY, way: XY) -> Operand | None:
        """Return an edge square to the length: one that is there, else one that points there."""
        paper, found = self.paper, []
        for drawn, name in zip(paper.outline.curves, paper.curves, strict=True):
            line = drawn.curve
            if isinstance(line, Line) and square_over(line, at, way, paper.tol):
                found.append((distance(line, at), name))
        if not found:
            return None
        name = min(found)[1]
        ends = paper.redrawn.curves[name].points
        nearest = min(ends, key=lambda end: dist(paper.redrawn.points[end], at))
        return Operand(nearest, name)

    def _sharp(self, at: XY) -> Operand | None:
        """Return a sharp corner that a fillet or a chamfer took away."""
        if self._lost is None:
            self._lost = {}
            for pair in over_lost_corners(self.paper):
                one, other = (self.paper.outline.curves[k].curve for k in pair)
                for crossing in meet(one, other, bounded=False):
                    self._lost[pair] = (crossing.point, None)
        for pair, (place, name) in self._lost.items():
            if dist(place, at) < self.paper.tol:
                if name is None:
                    name = self.paper.redrawn.point(place)
                    for number in pair:
                        self.paper.redrawn.bind("on", name, self.paper.curves[number])
                    self._lost[pair] = (place, name)
                return Operand(name)
        return None

    def _extreme(self, at: XY, way: XY) -> Operand | None:
        """Return the outermost place of a round in the direction of the length."""
        name = self.round_at(at)
        if name is None:
            return None
        paper = self.paper
        center = paper.redrawn.curves[name].points[-1]
        place = paper.redrawn.points[center]
        across = unit_between(place, at)
        if abs(across[0] * way[1] - across[1] * way[0]) > NEAR:
            return None
        key = (name, f"{at[0]:.6g} {at[1]:.6g}")
        if key not in self._made:
            point = self._made[key] = paper.redrawn.point(at)
            paper.redrawn.bind("on", point, name)
            if abs(way[1]) < NEAR:
                paper.redrawn.bind("level", center, point)
            elif abs(way[0]) < NEAR:
                paper.redrawn.bind("plumb", center, point)
            else:
                self.direct(paper.redrawn.line(center, point), way)
        return Operand(self._made[key], None, name)

    def _center_line(self, at: XY, way: XY) -> Operand | None:
        for number in self.paper.marks.through(at):
            if square_over(self.paper.marks.lines[number], at, way, self.paper.tol):
                name = self.paper.line_of(number)
                return Operand(self.paper.redrawn.curves[name].points[0], name)
        return None

    def _bare(self, at: XY) -> Operand | None:
        """Return a center without a mark."""
        center = self.paper.center_at(at, marked=False)
        return None if center is None else Operand(center)

    def round_at(self, at: XY, center: XY | None = None) -> str | None:
        """Return the round of the outline on which a place lies, about a center if it is given."""
        for drawn, name in zip(self.paper.outline.curves, self.paper.curves, strict=True):
            curve = drawn.curve
            if isinstance(curve, Line) or abs(dist(curve.center, at) - curve.radius) > (
                    self.paper.tol):
                continue
            if center is not None and dist(center, curve.center) > self.paper.tol:
                continue
            if center is not None or distance(curve, at) < self.paper.tol:
                return name
        return None

    def ring_at(self, at: XY, center: XY) -> str | None:
        """Return the round center line on which a place lies."""
        for ring, name in zip(self.paper.marks.rings, self.paper.rings, strict=True):
            if dist(ring.center, center) < self.paper.tol and (
                    abs(dist(center, at) - ring.radius) < self.paper.tol):
                return name
        return None

    def edge_on(self, vertex: XY, at: XY) -> str | None:
        """Return the edge that lies on the ray from a vertex through a place."""
        ray = Line(vertex, at)
        for line, name, _ in self.paper.straight():
            if name is not None and self._on_ray(line, ray):
                return name
        return None

    def _on_ray(self, line: Line, ray: Line) -> bool:
        return (turned_from(heading(line), heading(ray)) < 0.02
                and off_line(line, ray.start) < self.paper.tol)

    def ray(self, vertex: XY, at: XY) -> str | None:
        """Return the line that runs from a vertex through a place: an edge, or a center line.

        Where none is drawn, the line from the center at the vertex to a center on the ray.
        """
        paper, ray = self.paper, Line(vertex, at)
        found = [(name is None, distance(line, at), name or "", number)
                 for line, name, number in paper.straight() if self._on_ray(line, ray)
                 and (name is not None or paper.marks.runs_over(line, vertex)
                      or len(paper.on_line(number)) > 1)]
        if found:
            _, _, name, number = min(found)
            return name or paper.line_of(number)
        start = paper.center_at(vertex)
        if start is not None:
            on = [name for name, place in paper.centers.items() if name in paper.marked
                  and name != start and off_line(ray, place) < paper.tol
                  and along(ray, place) > 0.0]
            if on:
                return paper.redrawn.line(start, min(on, key=lambda n: dist(paper.centers[n], at)))
        lone = [number for line, name, number in paper.straight()
                if name is None and self._on_ray(line, ray)]
        return paper.line_of(lone[0]) if lone else None

    def direct(self, line: str, way: XY) -> bool:
        """Bind a laid line along a direction by an edge or center line that has it on paper."""
        paper = self.paper
        at = Line((0.0, 0.0), way)
        for drawn, name, number in paper.straight():
            apart = turned_from(heading(drawn), heading(at))
            if apart < 0.02 or apart > 89.98:
                of = name or paper.line_of(number)
                paper.redrawn.bind("parallel" if apart < 0.02 else "square", of, line)
                return True
        return False
