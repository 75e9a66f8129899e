"""Which mistakes are too small to be seen at the scale of a marked sheet, and their close-ups.

A gap of 0.02 mm is nothing on paper; a close-up shows it again in a circle at a scale at which it
prints, as a detail view does. How large a mistake is on paper is measured on what is drawn near its
place: ends that meet nothing, curves apart from the key, curves of next to no length.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from math import cos, dist, floor, log10, sin

from sketcher.drafting.paper_scale import scale_text
from sketcher.drafting.paper_view import MM_PER, View
from sketcher.drafting.primitives import Item, Stroke, Text
from sketcher.drafting.views.detail_views import clipped
from sketcher.geometry.bounds import bounds as box_of
from sketcher.geometry.bounds import boxes_meet
from sketcher.geometry.curves import XY, Circle, Curve
from sketcher.geometry.evaluate import end_of, point_at, start_of
from sketcher.geometry.project import distance, parameter_at
from sketcher.marking.marked_view import MarkedView
from sketcher.marking.marks import Deduction
from sketcher.marking.number_rings import ring_items, ring_radius
from sketcher.marking.rules import marking_rules

SEEN = 0.8
"""What prints smaller is shown in a close-up, in mm: an outline and a half, half the key's band."""
RADIUS = 14.0  # of a close-up on paper, in mm
SHOWS = 5.0  # mm that the smallest of a close-up prints, about
NEAR = 3.0  # mm on paper round a place that are looked at
SAME = 1e-6  # of the part's unit: shorter is rounding
SCALES = (1.0, 2.0, 5.0)
"""Times a power of ten, by ISO 5455, which lets the range be extended so (from memory)."""
MOST_SCALE = 5000.0
CAPTION = 3.0  # mm, height of lettering
STEP = 3.0 * RADIUS  # mm from close-up to close-up


@dataclass(frozen=True, slots=True)
class CloseUp:
    """A place that is shown again, larger.

    Parameters
    ----------
    numbers : tuple of str
        Of the deductions that it shows.
    center : (x, y)
        In the key's unit.
    scale : float
        Paper by part.
    """

    numbers: tuple[str, ...]
    center: XY
    scale: float


def close_ups(view: MarkedView, some: Iterable[Deduction], factor: float) -> tuple[CloseUp, ...]:
    """Return the close-ups that a sheet needs, in the order of their numbers.

    Parameters
    ----------
    view : MarkedView
    some : iterable of Deduction
    factor : float
        Millimetres on paper for one unit of the part.
    """
    found: list[CloseUp] = []
    for each in some:
        if marking_rules()[each.rule].group not in ("outline", "part file"):
            continue
        size = _size(view, each, NEAR / factor)
        if size is None or size * factor >= SEEN:
            continue
        scale, at = _scale(size * MM_PER[view.unit]), each.mistake.at
        if not _is_seen(view, at, RADIUS / (scale * MM_PER[view.unit])):
            continue
        shared = next((k for k, one in enumerate(found) if one.scale == scale and
                       dist(one.center, at) * scale * MM_PER[view.unit] < 0.4 * RADIUS), None)
        if shared is None:
            found.append(CloseUp((str(each.number),), at, scale))
        else:
            one = found[shared]
            found[shared] = CloseUp((*one.numbers, str(each.number)), one.center, one.scale)
    return tuple(found)


def _is_seen(view: MarkedView, at: XY, radius: float) -> bool:
    """Tell whether some of a hand-in's outline is well within a close-up about a place."""
    return any(distance(curve, at) < 0.6 * radius for curve in view.outline)


def _scale(size: float) -> float:
    """Return the largest standard scale at which a size in mm prints no larger than it should."""
    wanted = min(SHOWS / size, MOST_SCALE)
    ten = 10.0 ** floor(log10(wanted) + 1e-9)
    return max(step * ten for step in SCALES if step * ten <= wanted * (1.0 + 1e-9))


def _size(view: MarkedView, deduction: Deduction, near: float) -> float | None:
    """Return how large a mistake is in the part's unit; None where nothing small is seen there."""
    at = deduction.mistake.at
    hand = [(curve, entity) for curve, entity in zip(view.outline, view.entities, strict=True)
            if distance(curve, at) < near]
    own = set(deduction.mistake.entities)
    shown = [curve for curve, entity in hand if not own or entity in own] or [
        curve for curve, _ in hand]
    sizes = [*_short(shown, near), *_loose(shown, [curve for curve, _ in hand], at, near),
             *_apart(shown, view.key, at, near)]
    return min(max(sizes), near) if sizes else None


def _short(shown: Sequence[Curve], near: float) -> Iterator[float]:
    yield from (curve.length for curve in shown if SAME < curve.length < near)


def _loose(
    shown: Sequence[Curve], hand: Sequence[Curve], at: XY, near: float
) -> Iterator[float]:
    """Give how far each end near a place is from the next curve, where it meets none."""
    for curve in shown:
        if isinstance(curve, Circle):
            continue
        for end in (start_of(curve), end_of(curve)):
            others = [distance(other, end) for other in hand if other is not curve]
            if dist(end, at) < near and others and SAME < min(others) < near:
                yield min(others)


def _apart(
    shown: Sequence[Curve], key: Sequence[Curve], at: XY, near: float
) -> Iterator[float]:
    """Give how far curves are from the key beside a place."""
    for curve in shown:
        middle = parameter_at(curve, at)
        reach = near / max(curve.length, near)
        for t in (middle - reach, middle, middle + reach):
            place = point_at(curve, min(max(t, 0.0), 1.0))
            off = min((distance(other, place) for other in key), default=0.0)
            if off > SAME and dist(place, at) < 1.5 * near:
                yield off


def draw_close_up(one: CloseUp, shown: MarkedView, middle: XY) -> Iterator[Item]:
    """Give a close-up about a place on paper, its numbers on its rim and its scale below."""
    factor = one.scale * MM_PER[shown.unit]
    name = f"close-up:{one.numbers[0]}"
    view = View(factor, middle[0] - factor * one.center[0], middle[1] - factor * one.center[1])
    rim = Circle(middle, RADIUS)
    window = Circle(one.center, RADIUS / factor)
    box = box_of(window)
    for curves, band, kind in ((shown.key, 2.0, "section"), (shown.outline, 0.0, "visible"),
                               (shown.hand.get("center", ()), 0.0, "center"),
                               (shown.hand.get("construction", ()), 0.0, "section")):
        for curve in curves:
            if boxes_meet(box_of(curve), box):
                for piece in clipped(curve, window):
                    yield Stroke(view.curve(piece), kind, name, band=band)
    yield Stroke(rim, "detail", name)
    radius = ring_radius(one.numbers)
    for k, number in enumerate(one.numbers):
        turn = 2.4 - 2.0 * k * (radius + 0.3) / (RADIUS + radius)
        away = RADIUS + radius + 0.2
        yield from ring_items(number, (middle[0] + away * cos(turn), middle[1] + away * sin(turn)),
                              radius, f"close-up-ring:{number}")
    yield Text(scale_text(one.scale), (middle[0], middle[1] - RADIUS - 1.5 - CAPTION), CAPTION,
               name, "center")


ROW = 2.0 * RADIUS + 14.0
"""Height of a row of close-ups in mm, with rings above and scales below."""


@dataclass(frozen=True, slots=True)
class CloseUpRows:
    """Close-ups side by side in rows of a width in mm."""

    some: tuple[CloseUp, ...]
    shown: MarkedView
    width: float

    @property
    def across(self) -> int:
        """How many stand side by side."""
        return max(1, int(self.width / STEP))

    @property
    def height(self) -> float:
        """Height of it all in mm."""
        return ROW * -(-len(self.some) // self.across)

    @property
    def least(self) -> float:
        """Height in mm at which at least something of it fits."""
        return min(ROW, self.height)

    def cut(self, room: float) -> tuple[CloseUpRows, CloseUpRows | None]:
        """Return what fits in a height in mm, and the rest."""
        count = self.across * max(1, int(room / ROW + 1e-9))
        rest = self.some[count:]
        return (replace(self, some=self.some[:count]),
                replace(self, some=rest) if rest else None)

    def draw(self, corner: XY) -> Iterator[Item]:
        """Give what is drawn below and right of a corner."""
        step = self.width / self.across
        for k, one in enumerate(self.some):
            row, column = divmod(k, self.across)
            yield from draw_close_up(one, self.shown, (
                corner[0] + (column + 0.5) * step, corner[1] - row * ROW - 8.0 - RADIUS))
