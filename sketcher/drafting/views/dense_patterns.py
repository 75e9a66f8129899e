"""Grids of holes too small to be drawn one by one: their field, its corners, and a detail.

A regular pattern may be simplified when its kind, number and steps are told elsewhere (ISO 128-3,
repetitive features; from memory).
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import cos, radians, sin

from sketcher.drafting.line_classes import fit, line_class
from sketcher.drafting.paper_view import View
from sketcher.drafting.primitives import Stroke
from sketcher.drafting.views.detail_rings import SMALL, size_on_paper
from sketcher.geometry.curves import XY, Circle, Line
from sketcher.part.value import GridPattern, Part
from sketcher.part.whole import Piece
from sketcher.quantity.parameters import evaluate_all
from sketcher.quantity.parse import evaluate

FEWEST = 9  # holes: fewer are drawn each
AROUND = 2.5  # mm on paper between the outermost holes and the line around the field


def simplified(
    part: Part, pieces: Sequence[Piece], view: View, shown: frozenset[str]
) -> tuple[frozenset[str], list[Stroke]]:
    """Return the pieces that the whole view leaves out, and the lines around their fields.

    Parameters
    ----------
    part : Part
    pieces : sequence of Piece
        What the sheet shows.
    view : View
    shown : frozenset of str
        Pieces that a detail is for: only what one shows is simplified.
    """
    gone: set[str] = set()
    lines: list[Stroke] = []
    for name, pattern in part.patterns.items():
        if not isinstance(pattern, GridPattern) or shown.isdisjoint(pattern.curves):
            continue
        angle = radians(evaluate(pattern.angle, "angle", part.unit,
                                 evaluate_all(part.parameters, part.unit)))
        for some in _fields(pattern, pieces, view):
            turn = -angle if some[0].image.turned_over else angle
            kept = _corners([p.curve.center for p in some if isinstance(p.curve, Circle)], turn)
            gone |= {p.id for k, p in enumerate(some) if k not in kept}
            lines += _around(some, view, turn, part, f"pattern:{name}")
    return frozenset(gone), lines


def _fields(pattern: GridPattern, pieces: Sequence[Piece], view: View) -> Iterator[list[Piece]]:
    """Give the tiny holes of a grid, and those of each of its reflections."""
    found: dict[tuple[str, int], list[Piece]] = defaultdict(list)
    for piece in pieces:
        if (piece.source in pattern.curves and isinstance(piece.curve, Circle)
                and size_on_paper(piece, view) < SMALL):
            found[piece.source, piece.image.mirrors].append(piece)
    yield from (some for some in found.values() if len(some) >= FEWEST)


def _corners(at: Sequence[XY], turn: float) -> set[int]:
    u, v = (cos(turn), sin(turn)), (-sin(turn), cos(turn))
    found = set()
    for along in (-1.0, 1.0):
        for up in (-1.0, 1.0):
            way = (along * u[0] + up * v[0], along * u[1] + up * v[1])
            found.add(max(range(len(at)), key=lambda k: at[k][0] * way[0] + at[k][1] * way[1]))
    return found


def _around(
    some: Sequence[Piece], view: View, turn: float, part: Part, source: str
) -> Iterator[Stroke]:
    circles = [circle for p in some if isinstance(circle := view.curve(p.curve), Circle)]
    u, v = (cos(turn), sin(turn)), (-sin(turn), cos(turn))
    spans = []
    for x, y in (u, v):
        at = [c.center[0] * x + c.center[1] * y for c in circles]
        away = circles[0].radius + AROUND
        spans.append((min(at) - away, max(at) + away))
    (a, b), (c, d) = spans
    rail = [(s * u[0] + t * v[0], s * u[1] + t * v[1])
            for s, t in ((a, c), (b, c), (b, d), (a, d), (a, c))]
    kind = line_class(part.drawing.practice, "phantom")
    for start, end in pairwise(rail):
        line = Line(start, end)
        yield Stroke(line, "phantom", source, fit(line.length, kind))
