"""What center lines a hand-in has, told from its own curves, beside those that it should have.

All is in mm on paper, in the place of the key. Judged is what can be seen: how lines were put
together, in which order, and which of several lawful ways was taken, costs nothing.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cached_property
from math import atan2, cos, dist, hypot, pi, sin
from typing import TYPE_CHECKING, TypeAlias

from sketcher.drafting.center_marks import center_marks
from sketcher.drafting.center_places import Center
from sketcher.drafting.features import Features
from sketcher.drafting.paper_view import MM_PER, View
from sketcher.drafting.tracks import Straight
from sketcher.geometry.bounds import bounds_of
from sketcher.geometry.curves import XY, Circle, Curve, Line
from sketcher.geometry.project import distance
from sketcher.marking.center_runs import CenterRun, CenterStroke, runs_of
from sketcher.marking.dash_phase import dashes_along
from sketcher.marking.key_shape import KeyShape
from sketcher.marking.marking_rule import Undecided
from sketcher.marking.paper_millimetres import paper_mm
from sketcher.marking.wanted_centers import (
    WantedAxis,
    WantedCenter,
    WantedLines,
    WantedRing,
    key_features,
    wanted_lines,
)

if TYPE_CHECKING:
    from sketcher.marking.comparison import Comparison
    from sketcher.marking.run_ends import RunEnd

NEAR = 0.15
"""A line nearer a center than this, in mm on paper, runs through it: it is wider than that."""
MISSED = 1.5
"""A line within this of a center, in mm on paper, is meant for it."""
CROSS = 0.5
"""Sine of the least angle at which two lines mark a center."""
SHARE = 0.6
"""Share of an axis that has to be drawn for it to be one."""
ROOM = 15.0
"""How far past the part, or past a hole, in mm, a stroke on a wrong layer is taken for a mark's."""

Crossed: TypeAlias = tuple[CenterRun, float, float]
"""A run through a place: where on it, and its direction there in radians, 0 to pi."""


class CenterEvidence:
    """The center lines of a hand-in beside those that it should have.

    Parameters
    ----------
    comparison : Comparison
    """

    def __init__(self, comparison: Comparison) -> None:
        self.comparison = comparison
        self.view = View(1.0 / paper_mm(comparison))
        self._crossed: dict[tuple[int, float], list[Crossed]] = {}

    @cached_property
    def wanted(self) -> WantedLines:
        """What it should have."""
        return wanted_lines(self.comparison, self.view)

    @cached_property
    def strokes(self) -> tuple[CenterStroke, ...]:
        """Its center lines, those on a wrong layer among them."""
        return tuple(self._strokes())

    @cached_property
    def misplaced(self) -> tuple[int, ...]:
        """Numbers in `Comparison.outline` of what is a center line by its form.

        It has to mark a center that is not marked without it: an axis or a pitch circle alone, or
        beside center lines that are complete, is construction.
        """
        comparison = self.comparison
        if comparison.hand_in.part is not None:
            return ()
        like = sorted({
            n for k in comparison.matching.extra for n in comparison.features[k].sources
            if looks_like_center_mark(comparison.outline[n].curve, comparison.shape)
            or self._is_of_moved(comparison.outline[n].curve)})
        if not like:
            return ()
        strokes = [self._stroke(each.curve, each.entity) for each in comparison.center_lines]
        more = {n: self._stroke(comparison.outline[n].curve, comparison.outline[n].entity)
                for n in like}
        before, after = self._put_together(strokes), self._put_together([*strokes, *more.values()])
        gained = [each for each in self.wanted.centers
                  if _best_cross(_reaching(before, each)) < CROSS
                  <= _best_cross(_reaching(after, each))]
        used = {id(placed.stroke) for each in gained for run, *_ in _through(after, each.at, NEAR)
                for placed in run.strokes}
        return tuple(n for n in like if id(more[n]) in used or (gained and not strokes))

    def _is_of_moved(self, curve: Curve) -> bool:
        """Tell whether a curve lies as a mark of a hole would that was drawn elsewhere."""
        placed = self.view.curve(curve)
        return isinstance(placed, Line) and any(
            dist(each.at, each.planned) > NEAR
            and _is_along(placed, each.at, (*each.ways, 0.0, 0.5 * pi))
            and _is_near(placed, each.at, each.radius) for each in self.wanted.centers)

    @cached_property
    def runs(self) -> tuple[CenterRun, ...]:
        """Its center lines, from end to end."""
        return tuple(self._put_together(self.strokes))

    def _put_together(self, strokes: Sequence[CenterStroke]) -> list[CenterRun]:
        return runs_of(strokes, [(each.at, each.radius) for each in self.wanted.centers])

    @cached_property
    def doubled(self) -> list[list[CenterStroke]]:
        """Strokes that lie on each other, those of one center line together."""
        from sketcher.marking.doubled_runs import doubled_strokes

        return doubled_strokes(self.strokes, self.runs)

    @cached_property
    def ends(self) -> tuple[tuple[CenterRun, tuple[RunEnd, RunEnd]], ...]:
        """The ends of those that have any, the lower one first."""
        from sketcher.marking.run_ends import run_ends

        return tuple(run_ends(self))

    @property
    def blank(self) -> bool:
        """Tell whether it has no center line at all, where there should be marks."""
        return not self.strokes and bool(self.wanted.centers)

    @cached_property
    def undecided(self) -> Undecided | None:
        """Why nothing can be said of how its center lines were drawn."""
        if self.comparison.hand_in.part is None:
            return None
        return Undecided("a part file has its center lines by rule")

    @cached_property
    def all_by_rule(self) -> Undecided | None:
        """Why nothing can be said of which center lines it has: none is switched off."""
        part = self.comparison.hand_in.part
        if part is not None and any(entry.get("off", False)
                                    for entry in part.drawing.centers.values()):
            return None
        return self.undecided

    def back(self, at: XY) -> XY:
        """Return a place on paper in the key's unit."""
        return self.view.back(at)

    def through(self, center: WantedCenter, within: float = NEAR) -> list[Crossed]:
        """Return the runs through a center, where the hand-in or where the key has it."""
        if (id(center), within) not in self._crossed:
            self._crossed[id(center), within] = self._through_either(center, within)
        return self._crossed[id(center), within]

    def _through_either(self, center: WantedCenter, within: float) -> list[Crossed]:
        found = _through(self.runs, center.at, within)
        if dist(center.at, center.planned) > within:
            other = _through(self.runs, center.planned, within)
            if _best_cross(other) > _best_cross(found):
                return other
        return found

    def is_marked(self, center: WantedCenter) -> bool:
        """Tell whether two lines cross at a center."""
        return _best_cross(self.through(center)) >= CROSS

    def along(self, axis: WantedAxis) -> list[CenterRun]:
        """Return the runs on an axis."""
        found = []
        for run in self.runs:
            if isinstance(run.carrier, Straight):
                near = [axis.carrier.where(run.carrier.at(s)) for s in (run.low, run.high)]
                if max(abs(off) for _, off in near) <= NEAR and (
                        max(s for s, _ in near) > axis.low and min(s for s, _ in near) < axis.high):
                    found.append(run)
        return found

    def has(self, axis: WantedAxis) -> bool:
        """Tell whether an axis is drawn, by more than the marks that lie on it."""
        drawn = 0.0
        for run in self.along(axis):
            low, high = sorted(axis.carrier.where(run.carrier.at(s))[0]
                               for s in (run.low, run.high))
            drawn += min(high, axis.high) - max(low, axis.low)
        return drawn >= SHARE * (axis.high - axis.low)

    def ring(self, ring: WantedRing) -> CenterRun | None:
        """Return the round run through the centers of a pitch circle or curved slot."""
        for run in self.runs:
            if not isinstance(run.carrier, Straight) and all(
                    self._holds(run, center) for center in ring.places):
                return run
        return None

    def _holds(self, run: CenterRun, center: WantedCenter) -> bool:
        for at in (center.at, center.planned):
            s, off = run.place(at)
            if abs(off) <= NEAR and (run.holds(s) or min(
                    abs(s - run.low), abs(s - run.high)) <= center.radius):
                return True
        return False

    def _strokes(self) -> Iterator[CenterStroke]:
        hand_in = self.comparison.hand_in
        if hand_in.part is not None:
            inner = MM_PER[hand_in.part.unit]
            for mark in center_marks(hand_in.part, View(inner)):
                for stroke in mark.strokes:
                    curve = View(1.0 / inner).curve(stroke.curve)
                    yield self._stroke(self.comparison.pose.curve(curve), 0)
            return
        for each in self.comparison.center_lines:
            yield self._stroke(each.curve, each.entity)
        for n in self.misplaced:
            yield self._stroke(self.comparison.outline[n].curve, self.comparison.outline[n].entity)

    def _stroke(self, curve: Curve, entity: int) -> CenterStroke:
        placed = self.view.curve(curve)
        entry = self.comparison.hand_in.entities.get(entity)
        pattern: tuple[float, ...] = ()
        if entry is not None and not isinstance(placed, Circle):
            per = self.comparison.pose.scale * self.view.factor
            pattern = tuple(per * size for size in entry.dashes)
        typed = entry is not None and bool(entry.dashes)
        return CenterStroke(placed, entity, dashes_along(placed.length, pattern), typed)


def _through(runs: Sequence[CenterRun], at: XY, within: float) -> list[Crossed]:
    found = []
    for run in runs:
        s, off = run.place(at)
        if abs(off) <= within and run.holds(s):
            ux, uy = run.carrier.heading(s)
            found.append((run, s, atan2(uy, ux) % pi))
    return found


def _reaching(runs: Sequence[CenterRun], center: WantedCenter) -> list[Crossed]:
    """Return the runs through a center that reach its outline: a plus alone does not mark it."""
    return [(run, s, way) for run, s, way in _through(runs, center.at, NEAR) if run.closed
            or max(s - run.low, run.high - s) >= center.radius - NEAR]


def _best_cross(crossed: list[Crossed]) -> float:
    return max((abs(sin(a - b)) for _, _, a in crossed for _, _, b in crossed), default=-1.0)


def looks_like_center_mark(curve: Curve, key: KeyShape) -> bool:
    """Tell whether a curve that is no outline of the key lies as a center line of it would.

    Parameters
    ----------
    curve : Curve
        In the key's unit and place.
    key : KeyShape

    Notes
    -----
    A line counts on an axis, on a row of two centers, or along one of the two lines of a mark near
    its center, a circle or arc as a pitch circle or the middle of a curved slot.
    """
    per = MM_PER[key.part.unit]
    features, _ = key_features(key, per)
    placed = View(per).curve(curve)
    if not isinstance(placed, Line):
        rings = [*((p.center, p.radius) for p in features.pitches),
                 *((p.center, p.radius) for p in features.paths)]
        return any(dist(placed.center, at) <= NEAR and abs(placed.radius - radius) <= NEAR
                   for at, radius in rings)
    x0, y0, x1, y1 = (per * edge for edge in bounds_of(piece.curve for piece in key.pieces))
    if any(not (x0 - ROOM <= x <= x1 + ROOM and y0 - ROOM <= y <= y1 + ROOM)
           for x, y in (placed.start, placed.end)) or _is_an_edge(placed, features):
        return False
    on = [center for center in features.centers if _is_along(placed, center.at, _ways(center))]
    return len(on) > 1 or any(_lies_on(placed, axis) for _, axis in features.axes) or any(
        _is_near(placed, center.at, max((curve.radius for _, curve in center.rounds), default=0.0))
        for center in on)


def _is_an_edge(line: Line, features: Features) -> bool:
    return any(isinstance(piece.curve, Line) and _lies_on(line, piece.curve)
               and min(distance(piece.curve, p) for p in (line.start, line.end)) <= NEAR
               for piece in features.outline)


def _lies_on(line: Line, carrier: Line) -> bool:
    return all(distance(carrier, p, bounded=False) <= NEAR
               for p in (line.start, line.end))


def _ways(center: Center) -> list[float]:
    """Return the directions that the lines of a mark may have."""
    ways = [0.0, 0.5 * pi, center.turn, center.turn + 0.5 * pi]
    about = center.polar or center.path
    return ways if about is None else [
        *ways, atan2(center.at[1] - about[1], center.at[0] - about[0])]


def _is_along(line: Line, at: XY, ways: Sequence[float]) -> bool:
    """Tell whether a line lies on one of the lines through a place, however far off."""
    ux, uy = line.direction
    return distance(line, at, bounded=False) <= NEAR and (ux, uy) != (0.0, 0.0) and any(
        abs(ux * sin(way) - uy * cos(way)) <= 0.02 for way in ways)


def _is_near(line: Line, at: XY, reach: float) -> bool:
    """Tell whether a line through a place crosses it, or begins near it."""
    x, y = at
    away = min(hypot(p - x, q - y) for p, q in (line.start, line.end))
    inside = (line.start[0] - x) * (line.end[0] - x) + (line.start[1] - y) * (line.end[1] - y) < 0.0
    return inside or away <= reach + ROOM
