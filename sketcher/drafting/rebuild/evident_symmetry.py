"""Symmetry that a drawing shows: an outline that is its own reflection about a drawn center line.

A center line that runs across the whole outline, about which the outline is drawn symmetric, is its
axis: what is drawn alike on both sides is alike (ASME Y14.5M-1994, 1.8, symmetrical outlines; from
memory).
"""

from __future__ import annotations

from math import dist

from sketcher.drafting.rebuild.drawn_outline import along, off_line, reflected_at
from sketcher.drafting.rebuild.on_paper import OnPaper
from sketcher.geometry.bounds import bounds_of
from sketcher.geometry.curves import XY, Line
from sketcher.geometry.meet import meet


class _Finder:
    """Finds a place among many."""

    def __init__(self, places: dict[str, XY], tol: float) -> None:
        self.tol, self.places = tol, places
        self._cells: dict[tuple[int, int], list[str]] = {}
        for name, at in places.items():
            self._cells.setdefault(self._cell(at), []).append(name)

    def _cell(self, at: XY) -> tuple[int, int]:
        return (round(at[0] / (4.0 * self.tol)), round(at[1] / (4.0 * self.tol)))

    def at(self, at: XY) -> str | None:
        column, row = self._cell(at)
        for i in (column - 1, column, column + 1):
            for j in (row - 1, row, row + 1):
                for name in self._cells.get((i, j), ()):
                    if dist(self.places[name], at) < self.tol:
                        return name
        return None


def bind_symmetry(paper: OnPaper) -> None:
    """Bind what is drawn alike on both sides of an axis of the whole outline."""
    corners = dict(zip(paper.corners, paper.outline.corners, strict=True))
    finder = _Finder(corners | paper.centers, 2.0 * paper.tol)
    whole = _contour(paper)
    for number, line in enumerate(paper.marks.lines):
        if not _spans(paper, line, whole):
            continue
        pairs = {name: finder.at(reflected_at(line, at)) for name, at in finder.places.items()}
        rounds = _alike(paper, pairs)
        if all(pairs[name] is not None for name in whole[0]) and all(
                name in rounds for name in whole[1]):
            _bind(paper, number, line, pairs, rounds)


def _contour(paper: OnPaper) -> tuple[set[str], set[str]]:
    """Points and rounds of the outermost contour."""
    best: tuple[float, set[int]] = (-1.0, set())
    left = set(range(len(paper.outline.curves)))
    while left:
        group, more = set[int](), {left.pop()}
        while more:
            number = more.pop()
            group.add(number)
            ends = paper.outline.curves[number].ends or ()
            more |= {k for corner in ends for k in paper.outline.at[corner]} - group
        left -= group
        x0, y0, x1, y1 = bounds_of(paper.outline.curves[k].curve for k in group)
        best = max(best, ((x1 - x0) * (y1 - y0), group), key=lambda found: found[0])
    curves = paper.redrawn.curves
    points = {point for k in best[1] for point in curves[paper.curves[k]].points}
    return points, {paper.curves[k] for k in best[1] if curves[paper.curves[k]].kind != "line"}


def _spans(paper: OnPaper, line: Line, whole: tuple[set[str], set[str]]) -> bool:
    """Tell whether a center line leaves the contour on both sides for good."""
    crossed = False
    for drawn, name in zip(paper.outline.curves, paper.curves, strict=True):
        if name not in whole[1] and not set(paper.redrawn.curves[name].points) <= whole[0]:
            continue
        for crossing in meet(line, drawn.curve, bounded=(False, True)):
            crossed = True
            if not -paper.tol < along(line, crossing.point) < line.length + paper.tol:
                return False
    return crossed


def _alike(paper: OnPaper, pairs: dict[str, str | None]) -> dict[str, str]:
    """Rounds that have a reflection of their own radius, each with it."""
    by_center: dict[str, list[tuple[float, str]]] = {}
    for drawn, name in zip(paper.outline.curves, paper.curves, strict=True):
        if not isinstance(drawn.curve, Line):
            center = paper.redrawn.curves[name].points[-1]
            by_center.setdefault(center, []).append((drawn.curve.radius, name))
    found: dict[str, str] = {}
    for center, rounds in by_center.items():
        there = by_center.get(pairs.get(center) or "", [])
        for radius, name in rounds:
            for other, twin in there:
                if abs(radius - other) < paper.tol:
                    found[name] = twin
                    break
    return found


def _bind(
    paper: OnPaper, number: int, line: Line, pairs: dict[str, str | None], rounds: dict[str, str]
) -> None:
    axis = paper.line_of(number)
    ends = paper.redrawn.curves[axis].points
    for name, twin in pairs.items():
        if twin is None or name in ends:
            continue
        if twin != name:
            if name < twin:
                paper.redrawn.bind("reflected", name, twin, axis)
        elif off_line(line, paper.redrawn.points[name]) < paper.tol:
            paper.redrawn.bind("on", name, axis)
    for name, twin in rounds.items():
        if name < twin:
            paper.redrawn.bind("equal", name, twin)
