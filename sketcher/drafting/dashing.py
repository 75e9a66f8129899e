"""From the extent of a center line to its dashes: each plus clear, crossings on long dashes."""

from __future__ import annotations

from collections.abc import Sequence

from sketcher.drafting.line_classes import Fit, LineClass, fit
from sketcher.drafting.primitives import Stroke
from sketcher.drafting.tracks import Node, Track

LEAST_DASH = 0.8  # mm; less is dirt, not a dash
LEAST_END = 1.6  # mm; a shorter dash at an end is taken into the one before it
INSIDE = 0.3  # least distance of a crossing from the end of its long dash
TRIES = (0, 1, -1, 2, -2, 3, -3)


def strokes(
    track: Track, line: LineClass, blocked: Sequence[tuple[float, float]],
    crossings: Sequence[float], source: str,
) -> list[Stroke]:
    """Return the strokes of one center line.

    Parameters
    ----------
    track : Track
    line : LineClass
        Center or phantom.
    blocked : sequence of (float, float)
        Pieces that another center's plus keeps clear.
    crossings : sequence of float
        Where other center lines cross, which is to be on a long dash.
    source : str
        Source id of the strokes.
    """
    halves = _halves(track, blocked)
    found = [Stroke(track.carrier.curve(*_clipped(track, n.s - half, n.s + half)), line.name,
                    source)
             for n, half in halves if not _inside(n.s, n.hub.plus, blocked)]
    zones = [(n.s - half - n.hub.gap, n.s + half + n.hub.gap) for n, half in halves]
    for start, end in _free(track, sorted([*zones, *blocked])):
        if end - start >= LEAST_DASH:
            inner = [s - start for s in crossings if start < s < end]
            found += _span(track, start, end, line, inner, source)
    return found


def _halves(
    track: Track, blocked: Sequence[tuple[float, float]]
) -> list[tuple[Node, float]]:
    """Return the centers that have a dash across them of their own, each with half its length.

    The arms of a small hole reach no farther than halfway to a neighbor on the line, nor into what
    another center keeps clear, and as far on one side as on the other; an end that is near by is
    reached.
    """
    found = []
    for node in track.nodes:
        half = node.hub.plus
        if node.hub.arm and not node.hub.solid:
            room = [0.5 * (abs(n.s - node.s) - node.hub.gap) for n in track.nodes if n is not node]
            room += [max(a - node.s, node.s - b) for a, b in blocked]
            ends = [end for end in (node.s - track.low, track.high - node.s)
                    if end < node.hub.arm + node.hub.gap + LEAST_END]
            half = max(half, min([max([node.hub.arm, *ends]), *room]))
        if not node.hub.solid:
            found.append((node, half))
    return found


def _clipped(track: Track, start: float, end: float) -> tuple[float, float]:
    """Return the piece of a dash that lies within the extent of an open line."""
    return (start, end) if track.closed else (max(start, track.low), min(end, track.high))


def _inside(s: float, plus: float, blocked: Sequence[tuple[float, float]]) -> bool:
    return any(a < s + plus and b > s - plus for a, b in blocked)


def _free(track: Track, taken: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    """Return the extent without the pieces that are taken."""
    if track.closed:
        return _between(track, taken)
    found, at = [], track.low
    for start, end in taken:
        if start > at:
            found.append((at, min(start, track.high)))
        at = max(at, end)
    if at < track.high:
        found.append((at, track.high))
    return [(a, b) for a, b in found if b > a]


def _between(track: Track, taken: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    """Free pieces of a closed track, the last one across its start."""
    if not taken:
        return [(track.low, track.high)]
    turn = track.high - track.low
    joined: list[tuple[float, float]] = []
    for start, end in taken:
        if joined and start <= joined[-1][1]:
            joined[-1] = (joined[-1][0], max(end, joined[-1][1]))
        else:
            joined.append((start, end))
    ends = [end for _, end in joined]
    starts = [start for start, _ in joined[1:]] + [joined[0][0] + turn]
    return [(a, b) for a, b in zip(ends, starts, strict=True) if b > a]


def _span(
    track: Track, start: float, end: float, line: LineClass, inner: Sequence[float], source: str
) -> list[Stroke]:
    length = end - start
    for more in TRIES:
        tried = fit(length, line, more)
        if _on_longs(tried, inner):
            return [Stroke(track.carrier.curve(start, end), line.name, source,
                           tried if tried.count else None)]
    return [Stroke(track.carrier.curve(start + a, start + b), line.name, source)
            for a, b in _uneven(length, line, inner)]


def _on_longs(tried: Fit, inner: Sequence[float]) -> bool:
    """Tell whether every crossing away from the ends is on a long dash."""
    away = [s for s in inner if INSIDE <= s <= tried.length - INSIDE]
    longs = tried.longs() if away else ()
    return all(any(a + INSIDE <= s <= b - INSIDE for a, b in longs) for s in away)


def _uneven(length: float, line: LineClass, inner: Sequence[float]) -> list[tuple[float, float]]:
    """Dashes with the short ones moved away from the crossings."""
    plain = fit(length, line)
    half = 0.5 * sum(plain.rest) + INSIDE
    dashes, at = [], 0.0
    for (_, before), (after, _) in zip(plain.longs(), plain.longs()[1:], strict=False):
        middle = 0.5 * (before + after)
        place = _nearest_free(middle, half, inner)
        left, right = place - half + INSIDE, place + half - INSIDE
        if left - at < 0.5 * line.least or length - right < 0.5 * line.least:
            continue
        dashes.append((at, left))
        at = left
        for number, size in enumerate(plain.rest):
            if number % 2:
                dashes.append((at, at + size))
            at += size
    return [*dashes, (at, length)]


def _nearest_free(middle: float, half: float, inner: Sequence[float]) -> float:
    """Return the place nearest `middle` that is at least `half` from every crossing."""
    options = [middle, *(s + half for s in inner), *(s - half for s in inner)]
    free = [p for p in options if all(abs(p - s) >= half - 1e-9 for s in inner)]
    return min(free, key=lambda p: abs(p - middle), default=-1.0)
