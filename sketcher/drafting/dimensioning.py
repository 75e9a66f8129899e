"""The dimensions of the sheet: what is to be laid out, on which ground."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from sketcher.drafting.center_marks import CenterMark
from sketcher.drafting.layout.all_places import places_of
from sketcher.drafting.layout.choose import FULL, Effort
from sketcher.drafting.layout.dimension_places import Place, Places
from sketcher.drafting.layout.drawn_once import drawn_once
from sketcher.drafting.layout.lay_out import Layout, lay_out
from sketcher.drafting.layout.paper_ground import Ground, plus_marks
from sketcher.drafting.layout.shapes import boxes_of
from sketcher.drafting.measured import Measured, MeasuredLength, measured
from sketcher.drafting.paper_view import View
from sketcher.drafting.primitives import Item, Stroke, Text
from sketcher.drafting.sizes import Sizes
from sketcher.geometry.curves import XY, Circle, Curve, Line
from sketcher.part.value import Part


@dataclass(frozen=True, slots=True)
class Dimensioning:
    """What is wanted of a layout; it can be tried with more effort later."""

    wanted: Sequence[Measured]
    ground: Ground
    sizes: Sizes
    dragged: Mapping[str, XY]
    _before: list[tuple[Sequence[Places], Mapping[str, Place]]] = field(
        default_factory=list, init=False, repr=False, compare=False)

    def laid_out(self, effort: Effort = FULL) -> Layout:
        """Return the layout; lines that dimensions share are there once.

        It goes on from where the last one, with less effort, has left off.
        """
        known, kept = self._before[-1] if self._before else (
            places_of(self.wanted, self.ground, self.sizes), {})
        found = lay_out(self.wanted, self.ground, self.sizes, effort, self.dragged, kept,
                        known=known)
        self._before[:] = [(known, found.places)]
        return replace(found, drawn=drawn_once(found.drawn))


def dimensioning_of(
    part: Part, view: View, outline: Sequence[Stroke], marks: Sequence[CenterMark],
    labels: Iterable[Item], sizes: Sizes, beside: Sequence[Curve] = (),
    wanted: Sequence[Measured] | None = None,
) -> Dimensioning:
    """Return what the sheet of a part wants laid out, in mm on paper.

    Parameters
    ----------
    part : Part
    view : View
        Where the part lies on the paper.
    outline : sequence of Stroke
    marks : sequence of CenterMark
    labels : iterable of Item
        Lettering that is there already.
    sizes : Sizes
        Lettering and spacings.
    beside : sequence of Curve
        Other lines of the view: rings of details, break lines.
    wanted : sequence of Measured, optional
        What is to be laid out; everything that the part has without it.
    """
    ground = Ground([stroke.curve for stroke in outline], list(whole_lines(marks)),
                    plus_marks(s.curve for m in marks for s in m.strokes),
                    boxes=boxes_of(i for i in labels if isinstance(i, Text)), beside=beside)
    dragged = {name: view.point(at) for name, at in part.drawing.placed.items()}
    wanted = measured(part, view) if wanted is None else wanted
    return Dimensioning(wanted, ground.measured_from(ends_of(wanted)), sizes, dragged)


def ends_of(wanted: Iterable[Measured]) -> Iterable[tuple[XY, XY]]:
    """Give the places at which lengths may begin and end, with the ways of extension lines."""
    for one in wanted:
        if isinstance(one, MeasuredLength) and not one.inline:
            x, y = one.direction
            for at in (*one.first, *one.second):
                yield from ((at, (-y, x)), (at, (y, -x)))


def whole_lines(marks: Iterable[CenterMark]) -> Iterable[Curve]:
    """Give center lines without their gaps."""
    for mark in marks:
        curves = [stroke.curve for stroke in mark.strokes]
        yield from whole_line(curves, mark.start, mark.end, mark.closed)


def whole_line(curves: Sequence[Curve], start: XY, end: XY, closed: bool) -> Iterable[Curve]:
    """Give one center line without its gaps: straight from end to end, a full circle whole.

    Parameters
    ----------
    curves : sequence of Curve
        Its strokes.
    start, end : (float, float)
        Its ends, in the unit of the strokes.
    closed : bool
        Whether it runs all the way round.
    """
    if curves and all(isinstance(curve, Line) for curve in curves):
        yield Line(start, end)
    elif closed and curves and not isinstance(curves[0], Line):
        yield Circle(curves[0].center, curves[0].radius)
    else:
        yield from curves
