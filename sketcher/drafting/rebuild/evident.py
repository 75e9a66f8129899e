"""What a drawing says without a number: level, plumb, square, smooth joints, rows, rings.

A line that looks level is level, a corner that looks square is square, a joint that looks smooth is
smooth (ASME Y14.5M-1994, 1.4: 90 degrees where lines are shown at right angles; the rest common
practice, no source). That two edges at an odd angle are parallel, or two lengths equal, is not
evident: it needs a note or a dimension.
"""

from __future__ import annotations

from collections.abc import Container, Iterator
from itertools import combinations, pairwise
from math import dist

from sketcher.drafting.rebuild.drawn_outline import (
    LOOKS,
    heading,
    looks_level,
    looks_plumb,
    tangent_at,
    turned_from,
)
from sketcher.drafting.rebuild.on_paper import OnPaper
from sketcher.geometry.curves import Line


def bind_evident(paper: OnPaper, sloped: Container[str]) -> None:
    """Bind what the outline and the center lines show.

    Parameters
    ----------
    paper : OnPaper
    sloped : container of str
        Outline lines whose angle a dimension gives: it counts, however they look.
    """
    _directions(paper, sloped)
    _joints(paper, sloped)
    _one_face(paper, sloped)
    _one_circle(paper)
    for number, line in enumerate(paper.marks.lines):
        _row(paper, number, line)
    _ringed(paper)
    _crossed(paper)


def _directions(paper: OnPaper, sloped: Container[str]) -> None:
    for line, name, _ in paper.straight():
        if name is None or name in sloped:
            continue
        if looks_level(line):
            paper.redrawn.bind("level", name)
        elif looks_plumb(line):
            paper.redrawn.bind("plumb", name)


def _joints(paper: OnPaper, sloped: Container[str]) -> None:
    """Bind smooth joints, and square corners, also those that a fillet or a chamfer took."""
    outline = paper.outline
    for corner, at in enumerate(outline.corners):
        here = outline.at[corner]
        if len(here) != 2 or here[0] == here[1]:
            continue
        one, other = (outline.curves[k].curve for k in here)
        apart = turned_from(tangent_at(one, at), tangent_at(other, at))
        if isinstance(one, Line) and isinstance(other, Line):
            _square(paper, here[0], here[1], sloped)
        elif apart < LOOKS:
            names = [paper.curves[k] for k in here]
            paper.redrawn.bind("tangent", *sorted(names, key=lambda n: n not in _lines(paper)))
    for first, second in over_lost_corners(paper):
        _square(paper, first, second, sloped)


def _lines(paper: OnPaper) -> frozenset[str]:
    return frozenset(name for drawn, name in zip(paper.outline.curves, paper.curves, strict=True)
                     if isinstance(drawn.curve, Line))


def over_lost_corners(paper: OnPaper) -> Iterator[tuple[int, int]]:
    """Give pairs of lines between which one curve took the sharp corner away."""
    for number, drawn in enumerate(paper.outline.curves):
        if drawn.ends is None:
            continue
        sides = [paper.outline.other(corner, number) for corner in drawn.ends]
        lines = [k for k in sides if k is not None
                 and isinstance(paper.outline.curves[k].curve, Line)]
        if len(set(lines)) == 2:
            yield lines[0], lines[1]


def _square(paper: OnPaper, first: int, second: int, sloped: Container[str]) -> None:
    """Bind two lines square that look so, where neither is level or plumb by itself."""
    one, other = (paper.outline.curves[k].curve for k in (first, second))
    assert isinstance(one, Line)
    assert isinstance(other, Line)
    names = paper.curves[first], paper.curves[second]
    plain = [(looks_level(line) or looks_plumb(line)) and name not in sloped
             for line, name in ((one, names[0]), (other, names[1]))]
    if all(plain) or turned_from(heading(one), heading(other)) < 90.0 - LOOKS:
        return
    paper.redrawn.bind("square", *names)


def _one_face(paper: OnPaper, sloped: Container[str]) -> None:
    """Level or plumb edges in one line are one face, however notches part it."""
    faces: dict[tuple[bool, int], tuple[float, str]] = {}
    for line, name, _ in paper.straight():
        if name is None or name in sloped or not (looks_level(line) or looks_plumb(line)):
            continue
        level = looks_level(line)
        at = 0.5 * (line.start[level] + line.end[level])
        cell = round(at / paper.tol)
        point = paper.redrawn.curves[name].points[0]
        known = next((faces[level, k] for k in (cell - 1, cell, cell + 1)
                      if (level, k) in faces), None)
        if known is None or abs(known[0] - at) > paper.tol:
            faces[level, cell] = (at, point)
        else:
            paper.redrawn.bind("level" if level else "plumb", known[1], point)


def _one_circle(paper: OnPaper) -> None:
    """Arcs that lie on one circle about one mark are one circle to the eye."""
    first: dict[str, list[tuple[float, str]]] = {}
    for drawn, name in zip(paper.outline.curves, paper.curves, strict=True):
        curve = drawn.curve
        if isinstance(curve, Line):
            continue
        center = paper.redrawn.curves[name].points[-1]
        for radius, other in first.setdefault(center, []):
            if abs(radius - curve.radius) < paper.tol:
                paper.redrawn.bind("equal", other, name)
                break
        else:
            first[center].append((curve.radius, name))


def _row(paper: OnPaper, number: int, line: Line) -> None:
    """Bind the centers on one center line."""
    on = paper.on_line(number)
    hub = paper.hub_of(number)
    if hub is not None:  # a tick through a hole of a ring points to its center
        on = [*on, hub]
    if looks_level(line) or looks_plumb(line):
        for one, other in pairwise(on):
            paper.redrawn.bind("level" if looks_level(line) else "plumb", one, other)
        return
    if len(on) >= 2:
        name = paper.line_of(number)
        for center in on[1:-1]:
            paper.redrawn.bind("on", center, name)


def _ringed(paper: OnPaper) -> None:
    """Bind the centers on a round center line."""
    for ring, name in zip(paper.marks.rings, paper.rings, strict=True):
        for center in sorted(paper.marked):
            if abs(dist(paper.centers[center], ring.center) - ring.radius) < paper.tol:
                paper.redrawn.bind("on", center, name)


def _crossed(paper: OnPaper) -> None:
    """Bind slanted center lines square that cross so at one center, each of two and more."""
    slanted = [k for k, line in enumerate(paper.marks.lines)
               if not looks_level(line) and not looks_plumb(line) and len(paper.on_line(k)) > 1]
    for first, second in combinations(slanted, 2):
        one, other = paper.marks.lines[first], paper.marks.lines[second]
        if turned_from(heading(one), heading(other)) > 90.0 - LOOKS and not set(
                paper.on_line(first)).isdisjoint(paper.on_line(second)):
            paper.redrawn.bind("square", paper.line_of(first), paper.line_of(second))
