"""The places of a length: rows outside the part, steps beside what it measures, straight across."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace
from functools import cached_property

import numpy as np

from sketcher.drafting.draw_length import Frame, LineStand, draw_length, room
from sketcher.drafting.drawn_dimension import Drawn
from sketcher.drafting.layout.dimension_places import Options, Place, Places, TakenRows
from sketcher.drafting.layout.ink import NEVER, Array, Batch
from sketcher.drafting.layout.shapes import lengths
from sketcher.drafting.measured import MeasuredLength
from sketcher.geometry.curves import XY, Line

ROW, NEAR, MIDDLE, ACROSS, STEP = 0, 1, 2, 3, 4
"""Where a dimension line stands: in a row outside the part, in one outside the stretch of outline
that it measures, between its two ends, straight across, and from `STEP` on beside an end."""

SLOTS = -1
WITHIN, OVER, UNDER = 0, 1, 2  # lettering between the arrowheads, or past one of them
ROW_COST, FAR_ROW, ROWS = 0.35, 5.0, 18
"""A row further out, and from the eighteenth on, where a sheet ends."""
ROWS_OF = ((0, 9), (9, ROWS), (ROWS, 40))
"""Rows by the stage in which they are looked at."""
LINE_COST = 0.035  # a millimetre of extension line: ten of them are as dear as a row
NEAR_COST, STEP_COST = 1.0, 14.0
"""Between the arms of a part one looks for a dimension before the rows outside only if those are
far; within the part it may be taken for outline."""
SLOT_COST, OUTSIDE_COST = 0.4, 1.5
AHEAD = 0.5
"""Lettering beside a short length walls in each other length that ends under it: its extension
line could not pass. The other side of the arrowheads is better then."""
BESIDE = 2.0  # mm: outline so near to the ends of a length counts as its stretch


@dataclass
class LengthPlaces(Places):
    """Places of a length: rows outside the part, and steps beside what it measures."""

    width = 5
    one: MeasuredLength = field(kw_only=True)
    ends: Array = field(kw_only=True, default_factory=lambda: np.zeros(0))
    """Where all lengths of one direction end along it, rising."""

    def holds(self, place: Place) -> bool:
        """Tell whether a place is one of this length: straight across, or in a row or step."""
        return super().holds(place) and (place[0] == ACROSS) == bool(self.one.inline)

    @cached_property
    def frame(self) -> Frame:
        """Along the measure and square to it."""
        return Frame(self.one.direction)

    @cached_property
    def space(self) -> tuple[float, float, float, float, bool]:
        """Low and high end, and how far the dimension line reaches with tails, lettering inside."""
        space = room(self.one, self.sizes, self.frame)
        tail = 0.0 if space.arrows_inside else self.sizes.tail
        return (space.low, space.high, space.half, tail, space.text_inside)

    @cached_property
    def heights(self) -> list[float]:
        """Where its ends are square to the measure, each once."""
        every = (self.frame.of(p)[1] for p in (*self.one.first, *self.one.second))
        return sorted({round(v, 6) for v in every})

    @cached_property
    def bases(self) -> dict[int, tuple[float, float]]:
        """Height of the outline below and above, of the whole and of the own stretch.

        Lengths at an angle begin at their own stretch: rows at the far corner of the part would
        be nobody's. Level and plumb ones share their rows with all others of the part.
        """
        frame, edges = self.frame, self.ground.edges
        low, high = self.space[0] - BESIDE, self.space[1] + BESIDE
        s = edges[:, 0::2] * frame.u[0] + edges[:, 1::2] * frame.u[1]
        v = edges[:, 1::2] * frame.u[0] - edges[:, 0::2] * frame.u[1]
        run = np.where(np.abs(s[:, 1] - s[:, 0]) < 1e-9, 1e-9, s[:, 1] - s[:, 0])
        t = np.clip((np.array((low, high)) - s[:, :1]) / run[:, None], 0.0, 1.0)
        at = v[:, :1] + t * (v[:, 1:] - v[:, :1])
        met = (s.min(axis=1) < high) & (s.max(axis=1) > low)
        own = np.concatenate((at[met].ravel(), self.heights))
        near = {-1: float(own.min()), 1: float(own.max())}
        if min(abs(frame.u[0]), abs(frame.u[1])) > 1e-9:
            whole = near
        else:
            whole = {-1: min(near[-1], float(v.min(initial=np.inf))),
                     1: max(near[1], float(v.max(initial=-np.inf)))}
        return {side: (whole[side], near[side]) for side in (-1, 1)}

    def ladder(self, side: float) -> tuple[float, float]:
        """Return the rows that it shares with all others of one direction."""
        u = self.one.direction
        return (round(side * u[0], 4), round(side * u[1], 4))

    @cached_property
    def _levels(self) -> Array:
        """What rows are counted from, below and above, by where they stand (`ROW` to `STEP`)."""
        middle = 0.5 * (self.heights[0] + self.heights[-1])
        pairs = [(self.bases[-1][k], self.bases[1][k]) for k in (0, 1)]
        pairs += [(middle, middle), (np.nan, np.nan)] + [(v, v) for v in self.heights]
        return np.array(pairs)

    def height(self, where: Array, side: Array, row: Array) -> Array:
        """Return where dimension lines stand, square to the measure."""
        # A step beside an end that another part has no more stands beside its last one.
        number = np.minimum(where, len(self._levels) - 1).astype(int)
        level = self._levels[number, (side > 0.0).astype(int)]
        away = self.sizes.first_row + row * self.sizes.row
        return np.asarray(level + np.where(where == MIDDLE, 0.0, side * away))

    def of_stage(self, number: int) -> Array | None:
        """Return straight across; or the near rows with steps within the part, and further rows."""
        if self.one.inline:
            return self._across() if number == 0 else None
        if number >= len(ROWS_OF):
            return None
        lines = [(ROW, side, row) for side in (-1, 1) for row in range(*ROWS_OF[number])]
        if number == 0:
            lines += [(NEAR, side, row) for side in (-1, 1) for row in range(2)
                      if side * (self.bases[side][0] - self.bases[side][1])
                      > self.sizes.first_row + row * self.sizes.row]
            lines += self._steps
        return self._along(lines)

    def bound(self, number: int) -> float:
        """Return what a place of a stage costs at least by itself."""
        if number == 0:
            return 0.0
        if self.one.inline or number >= len(ROWS_OF):
            return np.inf
        # Each row further out costs more by itself than the one before.
        return _last_of_each_side(self.known[number - 1]) + ROW_COST

    def _kept(self, key: object, make: Callable[[], Array]) -> Options:
        if key not in self.known:
            self.known[key] = self.options(make())
        return self.known[key]

    def _along(self, lines: Iterable[tuple[int, int, int]]) -> Array:
        """Return every slot of the lettering on some dimension lines."""
        return np.array([(*line, *slot) for line in lines for slot in self._first_slots], float)

    def slots(self, options: Options, cost: Array, least: float) -> Options | None:
        """Return further places of the lettering on lines that are free but for the lettering.

        As long as the first place is free, no other on the same line is cheaper.
        """
        some = (cost >= NEVER) & (options.bare < least) & (cost % NEVER < least)
        first = len(self._first_slots)
        if not some.any() or first == len(self.on_line):
            return None
        lines = {tuple(line) for line in options.places[some, :3].tolist()}
        if self.one.inline:
            ways = [(*line, *slot) for line in sorted(lines)
                    for slot in self._ways[int(line[1])].on_line[1:]]
            key = (SLOTS, *sorted(lines))
            return self._kept(key, lambda: np.array(ways, float)) if ways else None
        return self._kept((SLOTS, *sorted(lines)), lambda: np.array(
            [(*line, *slot) for line in sorted(lines) for slot in self.on_line[first:]], float))

    @cached_property
    def _first_slots(self) -> list[tuple[int, float]]:
        return self.on_line[:1] if self.space[4] else self.on_line[:2]

    @cached_property
    def on_line(self) -> list[tuple[int, float]]:
        """The places of the lettering along a dimension line, the best first."""
        low, high, _, _, fits = self.space
        slots: list[tuple[int, float]] = []
        if fits:
            slots += [(WITHIN, share) for share in (0.0, 0.5, -0.5, 0.95, -0.95)]
        if not fits or high - low < 25.0:
            slots += [(end, more) for more in (0.0, 8.0) for end in (OVER, UNDER)]
        return slots

    @property
    def _steps(self) -> list[tuple[int, int, int]]:
        below, above = (self.bases[side][0] for side in (-1, 1))
        lines = [(STEP + k, side, row) for k in range(len(self.heights)) for row in range(3)
                 for side in (-1, 1)]
        at = self.height(*np.array(lines, float).T).tolist()
        return [(MIDDLE, 1, 0)] + [line for line, v in zip(lines, at, strict=True)
                                   if below < v < above]

    def _across(self) -> Array:
        return np.array([(ACROSS, number, 0, *slot) for number, one in enumerate(self._ways)
                         for slot in one.on_line[:1]], float)

    @cached_property
    def _ways(self) -> list[LengthPlaces]:
        """The same straight across at other places, each as a length of its own."""
        found = []
        for a, b in self.one.inline:
            way = Line(a, b).direction
            flip = way[0] < -1e-9 or (abs(way[0]) <= 1e-9 and way[1] < 0.0)
            u = (-way[0], -way[1]) if flip else way
            one = replace(self.one, direction=u, first=(a,), second=(b,), inline=())
            found.append(LengthPlaces(self.number, self.ground, self.sizes, one=one))
        return found

    def ink(self, places: Array) -> tuple[Array, Batch]:
        """Return what places cost by themselves, and what they would draw."""
        if self.one.inline:
            return self._ink_across(places)
        columns = places.T
        v, s = self.height(*columns[:3]), self.slot(*columns[3:])
        batch, reach = lengths(self.one, v, s, self.sizes, self.ground.runouts)
        return self._own(places) + LINE_COST * reach, batch

    def _ink_across(self, places: Array) -> tuple[Array, Batch]:
        own = 0.4 * places[:, 1] + self._own(places)
        parts, at = [], np.arange(len(places))
        for number, one in enumerate(self._ways):
            some = at[places[:, 1] == number]
            if len(some):
                s = one.slot(*places[some, 3:].T)
                v = np.full(len(some), one.heights[0])
                batch = lengths(one.one, v, s, self.sizes, self.ground.runouts)[0]
                parts.append((some, batch))
        order = np.concatenate([some for some, _ in parts])
        boxes = np.empty((len(places), 6))
        boxes[order] = np.concatenate([b.boxes for _, b in parts])
        joined = Batch(np.concatenate([b.pieces for _, b in parts]),
                       np.concatenate([b.kinds for _, b in parts]),
                       np.concatenate([some[b.place] for some, b in parts]), boxes, True)
        return own, joined

    def _own(self, places: Array) -> Array:
        where, row, mode, more = places[:, 0], places[:, 2], places[:, 3], places[:, 4]
        far = np.where(row < ROWS, ROW_COST, FAR_ROW) * row
        cost = np.where(where == NEAR, NEAR_COST, 0.0)
        cost += np.where((where == MIDDLE) | (where >= STEP), STEP_COST, 0.0) + far
        outside = 0.3 + (OUTSIDE_COST if self.space[4] else 0.0)
        slot = np.where(mode == WITHIN, SLOT_COST * np.abs(more), outside + 0.1 * more)
        low, high, half, _, _ = self.space
        away = 2.0 * half + self.sizes.tail + 0.5 + more
        for end, one, other in ((OVER, high, high + away), (UNDER, low - away, low)):
            walled = (np.searchsorted(self.ends, other - 0.05)
                      - np.searchsorted(self.ends, one + 0.05))
            slot += AHEAD * np.where(mode == end, walled, 0)
        return np.asarray(cost + slot)

    def slot(self, mode: Array, more: Array) -> Array:
        """Return where along the measure the middle of the lettering stands."""
        low, high, half, _, _ = self.space
        arrow = self.sizes.arrow[0]
        away = self.sizes.tail + 0.5 + half + more
        free = max(0.0, 0.5 * (high - low) - half - arrow - 1.0)
        return np.where(mode == OVER, high + away, np.where(
            mode == UNDER, low - away, 0.5 * (low + high) + more * free))

    def draw(self, place: Place) -> Drawn:
        """Draw the length at a place."""
        if self.one.inline:
            way = self._ways[min(int(place[1]), len(self._ways) - 1)]
            stand = LineStand(way.heights[0], float(way.slot(*np.array(place[3:]))))
            return draw_length(way.one, stand, self.sizes, self.ground.runouts)
        at = np.array(place)
        stand = LineStand(float(self.height(*at[:3])), float(self.slot(*at[3:])))
        return draw_length(self.one, stand, self.sizes, self.ground.runouts)

    def draw_at(self, at: XY) -> Drawn:
        """Draw it with the middle of its lettering at a place on paper."""
        s, v = self.frame.of(at)
        if self.sizes.practice == "ISO":
            v -= self.sizes.clear + 0.5 * self.sizes.lettering(self.one.wording)[1]
        return draw_length(self.one, LineStand(v, s), self.sizes, self.ground.runouts)

    @property
    def most(self) -> int:
        """Two extension lines with two edges each to a lost corner, the dimension line in four."""
        lost = not self.one.inline and any(
            self.ground.runouts.corners.strokes(at) for at in (*self.one.first, *self.one.second))
        return 10 if lost else 6

    def take(self, rows: TakenRows, place: Place) -> None:
        """Note the row that it stands in."""
        super().take(rows, place)
        if not self.one.inline and place[0] == ROW:
            low, high, _, tail, _ = self.space
            rows.take(self.ladder(place[1]), self.number, int(place[2]), low - tail, high + tail)

    @property
    def ladders(self) -> tuple[tuple[float, float], ...]:
        """Both sides of the part; none for what stands straight across."""
        return () if self.one.inline else (self.ladder(-1.0), self.ladder(1.0))

    @property
    def size(self) -> float:
        """Length on paper."""
        return self.space[1] - self.space[0]

    def stands_within(self, place: Place) -> bool:
        """Tell whether it stands in a step or between its ends."""
        return not self.one.inline and (place[0] == MIDDLE or place[0] >= STEP)

    def could_come_in(self, rows: TakenRows, place: Place) -> bool:
        """Tell whether a nearer row of its side is free."""
        if self.one.inline or place[0] != ROW or place[2] == 0:
            return False
        low, high, _, tail, _ = self.space
        return rows.nearest(self.ladder(place[1]), low - tail, high + tail,
                            self.number) < place[2]


def _last_of_each_side(options: Options) -> float:
    """Return the cheapest by itself of the furthest rows of both sides."""
    where, side, row = options.places[:, :3].T
    last = [options.bare[some & (row == row[some].max())].min()
            for way in (-1.0, 1.0) if (some := (where == ROW) & (side == way)).any()]
    return float(min(last, default=np.inf))
