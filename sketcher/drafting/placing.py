"""Places every dimension on the sheet: nearest rows, no crossings, lettering clear of all lines.

Each dimension has candidate places with a cost of their own (row, length of extension lines, slope
of a leader). They are tried from the cheapest on against what is already there; the first that
nothing else can beat is taken. Three orders are tried and the cheaper sheet kept. What a person has
dragged is placed first and stays.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import partial

import numpy as np

from sketcher.drafting.candidates import Candidates, Covered
from sketcher.drafting.draw_angle import draw_angle, wedge_at, wedges
from sketcher.drafting.draw_leader import draw_leader, spot_at, spots
from sketcher.drafting.draw_length import Frame, Layout, draw_length, room
from sketcher.drafting.drawn_dimension import Drawn
from sketcher.drafting.field import HARD, NEVER, Array, Runouts, chords
from sketcher.drafting.measured import Angular, Measured, Rounded, Straight, measured
from sketcher.drafting.paper_view import View
from sketcher.drafting.primitives import Item, Stroke
from sketcher.drafting.pushing import Pusher
from sketcher.drafting.sizes import Sizes
from sketcher.geometry.curves import XY, Line
from sketcher.interrupt import check
from sketcher.part.value import Part
from sketcher.progress import counted, stage

ROWS, SPARE_ROWS = 18, 40
MANY, SOME = 60, 25  # with more dimensions: one order, once; one order
TRIES = 3
DEAR = 3.0  # what costs less stands well


@dataclass(frozen=True, slots=True)
class Paper:
    """What is on the paper before the dimensions."""

    items: tuple[Item, ...]
    outline: Array
    runouts: Runouts
    sizes: Sizes
    covered: Covered
    wanted: Sequence[Measured]
    dragged: Mapping[str, XY]
    known: dict[tuple[str, bool], Candidates] = field(default_factory=dict)

    def candidates(self, one: Measured, spare: bool) -> Candidates:
        """Return the places of a dimension; `spare` adds the many odd ones of a leader."""
        key = (one.id, spare and isinstance(one, Rounded))
        if key not in self.known:
            self.known[key] = Candidates(_candidates(one, self, spare), self.covered)
        return self.known[key]


def place_dimensions(
    part: Part, view: View, items: Sequence[Item], sizes: Sizes,
    marks: Iterable[tuple[XY, XY]] = (), thorough: bool = True,
) -> tuple[Drawn, ...]:
    """Lay out all dimensions of a part, in mm on paper.

    Parameters
    ----------
    part : Part
    view : View
        Where the part lies on the paper.
    items : sequence of Item
        Outline and center lines, which the dimensions keep clear of.
    sizes : Sizes
        Lettering and spacings.
    marks : iterable of (XY, XY)
        Ends of straight center lines: an extension line goes on where they end.
    thorough : bool
        False takes the first order of placing, to see how much room the dimensions need.

    Returns
    -------
    tuple of Drawn
        In the part's order: bindings with a value, then pattern steps.
    """
    paper = paper_of(part, view, items, sizes, marks)
    return () if paper is None else placed_on(paper, thorough)


def paper_of(
    part: Part, view: View, items: Sequence[Item], sizes: Sizes, marks: Iterable[tuple[XY, XY]]
) -> Paper | None:
    """Return what `placed_on` needs, or None where nothing is visible."""
    visible = [i.curve for i in items if isinstance(i, Stroke) and i.line == "visible"]
    if not visible:
        return None
    edges = [c for c in visible if isinstance(c, Line)] + [Line(a, b) for a, b in marks]
    outline = np.array([p for c in visible for p in chords(c)]).reshape(-1, 2)
    dragged = {name: view.point(at) for name, at in part.drawing.placed.items()}
    return Paper(tuple(items), outline, Runouts(edges), sizes, Covered(items),
                 measured(part, view), dragged)


def placed_on(paper: Paper, thorough: bool) -> tuple[Drawn, ...]:
    """Return the dimensions on a paper; what was found out when it was first asked is kept."""
    placed = _searched(paper.wanted, paper.dragged, paper, thorough)
    return tuple(placed[m.id] for m in paper.wanted if m.id in placed)


def _searched(
    wanted: Sequence[Measured], dragged: Mapping[str, XY], paper: Paper, thorough: bool
) -> dict[str, Drawn]:
    """Try the orders; what finds no room in one is placed first in the next."""
    best, costs_kept, kept = float("inf"), dict[str, float](), dict[str, Drawn]()
    for order in _orders(wanted):
        first: list[str] = []
        for _ in range(TRIES):
            ordered = sorted(order, key=lambda m: first.index(m.id) if m.id in first else MANY)
            check()
            with stage(0.0, 0.5):
                costs, found = _placed(ordered, dragged, paper)
            total = sum(costs.values())
            if total < best:
                best, costs_kept, kept = total, costs, found
            if not thorough:
                return found
            crowded = [name for name, cost in costs.items() if cost >= HARD]
            if not crowded or len(wanted) > MANY:
                break
            first = [*crowded, *(name for name in first if name not in crowded)]
        if len(wanted) > SOME:
            break
    if len(wanted) <= MANY:
        with stage(0.5, 1.0):
            _bettered(wanted, paper, costs_kept, kept)
    if max(costs_kept.values(), default=0.0) >= NEVER:
        kept = _freed(wanted, paper, costs_kept, kept)
    return kept


def _freed(
    wanted: Sequence[Measured], paper: Paper, movable: Iterable[str], found: dict[str, Drawn]
) -> dict[str, Drawn]:
    """Push aside what makes lettering stand on something."""
    by_id = {m.id: m for m in wanted}
    pusher = Pusher(paper.items, lambda name: _candidates(by_id[name], paper, True),
                    lambda name, others: paper.candidates(by_id[name], True).best(others))
    return pusher.freed(found, movable)


def _bettered(
    wanted: Sequence[Measured], paper: Paper, costs: dict[str, float], found: dict[str, Drawn]
) -> None:
    """Take each of the dearest out once more and place it anew among all others.

    Only what has a cost is moved: a dimension that a person has dragged has none.
    """
    by_id = {m.id: m for m in wanted}
    for name in sorted((n for n in costs if costs[n] >= HARD), key=lambda n: -costs[n]):
        # No room at all: with what stands in its way, this one first.
        others = {n: found[n] for n in costs if n != name}
        there = paper.covered.hard(found[name], others) if others else []
        _replaced([by_id[n] for n in (name, *there)], paper, costs, found)
    for one in counted(sorted(wanted, key=lambda m: -costs.get(m.id, 0.0))):
        if costs.get(one.id, 0.0) > DEAR:
            _replaced([one], paper, costs, found)


def _replaced(
    out: Sequence[Measured], paper: Paper, costs: dict[str, float], found: dict[str, Drawn]
) -> None:
    """Place some dimensions anew among all others; keep it where it costs less."""
    names = {m.id for m in out}
    others = [drawn for name, drawn in found.items() if name not in names]
    before = sum(costs[m.id] for m in out)
    after, placed = 0.0, dict[str, tuple[float, Drawn]]()
    for one in out:
        cost, drawn = paper.candidates(one, True).best(others)
        if drawn is None:
            return
        placed[one.id] = (cost, drawn)
        after += cost
        if after >= before - 1e-9:
            return
        others.append(drawn)
    for name, (cost, drawn) in placed.items():
        costs[name], found[name] = cost, drawn


def _orders(wanted: Sequence[Measured]) -> Iterator[list[Measured]]:
    """Return the orders to try: near things first, and lengths first."""
    def size(m: Measured) -> float:
        if not isinstance(m, Straight):
            return 0.0
        frame = Frame(m.direction)
        return abs(frame.of(m.first[0])[0] - frame.of(m.second[0])[0])

    lengths = sorted((m for m in wanted if isinstance(m, Straight)), key=size)
    crossing = [m for m in lengths if m.inline]
    lengths = [m for m in lengths if not m.inline]
    angles = [m for m in wanted if isinstance(m, Angular)]
    rounds = [m for m in wanted if isinstance(m, Rounded)]
    yield [*crossing, *angles, *rounds, *lengths]
    yield [*crossing, *lengths, *angles, *rounds]
    yield [*crossing, *angles, *lengths, *rounds]


def _placed(
    order: Sequence[Measured], dragged: Mapping[str, XY], paper: Paper
) -> tuple[dict[str, float], dict[str, Drawn]]:
    """Place all in one order: what each costs, and the result."""
    found: dict[str, Drawn] = {}
    costs: dict[str, float] = {}
    for one in order:
        if one.id in dragged:
            found[one.id] = drawn_at(one, dragged[one.id], paper)
    for one in counted(order):
        if one.id in found:
            continue
        cost, drawn = paper.candidates(one, False).best(list(found.values()))
        if drawn is not None:
            costs[one.id] = cost
            found[one.id] = drawn
    return costs, found


def drawn_at(one: Measured, place: XY, paper: Paper) -> Drawn:
    """Draw a dimension with the middle of its lettering at, or near, a place."""
    sizes = paper.sizes
    if isinstance(one, Rounded):
        return draw_leader(one, spot_at(one, place, sizes), sizes)
    if isinstance(one, Angular):
        return draw_angle(one, *wedge_at(one, place, sizes), sizes, paper.runouts)
    s, v = Frame(one.direction).of(place)
    if sizes.practice == "ISO":
        v -= sizes.clear + 0.5 * one.wording.height(sizes.height)
    return draw_length(one, Layout(v, s), sizes, paper.runouts)


def _candidates(
    one: Measured, paper: Paper, spare: bool
) -> Iterator[tuple[float, Callable[[], Drawn]]]:
    """Places with their own costs."""
    sizes = paper.sizes
    if isinstance(one, Rounded):
        for cost, spot in spots(one, spare):
            yield cost, partial(draw_leader, one, spot, sizes)
    elif isinstance(one, Angular):
        for cost, wedge, radius in wedges(one):
            yield cost, partial(draw_angle, one, wedge, radius, sizes, paper.runouts)
    elif one.inline:
        yield from _across(one, paper)
    else:
        for cost, layout in _rows(one, paper):
            yield cost, partial(draw_length, one, layout, sizes, paper.runouts)


def _across(one: Straight, paper: Paper) -> Iterator[tuple[float, Callable[[], Drawn]]]:
    """Candidates straight across, without extension lines."""
    for number, (a, b) in enumerate(one.inline):
        way = Line(a, b).direction
        flip = way[0] < -1e-9 or (abs(way[0]) <= 1e-9 and way[1] < 0.0)
        u = (-way[0], -way[1]) if flip else way
        placed = Straight(one.id, u, (a,), (b,), one.wording)
        frame = Frame(u)
        v = frame.of(a)[1]
        for cost, layout in _along(placed, v, paper.sizes):
            yield 0.4 * number + cost, partial(
                draw_length, placed, layout, paper.sizes, paper.runouts)


def _along(one: Straight, v: float, sizes: Sizes) -> Iterator[tuple[float, Layout]]:
    """Places of the lettering along one dimension line."""
    space = room(one, sizes, Frame(one.direction))
    arrow = sizes.arrow[0]
    if space.text_inside:
        middle, play = 0.5 * (space.low + space.high), 0.5 * (space.high - space.low) - space.half
        play -= arrow + 1.0
        yield 0.0, Layout(v, middle)
        for share in (0.5,) if play > 1.0 else ():
            yield 0.4 * share, Layout(v, middle - share * play)
            yield 0.4 * share, Layout(v, middle + share * play)
    if not space.text_inside or space.high - space.low < 25.0:
        away = arrow + 2.5 + space.half
        outside = 0.0 if not space.text_inside else 1.5
        for more in (0.0, 8.0):
            yield 0.3 + outside + 0.1 * more, Layout(v, space.high + away + more)
            yield 0.4 + outside + 0.1 * more, Layout(v, space.low - away - more)


def _rows(one: Straight, paper: Paper) -> Iterator[tuple[float, Layout]]:
    """Places of a dimension line: rows outside the part, and steps beside what it measures."""
    frame, sizes = Frame(one.direction), paper.sizes
    anchors = [[frame.of(p)[1] for p in side] for side in (one.first, one.second)]
    heights = paper.outline @ np.array(frame.n)
    low, high = float(heights.min()), float(heights.max())
    lines: list[tuple[float, float]] = []
    for k in range(SPARE_ROWS):
        cost = 0.35 * k if k < ROWS else 5.0 * k
        step = sizes.first_row + k * sizes.row
        lines += [(cost, low - step), (cost, high + step)]
    every = [v for side in anchors for v in side]
    for k in range(5):
        for at in {round(v, 6) for v in every}:
            for v in (at + sizes.first_row + k * sizes.row, at - sizes.first_row - k * sizes.row):
                if low - 1.0 < v < high + 1.0:
                    lines.append((6.0 + 0.5 * k, v))
    lines.append((6.0, 0.5 * (min(every) + max(every))))
    for cost, v in lines:
        reach = sum(_visible(side, v, frame, paper.runouts) for side in (one.first, one.second))
        for more, layout in _along(one, v, sizes):
            yield cost + 0.035 * reach + more, layout


def _visible(side: Sequence[XY], v: float, frame: Frame, runouts: Runouts) -> float:
    """Length of an extension line up to a dimension line, edges and center lines left out."""
    start = min(side, key=lambda p: abs(frame.of(p)[1] - v))
    away = v - frame.of(start)[1]
    sign = 1.0 if away > 0.0 else -1.0
    return max(0.0, abs(away) - runouts.past(start, (sign * frame.n[0], sign * frame.n[1])))
