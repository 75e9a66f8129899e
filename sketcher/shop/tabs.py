"""Tabs: uncut places that hold a part in the sheet until it is broken out.

They stand on outside contours alone: a tab left in a hole would have to be dressed where nobody
gets at it. Evenly spread from the lead-in on, each goes to the nearest straight, else to a wide
arc, away from corners and from the lead.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import accumulate
from math import isfinite
from types import MappingProxyType

from sketcher.errors import ExportError
from sketcher.geometry.curves import Curve, Line
from sketcher.inspect.stock import Process
from sketcher.inspect.words import length as with_unit
from sketcher.inspect.words import some
from sketcher.quantity.units import convert
from sketcher.shop.assumed_kerf import assumed_kerf
from sketcher.shop.cut_plan import MOST_NAMED, CutPath, CutSettings

WIDTH_MM: Mapping[Process, float] = MappingProxyType({"laser": 1.0, "plasma": 4.0})
"""Material that a tab leaves standing, in mm: laser 0.5 to 2, plasma 3 to 5 (common practice, no
source)."""

WIDE = 5.0
"""A tab goes on an arc with a radius of so many gaps at least: over the gap the arc then rises a
fortieth of it (by arithmetic), and the tab is dressed as on a straight."""

APART = 2.0
"""Two tabs, and a tab and a lead, are so many gaps apart at least (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class TabRule:
    """What the tabs of one part go by, in its unit.

    Parameters
    ----------
    count : int
        Of each outside contour.
    width : float
        Of the material that stays.
    gap : float
        Of the way of the torch that is left out: half of the kerf eats into the tab at either end.
    """

    count: int
    width: float
    gap: float


@dataclass(frozen=True, slots=True)
class Seat:
    """A stretch of a contour on which the middle of a tab may stand, by length along it."""

    first: float
    last: float
    number: int
    straight: bool

    def nearest(self, at: float) -> float:
        """Return its place nearest to another along the contour."""
        return min(max(at, self.first), self.last)


def with_tabs(
    paths: Sequence[CutPath], settings: CutSettings, unit: str
) -> tuple[tuple[CutPath, ...], tuple[str, ...]]:
    """Return the paths with tabs on the outside contours, and what is to be told of them.

    Parameters
    ----------
    paths : sequence of CutPath
        With their leads.
    settings : CutSettings
    unit : str
        Of all lengths.

    Returns
    -------
    paths : tuple of CutPath
        In the same order.
    told : tuple of str

    Raises
    ------
    ExportError
        For a count or a width that is none, and for a contour on which a tab finds no place.
    """
    if settings.tabs == 0:
        return tuple(paths), ()
    rule = tab_rule(settings, unit)
    made, places = [], []
    for path in paths:
        if path.contour.hole:
            made.append(path)
            continue
        seated = _seated(path, rule, unit)
        made.append(replace(path, tabs=tuple(
            (at - 0.5 * rule.gap, at + 0.5 * rule.gap) for at, _ in seated)))
        places += [path.contour.id_of_each[seat.number] for _, seat in seated]
    told = (f"tabs of {with_unit(rule.width, unit)} on {some(places, MOST_NAMED)}; the cut leaves "
            f"out {with_unit(rule.gap, unit)} at each, and begins again on the contour itself")
    return tuple(made), (told,)


def tab_rule(settings: CutSettings, unit: str) -> TabRule:
    """Return what the tabs go by.

    Raises
    ------
    ExportError
        For a count below zero, a width that is none, and where neither width nor process is named.
    """
    if settings.tabs < 0:
        raise ExportError("tabs", f"{settings.tabs} is no number of tabs", "give 0 or more")
    width = settings.tab_width
    if width is None:
        if settings.process is None:
            raise ExportError("tabs", "their width goes by the process, and none is named",
                              "name the process, or give the width of a tab")
        width = convert(WIDTH_MM[settings.process], "mm", unit)
    if not (isfinite(width) and width > 0.0):
        raise ExportError("tabs", f"{width:g} is no width of a tab", "give a length above zero")
    return TabRule(settings.tabs, width, width + assumed_kerf(settings, unit))


def _seated(path: CutPath, rule: TabRule, unit: str) -> list[tuple[float, Seat]]:
    """The middles of the tabs along a contour, in its order, each with where it stands."""
    contour = path.contour
    seats = tuple(_seats(path, rule))
    share = contour.length / rule.count
    taken: list[tuple[float, Seat]] = []
    for number in range(rule.count):
        wanted = (number + 0.5) * share
        place = _place(seats, wanted, 0.5 * share, [at for at, _ in taken], APART * rule.gap)
        if place is None:
            raise ExportError(
                f"tab {number + 1} of {rule.count} on the contour of {contour.ids[0]}",
                f"no straight or wide arc has room for {with_unit(rule.width, unit)} away from "
                "corners, the lead-in and other tabs", "give fewer or narrower tabs")
        taken.append(place)
    return sorted(taken, key=lambda one: one[0])


def _seats(path: CutPath, rule: TabRule) -> Iterator[Seat]:
    """Yield the stretches of a contour that are straight, or wide enough an arc, and free.

    A tab keeps a gap away from either end of its curve, for that may be a corner.
    """
    contour = path.contour
    lead = sum(curve.length for curve in path.lead_in)
    keep = max(APART * rule.gap, lead)
    starts = accumulate((curve.length for curve in contour.curves), initial=0.0)
    for number, (start, curve) in enumerate(zip(starts, contour.curves, strict=False)):
        first, last = start + 1.5 * rule.gap, start + curve.length - 1.5 * rule.gap
        first, last = max(first, keep), min(last, contour.length - keep)
        if first <= last and (isinstance(curve, Line) or _wide(curve, rule.gap)):
            yield Seat(first, last, number, isinstance(curve, Line))


def _wide(curve: Curve, gap: float) -> bool:
    """Tell whether a curve that is no line is nearly straight over a gap."""
    return not isinstance(curve, Line) and curve.radius >= WIDE * gap


def _place(
    seats: Sequence[Seat], wanted: float, reach: float, taken: Sequence[float], apart: float
) -> tuple[float, Seat] | None:
    """The place for a tab: within reach on a straight, else on an arc, else the nearest of all."""
    free = [part for seat in seats for part in _free(seat, taken, apart)]
    near = [seat for seat in free if abs(seat.nearest(wanted) - wanted) < reach]
    for seats_here in ([seat for seat in near if seat.straight], near, free):
        if seats_here:
            seat = min(seats_here, key=lambda one: abs(one.nearest(wanted) - wanted))
            return seat.nearest(wanted), seat
    return None


def _free(seat: Seat, taken: Sequence[float], apart: float) -> Iterator[Seat]:
    """Yield what is left of a stretch away from the tabs that stand already."""
    first = seat.first
    for at in sorted(taken):
        if at - apart >= first:
            yield replace(seat, first=first, last=min(seat.last, at - apart))
        first = max(first, at + apart)
        if first > seat.last:
            return
    yield replace(seat, first=first)
