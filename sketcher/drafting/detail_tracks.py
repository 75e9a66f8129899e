"""Center lines of a detail: only what runs inside its boundary."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from math import acos, atan2, dist, sqrt, tau

from sketcher.drafting.tracks import Round, Straight, Track
from sketcher.geometry.curves import Circle

LEAST = 2.0  # mm: a shorter piece of a line without a center says nothing


def ended_at(tracks: Iterable[Track], circle: Circle) -> list[Track]:
    """Return the tracks that run inside a circle, ended where they leave it."""
    found = []
    for track in tracks:
        span = (_straight(track.carrier, circle) if isinstance(track.carrier, Straight)
                else _round(track.carrier, track, circle))
        if span is None:
            continue
        closed = track.closed and span == (track.low, track.high)
        low, high = span
        if not track.closed:
            low, high = max(low, track.low), min(high, track.high)
        nodes = [replace(node, s=s) for node in track.nodes
                 if low <= (s := _near(node.s, 0.5 * (low + high), track)) <= high]
        if high - low > (0.0 if nodes else LEAST):
            found.append(replace(track, low=low, high=high, nodes=nodes, closed=closed))
    return found


def _near(s: float, middle: float, track: Track) -> float:
    """Return the same place of a closed track on the turn that is meant."""
    if not track.closed or not isinstance(track.carrier, Round):
        return s
    turn = tau * track.carrier.radius
    return s + turn * round((middle - s) / turn)


def _straight(carrier: Straight, circle: Circle) -> tuple[float, float] | None:
    s, off = carrier.where(circle.center)
    if abs(off) >= circle.radius:
        return None
    half = sqrt(circle.radius**2 - off**2)
    return (s - half, s + half)


def _round(carrier: Round, track: Track, circle: Circle) -> tuple[float, float] | None:
    """Return the stretch of a round track inside; of a closed one it may begin before 0."""
    apart, r = dist(carrier.center, circle.center), carrier.radius
    if apart + r <= circle.radius:
        return (track.low, track.high)
    cosine = (apart**2 + r**2 - circle.radius**2) / (2.0 * apart * r) if apart else 2.0
    if cosine >= 1.0:
        return None
    half = acos(max(-1.0, cosine)) * r
    x, y = (circle.center[k] - carrier.center[k] for k in (0, 1))
    middle = atan2(y, x) * r
    while middle + half <= track.low:
        middle += tau * r
    return (middle - half, middle + half)
