"""Detail views: a place of the part at a larger scale, with the dimensions that belong to it.

The outline ends at a narrow boundary where it is cut through; the ring on the part and the detail
carry the same letter, and the detail its scale (ISO 128-3, ASME Y14.3; from memory).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import chain, pairwise
from math import atan2, cos, dist, pi, sin, tau

from sketcher.drafting.center_marks import center_marks
from sketcher.drafting.dimensioning import dimensioning_of
from sketcher.drafting.layout.choose import Effort
from sketcher.drafting.measured import Measured, MeasuredLength, measured
from sketcher.drafting.paper_scale import scale_text
from sketcher.drafting.paper_view import MM_PER, View
from sketcher.drafting.primitives import Item, Stroke, Text, circle_arc
from sketcher.drafting.sizes import Sizes
from sketcher.drafting.views.detail_measures import Inside, for_some, names_of, said_inside
from sketcher.drafting.views.detail_rings import DetailRing
from sketcher.drafting.views.one_view import OneView
from sketcher.geometry.bounds import Box, boxes_meet
from sketcher.geometry.bounds import bounds as box_of
from sketcher.geometry.curves import XY, Circle, Curve, Line
from sketcher.geometry.evaluate import piece as part_of
from sketcher.geometry.evaluate import point_at
from sketcher.geometry.meet import meet
from sketcher.geometry.winding import Rises
from sketcher.part.value import Part
from sketcher.part.whole import Piece

LETTERING = 1.4
"""Height of a detail's letter by that of its dimensions: the next of the series of ISO 3098-1."""
CLEAR = 1.5  # mm between a ring and its letter
CAPTION = 5.0  # mm between a detail and what it is called, a guess
LEAST = 0.05  # mm: what is cut off shorter is not drawn


@dataclass(frozen=True, slots=True)
class DetailView:
    """A detail with its dimensions.

    Parameters
    ----------
    ring : DetailRing
    drawn : OneView
        Without its caption.
    height : float
        Of the dimensions' lettering in mm.
    practice : str
    """

    ring: DetailRing
    drawn: OneView
    height: float
    practice: str

    @property
    def moved(self) -> frozenset[str]:
        """Ids of the bindings that its dimensions stand for."""
        wanted = self.drawn.dimensioning
        return frozenset(() if wanted is None else
                         chain.from_iterable(map(names_of, wanted.wanted)))

    def caption(self) -> list[Text]:
        """Return its letter and scale: above it by ISO, below it by ASME."""
        x0, y0, x1, y1 = self.drawn.box
        size, middle = LETTERING * self.height, 0.5 * (x0 + x1)
        scale, name = scale_text(self.ring.scale), f"detail:{self.ring.letter}"
        if self.practice == "ISO":
            at = (middle, y1 + CAPTION)
            return [Text(f"{self.ring.letter} ({scale})", at, size, name, "center")]
        return [Text(said, (middle, y0 - CAPTION - size * (1.0 + 1.6 * k)), size, name, "center")
                for k, said in enumerate((f"DETAIL {self.ring.letter}", f"SCALE {scale}"))]

    def laid_out(self, effort: Effort) -> DetailView:
        """Return it with its dimensions laid out."""
        return replace(self, drawn=self.drawn.laid_out(effort))


def detail_of(
    part: Part, pieces: Sequence[Piece], ring: DetailRing, height: float, grown: float,
    gone: frozenset[str],
) -> DetailView:
    """Draw a detail.

    Parameters
    ----------
    part : Part
    pieces : sequence of Piece
        What the sheet shows.
    ring : DetailRing
    height : float
        Of the dimensions' lettering, in mm.
    grown : float
        Scale of the detail by that of the whole view.
    gone : frozenset of str
        Bindings that another detail says.
    """
    view = View(ring.scale * MM_PER[part.unit])
    circle = ring.circle(view)
    window = box_of(circle)
    near = [p for p in pieces if p.role == "outline"
            and boxes_meet(box_of(view.curve(p.curve)), window)]
    seen = [Piece(p.image, cut, p.role) for p in near
            for cut in clipped(p.curve, Circle(ring.center, ring.radius))]
    outline = [Stroke(view.curve(p.curve), "visible", f"curve:{p.id}") for p in seen]
    # A round that the boundary cuts off has no center line.
    cut = {p.id for p in near if not isinstance(p.curve, Line)} - {
        p.id for p in near if _holds(ring, p.curve)}
    marks = center_marks(part, view, [p for p in seen if p.id not in cut], circle)
    edge = boundary(circle, [view.curve(p.curve) for p in near],
                    [view.curve(p.curve) for p in pieces if p.role == "outline"], ring.letter)
    items: list[Item] = [*outline, *(stroke for mark in marks for stroke in mark.strokes), *edge]
    wanted = None
    if part.drawing.dimensions:
        inside = Inside(circle, [s.curve for s in outline], grown)
        sizes = Sizes(part.drawing.practice, height)
        shown = [for_some(found, names) for one in measured(part, view)
                 if (names := [n for n in said_inside(part, ring, one) if n not in gone])
                 and (found := inside.fitted(one)) is not None]
        wanted = dimensioning_of(part, view, outline, marks, (), sizes, [s.curve for s in edge],
                                 shown)
        # What a person has put somewhere stands there beside the part, not beside the detail.
        wanted = replace(wanted, dragged={})
    return DetailView(ring, OneView(view, tuple(items), wanted), height, part.drawing.practice)


def clipped(curve: Curve, circle: Circle) -> Iterator[Curve]:
    """Give the pieces of a curve within a circle; a curve wholly inside as it is."""
    stops = sorted({0.0, 1.0, *(m.a for m in meet(curve, circle))})
    spans: list[tuple[float, float]] = []
    for low, high in pairwise(stops):
        if dist(point_at(curve, 0.5 * (low + high)), circle.center) < circle.radius:
            if spans and spans[-1][1] == low:
                low = spans.pop()[0]
            spans.append((low, high))
    for low, high in spans:
        if (low, high) == (0.0, 1.0):
            yield curve
        elif (high - low) * curve.length > 1e-6 * circle.radius:
            yield part_of(curve, low, high)


def boundary(
    circle: Circle, near: Iterable[Curve], outline: Sequence[Curve], letter: str
) -> list[Stroke]:
    """Return the arcs of a circle that run through the plate, where the view of it is cut off."""
    (cx, cy), name = circle.center, f"detail:{letter}"
    rises = Rises(outline)

    def within(angle: float) -> bool:
        at = (cx + circle.radius * cos(angle), cy + circle.radius * sin(angle))
        return len(rises.crossed(at)) % 2 == 1

    angles = sorted({atan2(m.point[1] - cy, m.point[0] - cx) % tau
                     for curve in near for m in meet(curve, circle)})
    if not angles:
        return [Stroke(circle, "detail", name)] if within(0.0) else []
    return [Stroke(circle_arc(circle.center, circle.radius, start, end), "detail", name)
            for start, end in pairwise([*angles, angles[0] + tau])
            if (end - start) * circle.radius > LEAST and within(0.5 * (start + end))]


def ring_marks(
    ring: DetailRing, view: View, outline: Sequence[Stroke], height: float, taken: Sequence[Box]
) -> tuple[Stroke, Text]:
    """Return the ring on the part with its letter, where that stands clear of the outline.

    Parameters
    ----------
    ring : DetailRing
    view : View
    outline : sequence of Stroke
    height : float
        Of the dimensions' lettering, in mm.
    taken : sequence of Box
        Where there is lettering already.
    """
    circle, size = ring.circle(view), LETTERING * height
    name = f"detail:{ring.letter}"
    best: tuple[float, Text] | None = None
    for number in (1, 3, 5, 7, 0, 4, 2, 6):
        angle = 0.25 * pi * number
        text = _beside(ring.letter, circle, angle, size, name)
        box = _box(text)
        cost = sum(_length_in(stroke.curve, box) for stroke in outline)
        cost += 100.0 * sum(boxes_meet(box, other) for other in taken)
        if best is None or cost < best[0] - 1e-9:
            best = (cost, text)
    assert best is not None
    return Stroke(circle, "detail", name), best[1]


def _beside(letter: str, circle: Circle, angle: float, size: float, name: str) -> Text:
    """Return a letter just outside a circle."""
    text = Text(letter, (0.0, 0.0), size, name, "center")
    half = 0.5 * text.width
    away = circle.radius + CLEAR + abs(cos(angle)) * half + abs(sin(angle)) * 0.5 * size
    x, y = (circle.center[0] + away * cos(angle), circle.center[1] + away * sin(angle))
    return replace(text, at=(x, y - 0.5 * size))


def _box(text: Text) -> Box:
    (x0, y0), _, (x1, y1), _ = text.box(CLEAR)
    return (x0, y0, x1, y1)


def _length_in(curve: Curve, box: Box) -> float:
    from sketcher.geometry.clip import visible

    return sum(cut.length for cut in visible(curve, box))


def tiny_in(
    rings: Iterable[DetailRing], pieces: Sequence[Piece], view: View, wanted: Sequence[Measured],
    small: float,
) -> frozenset[str]:
    """Return the pieces that a ring holds and that print too small for a center line there.

    Those whose center a dimension of this view starts from keep theirs.
    """
    from sketcher.drafting.views.detail_rings import size_on_paper

    found = set()
    for ring in rings:
        for piece in pieces:
            if (size_on_paper(piece, view) < small and _holds(ring, piece.curve)
                    and not _is_measured(view.curve(piece.curve), wanted)):
                found.add(piece.id)
    return frozenset(found)


def _is_measured(curve: Curve, wanted: Sequence[Measured]) -> bool:
    """Tell whether a dimension starts from the center of a round."""
    return not isinstance(curve, Line) and any(
        dist(curve.center, at) < LEAST for one in wanted if isinstance(one, MeasuredLength)
        for at in (*one.first, *one.second))


def _holds(ring: DetailRing, curve: Curve) -> bool:
    x0, y0, x1, y1 = box_of(curve)
    far: XY = (max(abs(x0 - ring.center[0]), abs(x1 - ring.center[0])),
               max(abs(y0 - ring.center[1]), abs(y1 - ring.center[1])))
    return dist(far, (0.0, 0.0)) <= ring.radius
