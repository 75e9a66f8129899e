"""Where dimensions stand on the screen: laid out as on the sheet, on a paper of pixels.

The screen is a paper whose millimetres are so large that lettering of the usual height comes out in
the size of words that is set. So rows, gaps and arrowheads grow with the words, and what stands
clear here stands clear in print.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field, replace
from math import radians

from sketcher.board.dimensions.desk_measures import DeskReader, spacings
from sketcher.board.dimensions.dimension_lines import MARKS, Arrow, DimLines
from sketcher.board.dimensions.shown_center_lines import CenterLine
from sketcher.drafting.dimension_text import Wording
from sketcher.drafting.dimensioning import ends_of, whole_line
from sketcher.drafting.drawn_dimension import Drawn
from sketcher.drafting.layout.all_places import places_of
from sketcher.drafting.layout.choose import FULL, Effort
from sketcher.drafting.layout.dimension_places import Place
from sketcher.drafting.layout.lay_out import lay_out
from sketcher.drafting.layout.paper_ground import SHORT, Ground, plus_marks
from sketcher.drafting.lettering import em, text_width
from sketcher.drafting.measured import Measured
from sketcher.drafting.paper_view import View
from sketcher.drafting.primitives import Fill, Stroke, Text
from sketcher.drafting.sizes import Sizes
from sketcher.geometry.bounds import Box
from sketcher.geometry.curves import Curve, Line
from sketcher.geometry.evaluate import scaled
from sketcher.geometry.vectors import normalized
from sketcher.part.kinds import KINDS
from sketcher.part.value import Binding, Part
from sketcher.part.whole import whole
from sketcher.solve.solve_report import SolveReport

HEIGHT = 3.5  # mm: lettering of the sheets up to A2, in which rows and gaps are given
GROUND = 1.6
"""mm that the ground under words is wider than they are: 2 pixels each side at the usual size."""
USUAL_SIZE = 13  # pixels


@dataclass(frozen=True, slots=True)
class DeskLayout:
    """The dimensions on the screen.

    Parameters
    ----------
    lines : tuple of DimLines
        Those of the bindings in their order, then those of the patterns.
    places : mapping of str to tuple
        Where each stands, for the next frame.
    badly : tuple of str
        Ids of those that found no room.
    is_settled : bool
        Whether all stand so well that nothing is to be looked at again.
    """

    lines: tuple[DimLines, ...]
    places: Mapping[str, Place] = field(default_factory=dict)
    badly: tuple[str, ...] = ()
    is_settled: bool = True


def scale_of(px: float, size: float) -> View:
    """Return the part on the screen as on paper.

    Parameters
    ----------
    px : float
        One pixel in the part's unit, at the zoom in use.
    size : float
        Size of words in pixels.
    """
    return View(em(HEIGHT) / (size * px))


def measured_on_screen(wording: Wording, height: float) -> tuple[float, float]:
    """Return width and height of words on the screen: one line, on a ground of its own."""
    return text_width(wording.plain, height) + GROUND, height


def lay_out_on_desk(
    part: Part, report: SolveReport, px: float, size: float = USUAL_SIZE,
    centers: Sequence[CenterLine] = (), kept: Mapping[str, Place] | None = None,
    effort: Effort = FULL, still: Collection[str] = (), within: Box | None = None,
) -> DeskLayout:
    """Lay out every dimension of the part, those of its patterns too.

    Parameters
    ----------
    part : Part
        The half as it stands; places of dragged texts come from its drawing.
    report : SolveReport
        Tells which bindings clash or are said twice.
    px : float
        One pixel in the part's unit, at the zoom in use.
    size : float
        Size of words in pixels.
    centers : sequence of CenterLine
        Those that are shown.
    kept : mapping of str to Place, optional
        Where dimensions stood in the frame before.
    effort : Effort
    still : collection of str
        Those kept that measure what they did: they stay while they have room.
    within : tuple of float, optional
        What is seen of the part, where no text is to be cut off.
    """
    view, states = scale_of(px, size), states_of(part, report)
    reader = DeskReader(part, view)
    wanted: list[Measured] = [
        reader.bound(name, binding, MARKS.get(states[name], ""))
        for name, binding in part.bindings.items() if name in states]
    wanted += spacings(part, view)
    if not wanted:  # nothing to stand clear of the part, so the part need not be looked at
        return DeskLayout((), {}, (), True)
    dragged = {name: view.point(at) for name, at in part.drawing.placed.items()}
    ground = ground_of(part, view, centers).measured_from(ends_of(wanted))
    if within is not None:
        x0, y0, x1, y1 = within
        ground = replace(ground, within=(*view.point((x0, y0)), *view.point((x1, y1))))
    layout = lay_out(wanted, ground, sizes_of(part), effort, dragged,
                     kept or {}, still)
    lines = tuple(on_screen(drawn, view, part, states) for drawn in layout.drawn)
    return DeskLayout(lines, dict(layout.places), layout.badly, layout.is_settled)


def lines_of(part: Part, binding: Binding, px: float, size: float = USUAL_SIZE) -> DimLines:
    """Return a dimension that is not in the part yet, with its text where `""` is placed.

    It is shown as it is about to be bound, for so its value is typed.
    """
    view = scale_of(px, size)
    one = DeskReader(part, view, is_mirrored=False).bound("", binding)
    (places,) = places_of([one], Ground([]), sizes_of(part))
    drawn = places.draw_at(view.point(part.drawing.placed[""]))
    return on_screen(drawn, view, part.having(bindings={"": binding}), {"": "ok"})


def states_of(part: Part, report: SolveReport) -> dict[str, str]:
    """Return the state of every binding that has a dimension."""
    clashing = report.troubled
    return {name: "clashing" if name in clashing else
            "doubled" if name in report.doubled else "ok"
            for name, binding in part.bindings.items()
            if KINDS[binding.kind].quantity is not None}


def sizes_of(part: Part) -> Sizes:
    """Return what dimensions are made of on the screen."""
    return Sizes(part.drawing.practice, HEIGHT, measured_on_screen)


def ground_of(part: Part, view: View, centers: Sequence[CenterLine]) -> Ground:
    """Return the part as it is shown: outline with its images, center and construction lines."""
    outline, faint = list[Curve](), list[Curve]()
    for piece in whole(part):
        curves = outline if piece.role == "outline" else faint
        curves.append(view.curve(piece.curve))
    shown = [line for line in centers if not line.off]
    lines = [c for line in shown for c in whole_line(
        [view.curve(stroke) for stroke in line.strokes], view.point(line.start),
        view.point(line.end), line.closed)]
    # Center lines stand on the screen as at the scale of the sheet, their dashes too.
    longest = SHORT * view.factor / shown[0].factor if shown else SHORT
    marks = plus_marks((view.curve(s) for line in shown for s in line.strokes), longest)
    return Ground(outline, lines, marks, faint)


def on_screen(drawn: Drawn, view: View, part: Part, states: Mapping[str, str]) -> DimLines:
    """Return a dimension in the part's unit."""
    back = 1.0 / view.factor
    extensions, curves, arrows, turn = list[Line](), list[Curve](), list[Arrow](), 0.0
    for item in drawn.items:
        if isinstance(item, Stroke):
            curve = scaled(item.curve, back)
            if item.line == "extension" and isinstance(curve, Line):
                extensions.append(curve)
            else:
                curves.append(curve)
        elif isinstance(item, Fill):
            (x, y), (ax, ay), (bx, by) = item.points
            way = normalized((x - 0.5 * (ax + bx), y - 0.5 * (ay + by)))
            arrows.append(Arrow(view.back((x, y)), way))
        elif isinstance(item, Text):
            turn = radians(item.angle)
    binding = part.bindings.get(drawn.id)
    state = states.get(drawn.id, "ok")
    text = drawn.text.removesuffix(MARKS.get(state, ""))
    return DimLines(drawn.id, tuple(extensions), tuple(curves), tuple(arrows), text,
                    view.back(drawn.place), turn, binding is None or binding.drives,
                    state)
