"""Lead-ins and lead-outs: the torch pierces in the scrap and runs onto the contour from there.

The pierce leaves a crater and slag. Places, shapes and lengths are tried in one fixed order, and
the first that is clear of the finished part is taken; a contour for which none is, is refused. All
values of length and distance are common practice, no source. Nothing is cut past the start of a
contour: the lead-out leaves it into the scrap, and a round hole that is led into from its center,
or is small for a plasma, has none, for there an overcut leaves a notch.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from sketcher.geometry.curve_table import Floats
from sketcher.interrupt import check
from sketcher.shop.beginnings import Beginning, beginnings, begun_at
from sketcher.shop.cut_plan import CutContour, CutPath, CutSettings
from sketcher.shop.lead_clearance import (
    LedIn,
    blocked,
    rooms_of,
    roomy,
    too_narrow,
    with_clear_out,
)
from sketcher.shop.lead_rule import FROM_CENTER, STANDARDS, LeadRule, Standard, lead_rule
from sketcher.shop.lead_shapes import FINE_SWEEPS, SWEEPS, curved, radial
from sketcher.shop.lead_words import refusal, told_of
from sketcher.shop.scrap import Scrap, scraps

SHORTER = (1.0, 0.75, 0.5, 0.35, 0.25)
"""Shares of the length that are tried where nobody has given one."""

SHORTEST = tuple(0.9**k for k in range(1, 25))
"""Shares that are tried at last, down to a twelfth."""


def with_leads(
    paths: Sequence[CutPath], finished: Sequence[CutContour], settings: CutSettings,
    thickness: float, unit: str, beyond: float = 0.0,
) -> tuple[tuple[CutPath, ...], tuple[str, ...]]:
    """Return the paths with lead-ins and lead-outs, and what is to be told of them.

    Parameters
    ----------
    paths : sequence of CutPath
        Offset by half of the kerf where there is one.
    finished : sequence of CutContour
        The nominal contours, all of them: of holes that are only marked too.
    settings : CutSettings
    thickness : float
        Of the plate.
    unit : str
        Of all lengths.
    beyond : float
        How far behind the contours the part begins; above 0 where it was drawn offset already.

    Returns
    -------
    paths : tuple of CutPath
        In the same order; a contour begins where its lead-in ends.
    told : tuple of str

    Raises
    ------
    ExportError
        For a length that is none, and for contours that have no room for a lead: by their ids, with
        the edge that is in the way.
    """
    if settings.lead is None or not paths:
        return tuple(paths), ()
    rule = lead_rule(settings, thickness, unit)
    found: list[tuple[CutPath, LedIn]] = []
    lost: list[tuple[CutContour, Scrap]] = []
    beside = scraps([path.contour for path in paths], finished, beyond)
    for path, scrap in zip(paths, beside, strict=True):
        check()
        one = _led_in(path.contour, scrap, rule)
        if one is None:
            lost.append((path.contour, scrap))
        else:
            found.append((path, one))
    if lost:
        raise refusal(lost, rule, unit)
    return (tuple(replace(path, contour=begun_at(path.contour, one.beginning),
                          lead_in=one.lead.lead_in, lead_out=one.lead.lead_out)
                  for path, one in found),
            tuple(told_of(found, rule, unit)))


def _led_in(contour: CutContour, scrap: Scrap, rule: LeadRule) -> LedIn | None:
    """The first lead in the order of the trials that is clear; None where none is."""
    if too_narrow(contour, rule):
        return None
    places = tuple(beginnings(contour))
    return (_from_center(contour, places, scrap, rule)
            or _curved_in(contour, places, SWEEPS, STANDARDS, scrap, rule)
            or _curved_in(contour, tuple(beginnings(contour, fine=True)), FINE_SWEEPS,
                          STANDARDS[-1:], scrap, rule))


def _from_center(
    contour: CutContour, places: Sequence[Beginning], scrap: Scrap, rule: LeadRule
) -> LedIn | None:
    """The straight lead from the center of a round hole that is not large beside it."""
    circle = contour.circle
    most = rule.length * (1.0 if rule.given else FROM_CENTER)
    if circle is None or not contour.hole or circle.radius > most:
        return None
    room = float(scrap.room(np.array([circle.center]))[0])
    for standard in STANDARDS:
        if room < standard.pierce * rule.width - scrap.tol:
            continue
        for beginning in places:
            lead = radial(circle.center, beginning)
            own = scrap.within(beginning.at, 0.5 * rule.kerf + scrap.tol)
            least = max(rule.beside(standard), scrap.tol)
            if scrap.nearer(lead.lead_in[0], least, own, least, own) is None:
                return LedIn(beginning, lead, standard)
    return None


def _curved_in(
    contour: CutContour, places: Sequence[Beginning], sweeps: Sequence[float],
    standards: Sequence[Standard], scrap: Scrap, rule: LeadRule,
) -> LedIn | None:
    """The first curved lead that is clear: by the best standard, then the longest."""
    rooms: dict[float, Floats] = {}
    for standard in standards:
        for length in _lengths(rule, standard):
            if length not in rooms:
                rooms[length] = rooms_of(places, length, sweeps, scrap, rule)
            enough = roomy(rooms[length], length, sweeps, standard, rule, scrap.tol)
            for k, s in np.argwhere(enough):
                beginning = places[int(k)]
                lead = curved(beginning, length, sweeps[int(s)], _out(contour, rule))
                if blocked(lead.lead_in, beginning, standard, scrap, rule) is None:
                    return LedIn(beginning, with_clear_out(lead, beginning, scrap, rule), standard)
    return None


def _lengths(rule: LeadRule, standard: Standard) -> Iterator[float]:
    if rule.given:
        yield rule.length
        return
    yield from (rule.length * share for share in SHORTER)
    if standard is STANDARDS[-1]:
        yield from (rule.length * share for share in SHORTEST)


def _out(contour: CutContour, rule: LeadRule) -> float:
    """Length of the lead-out: a kerf, and none in a round hole that is small for a plasma."""
    circle = contour.circle
    small = (circle is not None and contour.hole
             and 2.0 * circle.radius + rule.kerf < rule.small)
    return 0.0 if small else rule.width
