"""Where a visible outline lies on a center line: it goes before, and the center line is left out.

Precedence of coinciding lines: visible before center (course notes on ISO 128 and ASME Y14.2).
"""

from __future__ import annotations

from math import tau

from sketcher.drafting.center_rows import Bars
from sketcher.drafting.tracks import Round, Straight, Track
from sketcher.geometry.curves import Arc, Circle, Curve, Line
from sketcher.geometry.evaluate import midpoint

ON = 0.3  # mm on paper: half of a wide line and half of a narrow one
GAP = 0.8  # mm left free before and behind an outline that a center line goes on from
LEAST = 0.5  # mm that they lie on each other


def covered(track: Track, bars: Bars) -> list[tuple[float, float]]:
    """Return the pieces of a track on which an outline lies, with the gaps beside them."""
    found = []
    for _, curve in bars.near(track.curve(), ON):
        piece = (_on_straight(track, track.carrier, curve) if isinstance(track.carrier, Straight)
                 else _on_round(track, track.carrier, curve))
        if piece is not None:
            low, high = max(piece[0], track.low), min(piece[1], track.high)
            if high - low > LEAST:
                found.append((low - GAP, high + GAP))
    return sorted(found)


def _on_straight(
    track: Track, carrier: Straight, curve: Curve
) -> tuple[float, float] | None:
    if not isinstance(curve, Line):
        return None
    ends = [carrier.where(p) for p in (curve.start, curve.end)]
    if max(abs(off) for _, off in ends) > ON:
        return None
    return min(s for s, _ in ends), max(s for s, _ in ends)


def _on_round(track: Track, carrier: Round, curve: Curve) -> tuple[float, float] | None:
    if isinstance(curve, Line) or abs(curve.radius - carrier.radius) > ON or max(
            abs(a - b) for a, b in zip(curve.center, carrier.center, strict=True)) > ON:
        return None
    if isinstance(curve, Circle):
        return track.low, track.low + tau * carrier.radius
    assert isinstance(curve, Arc)
    middle = track.place(midpoint(curve))[0]
    half = 0.5 * abs(curve.sweep) * carrier.radius
    return middle - half, middle + half
