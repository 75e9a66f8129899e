"""The picture of a marked sheet: the key grey and wide, the hand-in dark on it, ringed numbers."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from sketcher.drafting.lettering import text_width
from sketcher.drafting.line_classes import fit, line_class
from sketcher.drafting.paper_scale import scale_text, scales
from sketcher.drafting.paper_view import MM_PER, View
from sketcher.drafting.primitives import Item, Stroke, Text, item_box, line
from sketcher.geometry.bounds import Box, bounds_of
from sketcher.geometry.clip import visible
from sketcher.geometry.curves import XY, Curve
from sketcher.marking.enlarged_circles import RADIUS, CloseUp, draw_close_up
from sketcher.marking.hand_in import LayerRole
from sketcher.marking.marked_view import MarkedView
from sketcher.marking.marks import Deduction
from sketcher.marking.number_rings import (
    InkedGround,
    gathered,
    number_rings,
    ring_items,
    ring_radius,
)
from sketcher.marking.report_page import UncutBlock
from sketcher.marking.rules import marking_rules

BAND = 1.5
"""Width of the key in mm: three times that of an outline, so that it shows on both sides."""
AROUND = 10.0  # mm round the part for rings and their leaders
BEYOND = 0.35  # share of the part's size that a picture shows around it at most
ASIDE = 9.0  # height of a row of rings that point at nothing in the picture, in mm
INSET = RADIUS + 7.5  # mm about the middle of a close-up for its circle, numbers and scale
RING_ROOM = 11.0  # mm between a close-up and a place that a ring points at
LEGEND = 8.0  # height of the legend in mm
SMALL = 2.5  # lettering of the legend in mm
CLASSES: dict[LayerRole, str] = {
    "outline": "visible", "center": "center", "dimension": "dimension", "construction": "hidden"}


@dataclass(frozen=True, slots=True)
class Pictured:
    """What a picture shows, and at which scale.

    Parameters
    ----------
    shown : MarkedView
    window : Box
        In the key's unit.
    pointed : tuple of ((x, y), str)
        Places in the window, and their numbers.
    aside : tuple of (str, tuple of str)
        Numbers that point at nothing in the window, by why.
    alone : bool
        Whether there is no hand-in: the key is drawn as an outline.
    heavy : frozenset of str
        Numbers whose rings stand out.
    """

    shown: MarkedView
    window: Box
    pointed: tuple[tuple[XY, str], ...]
    aside: tuple[tuple[str, tuple[str, ...]], ...]
    alone: bool = False
    heavy: frozenset[str] = frozenset()

    def factor(self, room: Box) -> float:
        """Return mm on paper for a unit of the part: the largest scale that fits in a room.

        With a hand-in it is a standard scale, if there is one.
        """
        x0, y0, x1, y1 = self.window
        unit = MM_PER[self.shown.unit]
        wide, tall = max(x1 - x0, 1e-9) * unit, max(y1 - y0, 1e-9) * unit
        left, low, right, high = self._free(room)
        most = max(min((right - left - 2.0 * AROUND) / wide, (high - low - 2.0 * AROUND) / tall,
                       MOST), 1e-4)
        ladder = () if self.alone else sorted(map(float, scales()[self.shown.practice]))
        return unit * max((scale for scale in ladder if scale <= most + 1e-9), default=most)

    def _free(self, room: Box) -> Box:
        left, low, right, high = room
        legend_tall = 0.0 if self.alone else LEGEND
        return (left, low + legend_tall, right, high - ASIDE * len(self.aside))

    def _view(self, room: Box, factor: float) -> View:
        free = self._free(room)
        x0, y0, x1, y1 = self.window
        return View(factor, 0.5 * (free[0] + free[2]) - 0.5 * factor * (x0 + x1),
                    0.5 * (free[1] + free[3]) - 0.5 * factor * (y0 + y1))

    def insets(self, room: Box, factor: float, some: Sequence[CloseUp]) -> tuple[XY, ...]:
        """Return where close-ups stand within a room, clear of what is drawn, each near its place.

        Nothing where they do not all find a place.
        """
        if not some:
            return ()
        free, view = self._free(room), self._view(room, factor)
        ground = InkedGround([s.curve for s in self._strokes(view)], free,
                             [item_box(text) for text in self._texts(view)])
        found: list[XY] = []
        tips = [(view.point(at), INSET + RING_ROOM) for at, _ in self.pointed]
        for one in some:
            others = [*tips, *((place, 2.0 * INSET) for place in found)]
            at = ground.nearest_clear(view.point(one.center), INSET, others)
            if at is None:
                return ()
            found.append(at)
        return tuple(found)

    def draw(
        self, room: Box, factor: float, insets: Sequence[tuple[CloseUp, XY]] = ()
    ) -> Iterator[Item]:
        """Give the picture within a room on paper, with close-ups where they stand."""
        view = self._view(room, factor)
        strokes, texts = list(self._strokes(view)), list(self._texts(view))
        yield from strokes
        yield from texts
        for one, middle in insets:
            yield from draw_close_up(one, self.shown, middle)
        tips = gathered([(view.point(at), number) for at, number in self.pointed])
        taken = [item_box(text) for text in texts]
        taken += [(x - INSET, y - INSET, x + INSET, y + INSET) for _, (x, y) in insets]
        ink = [stroke.curve for stroke in strokes]
        for ring in number_rings(tips, ink, self._free(room), taken):
            yield from ring.items("ring", not self.heavy.isdisjoint(ring.tip.numbers))
        yield from self._beside(room)
        if not self.alone:
            yield from legend((room[0], room[1] + 2.0), self.shown, factor, strokes)

    def _strokes(self, view: View) -> Iterator[Stroke]:
        """Give the key's strokes, then those of the hand-in."""
        for curve in self._seen(self.shown.key, view):
            yield Stroke(curve, "visible", "key", band=0.0 if self.alone else BAND)
        yield from self._hand(view)

    def _seen(self, curves: Iterable[Curve], view: View) -> Iterator[Curve]:
        """Give what lies in the window and a little around it, on paper."""
        more = 0.5 * AROUND / view.factor
        x0, y0, x1, y1 = self.window
        for curve in curves:
            for piece in visible(curve, (x0 - more, y0 - more, x1 + more, y1 + more)):
                yield view.curve(piece)

    def _hand(self, view: View) -> Iterator[Stroke]:
        for role, kind in CLASSES.items():
            pattern = line_class(self.shown.practice, kind)
            for curve in self._seen(self.shown.hand.get(role, ()), view):
                # center lines come dash by dash, as the file has them
                broken = pattern.elements and role != "center"
                yield Stroke(curve, kind, f"hand:{role}",
                             fit(curve.length, pattern) if broken else None)

    def _texts(self, view: View) -> Iterator[Text]:
        x0, y0, x1, y1 = self.window
        for each in self.shown.texts:
            x, y = each.at
            if x0 <= x <= x1 and y0 <= y <= y1:
                tall = view.factor * each.height
                px, py = view.point(each.at)
                yield Text(each.text, (px, py - 0.5 * tall), tall, "hand:text", "center")

    def _beside(self, room: Box) -> Iterator[Item]:
        y = room[3]
        for why, numbers in self.aside:
            radius = ring_radius(numbers)
            middle = y - 0.5 * ASIDE
            yield Text(f"{why}:", (room[0], middle - 0.5 * SMALL), SMALL, "aside")
            x = room[0] + text_width(f"{why}:", SMALL) + 3.0
            for number in numbers:
                yield from ring_items(number, (x + radius, middle), radius, f"ring:{number}")
                x += 2.0 * radius + 1.5
            y -= ASIDE


MOST = 10.0
"""Largest scale of a picture, paper by part."""
MOST_RINGS = 36
"""Rings of a picture beyond which mistakes that take nothing any more get none (a guess)."""


def pictured(shown: MarkedView, some: Sequence[Deduction]) -> Pictured:
    """Return what a picture of a hand-in with deductions shows."""
    some = _ringed(some)
    window = _window(shown, [each.mistake.at for each in some])
    pointed: list[tuple[XY, str]] = []
    whole: list[str] = []
    outside: list[str] = []
    for each in some:
        (x, y), number = each.mistake.at, str(each.number)
        if marking_rules()[each.rule].group == "sheet":
            whole.append(number)
        elif window[0] <= x <= window[2] and window[1] <= y <= window[3]:
            pointed.append((each.mistake.at, number))
        else:
            outside.append(number)
    aside = tuple((why, tuple(numbers)) for why, numbers in (
        ("Whole sheet", whole), ("Outside the picture", outside)) if numbers)
    return Pictured(shown, window, tuple(pointed), aside)


def _ringed(some: Sequence[Deduction]) -> list[Deduction]:
    """Return those that get a ring: not what costs nothing where there are too many of them."""
    room = MOST_RINGS - sum(each.points > 0.0 for each in some)
    kept = []
    for each in some:
        room -= not each.points
        if each.points or room >= 0:
            kept.append(each)
    return kept


def _window(shown: MarkedView, places: Sequence[XY]) -> Box:
    """Return the key's box, grown to what is drawn and told near it."""
    x0, y0, x1, y1 = bounds_of(shown.key)
    more = BEYOND * max(x1 - x0, y1 - y0)
    drawn = [curve for role in CLASSES for curve in shown.hand.get(role, ())]
    boxes = [bounds_of([curve]) for curve in drawn]
    boxes += [(x, y, x, y) for x, y in (*places, *(each.at for each in shown.texts))]
    near = [(a, b, c, d) for a, b, c, d in boxes
            if a <= x1 + more and c >= x0 - more and b <= y1 + more and d >= y0 - more]
    return (max(x0 - more, min([x0, *(box[0] for box in near)])),
            max(y0 - more, min([y0, *(box[1] for box in near)])),
            min(x1 + more, max([x1, *(box[2] for box in near)])),
            min(y1 + more, max([y1, *(box[3] for box in near)])))


NAMES = (("key", "key"), ("hand:outline", "hand-in"), ("hand:center", "its center lines"),
         ("hand:construction", "its construction lines"))


def legend(
    corner: XY, shown: MarkedView, factor: float, strokes: Sequence[Stroke]
) -> Iterator[Item]:
    """Give the scale of a picture and what its lines stand for, right of a lower left corner."""
    x, y = corner
    text = f"Scale {scale_text(round(factor / MM_PER[shown.unit], 6))}"
    yield Text(text, (x, y), SMALL, "legend")
    x += text_width(text, SMALL) + 6.0
    for source, name in NAMES:
        sample = next((one for one in strokes if one.source == source), None)
        if sample is None:
            continue
        whole = line((x, y + 0.5 * SMALL), (x + 14.0, y + 0.5 * SMALL), sample.line, "legend")
        pattern = line_class(shown.practice, sample.line)
        yield Stroke(whole.curve, sample.line, "legend",
                     fit(14.0, pattern, 1) if pattern.elements else None, sample.band)
        yield Text(name, (x + 16.0, y), SMALL, "legend")
        x += 16.0 + text_width(name, SMALL) + 6.0


@dataclass(frozen=True, slots=True)
class PictureBlock(UncutBlock):
    """A picture among other blocks, so wide and high in mm."""

    picture: Pictured
    width: float
    height: float

    def draw(self, corner: XY) -> Iterator[Item]:
        """Give what is drawn below and right of a corner."""
        x, y = corner
        room = (x, y - self.height, x + self.width, y)
        return self.picture.draw(room, self.picture.factor(room))
