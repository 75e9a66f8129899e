"""What is told of leads, and what is said where there is no room for one."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sketcher.errors import ExportError
from sketcher.geometry.curves import Line
from sketcher.inspect.words import length as with_unit
from sketcher.inspect.words import some
from sketcher.shop.beginnings import beginnings
from sketcher.shop.cut_plan import MOST_NAMED, CutContour, CutPath
from sketcher.shop.lead_clearance import LedIn, blocked, too_narrow, widest
from sketcher.shop.lead_rule import STANDARDS, LeadRule
from sketcher.shop.lead_shapes import SWEEPS, curved, offset_of_pierce
from sketcher.shop.scrap import Scrap


def refusal(
    lost: Sequence[tuple[CutContour, Scrap]], rule: LeadRule, unit: str
) -> ExportError:
    """What is in the way of the first contour's lead, and which others have none."""
    first, scrap = lost[0]
    problem, remedy = _in_the_way(first, scrap, rule, unit)
    others = [name_of(one) for one, _ in lost[1:]]
    more = f"; nor is there one for {some(others, MOST_NAMED)}" if others else ""
    return ExportError(f"lead-in of {name_of(first)}", problem + more, remedy)


def _in_the_way(
    contour: CutContour, scrap: Scrap, rule: LeadRule, unit: str
) -> tuple[str, str]:
    """Problem and remedy for a contour that has no room for a lead."""
    way_out = ("make it wider, or cut without lead-ins" if contour.circle is None else
               "mark it for the drill, or cut without lead-ins")
    kerf = with_unit(rule.width, unit)
    if too_narrow(contour, rule):
        wide = widest(contour, rule)
        return (f"the hole is {with_unit(wide, unit)} wide, and a pierce for a kerf of {kerf} "
                f"takes {with_unit(2.0 * rule.width, unit)}", way_out)
    first = next(beginnings(contour))
    off = 0.5 * rule.kerf + offset_of_pierce(rule.length, SWEEPS[0])[1]
    if rule.given and off < rule.width:
        return (f"with {with_unit(rule.length, unit)} it pierces {with_unit(off, unit)} off the "
                f"edge, less than the kerf of {kerf}", "give a longer lead-in, or auto")
    lead = curved(first, rule.length, SWEEPS[0], 0.0)
    hit = blocked(lead.lead_in, first, STANDARDS[-1], scrap, rule)
    edge = scrap.nearest_id(lead.pierce) if hit is None else scrap.ids[hit]
    asked = with_unit(rule.length, unit)
    if rule.given:
        return f"with {asked} it meets {edge}", "give a shorter lead-in, or auto"
    return f"there is no room for one up to {asked}: it meets {edge}", way_out


def told_of(
    found: Sequence[tuple[CutPath, LedIn]], rule: LeadRule, unit: str
) -> Iterator[str]:
    """Tell which lead every contour has, those that are alike in one line."""
    centers, full, shorter = [], [], []
    for path, one in found:
        contour, lead = path.contour, one.lead
        if isinstance(lead.lead_in[-1], Line):
            centers.append(name_of(contour))
        elif lead.length < rule.length * (1.0 - 1e-9):
            shorter.append(f"{_onto(contour, one)} {with_unit(lead.length, unit)}")
        else:
            full.append(_onto(contour, one))
    if full:
        yield f"lead-ins of {with_unit(rule.length, unit)} onto {some(full, MOST_NAMED)}"
    if shorter:
        yield f"shorter lead-ins, for want of room, onto {some(shorter, MOST_NAMED)}"
    if centers:
        yield f"lead-ins straight from the center of {some(centers, MOST_NAMED)}"
    near = [_onto(path.contour, one) for path, one in found
            if one.standard.pierce < STANDARDS[0].pierce]
    if near and rule.width > 0.0:
        yield ("pierced less than two kerfs off the edge, for want of room: "
               f"{some(near, MOST_NAMED)}")
    if rule.width == 0.0:
        yield "no process and no kerf is named, so that the leads keep clear of none"
    elif rule.kerf == 0.0:
        yield (f"the leads keep clear of a kerf of {with_unit(rule.width, unit)}, which is not "
               "offset here")


def _onto(contour: CutContour, one: LedIn) -> str:
    """Id of the curve on which a lead ends."""
    return contour.ids[one.beginning.number] if contour.circle is None else name_of(contour)


def name_of(contour: CutContour) -> str:
    """Return what a contour is called: by its one curve, or by the first of several."""
    alone = contour.circle is not None or len(set(contour.ids)) == 1
    return contour.ids[0] if alone else f"the contour of {contour.ids[0]}"
