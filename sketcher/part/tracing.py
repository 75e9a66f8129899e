"""From spans of a boundary to outline: which pieces become curves, and how they meet.

The pieces know the curve that they lie on; `sketcher.part.inherit` binds them.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from sketcher.geometry.arrangement import Span
from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.geometry.evaluate import end_of, midpoint, piece, start_of, tangent_at
from sketcher.geometry.meet import same_carrier
from sketcher.geometry.project import distance, parameter_at
from sketcher.part.arranged import Arranged

SMOOTH = 1e-5
"""Sine of the break of direction below which two pieces are meant tangent: a line that touches
within a billionth of the size meets the circle at its foot, so what is left is rounding."""


@dataclass(frozen=True, slots=True)
class TracedPiece:
    """A piece of boundary.

    Parameters
    ----------
    curve : Curve
        In the direction of travel.
    base : str
        The curve that it lies on.
    kept : bool
        True for what is outline already or lies on the axis: nothing is made of it.
    """

    curve: Curve
    base: str
    kept: bool

    @property
    def is_line(self) -> bool:
        """True for a straight piece."""
        return isinstance(self.curve, Line)


def pieces_of(known: Arranged, spans: Sequence[Span], closed: bool) -> list[TracedPiece]:
    """Return the pieces of a run of spans: cut where outline begins, put together elsewhere."""
    pieces = [each for span in spans for each in _cut(known, span)]
    runs: list[TracedPiece] = []
    for each in pieces:
        joined = _joined(runs[-1], each, known.tol) if runs else None
        if joined is None:
            runs.append(each)
        else:
            runs[-1] = joined
    if closed and len(runs) > 1:
        joined = _joined(runs[-1], runs[0], known.tol)
        if joined is not None:
            runs = [joined, *runs[1:-1]]
    return runs


def _cut(known: Arranged, span: Span) -> list[TracedPiece]:
    """Return a span in pieces that are outline, axis, or neither throughout."""
    curves, tol = known.part.curves, known.tol
    held = [n for n in span.sources if n in known.axes or curves[n].role == "outline"]
    if held:
        return [TracedPiece(span.curve, held[0], True)]
    base = span.sources[0]
    there = {
        name: value
        for name, value in known.curves.items()
        if (curves[name].role == "outline" or name in known.axes)
        and same_carrier(value, span.curve, tol)
    }
    if not there or isinstance(span.curve, Circle):
        whole = next((n for n, v in there.items() if isinstance(v, Circle)), None)
        return [TracedPiece(span.curve, whole or base, whole is not None)]
    found = []
    for part in _split(span.curve, there.values(), tol):
        on = next((n for n, v in there.items() if distance(v, midpoint(part)) <= tol), None)
        found.append(TracedPiece(part, on or base, on is not None))
    return found


def _split(curve: Line | Arc, others: Iterable[Curve], tol: float) -> list[Line | Arc]:
    slack = tol / curve.length
    cuts = {0.0, 1.0}
    for other in others:
        if isinstance(other, Circle):
            continue
        for end in (other.start, other.end):
            t = parameter_at(curve, end)
            if slack < t < 1.0 - slack and all(abs(t - c) > slack for c in cuts):
                cuts.add(t)
    return [piece(curve, a, b) for a, b in pairwise(sorted(cuts))] if len(cuts) > 2 else [curve]


def _joined(a: TracedPiece, b: TracedPiece, tol: float) -> TracedPiece | None:
    """Return two pieces that follow each other on one line or circle as one, or None."""
    one, other = a.curve, b.curve
    if a.kept or b.kept or isinstance(one, Circle) or isinstance(other, Circle):
        return None
    if not same_carrier(one, other, tol) or folds(a, b):
        return None
    if isinstance(one, Line):
        return TracedPiece(Line(one.start, end_of(other)), a.base, False)
    if one.start == end_of(other):
        return TracedPiece(Circle(one.center, one.radius), a.base, False)
    return TracedPiece(Arc(one.center, one.start, end_of(other), one.ccw), a.base, False)


def is_smooth(a: TracedPiece, b: TracedPiece) -> bool:
    """Tell whether the second piece leaves along the tangent on which the first arrives.

    A horn, where it turns back along the tangent, counts as well: the curves touch there.
    """
    (ax, ay), (bx, by) = tangent_at(a.curve, 1.0), tangent_at(b.curve, 0.0)
    return abs(ax * by - ay * bx) <= SMOOTH


def folds(a: TracedPiece, b: TracedPiece) -> bool:
    """Tell whether the second piece turns back against the first."""
    (ax, ay), (bx, by) = tangent_at(a.curve, 1.0), tangent_at(b.curve, 0.0)
    return ax * bx + ay * by < 0.0


def ends_of_run(pieces: Sequence[TracedPiece]) -> tuple[XY, XY]:
    """Return where a run begins and where it ends."""
    return start_of(pieces[0].curve), end_of(pieces[-1].curve)
