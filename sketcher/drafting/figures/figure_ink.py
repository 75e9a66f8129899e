"""What a figure shows: lines heavy and thin, dots, and the names and numbers that it needs.

What its steps draw of the outline is heavy, what stood before is thin, as is whatever is scribed
only to get there. What has an end that is not found yet runs on past it.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field

from sketcher.drafting.figures.figure_steps import WORD, FigureSteps, made_in
from sketcher.geometry.bounds import Box, bounds_of
from sketcher.geometry.clip import visible
from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.geometry.evaluate import point_at
from sketcher.lesson.order_step import OrderStep
from sketcher.part.value import ArcCurve, CircleCurve, LineCurve, Part, PolarPattern
from sketcher.part.whole import Piece, half

HEAVY, THIN, AXIS = "visible", "dimension", "center"
STOOD = "stood"
"""Of what is only there to see where one is: grey."""
FAR = 0.6
"""By how much of its size a part's figure may grow for points beside it. A center further off is
told to be off the figure."""

WHOLE_TURN = 5.5
"""Radians from which an arc that runs on past its ends is drawn as a circle."""


@dataclass(frozen=True, slots=True)
class InkLine:
    """A curve in the part's unit with its line class."""

    curve: Curve
    look: str
    name: str


@dataclass(frozen=True, slots=True)
class FigureName:
    """A name that a figure has to show.

    Parameters
    ----------
    ids : tuple of str
        What it names: two where they share a place.
    numbers : tuple of int
        Of the steps that happen there.
    new : bool
        Whether a step of this figure makes it.
    at : XY or None
        The point, in the part's unit.
    curves : tuple of Curve
        Where there is no point: on any of these.
    off : bool
        Whether the point lies off the figure, and `at` is where its edge is nearest.
    """

    ids: tuple[str, ...]
    numbers: tuple[int, ...] = ()
    new: bool = False
    at: XY | None = None
    curves: tuple[Curve, ...] = ()
    off: bool = False

    @property
    def text(self) -> str:
        """What stands in the figure."""
        said = ", ".join(self.ids)
        return f"{said}, off the figure" if self.off else said


MOST_NAMES, KEPT = 80, 30
"""Names that one figure has at most, and how many are left of more: as a rule the first places of a
pattern. Among more nobody finds the one that is meant, and a pattern of a thousand holes by hand
moves would be searched for minutes."""


@dataclass(slots=True)
class FigureInk:
    """All of a figure in the part's unit; `left_out` are the names past `MOST_NAMES`."""

    box: Box
    lines: list[InkLine] = field(default_factory=list)
    names: list[FigureName] = field(default_factory=list)
    left_out: list[FigureName] = field(default_factory=list)

    def take(self, names: Iterable[FigureName]) -> None:
        """Take names, those with the number of a step first."""
        every = sorted((*self.names, *self.left_out, *names), key=lambda name: not name.numbers)
        kept = len(every) if len(every) <= MOST_NAMES else KEPT
        self.names, self.left_out = every[:kept], every[kept:]


def frame_of(figure: FigureSteps) -> Box:
    """Return what a figure shows in the part's unit: its curves, and points near them."""
    part = figure.part
    if figure.finishing:
        return bounds_of(piece.curve for piece in finished_pieces(figure))
    x0, y0, x1, y1 = bounds_of(half(part).values())
    reach = FAR * max(x1 - x0, y1 - y0)
    spots = [(x, y) for x, y in part.points.values()
             if x0 - reach <= x <= x1 + reach and y0 - reach <= y <= y1 + reach]
    xs, ys = [x0, x1, *(x for x, _ in spots)], [y0, y1, *(y for _, y in spots)]
    return (min(xs), min(ys), max(xs), max(ys))


def shape_of(figure: FigureSteps) -> tuple[float, float]:
    """Return width and height of what a figure shows, in the part's unit."""
    x0, y0, x1, y1 = frame_of(figure)
    return (x1 - x0, y1 - y0)


def figure_ink(figure: FigureSteps, past: float) -> FigureInk:
    """Return what a figure shows.

    Parameters
    ----------
    figure : FigureSteps
    past : float
        By how much a line without ends runs on past what is shown, in the part's unit.
    """
    ink = FigureInk(frame_of(figure))
    if figure.finishing:
        _finished(figure, ink)
    else:
        _growing(figure, ink, past)
    return ink


# A figure of the half while it grows.


def _growing(figure: FigureSteps, ink: FigureInk, past: float) -> None:
    part = figure.part
    known = made_in(figure.told)
    later, earlier = figure.later, made_in(figure.every[:figure.first])
    named = figure.named()
    shown: dict[str, Curve] = {}
    window = (ink.box[0] - past, ink.box[1] - past, ink.box[2] + past, ink.box[3] + past)
    now = made_in(figure.steps)
    curves = half(part)
    for name, curve in part.curves.items():
        if name not in known and name not in named:
            continue
        loose = name not in known or any(p in later for p in ends_of(curve))
        shown[name] = opened(curves[name], past) if loose else curves[name]
        stood = name in earlier and not now.intersection(ends_of(curve))
        look = (AXIS if curve.role == "axis" else
                THIN if curve.role == "layout" or loose or stood else HEAVY)
        ink.lines += [InkLine(seen, look, name) for seen in visible(shown[name], window)]
    ink.take((*_point_names(figure, ink.box, named), *_curve_names(figure, ink.lines, named)))


def ends_of(curve: LineCurve | ArcCurve | CircleCurve) -> tuple[str, ...]:
    """Return the points at which a curve ends."""
    return () if isinstance(curve, CircleCurve) else curve.ends


def opened(curve: Curve, past: float) -> Curve:
    """Return a line or an arc run on past its ends."""
    share = past / max(curve.length, 1e-12)
    if isinstance(curve, Line):
        return Line(point_at(curve, -share), point_at(curve, 1.0 + share))
    if isinstance(curve, Circle) or abs(curve.sweep) * (1.0 + 2.0 * share) > WHOLE_TURN:
        return Circle(curve.center, curve.radius)
    return Arc(curve.center, point_at(curve, -share), point_at(curve, 1.0 + share), curve.ccw)


def ringed(figure: FigureSteps) -> dict[str, list[int]]:
    """Return by id the numbers of the steps whose ring stands there.

    A step's ring stands at the first curve that has none yet, else at such a point.
    """
    found: dict[str, list[int]] = defaultdict(list)
    for step in figure.steps:
        made = (*step.curves, *step.points)
        if made:
            found[next((name for name in made if name not in found), made[0])].append(step.number)
    return found


def _point_names(
    figure: FigureSteps, box: Box, named: Sequence[str]
) -> Iterator[FigureName]:
    """Give the names of points, those that share a place together."""
    part, rings, now = figure.part, ringed(figure), made_in(figure.steps)
    cell = 1e-6 * max(box[2] - box[0], box[3] - box[1], 1e-9)
    there: dict[tuple[int, int], list[str]] = defaultdict(list)
    for name in named:
        if name in part.points:
            x, y = part.points[name]
            there[round(x / cell), round(y / cell)].append(name)
    for ids in there.values():
        x, y = part.points[ids[0]]
        at = (min(max(x, box[0]), box[2]), min(max(y, box[1]), box[3]))
        off = abs(at[0] - x) + abs(at[1] - y) > cell
        numbers = sorted(n for name in ids for n in rings.get(name, ()))
        yield FigureName(tuple(ids), tuple(numbers), any(n in now for n in ids), at, off=off)


def _curve_names(
    figure: FigureSteps, lines: Iterable[InkLine], named: Sequence[str]
) -> Iterator[FigureName]:
    part, rings, now = figure.part, ringed(figure), made_in(figure.steps)
    drawn: dict[str, list[Curve]] = defaultdict(list)
    for one in lines:
        drawn[one.name].append(one.curve)
    for name in named:
        if name in part.curves and drawn[name]:
            yield FigureName((name,), tuple(rings.get(name, ())), name in now,
                             curves=tuple(drawn[name]))


# The figure of the finished part.


def _finished(figure: FigureSteps, ink: FigureInk) -> None:
    part = figure.part
    pieces = finished_pieces(figure)
    for piece in pieces:
        if piece.role != "layout":
            look = AXIS if piece.role == "axis" else HEAVY
            ink.lines.append(InkLine(piece.curve, look, piece.id))
    named = list(dict.fromkeys(n for step in figure.steps for n in _turned_about(part, step)))
    axes = [line for line in ink.lines if line.look == AXIS]
    ink.take(_point_names(figure, ink.box, [n for n in named if n in part.points]))
    ink.take(_curve_names(figure, axes, [n for n in named if n in part.curves]))
    for step in figure.steps:
        curves = tuple(p.curve for p in pieces if p.id in step.curves and p.role == "outline")
        if curves:
            ink.take([FigureName((), (step.number,), True, curves=curves)])


def finished_pieces(figure: FigureSteps) -> tuple[Piece, ...]:
    """Return the half and what images of it are drawn when a figure ends."""
    done = made_in(figure.told)
    return tuple(p for p in figure.stock.pieces if p.image.drawn or p.id in done)


def _turned_about(part: Part, step: OrderStep) -> Iterator[str]:
    """Give the axes and centers that a finishing step is about."""
    words = WORD.findall(step.text)
    yield from (mirror.axis for mirror in part.mirrors if mirror.axis in words)
    for name, pattern in part.patterns.items():
        if name in words and isinstance(pattern, PolarPattern):
            yield pattern.center
