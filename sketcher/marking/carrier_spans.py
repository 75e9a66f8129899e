"""Where curves lie along a common carrier: spans, what they cover twice, what they leave open."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise
from math import dist, tau
from typing import NamedTuple

from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.geometry.evaluate import point_at
from sketcher.geometry.project import distance, parameter_at


class CarrierSpan(NamedTuple):
    """From `low` to `high` along a carrier, by length from the start of the curve that it is of."""

    low: float
    high: float

    @property
    def length(self) -> float:
        """How long it is."""
        return self.high - self.low


def leaves(base: Curve, other: Curve) -> float:
    """Return how far a curve leaves the carrier of another; infinite where one is straight."""
    if isinstance(base, Line):
        if not isinstance(other, Line):
            return float("inf")
        return max(distance(base, at, bounded=False) for at in (other.start, other.end))
    if isinstance(other, Line):
        return float("inf")
    return max(dist(base.center, other.center), abs(base.radius - other.radius))


def position(base: Curve, at: XY) -> float:
    """Return how far along a carrier a place is: from the start of `base` in its direction.

    On a round it is counted to either side of the middle of `base`, half the circle each way.
    """
    return parameter_at(base, at) * base.length


def place(base: Curve, position: float) -> XY:
    """Return the place so far along a carrier."""
    return point_at(base, position / base.length if base.length else 0.0)


def span(base: Curve, curve: Curve) -> CarrierSpan:
    """Return where a curve lies along the carrier of another; a chord of a round as its arc."""
    if isinstance(base, Line):
        assert not isinstance(curve, Circle)
        low, high = sorted((position(base, curve.start), position(base, curve.end)))
        return CarrierSpan(low, high)
    round_ = tau * base.radius
    if isinstance(curve, Circle):
        return CarrierSpan(0.5 * (base.length - round_), 0.5 * (base.length + round_))
    forth = isinstance(base, Circle) or base.sweep > 0.0
    if isinstance(curve, Arc):
        begin = curve.start if (curve.sweep > 0.0) == forth else curve.end
        length = abs(curve.sweep) * base.radius
    else:
        one, other = position(base, curve.start), position(base, curve.end)
        length = abs((other - one + 0.5 * round_) % round_ - 0.5 * round_)
        begin = curve.start if abs((other - one) % round_ - length) < 0.5 * length else curve.end
    low = position(base, begin)
    if not isinstance(base, Circle) and low + 0.5 * length > 0.5 * (base.length + round_):
        low -= round_  # it goes round past the far side of the base
    return CarrierSpan(low, low + length)


def united(spans: Iterable[tuple[float, float]], slack: float) -> list[CarrierSpan]:
    """Return spans joined where they come within `slack` of each other, in order."""
    found: list[CarrierSpan] = []
    for low, high in sorted(spans):
        if found and low <= found[-1].high + slack:
            found[-1] = CarrierSpan(found[-1].low, max(found[-1].high, high))
        else:
            found.append(CarrierSpan(low, high))
    return found


def twice(spans: Sequence[CarrierSpan], slack: float, round_: float = 0.0) -> list[CarrierSpan]:
    """Return what is covered more than once over more than `slack`; `round_` where it closes."""
    found: list[CarrierSpan] = []
    reach = float("-inf")
    ordered = sorted(spans)
    if round_:
        ordered += [CarrierSpan(s.low + round_, s.high + round_) for s in ordered]
    for low, high in ordered:
        if min(high, reach) - low > slack:
            found.append(CarrierSpan(low, min(high, reach)))
        reach = max(reach, high)
    if round_:  # the second time round repeats all but what lies across the beginning
        once = min(s.low for s in ordered) + round_ - slack if ordered else 0.0
        first = [s for s in found if s.low < once]
        found = first + [s for s in found if s.low >= once and not any(
            shared(CarrierSpan(s.low - round_, s.high - round_), each) > slack for each in first)]
    return united(found, slack)


def openings(spans: Sequence[CarrierSpan], slack: float, round_: float = 0.0) -> list[CarrierSpan]:
    """Return what is left open between spans, wider than `slack`; `round_` where it closes."""
    joined = united(spans, slack)
    found = [CarrierSpan(a.high, b.low) for a, b in pairwise(joined)]
    if round_ and joined:
        low, high = joined[-1].high, joined[0].low + round_
        if high - low > slack:
            found.append(CarrierSpan(low, high))
    return found


def shared(one: CarrierSpan, other: CarrierSpan) -> float:
    """Return how long two spans lie beside each other."""
    return max(0.0, min(one.high, other.high) - max(one.low, other.low))
