"""The picture of a marked sheet: the key grey and wide, the hand-in dark on it, ringed numbers."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from sketcher.drafting.lettering import text_width
from sketcher.drafting.line_classes import fit, line_class
from sketcher.drafting.paper_scale import scale_text, scales
from sketcher.drafting.paper_view import MM_PER, View
from sketcher.drafting.primitives import Item, Stroke, Text, line
from sketcher.geometry.bounds import Box, bounds_of
from sketcher.geometry.clip import visible
from sketcher.geometry.curves import XY, Curve
from sketcher.marking.hand_in import LayerRole
from sketcher.marking.marked_view import MarkedView
from sketcher.marking.marks import Deduction
from sketcher.marking.number_rings import gathered, number_rings, ring_items, ring_radius
from sketcher.marking.rules import marking_rules

BAND = 1.5
"""Width of the key in mm: three times that of an outline, so that it shows on both sides."""
AROUND = 13.0  # mm round the part for rings and their leaders
BEYOND = 0.35  # share of the part's size that a picture shows around it at most
ASIDE = 9.0  # height of a row of rings that point at nothing in the picture, in mm
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
        """Return mm on paper for a unit of the part at the largest standard scale that fits."""
        x0, y0, x1, y1 = self.window
        unit = MM_PER[self.shown.unit]
        wide, tall = max(x1 - x0, 1e-9) * unit, max(y1 - y0, 1e-9) * unit
        left, low, right, high = self._free(room)
        most = min(right - left - 2.0 * AROUND, 1e9) / wide
        most = min(most, (high - low - 2.0 * AROUND) / tall, MOST)
        ladder = sorted(map(float, scales()[self.shown.practice]))
        best = max((scale for scale in ladder if scale <= most + 1e-9), default=0.0)
        # what fits at no standard scale is shown all the same
        return unit * (best or max(most, 1e-4))

    def _free(self, room: Box) -> Box:
        left, low, right, high = room
        return (left, low + LEGEND, right, high - ASIDE * len(self.aside))

    def draw(self, room: Box, factor: float) -> Iterator[Item]:
        """Give the picture within a room on paper."""
        free = self._free(room)
        x0, y0, x1, y1 = self.window
        view = View(factor, 0.5 * (free[0] + free[2]) - 0.5 * factor * (x0 + x1),
                    0.5 * (free[1] + free[3]) - 0.5 * factor * (y0 + y1))
        band = [Stroke(curve, "visible", "key", band=0.0 if self.alone else BAND)
                for curve in self._seen(self.shown.key, view)]
        lines = list(self._hand(view))
        yield from band
        yield from lines
        texts = list(self._texts(view))
        yield from texts
        tips = gathered([(view.point(at), number) for at, number in self.pointed])
        ink = [stroke.curve for stroke in (*band, *lines)]
        taken = [_box_of(text) for text in texts]
        for ring in number_rings(tips, ink, free, taken):
            yield from ring.items("ring", not self.heavy.isdisjoint(ring.tip.numbers))
        yield from self._beside(room)
        yield from legend((room[0], room[1] + 2.0), self.shown, factor,
                          () if self.alone else (*band[:1], *lines))

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
                yield Stroke(curve, kind, f"hand:{role}",
                             fit(curve.length, pattern) if pattern.elements else None)

    def _texts(self, view: View) -> Iterator[Text]:
        x0, y0, x1, y1 = self.window
        for each in self.shown.texts:
            x, y = each.at
            if x0 <= x <= x1 and y0 <= y <= y1:
                tall = view.factor * each.height
                px, py = view.point(each.at)
                yield Text(each.text, (px, py - 0.5 * tall), tall, "hand:text", "center", each.turn)

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


def pictured(shown: MarkedView, some: Sequence[Deduction]) -> Pictured:
    """Return what a picture of a hand-in with deductions shows."""
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


def _box_of(text: Text) -> Box:
    xs, ys = zip(*text.box(), strict=True)
    return (min(xs), min(ys), max(xs), max(ys))


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
