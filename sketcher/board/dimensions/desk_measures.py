"""What every dimension on the screen measures and says: each binding, as the sheet says it.

The sheet leaves out what it need not say and calls equal sizes out once; here every binding has
its dimension, for here it is changed. What goes from an axis to something reflected is shown across
the whole.
"""

from __future__ import annotations

from collections.abc import Iterator

from sketcher.drafting.dimension_text import Wording, times, wording
from sketcher.drafting.measured import (
    BindingReader,
    Measured,
    MeasuredAngle,
    MeasuredRound,
    between_lines,
    opening,
    steps_of,
)
from sketcher.drafting.paper_view import View
from sketcher.errors import SketcherError
from sketcher.geometry.curves import Circle, Line
from sketcher.geometry.evaluate import midpoint
from sketcher.part.dimension_form import Angular, Radial
from sketcher.part.kinds import KINDS, measure
from sketcher.part.spacings import seat
from sketcher.part.value import Binding, Part, PolarPattern
from sketcher.part.whole import curve_value

DOT = 0.01
"""Radius in mm of the round that stands for a place which a leader points at."""


class DeskReader(BindingReader):
    """Reads every dimension of a part for the screen.

    Parameters
    ----------
    part : Part
    view : View
    is_mirrored : bool, optional
        False takes lengths as they are bound, on the drawn side alone.
    """

    def __init__(self, part: Part, view: View, is_mirrored: bool = True) -> None:
        super().__init__(part, view, is_mirrored)
        self._mark = ""

    def bound(self, name: str, binding: Binding, mark: str = "") -> Measured:
        """Return what a binding with a value measures, in mm of the view.

        `name` may be empty for one that is not in the part yet; `mark` is written behind the text.

        Raises
        ------
        TypeError
            For a form that is not known here.
        """
        self._mark = mark
        form = KINDS[binding.kind].dimension(self.part, binding.of)
        if isinstance(form, Radial):
            curve = self.view.curve(form.curve)
            assert not isinstance(curve, Line)
            return MeasuredRound(name, curve, form.diameter, self.said(binding))
        return next(self.read(name, binding, form), None) or self._noted(name, binding)

    def said(self, binding: Binding, factor: float = 1.0, sign: str | None = None) -> Wording:
        """Return a dimension's text; what cannot be evaluated stands as it was typed."""
        try:
            text = wording(self.part, binding, factor=factor, sign=sign).plain
        except SketcherError:
            text = binding.value or "?"
        return Wording(text + self._mark)

    def _angle(self, name: str, binding: Binding, form: Angular) -> Iterator[MeasuredAngle]:
        """Take the wedges that are nearest to what there is: a clash is shown where it is."""
        lines = [c for c in map(self.view.curve, form.lines) if isinstance(c, Line)]
        found = (self.level_wedges(binding, lines[0], form.drawn[0]) if len(lines) == 1
                 else between_lines(*lines))
        actual = abs(measure(self.part, binding)) % 360.0
        off = {wedge: abs(opening(wedge) - min(actual, 360.0 - actual)) for wedge in found}
        if off and min(actual, 360.0 - actual) >= 0.01:
            near = min(off.values()) + 0.05
            yield MeasuredAngle(name, tuple(w for w, error in off.items() if error < near),
                                self.said(binding))

    def _noted(self, name: str, binding: Binding) -> MeasuredRound:
        """Return a leader to the first operand, for what has no extent of its own."""
        first, part = binding.of[0], self.part
        at = (part.points[first] if first in part.points
              else midpoint(curve_value(part, part.curves[first])))
        return MeasuredRound(name, Circle(self.view.point(at), DOT), True, self.said(binding))


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
