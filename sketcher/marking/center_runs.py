"""Strokes of center lines put together: what lies on one line or circle, dash after dash, is a run.

A student draws a center line as one line with a line type, or stroke by stroke with the gaps left
open; both become the same run here. All is in mm on paper.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from math import atan2, dist, tau

import numpy as np

from sketcher.drafting.center_places import swept
from sketcher.drafting.tracks import Carrier, Round, Straight, straight
from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.marking.carrier_spans import CarrierSpan, united
from sketcher.marking.dash_phase import Dash

ON = 0.15
"""Half of a narrow line, mm: what is nearer lies on one line on paper."""
GAP = 3.5
"""Longest gap between two dashes of one line, mm; the patterns of ISO 128 and ASME Y14.2 have 0.75
and 1.5, by hand up to twice as much: common practice, no source."""
LEAST = 1e-6
TOUCH = 0.05
"""Dashes that come nearer each other, in mm, are one."""


@dataclass(frozen=True, slots=True)
class CenterStroke:
    """A curve of a center line on paper.

    Parameters
    ----------
    curve : Curve
    entity : int
    dashes : tuple of (float, float)
        Its dashes along it from its start.
    typed : bool
        Whether a line type makes them.
    """

    curve: Curve
    entity: int
    dashes: tuple[Dash, ...]
    typed: bool = False


@dataclass(frozen=True, slots=True)
class PlacedStroke:
    """A stroke on the carrier of its run, from where to where."""

    low: float
    high: float
    stroke: CenterStroke


@dataclass(slots=True)
class CenterRun:
    """A center line as it is seen: from end to end on its carrier."""

    carrier: Carrier
    low: float
    high: float
    strokes: list[PlacedStroke] = field(default_factory=list)
    closed: bool = False

    @property
    def curve(self) -> Curve:
        """The whole extent."""
        return self.carrier.curve(self.low, self.high)

    @property
    def entities(self) -> tuple[int, ...]:
        """Entities that it was drawn with."""
        return tuple(sorted({placed.stroke.entity for placed in self.strokes}))

    def place(self, at: XY) -> tuple[float, float]:
        """Return where the foot of a place is on the run, and how far off it is."""
        return self.carrier.where_near(at, 0.5 * (self.low + self.high))

    def holds(self, s: float) -> bool:
        """Tell whether a place along it lies between its ends."""
        return self.closed or self.low - ON <= s <= self.high + ON

    def end(self, sign: int) -> float:
        """Return its upper end for 1, its lower one for -1."""
        return self.high if sign > 0 else self.low

    def dashes(self) -> list[CarrierSpan]:
        """Return what is seen of it, dash after dash; what touches is one."""
        return united(self._placed_dashes(), TOUCH)

    def _placed_dashes(self) -> Iterator[Dash]:
        for placed in self.strokes:
            turned = self._begins_high(placed)
            for low, high in placed.stroke.dashes:
                yield ((placed.high - high, placed.high - low) if turned
                       else (placed.low + low, placed.low + high))

    def _begins_high(self, placed: PlacedStroke) -> bool:
        curve = placed.stroke.curve
        if isinstance(curve, Line):
            s, _ = self.place(curve.start)
            return abs(s - placed.high) < abs(s - placed.low)
        return isinstance(curve, Arc) and curve.sweep < 0.0


def runs_of(
    strokes: Iterable[CenterStroke], bridges: Sequence[tuple[XY, float]] = ()
) -> list[CenterRun]:
    """Return the runs that strokes make.

    Parameters
    ----------
    strokes : iterable of CenterStroke
    bridges : sequence of ((x, y), float)
        Centers with their radii: a gap that lies wholly within one on its line parts nothing.
    """
    strokes = list(strokes)
    found: list[CenterRun] = []
    for carrier, members in (*_on_lines(strokes), *_on_circles(strokes)):
        found += _chained(carrier, members, bridges)
    return found


def _on_lines(strokes: Sequence[CenterStroke]) -> list[tuple[Carrier, list[PlacedStroke]]]:
    lines = [(s, s.curve) for s in strokes
             if isinstance(s.curve, Line) and s.curve.length > LEAST]
    lines.sort(key=lambda each: -each[1].length)
    groups: list[tuple[Straight, list[PlacedStroke]]] = []
    bases = np.zeros((len(lines), 4))
    for stroke, line in lines:
        x0, y0, ux, uy = bases[:len(groups)].T
        vx, vy = line.direction
        off = [np.abs(ux * (y - y0) - uy * (x - x0)) for x, y in (line.start, line.end)]
        homes = np.flatnonzero((np.maximum(*off) <= ON) & (np.abs(ux * vy - uy * vx) <= 0.05))
        if len(homes):
            carrier, members = groups[int(homes[0])]
        else:
            carrier, members = straight(line.start, atan2(vy, vx)), []
            bases[len(groups)] = (*carrier.origin, *carrier.direction)
            groups.append((carrier, members))
        low, high = sorted(carrier.where(p)[0] for p in (line.start, line.end))
        members.append(PlacedStroke(low, high, stroke))
    return [*groups]


def _on_circles(strokes: Sequence[CenterStroke]) -> list[tuple[Carrier, list[PlacedStroke]]]:
    groups: list[tuple[Round, list[PlacedStroke]]] = []
    rounds = [(s, s.curve) for s in strokes if not isinstance(s.curve, Line)]
    rounds.sort(key=lambda each: -swept((each[1],)))
    for stroke, curve in rounds:
        home = next(((c, m) for c, m in groups if abs(c.radius - curve.radius) <= ON
                     and dist(c.center, curve.center) <= ON), None)
        if home is None:
            home = (Round(curve.center, curve.radius), [])
            groups.append(home)
        carrier, members = home
        begin = 0.0 if isinstance(curve, Circle) else (
            curve.start_angle + min(curve.sweep, 0.0)) % tau
        members.append(PlacedStroke(begin * carrier.radius,
                                    (begin + swept((curve,))) * carrier.radius, stroke))
    return [*groups]


def _chained(
    carrier: Carrier, members: Sequence[PlacedStroke], bridges: Sequence[tuple[XY, float]]
) -> list[CenterRun]:
    holes = []
    for at, radius in bridges:
        s, off = carrier.where(at)
        if abs(off) <= ON:
            holes.append((s - radius, s + radius))
    found: list[CenterRun] = []
    for each in sorted(members, key=lambda m: m.low):
        last = found[-1] if found else None
        if last is not None and (each.low <= last.high + GAP or any(
                low <= last.high + ON and each.low - ON <= high for low, high in holes)):
            last.strokes.append(each)
            last.high = max(last.high, each.high)
        else:
            found.append(CenterRun(carrier, each.low, each.high, [each]))
    if isinstance(carrier, Round):
        _close(carrier, found)
    return found


def _close(carrier: Round, found: list[CenterRun]) -> None:
    """Join the last run of a circle to the first one across its seam."""
    turn = tau * carrier.radius
    first, last = found[0], found[-1]
    if last.high + GAP < first.low + turn:
        return
    if first is last:
        first.closed = True
        first.high = first.low + turn
        return
    first.strokes[:0] = [PlacedStroke(p.low - turn, p.high - turn, p.stroke)
                         for p in last.strokes]
    first.low = last.low - turn
    found.pop()
