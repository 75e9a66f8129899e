"""Ends of center lines: even overhang past the outline, and room for other marks.

Rules, in mm on paper. An end runs past the last outline that it crosses by the overhang. It stops
short of the outline of a neighbour that has a mark of its own. Where it would end on another center
line, run along one, or cross it with less than a visible tail, it stops before that line. These are
common practice, no source, except that a center line neither ends on a line nor runs on into
another feature (US Navy Draftsman training; course notes).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import dist, radians, sin

import numpy as np

from sketcher.drafting.tracks import Hub, Node, Round, Track
from sketcher.geometry.bounds import Box, bounds, tolerance
from sketcher.geometry.curve_table import (
    CurveTable,
    Floats,
    Ints,
    pair_portions,
    pairs,
    pairs_between,
)
from sketcher.geometry.curves import XY, Curve, Line
from sketcher.geometry.evaluate import direction_at
from sketcher.geometry.meet import meet
from sketcher.geometry.meet_many import meetings, meetings_between
from sketcher.geometry.project import nearest
from sketcher.interrupt import check
from sketcher.progress import counted

NEAR = 0.8  # an end closer than this to an outline goes past it
SHORT_OF = 1.0  # room before a neighbour's outline
LEAST_PLUS = 0.6  # half of the shortest dash across a center
TAIL = 1.2  # least visible piece behind a crossing
LEAST_DASH = 1.6  # an end of less looks like a stray dot
BESIDE = 0.8  # lines closer than this run along each other: ISO 128-2 has 0.7 (from memory)
SLENDER = radians(15)  # crossings sharper than this count as running along
STEP = 0.25
SURE = 1e-6  # mm by which a crossing is told without a closer look
CROWD = 20_000
"""Pairs of center lines near each other above which none gives way: they are of holes that overlap
by the hundred, and there is no room to give."""


@dataclass(frozen=True, slots=True)
class Outlines:
    """Outline curves on paper; `marked` are those of features with a mark of their own."""

    curves: Sequence[tuple[str, Curve]]
    marked: frozenset[str]


def run_past(tracks: Iterable[Track], outlines: Outlines, overhang: float) -> None:
    """Settle each end against the outlines."""
    ends = [end for track in tracks if not (track.closed or track.full or not track.nodes)
            for end in (_End(track, 1), _End(track, -1))
            if end.sign not in track.fixed and end.runs_on]
    curves = [end.probe() for end in ends] + [curve for _, curve in outlines.curves]
    crossed: list[list[tuple[float, str]]] = [[] for _ in ends]
    for met in meetings_between(CurveTable(curves), len(ends), tolerance(curves)):
        apart = ~met.shared
        for k, j, point in zip(met.a[apart].tolist(), met.b[apart].tolist(),
                               met.point[apart].tolist(), strict=True):
            name, end = outlines.curves[j - len(ends)][0], ends[k]
            if name not in end.track.own:
                crossed[k].append((end.away(end.track.place(point)[0]), name))
    for end, crossings in zip(ends, crossed, strict=True):
        if crossings:
            end.settle(sorted(crossings), outlines.marked, overhang)


@dataclass(frozen=True, slots=True)
class _End:
    """One end of a track: the upper for `sign` 1, the lower for -1."""

    track: Track
    sign: int

    @property
    def node(self) -> Node:
        """The hub that it runs out from."""
        return self.track.nodes[-1 if self.sign > 0 else 0]

    @property
    def reach(self) -> float:
        """From the hub to its own outline."""
        return self.node.reach[1 if self.sign > 0 else 0]

    @property
    def s(self) -> float:
        return self.track.high if self.sign > 0 else self.track.low

    @property
    def runs_on(self) -> bool:
        """Whether it goes past its own outline."""
        return self.away(self.s) > self.reach + 0.1

    def away(self, s: float) -> float:
        """Return the way from the hub to a place on the track, outwards."""
        return self.sign * (s - self.node.s)

    def probe(self) -> Curve:
        """Return the piece in which an outline matters."""
        start = self.node.s + self.sign * (self.reach + 0.05)
        return self.track.carrier.curve(*sorted((start, self.s + self.sign * NEAR)))

    def settle(
        self, crossings: Sequence[tuple[float, str]], marked: frozenset[str], overhang: float
    ) -> None:
        """Stop short of a neighbour that has a mark of its own, or else past the last outline."""
        first, name = crossings[0]
        away = crossings[-1][0] + overhang
        if name in marked:
            stop = first - SHORT_OF
            away = stop if stop > self.reach + 0.5 else 0.5 * (self.reach + first)
        place = self.node.s + self.sign * away
        if self.sign > 0:
            self.track.high = place
        else:
            self.track.low = place


def give_way(tracks: Sequence[Track], gap: float) -> None:
    """Shorten ends that would run into another track; weaker tracks give way first."""
    reach = _Reach(tracks)
    # Ends only ever come back to where they are now, so what is far off stays far off.
    near = _near(reach.boxes, max(2.0, gap))
    if near is None:
        return
    wanted = [(t.low, t.high) for t in tracks]
    order = sorted(range(len(tracks)), key=lambda k: (tracks[k].rank, len(tracks[k].nodes)))
    for k in counted(order):
        track = tracks[k]
        if track.closed or track.full or not track.nodes:
            continue
        for sign in {1, -1} - track.fixed:
            _shorten(track, sign, near[k], reach, gap)
            reach.update(k)
    # What an end gave way to may itself have given way since: take back what is free again.
    for k in order:
        check()
        for sign in (1, -1):
            _take_back(k, sign, wanted[k], near[k], reach, gap)


class _Reach:
    """How far the tracks reach now: their curves, boxes and, of straight ones, their ends.

    `ends` has rows x0, y0, x1, y1, not a number where a track is round.
    """

    def __init__(self, tracks: Sequence[Track]) -> None:
        self.tracks = tracks
        self.curves: list[Curve] = [t.curve() for t in tracks]
        self.boxes: Floats = np.zeros((len(tracks), 4))
        self.ends: Floats = np.full((len(tracks), 4), np.nan)
        for k, curve in enumerate(self.curves):
            self._put(k, curve)

    def update(self, k: int) -> None:
        """Take over what a track has become."""
        self.curves[k] = self.tracks[k].curve()
        self._put(k, self.curves[k])

    def _put(self, k: int, curve: Curve) -> None:
        self.boxes[k] = bounds(curve)
        if isinstance(curve, Line):
            self.ends[k] = (*curve.start, *curve.end)

    def beside(self, near: Ints, box: Box) -> Ints:
        """Return which of some tracks come near a box."""
        x0, y0, x1, y1 = box
        a, b, c, d = self.boxes[near].T
        kept: Ints = near[(a <= x1 + 2) & (c >= x0 - 2) & (b <= y1 + 2) & (d >= y0 - 2)]
        return kept


def _near(boxes: Floats, margin: float) -> list[Ints] | None:
    """For each box the numbers of those that come near, rising; None where there are too many."""
    parts, count = [], 0
    for i, j in pair_portions(boxes, margin):
        count += len(i)
        if count > CROWD:
            return None
        parts.append((np.concatenate((i, j)), np.concatenate((j, i))))
    none = np.zeros(0, np.intp)
    of, other = (np.concatenate(column) for column in zip((none, none), *parts, strict=True))
    order = np.lexsort((other, of))
    return np.split(other[order], np.searchsorted(of[order], np.arange(1, len(boxes))))


def _take_back(
    k: int, sign: int, wanted: tuple[float, float], near: Ints, reach: _Reach, gap: float
) -> None:
    track = reach.tracks[k]
    before = (track.low, track.high)
    if before[sign > 0] == wanted[sign > 0]:
        return
    low, high = (before[0], wanted[1]) if sign > 0 else (wanted[0], before[1])
    track.low, track.high = low, high
    _shorten(track, sign, near, reach, gap)
    gained = sign * ((track.high if sign > 0 else track.low) - before[sign > 0])
    others = [reach.tracks[n] for n in near]
    if gained <= 1e-9 or _blocks_an_end(track, sign, before, others, gap):
        track.low, track.high = before
        return
    reach.update(k)


def _blocks_an_end(
    track: Track, sign: int, before: tuple[float, float], near: Sequence[Track], gap: float
) -> bool:
    """Tell whether the piece that an end would gain runs close by the end of another track."""
    start, end = (before[1], track.high) if sign > 0 else (track.low, before[0])
    gained = track.carrier.curve(start, end)
    return any(
        nearest(gained, other.carrier.at(s)).distance < max(gap, TAIL)
        for other in near if not other.closed
        for s in (other.low, other.high))


def _shorten(track: Track, sign: int, near: Ints, reach: _Reach, gap: float) -> None:
    node = track.nodes[-1 if sign > 0 else 0]
    start = node.s + sign * node.hub.zone
    end = track.high if sign > 0 else track.low
    whole = length = sign * (end - start)
    if length <= 0.0:
        return
    arm = track.carrier.curve(*sorted((start, end)))
    rows = reach.beside(near, bounds(arm))
    crossed, far = _surely(track.carrier.at(start), track.carrier.at(end), reach.ends[rows], gap)
    for k, s, room in zip(rows.tolist(), crossed.tolist(), far.tolist(), strict=True):
        # What is crossed with a tail, or stays clear however far the end has come back.
        if length - s >= TAIL or room >= whole - length:
            continue
        if length < min(whole, LEAST_DASH):
            break
        length = min(length, _free(track, start, sign, length, arm, reach.curves[k], gap))
    if length < whole:
        # Less than a visible dash is nothing: the line then ends with the plus.
        stop = start + sign * length if length >= LEAST_DASH else node.s + sign * node.hub.plus
        if sign > 0:
            track.high = stop
        else:
            track.low = stop


def _surely(start: XY, end: XY, others: Floats, gap: float) -> tuple[Floats, Floats]:
    """Tell of straight lines, all at once, what needs no closer look.

    Returns
    -------
    crossed, far : (n,)
        How far from the start each line crosses an arm at an angle that is not slender, and by
        how much the arm may be shortened before its end comes within the gap of a line that it
        does not meet. Not a number where only a closer look tells.
    """
    p, q = np.array(start), np.array(end)
    length = float(np.hypot(*(q - p)))
    a, b = others[:, :2], others[:, 2:]
    with np.errstate(invalid="ignore", divide="ignore"):
        u, size = (q - p) / length, np.hypot(*(b - a).T)
        v = (b - a) / size[:, None]
        sine = u[0] * v[:, 1] - u[1] * v[:, 0]
        s = ((a - p)[:, 0] * v[:, 1] - (a - p)[:, 1] * v[:, 0]) / sine
        t = ((a - p)[:, 0] * u[1] - (a - p)[:, 1] * u[0]) / sine
        within = np.minimum(np.minimum(s, length - s), np.minimum(t, size - t))
        across = np.abs(sine) >= sin(SLENDER)
        apart = np.minimum.reduce([
            _from_piece(a, p, u, length), _from_piece(b, p, u, length),
            _from_piece(p, a, v, size), _from_piece(q, a, v, size)])
        room = np.where(across, _from_piece(q, a, v, size) - gap, np.nan)
        room = np.where(apart >= max(BESIDE, gap), np.inf, room)
    return (np.where(across & (within > SURE), s, np.nan),
            np.where((within < -SURE) | ((sine == 0.0) & (apart > SURE)), room, np.nan))


def _from_piece(points: Floats, begin: Floats, u: Floats, length: Floats | float) -> Floats:
    """Return the distance of points from straight pieces; arrays of shape (..., 2)."""
    to = points - begin
    along = np.clip(np.einsum("...i,...i->...", to, u), 0.0, length)
    distance: Floats = np.hypot(*(to - along[..., None] * u).T)
    return distance


def _free(
    track: Track, start: float, sign: int, length: float, arm: Curve, other: Curve, gap: float
) -> float:
    """Length of an arm that is free of one other line."""
    crosses = False
    for found in meet(arm, other):
        s = sign * (track.place(found.point)[0] - start)
        ux, uy = track.carrier.heading(track.place(found.point)[0])
        vx, vy = direction_at(other, found.point)
        if abs(ux * vy - uy * vx) >= sin(SLENDER):
            crosses = length - s >= TAIL
            if not crosses:
                length = min(length, s - gap)
    steps = max(1, int(length / STEP))
    for number in range(0 if _across(arm, other) else steps + 1):
        s = min(number * STEP, length)
        at = track.carrier.at(start + sign * s)
        near = nearest(other, at)
        if near.distance >= BESIDE:
            continue
        ux, uy = track.carrier.heading(start + sign * s)
        vx, vy = direction_at(other, near.point)
        if abs(ux * vy - uy * vx) < sin(SLENDER):
            return min(length, s - gap)
    if crosses:
        return length
    while length > 0.0 and nearest(other, track.carrier.at(start + sign * length)).distance < gap:
        length -= 0.2 * STEP
    return length


def _across(a: Curve, b: Curve) -> bool:
    """Tell whether both are straight and cross at an angle that is not slender."""
    if not isinstance(a, Line) or not isinstance(b, Line):
        return False
    (ux, uy), (vx, vy) = a.direction, b.direction
    return abs(ux * vy - uy * vx) >= sin(SLENDER)


def blocked(track: Track, hubs: Iterable[Hub]) -> list[tuple[float, float]]:
    """Return the pieces of a track that lie in the zones of hubs which are not its own."""
    own = {id(node.hub) for node in track.nodes}
    found = []
    for hub in hubs:
        if id(hub) in own:
            continue
        s, off = track.place(hub.at)
        if abs(off) < hub.zone - 1e-6 and track.low - hub.zone < s < track.high + hub.zone:
            half = (hub.zone**2 - off**2) ** 0.5
            if isinstance(track.carrier, Round):
                half *= 1.0 + abs(off) / track.carrier.radius
            found.append((s - half, s + half))
    return sorted(found)


def crossings(tracks: Sequence[Track]) -> list[list[float]]:
    """Return, for each track, where the others cross it, as values of `s`."""
    curves = [track.curve() for track in tracks]
    found: list[list[float]] = [[] for _ in tracks]
    for met in meetings(CurveTable(curves), tolerance(curves)):
        apart = ~met.shared
        for i, j, point in zip(met.a[apart].tolist(), met.b[apart].tolist(),
                               met.point[apart].tolist(), strict=True):
            for k in (i, j):
                found[k].append(tracks[k].place(point)[0])
    for track, places in zip(tracks, found, strict=True):
        if track.closed:  # the piece across the start is counted beyond the full turn
            places += [s + track.high - track.low for s in places]
    return [sorted(places) for places in found]


def near_by(ones: Floats, others: Floats, margin: float) -> list[list[int]]:
    """Return, for each of some boxes, the numbers of those among others that come near, rising."""
    found: list[list[int]] = [[] for _ in ones]
    for i, j in pairs_between(ones, others, margin):
        for one, other in zip(i.tolist(), j.tolist(), strict=True):
            found[one].append(other)
    return [sorted(numbers) for numbers in found]


def shrink(hubs: Sequence[Hub], gap: float) -> None:
    """Make the plus of centers that stand close to each other smaller, so that all stay clear."""
    if not hubs:
        return
    spots = np.array([hub.at for hub in hubs])
    widest = max(hub.plus for hub in hubs)
    i, j = pairs(np.concatenate((spots, spots), axis=1), 2.0 * widest + gap)
    for k in np.lexsort((j, i)):
        hub, other = hubs[i[k]], hubs[j[k]]
        apart = dist(hub.at, other.at)
        room = apart - gap
        if hub.plus + other.plus > room:
            for one in (hub, other):
                one.plus = min(one.plus, max(0.25, 0.5 * room))
                one.gap = min(one.gap, max(0.2, apart - hub.plus - other.plus))
                one.solid = bool(one.arm) and 0.5 * room < LEAST_PLUS

