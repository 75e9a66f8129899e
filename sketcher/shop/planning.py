"""From an inspected part to the plan of its cut, stage by stage."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace

from sketcher.geometry.evaluate import reversed_curve
from sketcher.inspect.inspection import Inspection
from sketcher.inspect.profile import Contour
from sketcher.inspect.release import release_cut
from sketcher.shop.carried_kerf import with_carried_kerf
from sketcher.shop.cut_plan import CutContour, CutPath, CutPlan, CutSettings
from sketcher.shop.cutting_order import in_order
from sketcher.shop.kerf import offset_by_kerf
from sketcher.shop.leads import with_leads
from sketcher.shop.lower_left import at_lower_left
from sketcher.shop.needless_vertices import without_needless_vertices
from sketcher.shop.plate_rows import on_plate
from sketcher.shop.small_holes import without_small_holes
from sketcher.shop.tabs import with_tabs


def plan_cut(
    inspection: Inspection, settings: CutSettings | None = None, despite: Collection[str] = ()
) -> CutPlan:
    """Return the plan of the cut of a part, or refuse.

    Parameters
    ----------
    inspection : Inspection
        Of the solved part.
    settings : CutSettings, optional
        Without any: nominal size, no leads, every hole cut.
    despite : collection of str
        Codes of findings with which it may be cut all the same.

    Raises
    ------
    ExportError
        With the findings that forbid cutting (see `sketcher.inspect.release`), or with the contour
        that cannot be cut by these settings.
    """
    asked = settings or CutSettings()
    release_cut(inspection, despite, asked.process)
    part = inspection.part
    chosen = with_carried_kerf(part, asked)
    finished = tuple(without_needless_vertices(as_cut(contour), inspection.tol)
                     for contour in sorted(inspection.profile.plate, key=lambda one: -one.depth))
    kept, marks, told = without_small_holes(part, finished, chosen)
    widened, words = offset_by_kerf(kept, asked.kerf, part.unit)
    told += words
    paths = tuple(map(CutPath, widened))
    # A kerf that the part carries is in its contours already, and half of it lies behind them.
    paths, words = with_leads(paths, finished, chosen, part.material.thickness, part.unit,
                              0.5 * (chosen.kerf - asked.kerf))
    told += words
    paths, words = with_tabs(paths, chosen, part.unit)
    told += words
    plan = on_plate(CutPlan(part.name, part.unit, part.material.thickness, chosen, marks, paths,
                            finished, told=told))
    ordered = in_order(plan.marks, plan.paths, plan.thickness)
    plan = replace(plan, marks=ordered.marks, paths=ordered.paths, travel=ordered.travel,
                   travel_as_drawn=ordered.as_drawn,
                   told=(*plan.told, *ordered.words(plan.unit, plan.thickness)))
    return at_lower_left(plan) if chosen.lower_left else plan


def as_cut(contour: Contour) -> CutContour:
    """Return a contour in the direction of the cut; a circle in however many arcs as one."""
    circle = contour.circle
    if circle is not None:
        return CutContour(contour.ids, (circle,), contour.hole, contour.depth)
    curves = tuple(map(reversed_curve, reversed(contour.shapes)))
    return CutContour(contour.ids[::-1], curves, contour.hole, contour.depth)
