"""Whether a lead is clear of the finished part, and how much room its pierce has."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from sketcher.geometry.bounds import RELATIVE, bounds_of
from sketcher.geometry.curve_table import Bools, Floats
from sketcher.geometry.curves import Arc, Curve
from sketcher.shop.beginnings import Beginning
from sketcher.shop.cut_plan import CutContour
from sketcher.shop.lead_rule import LeadRule, Standard
from sketcher.shop.lead_shapes import Lead, lead_radius, offset_of_pierce
from sketcher.shop.scrap import Scrap


@dataclass(frozen=True, slots=True)
class LedIn:
    """The lead of a contour, where it meets it, and by what standard."""

    beginning: Beginning
    lead: Lead
    standard: Standard


def widest(contour: CutContour, rule: LeadRule) -> float:
    """Return the shorter side of a nominal hole's box; no room in it is wider."""
    x0, y0, x1, y1 = bounds_of(contour.curves)
    return min(x1 - x0, y1 - y0) + rule.kerf


def too_narrow(contour: CutContour, rule: LeadRule) -> bool:
    """Tell whether no pierce, two kerfs wide, can fit into a hole, whatever its shape."""
    return contour.hole and widest(contour, rule) < 2.0 * rule.width * (1.0 - RELATIVE)


def rooms_of(
    places: Sequence[Beginning], length: float, sweeps: Sequence[float], scrap: Scrap,
    rule: LeadRule,
) -> Floats:
    """Return how far each pierce is from the nearest edge; (places, sweeps).

    An arc that turns no tighter than the contour itself would run into the part: below 0.
    """
    at = np.array([place.at for place in places])
    ahead = np.array([place.along for place in places])
    left = np.stack((-ahead[:, 1], ahead[:, 0]), axis=1)
    offsets = np.array([offset_of_pierce(length, sweep) for sweep in sweeps])
    pierce = (at[:, None] + offsets[None, :, :1] * ahead[:, None]
              + offsets[None, :, 1:] * left[:, None])
    room = scrap.room(pierce.reshape(-1, 2)).reshape(len(places), len(sweeps))
    bend = np.array([place.bend for place in places])
    radius = lead_radius(length)
    tight = ((bend == 0.0) | (radius < bend * (1.0 - 1e-6))) & (radius >= rule.least_radius)
    out: Floats = np.where(tight[:, None], room, -1.0)
    return out


def roomy(
    room: Floats, length: float, sweeps: Sequence[float], standard: Standard, rule: LeadRule,
    tol: float,
) -> Bools:
    """Tell which of those distances are room enough by a standard."""
    off = 0.5 * rule.kerf + np.array([offset_of_pierce(length, sweep)[1] for sweep in sweeps])
    out: Bools = (room >= max(standard.pierce * rule.width, tol)) & (room >= standard.amid * off)
    return out


def blocked(
    lead_in: Sequence[Curve], beginning: Beginning, standard: Standard, scrap: Scrap, rule: LeadRule
) -> int | None:
    """Return the number of an edge that a curved lead-in comes too near, or None.

    The edge on which it ends it only touches: a line or a circle has one place in common with a
    circle that touches it.
    """
    own = scrap.within(beginning.at, 0.5 * rule.kerf + scrap.tol)
    *straight, arc = lead_in
    least = _touching(rule, scrap)
    hit = scrap.nearer(arc, least, frozenset(), least, own)
    if hit is None and straight and isinstance(arc, Arc):
        near = scrap.within(beginning.at, 0.5 * rule.kerf + arc.radius + scrap.tol)
        wide = max(rule.beside(standard), least)
        hit = scrap.nearer(straight[0], wide, near, least)
    return hit


def with_clear_out(lead: Lead, beginning: Beginning, scrap: Scrap, rule: LeadRule) -> Lead:
    """Return the lead without its lead-out where that comes too near an edge."""
    own = scrap.within(beginning.at, 0.5 * rule.kerf + scrap.tol)
    least = _touching(rule, scrap)
    if all(scrap.nearer(arc, least, frozenset(), least, own) is None for arc in lead.lead_out):
        return lead
    return Lead(lead.lead_in)


def _touching(rule: LeadRule, scrap: Scrap) -> float:
    """Least distance from an edge at which the kerf only touches it."""
    return 0.5 * rule.kerf - scrap.tol if rule.kerf > 0.0 else scrap.tol
