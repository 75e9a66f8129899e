"""One figure on its place on the paper, with enlarged details where names find no room."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import chain
from math import dist
from typing import TypeAlias

from sketcher.drafting.figures.figure_ink import (
    AXIS,
    HEAVY,
    STOOD,
    THIN,
    FigureInk,
    FigureName,
    InkLine,
)
from sketcher.drafting.figures.name_labels import NameBox, PlacedName, WantedName
from sketcher.drafting.figures.name_places import DOT, NameGround, placed_names, standing_badly
from sketcher.drafting.layout.ink import CENTER, FAINT, OUTLINE
from sketcher.drafting.lettering import wrapped
from sketcher.drafting.line_classes import Practice, fit, line_class
from sketcher.drafting.paper_view import View
from sketcher.drafting.primitives import Fill, Item, Stroke, Text
from sketcher.drafting.views.detail_views import clipped
from sketcher.geometry.bounds import Box
from sketcher.geometry.curves import XY, Circle
from sketcher.geometry.evaluate import point_at

MARGIN = 11.0
"""mm left around the part for names; a name with a leader takes about as much."""
PAST = 7.0
"""mm by which a line without ends runs on."""
DETAIL_SHARES, FLAT_SHARE = (0.4, 0.28, 0.55), 0.7
"""Shares of the place that details may take, and the most that they take below a flat part, by
trial."""
TOGETHER = 22.0
"""mm between places without room that go into one detail."""
AROUND, ROUNDER = 1.8, 1.2
"""mm between such a place and the ring of the detail, beside so much of their distance."""
BESIDE_RING = 0.35
"""Share of a detail's place that its ring leaves free for names, where that is no wider than high;
in a wider one names stand at its sides."""
MOST_TOLD = 40
"""Names without room that are told one by one."""
RIM = 3.0
"""mm left free around a ring in any case."""
MOST_DETAILS, RINGED = 3, 2
LEADING, UNNAMED = 1.7, 2
"""Distance of lines by the height of lettering, and for how many there is room below a figure."""
GREY = 0.35
"""mm, width of what only stands around."""
KIND_OF = {HEAVY: OUTLINE, THIN: CENTER, AXIS: CENTER, STOOD: FAINT}
LETTERS = "ABCDEFGH"

Inked: TypeAlias = Callable[[float], FigureInk]


@dataclass(frozen=True, slots=True)
class FigureStyle:
    """How a figure is lettered: practice, height in mm, and a text as the sheet has it."""

    practice: Practice
    height: float
    said: Callable[[str], str]


@dataclass(frozen=True, slots=True)
class DrawnFigure:
    """A figure in mm on paper.

    Parameters
    ----------
    items : tuple of Item
    badly : tuple of str
        Names for which there is no room; the figure says so.
    """

    items: tuple[Item, ...]
    badly: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _FigureRing:
    """A place of the part, in its unit, that is shown enlarged."""

    letter: str
    circle: Circle


def draw_figure(inked: Inked, place: Box, style: FigureStyle) -> DrawnFigure:
    """Return a figure on its place.

    Parameters
    ----------
    inked : callable
        Gives what the figure shows, by how much lines without ends run on in the part's unit.
    place : Box
        What it may take of the paper, in mm.
    style : FigureStyle
    """
    view = _fitted(inked(0.0).box, place)
    ink = inked(PAST / view.factor)
    drawing = _FigureView(ink, view, place, style)
    placed = drawing.placed(ink.names)
    best: Views = [(drawing, placed)]
    foot = (place[0], place[1] + UNNAMED * LEADING * style.height, *place[2:])
    for main, side in _splits(foot, ink.box):
        if not _bad(best):
            break
        view = _fitted(ink.box, main)
        narrow = _FigureView(inked(PAST / view.factor), view, main, style)
        found = _with_details(narrow, narrow.placed(narrow.ink.names), side)
        best = min(best, found, key=_bad)
    return _joined(best, place)


def _fitted(box: Box, place: Box) -> View:
    """Return the view of a box in the middle of a place."""
    wide, tall = place[2] - place[0] - 2.0 * MARGIN, place[3] - place[1] - 2.0 * MARGIN
    factor = min(wide / max(box[2] - box[0], 1e-9), tall / max(box[3] - box[1], 1e-9))
    middle = (0.5 * (box[0] + box[2]), 0.5 * (box[1] + box[3]))
    return View(factor, 0.5 * (place[0] + place[2]) - factor * middle[0],
                0.5 * (place[1] + place[3]) - factor * middle[1])


def _splits(place: Box, shown: Box) -> Iterator[tuple[Box, Box]]:
    """Give ways to part a place: for what is shown, and for its details to the right or below.

    That in which what is shown is largest comes first, by each share of the details.
    """
    x0, y0, x1, y1 = place
    flat = (x1 - x0) * (shown[3] - shown[1]) / max(shown[2] - shown[0], 1e-9)
    for share in DETAIL_SHARES:
        x, y = x1 - share * (x1 - x0), y0 + share * (y1 - y0)
        # A flat part lies above its details, however little room that leaves above and below it.
        y = max(y, min(y1 - 2.0 * MARGIN - flat, y0 + FLAT_SHARE * (y1 - y0)))
        ways = (((x0, y0, x, y1), (x, y0, x1, y1)), ((x0, y, x1, y1), (x0, y0, x1, y)))
        yield from sorted(ways, key=lambda way: -_fitted(shown, way[0]).factor)


@dataclass(frozen=True, slots=True)
class _FigureView:
    """A view of a figure's ink: the part, or one detail of it within a ring.

    Parameters
    ----------
    ink : FigureInk
    view : View
    place : Box
        Where its names may stand, in mm.
    style : FigureStyle
    within : Circle or None
        What of the part is seen, in its unit.
    rings : tuple of _FigureRing
        Details that it points to.
    letter : str
        Its own, of a detail.
    """

    ink: FigureInk
    view: View
    place: Box
    style: FigureStyle
    within: Circle | None = None
    rings: tuple[_FigureRing, ...] = ()
    letter: str = ""

    def lines(self) -> list[InkLine]:
        """Return the lines on paper."""
        seen = ((one, curve) for one in self.ink.lines
                for curve in (clipped(one.curve, self.within) if self.within else (one.curve,)))
        return [replace(one, curve=self.view.curve(curve)) for one, curve in seen]

    def edges(self) -> list[tuple[Circle, str]]:
        """Return the rings on paper: those of its details, and its own boundary."""
        own = [] if self.within is None else [(self.within, self.letter)]
        return [(Circle(self.view.point(c.center), self.view.factor * c.radius), letter)
                for c, letter in (*((r.circle, r.letter) for r in self.rings), *own)]

    def placed(self, names: Sequence[FigureName]) -> list[PlacedName]:
        """Return where names stand, and the letters of the rings."""
        lines, edges = self.lines(), self.edges()
        number = {name: k for k, name in enumerate(dict.fromkeys(one.name for one in lines))}
        wanted = [self._wanted(name, lines, number) for name in names]
        rows = [(one.curve, KIND_OF[one.look], number[one.name])
                for one in lines]
        for k, (edge, letter) in enumerate(edges, len(number)):
            rows.append((edge, CENTER, k))
            label = NameBox(letter, (), 1.4 * self.style.height, bold=True)
            wanted.append(WantedName(label, f"detail:{letter}", curves=(edge,), owner=k))
        ground = NameGround(rows, self._dots(names), self.place)
        return placed_names(wanted, ground)

    def _dots(self, names: Sequence[FigureName]) -> list[XY]:
        return [self.view.point(name.at) for name in names if name.at is not None]

    def _wanted(
        self, name: FigureName, lines: Sequence[InkLine], number: dict[str, int]
    ) -> WantedName:
        label = NameBox(self.style.said(name.text) if name.ids else "",
                        tuple(map(str, name.numbers)), self.style.height, name.new)
        source = f"name:{','.join(name.ids) or name.numbers[0]}"
        if name.at is not None:
            return WantedName(label, source, self.view.point(name.at))
        mine = [one for one in lines if one.name in name.ids]
        curves = tuple(one.curve for one in mine) or tuple(map(self.view.curve, name.curves))
        return WantedName(label, source, curves=curves,
                          owner=number[mine[0].name] if mine else -1)

    def items(self, placed: Sequence[PlacedName], names: Sequence[FigureName]) -> list[Item]:
        """Return the ink of the view with its names."""
        found: list[Item] = []
        for one in self.lines():
            axis = one.look == AXIS
            dashes = fit(one.curve.length, line_class(self.style.practice, AXIS)) if axis else None
            band = GREY if one.look == STOOD else 0.0
            found.append(Stroke(one.curve, THIN if band else one.look, f"curve:{one.name}", dashes,
                                band))
        found += [Stroke(edge, "detail", f"detail:{letter}") for edge, letter in self.edges()]
        found += [_dot(at) for at in dict.fromkeys(self._dots(names))]
        return [*found, *chain.from_iterable(one.items() for one in placed)]


def _dot(at: XY) -> Fill:
    ring = Circle(at, DOT)
    return Fill(tuple(point_at(ring, k / 12.0) for k in range(12)), "figure:dot")


Views = list[tuple[_FigureView, list[PlacedName]]]


def _bad(found: Views) -> int:
    return sum(standing_badly(one) for _, placed in found for one in placed)


def _joined(found: Views, place: Box) -> DrawnFigure:
    """Put views together; what found no room is told at the foot of the place."""
    items: list[Item] = []
    badly = tuple(one.wanted.label for _, placed in found for one in placed
                  if standing_badly(one))
    found = [(view, [one for one in placed if not standing_badly(one)]) for view, placed in found]
    untold = [*(_unnamed(one.text, one.numbers) for one in badly),
              *(_unnamed(name.text, name.numbers) for name in found[0][0].ink.left_out)]
    if untold:
        style = found[0][0].style
        more = f" and {len(untold) - MOST_TOLD} more" if len(untold) > MOST_TOLD else ""
        told = style.said(f"No room here for {', '.join(untold[:MOST_TOLD])}{more}.")
        lines = wrapped(told, style.height, place[2] - place[0])
        items += [Text(line, (place[0], place[1] + style.height * (0.4 + LEADING * k)),
                       style.height, "figure:unnamed")
                  for k, line in enumerate(reversed(lines))]
    for view, placed in found:
        items += view.items(placed, _names_of(view, placed))
    return DrawnFigure(tuple(items), tuple(untold))


def _unnamed(text: str, numbers: Sequence[object]) -> str:
    """Return what is told of a name without room: with the step whose ring it would have."""
    step = f"step {', '.join(map(str, numbers))}" if numbers else ""
    return f"{text} ({step})" if text and step else text or step


def _names_of(view: _FigureView, placed: Sequence[PlacedName]) -> list[FigureName]:
    """Return the names that stand in a view."""
    sources = {one.wanted.source for one in placed}
    return [name for name in view.ink.names
            if f"name:{','.join(name.ids) or name.numbers[0]}" in sources]


def _with_details(main: _FigureView, placed: list[PlacedName], side: Box) -> Views:
    """Return the part with rings about the places without room, and what is in them enlarged."""
    found: Views = [(main, placed)]
    stay, bad = list(main.ink.names), list[FigureName]()
    for _ in range(RINGED):
        # What has no room only beside the rings gets a ring too.
        more = [name for name, one in zip(stay, found[0][1], strict=False) if standing_badly(one)]
        if not more:
            break
        bad += more
        rings = tuple(map(_FigureRing, LETTERS, _circles(main, bad)))
        moved = {id(name): ring for ring in rings for name in main.ink.names
                 if _inside(name, ring, bad)}
        stay = [name for name in main.ink.names if id(name) not in moved]
        whole = replace(main, rings=rings)
        found = [(whole, whole.placed(stay))]
        for ring, place in zip(rings, _slots(side, len(rings)), strict=True):
            detail = _detail(main, ring, place)
            own = [name for name in main.ink.names if moved.get(id(name)) is ring]
            found.append((detail, detail.placed(own)))
    return found


def _detail(main: _FigureView, ring: _FigureRing, place: Box) -> _FigureView:
    """Return what is within a ring as large as its place allows."""
    c = ring.circle
    low, high = sorted((place[2] - place[0], place[3] - place[1]))
    free = min(max(1.0 - low / high, 0.0), BESIDE_RING)
    room = 0.5 * low * (1.0 - BESIDE_RING + free) - RIM
    middle = (0.5 * (place[0] + place[2]), 0.5 * (place[1] + place[3]))
    factor = room / c.radius
    view = View(factor, middle[0] - factor * c.center[0], middle[1] - factor * c.center[1])
    return replace(main, view=view, place=place, within=c, letter=ring.letter)


def _slots(side: Box, count: int) -> list[Box]:
    """Return places for details in a row along the longer way."""
    x0, y0, x1, y1 = side
    if x1 - x0 > y1 - y0:
        step = (x1 - x0) / count
        return [(x0 + k * step, y0, x0 + (k + 1) * step, y1) for k in range(count)]
    step = (y1 - y0) / count
    return [(x0, y1 - (k + 1) * step, x1, y1 - k * step) for k in range(count)]


def _circles(main: _FigureView, bad: Sequence[FigureName]) -> list[Circle]:
    """Return circles, in the part's unit, about places without room that lie together."""
    spots = [_spot(name) for name in bad]
    groups: list[list[XY]] = []
    for spot in spots:
        near = [g for g in groups
                if any(dist(spot, other) * main.view.factor < TOGETHER for other in g)]
        groups = [g for g in groups if g not in near] + [[spot, *chain.from_iterable(near)]]
    groups.sort(key=len, reverse=True)
    circles = []
    for group in groups[:MOST_DETAILS]:
        xs, ys = [x for x, _ in group], [y for _, y in group]
        middle = (0.5 * (min(xs) + max(xs)), 0.5 * (min(ys) + max(ys)))
        reach = max(dist(middle, spot) for spot in group)
        reach = ROUNDER * reach + AROUND / main.view.factor
        circles.append(Circle(middle, reach))
    return circles


def _spot(name: FigureName) -> XY:
    return name.at if name.at is not None else point_at(name.curves[0], 0.5)


def _inside(name: FigureName, ring: _FigureRing, bad: Sequence[FigureName]) -> bool:
    """Tell whether a name goes into a detail: a point in it, a curve in it or without room."""
    c = ring.circle
    if name.at is not None:
        return dist(name.at, c.center) < c.radius
    if any(name is other for other in bad) and dist(_spot(name), c.center) < c.radius:
        return True
    return all(dist(point_at(curve, share), c.center) < c.radius
               for curve in name.curves for share in (0.0, 0.25, 0.5, 0.75, 1.0))
