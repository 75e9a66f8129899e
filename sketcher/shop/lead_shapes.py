"""The shapes of a lead: a line and an arc that runs into the contour, or straight from a center.

The scrap is on the left of the cut. So a lead-in comes from the left, turns left round a center
there and ends in the direction of the cut; a lead-out goes on round the same center.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, pi, sin

from sketcher.geometry.curves import XY, Arc, Curve, Line
from sketcher.geometry.evaluate import start_of
from sketcher.shop.beginnings import Beginning

SWEEPS = (pi / 2, pi / 3, pi / 4, pi / 6)
"""How far the arc turns, in the order of the trials: square off the edge first, flatter in a narrow
place (common practice knows 90 and 45 degrees; no source)."""

FINE_SWEEPS = tuple(pi / 24 * k for k in (12, 11, 13, 10, 14, 9, 15, 8, 16, 7, 6, 5, 4, 3))
"""Turns that are tried at last: by 7.5 degrees between 22.5 and 120."""

ROUND_SHARE = 1 / 3
"""Radius of the arc by the length of the lead: with a quarter turn 0.52 of it is arc, and the
pierce stands 0.81 of the length off the way (by arithmetic). So a lead of two kerfs pierces 2.1
kerfs off the edge."""


@dataclass(frozen=True, slots=True)
class Lead:
    """A lead-in, head to tail, and the lead-out that goes with it."""

    lead_in: tuple[Curve, ...]
    lead_out: tuple[Curve, ...] = ()

    @property
    def pierce(self) -> XY:
        """Where it begins."""
        return start_of(self.lead_in[0])

    @property
    def length(self) -> float:
        """Of the lead-in."""
        return sum(curve.length for curve in self.lead_in)


def offset_of_pierce(length: float, sweep: float) -> XY:
    """Return how far a curved lead begins ahead of where it ends, and how far to the left."""
    r, straight = _measures(length, sweep)
    return (-r * sin(sweep) - straight * cos(sweep), r * (1.0 - cos(sweep)) + straight * sin(sweep))


def curved(beginning: Beginning, length: float, sweep: float, out: float) -> Lead:
    """Return the lead whose arc touches the contour where it begins.

    Parameters
    ----------
    beginning : Beginning
    length : float
        Of the whole lead-in.
    sweep : float
        Of its arc, in radians, up to a quarter turn.
    out : float
        Length of the lead-out, cut off at a quarter turn; 0 for none.
    """
    r, straight = _measures(length, sweep)
    (x, y), (ux, uy) = beginning.at, beginning.along

    def place(ahead: float, left: float) -> XY:
        return (x + ahead * ux - left * uy, y + ahead * uy + left * ux)

    center = place(0.0, r)
    onto = place(-r * sin(sweep), r * (1.0 - cos(sweep)))
    pierce = place(*offset_of_pierce(length, sweep))
    lead_in = (Line(pierce, onto), Arc(center, onto, beginning.at)) if straight > 0.0 else (
        Arc(center, onto, beginning.at),)
    turn = min(out / r, pi / 2)
    if turn <= 0.0:
        return Lead(lead_in)
    end = place(r * sin(turn), r * (1.0 - cos(turn)))
    return Lead(lead_in, (Arc(center, beginning.at, end),))


def radial(center: XY, beginning: Beginning) -> Lead:
    """Return the straight lead from the center of a round hole; it ends without a lead-out."""
    return Lead((Line(center, beginning.at),))


def lead_radius(length: float) -> float:
    """Return the radius of the arc of a curved lead."""
    return ROUND_SHARE * length


def _measures(length: float, sweep: float) -> tuple[float, float]:
    """Radius of the arc, and length of the line before it."""
    r = lead_radius(length)
    return r, length - r * sweep
