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
from math import hypot, radians, sin

import numpy as np

from sketcher.drafting.tracks import Hub, Round, Track
from sketcher.geometry.bounds import Box, bounds
from sketcher.geometry.curves import Curve, Line
from sketcher.geometry.evaluate import direction_at
from sketcher.geometry.meet import meet
from sketcher.geometry.project import nearest
from sketcher.geometry.table import Floats, pair_portions, pairs, pairs_between
from sketcher.interrupt import check
from sketcher.progress import counted

NEAR = 0.8  # an end closer than this to an outline goes past it
SHORT_OF = 1.0  # room before a neighbour's outline
TAIL = 1.2  # least visible piece behind a crossing
BESIDE = 1.5  # lines closer than this run along each other
SLENDER = radians(15)  # crossings sharper than this count as running along
STEP = 0.25
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
    boxes = [(name, curve, bounds(curve)) for name, curve in outlines.curves]
    for track in tracks:
        check()
        if track.closed or track.full or not track.nodes:
            continue
        track.high = _past(track, 1, boxes, outlines.marked, overhang)
        track.low = _past(track, -1, boxes, outlines.marked, overhang)


def _past(
    track: Track, sign: int, boxes: Sequence[tuple[str, Curve, tuple[float, float, float, float]]],
    marked: frozenset[str], overhang: float,
) -> float:
    node = track.nodes[-1 if sign > 0 else 0]
    end = track.high if sign > 0 else track.low
    reach = node.reach[1 if sign > 0 else 0]
    away = sign * (end - node.s)
    start = node.s + sign * (reach + 0.05)
    if away <= reach + 0.1:
        return end
    probe = track.carrier.curve(*sorted((start, end + sign * NEAR)))
    px0, py0, px1, py1 = bounds(probe)
    crossings: list[tuple[float, str]] = []
    for name, curve, (x0, y0, x1, y1) in boxes:
        if name in track.own or x0 > px1 or x1 < px0 or y0 > py1 or y1 < py0:
            continue
        for found in meet(probe, curve):
            crossings.append((sign * (track.place(found.point)[0] - node.s), name))
    if not crossings:
        return end
    crossings.sort()
    first, name = crossings[0]
    if name in marked:
        stop = first - SHORT_OF
        return node.s + sign * (stop if stop > reach + 0.5 else 0.5 * (reach + first))
    return node.s + sign * (crossings[-1][0] + overhang)


def give_way(tracks: Sequence[Track], gap: float) -> None:
    """Shorten ends that would run into another track; weaker tracks give way first."""
    curves = {id(t): t.curve() for t in tracks}
    boxes = {key: bounds(curve) for key, curve in curves.items()}
    # Ends only ever come back to where they are now, so what is far off stays far off.
    near = _near(tracks, [boxes[id(t)] for t in tracks], max(2.0, gap))
    if near is None:
        return
    wanted = {id(t): (t.low, t.high) for t in tracks}
    order = sorted(tracks, key=lambda t: (t.rank, len(t.nodes)))
    for track in counted(order):
        if track.closed or track.full or not track.nodes:
            continue
        for sign in (1, -1):
            _shorten(track, sign, near[id(track)], curves, boxes, gap)
            curves[id(track)] = track.curve()
            boxes[id(track)] = bounds(curves[id(track)])
    # What an end gave way to may itself have given way since: take back what is free again.
    for track in order:
        check()
        for sign in (1, -1):
            _take_back(track, sign, wanted[id(track)], near[id(track)], curves, boxes, gap)


def _near(
    tracks: Sequence[Track], boxes: Sequence[Box], margin: float
) -> dict[int, list[Track]] | None:
    """For each track those that come near it, in their order; None where there are too many."""
    numbers: list[list[int]] = [[] for _ in tracks]
    count = 0
    for i, j in pair_portions(np.array(boxes, float).reshape(len(boxes), 4), margin):
        count += len(i)
        if count > CROWD:
            return None
        for one, other in zip(i.tolist(), j.tolist(), strict=True):
            numbers[one].append(other)
            numbers[other].append(one)
    return {id(track): [tracks[k] for k in sorted(near)]
            for track, near in zip(tracks, numbers, strict=True)}


def _take_back(
    track: Track, sign: int, wanted: tuple[float, float], near: Sequence[Track],
    curves: dict[int, Curve], boxes: dict[int, tuple[float, float, float, float]], gap: float,
) -> None:
    before = (track.low, track.high)
    if before[sign > 0] == wanted[sign > 0]:
        return
    low, high = (before[0], wanted[1]) if sign > 0 else (wanted[0], before[1])
    track.low, track.high = low, high
    _shorten(track, sign, near, curves, boxes, gap)
    gained = sign * ((track.high if sign > 0 else track.low) - before[sign > 0])
    if gained <= 1e-9 or _blocks_an_end(track, sign, before, near, gap):
        track.low, track.high = before
        return
    curves[id(track)] = track.curve()
    boxes[id(track)] = bounds(curves[id(track)])


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


def _shorten(
    track: Track, sign: int, near: Sequence[Track], curves: dict[int, Curve],
    boxes: dict[int, tuple[float, float, float, float]], gap: float,
) -> None:
    node = track.nodes[-1 if sign > 0 else 0]
    start = node.s + sign * node.hub.zone
    end = track.high if sign > 0 else track.low
    if sign * (end - start) <= 0.0:
        return
    arm = track.carrier.curve(*sorted((start, end)))
    x0, y0, x1, y1 = bounds(arm)
    length = sign * (end - start)
    for other in near:
        a, b, c, d = boxes[id(other)]
        if a > x1 + 2 or c < x0 - 2 or b > y1 + 2 or d < y0 - 2:
            continue
        length = min(length, _free(track, start, sign, length, arm, curves[id(other)], gap))
    if length < sign * (end - start):
        # Less than a visible dash is nothing: the line then ends with the plus.
        stop = start + sign * length if length >= 0.8 else node.s + sign * node.hub.plus
        if sign > 0:
            track.high = stop
        else:
            track.low = stop


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


def crossings(track: Track, others: Iterable[tuple[Track, Curve]]) -> list[float]:
    """Return where other tracks cross a track, as values of `s`."""
    mine = track.curve()
    x0, y0, x1, y1 = bounds(mine)
    found = []
    for other, curve in others:
        if other is track:
            continue
        a, b, c, d = bounds(curve)
        if a > x1 or c < x0 or b > y1 or d < y0:
            continue
        found += [track.place(m.point)[0] for m in meet(mine, curve)]
    if track.closed:  # the piece across the start is counted beyond the full turn
        found += [s + track.high - track.low for s in found]
    return sorted(found)


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
        apart = hypot(hub.at[0] - other.at[0], hub.at[1] - other.at[1])
        room = apart - gap
        if hub.plus + other.plus > room:
            for one in (hub, other):
                one.plus = min(one.plus, max(0.25, 0.5 * room))
                one.gap = min(one.gap, max(0.2, apart - hub.plus - other.plus))

