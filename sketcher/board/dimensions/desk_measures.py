"""What every dimension on the screen measures and says: each binding as it is bound, for the half.

The sheet leaves out what it need not say and shows the whole of what the half says; here every
value stands as it was typed, for here it is changed.
"""

from __future__ import annotations

from collections.abc import Iterator

from sketcher.drafting.dimension_text import Wording, times, wording
from sketcher.drafting.measured import (
    Measured,
    MeasuredAngle,
    MeasuredLength,
    MeasuredRound,
    across,
    against_level,
    between_lines,
    opening,
    steps_of,
    upright,
)
from sketcher.drafting.paper_view import View
from sketcher.errors import SketcherError
from sketcher.geometry.curves import Arc, Circle, Line
from sketcher.geometry.evaluate import midpoint
from sketcher.part.dimension_form import Angular, Linear, Radial, unknown_form
from sketcher.part.kinds import KINDS, measure
from sketcher.part.spacings import seat
from sketcher.part.value import Binding, Part, PolarPattern
from sketcher.part.whole import curve_value

DOT = 0.01
"""Radius in mm of the round that stands for a place which a leader points at."""


def said(part: Part, binding: Binding) -> str:
    """Return a dimension's text; what cannot be evaluated stands as it was typed."""
    try:
        return wording(part, binding).plain
    except SketcherError:
        return binding.value or "?"


def measured_as_bound(
    part: Part, view: View, name: str, binding: Binding, mark: str = ""
) -> Measured:
    """Return what a binding with a value measures, in mm of the view.

    `name` may be empty for one that is not in the part yet; `mark` is written behind the text.

    Raises
    ------
    TypeError
        For a form that is not known here.
    """
    words = Wording(said(part, binding) + mark)
    form = KINDS[binding.kind].dimension(part, binding.of)
    match form:
        case None:
            return _noted(part, view, name, binding, words)
        case Radial():
            curve = view.curve(form.curve)
            assert not isinstance(curve, Line)
            return MeasuredRound(name, curve, form.diameter, words)
        case Angular():
            return _angle(part, view, name, binding, form, words) or _noted(
                part, view, name, binding, words)
        case Linear(around=Arc() | Circle() as around):
            return across(name, form, around, view, words)
        case Linear():
            first, second = (tuple(view.point(p) for p in side.places)
                             for side in (form.first, form.second))
            return MeasuredLength(name, upright(form.direction), first, second, words)
    raise unknown_form(form)


def _angle(
    part: Part, view: View, name: str, binding: Binding, form: Angular,
    words: Wording,
) -> MeasuredAngle | None:
    lines = [c for c in map(view.curve, form.lines) if isinstance(c, Line)]
    found = (against_level(lines[0], form.drawn[0]) if len(lines) == 1
             else between_lines(*lines))
    actual = abs(measure(part, binding)) % 360.0
    off = {wedge: abs(opening(wedge) - min(actual, 360.0 - actual)) for wedge in found}
    if not off or min(actual, 360.0 - actual) < 0.01:
        return None
    least = min(off.values())
    return MeasuredAngle(name, tuple(w for w, error in off.items() if error < least + 0.05), words)


def _noted(part: Part, view: View, name: str, binding: Binding, words: Wording) -> MeasuredRound:
    """Return a leader to the first operand, for what has no extent of its own."""
    first = binding.of[0]
    at = (part.points[first] if first in part.points
          else midpoint(curve_value(part, part.curves[first])))
    return MeasuredRound(name, Circle(view.point(at), DOT), True, words)


def spacings(part: Part, view: View) -> Iterator[Measured]:
    """Give the dimensions of every pattern; their ids are those of `part.spacings.spacings`.

    A pattern whose numbers cannot be read is left out: the table of patterns tells why.
    """
    for name, pattern in part.patterns.items():
        try:
            found = steps_of(part, view, name)
        except SketcherError:
            continue
        yield from found
        if isinstance(pattern, PolarPattern):
            curve = part.curves[pattern.curves[0]]
            place, center = (view.point(p) for p in (seat(part, curve),
                                                     part.points[pattern.center]))
            if place != center:
                count = times(pattern.count, part.drawing.practice).strip()
                drawn = view.curve(curve_value(part, curve))
                at = drawn if isinstance(drawn, Circle) else Circle(place, DOT)
                yield MeasuredRound(f"{name}.count", at, True, Wording(count))
