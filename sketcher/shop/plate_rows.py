"""Copies of a part in rows on a plate.

All distances are reckoned on what is cut, leads and kerf included. Rows are what a shop lays out by
hand (`row_layout`); a denser nest of free turns is the business of a package made for it, and none
is used here: those that are kept well need a program of their own to be built, for a gain that one
part in rows rarely shows.
"""

from __future__ import annotations

from dataclasses import replace

from sketcher.errors import ExportError
from sketcher.geometry.curves import Line
from sketcher.inspect.words import length, plural
from sketcher.quantity.units import convert
from sketcher.shop.assumed_kerf import assumed_kerf
from sketcher.shop.cut_plan import CutPlan
from sketcher.shop.footprint import footprint_of
from sketcher.shop.moved_plan import moved_plan
from sketcher.shop.row_layout import RowLayout

LEAST_BETWEEN_MM = 3.0
"""The least distance of copies that is taken without being told: common practice, no source."""

FILL = 0
"""Number of copies that means as many as there is room for."""

MOST_COPIES = 2000
"""More are not planned at once: with a few holes each it took minutes."""


def on_plate(plan: CutPlan) -> CutPlan:
    """Return the plan with its copies on the plate, all of a copy one after the other.

    Parameters
    ----------
    plan : CutPlan
        Of one part, with kerf and leads; `plan.settings` says how many copies, on which plate, how
        far apart and whether the grain keeps them from being turned by a quarter.

    Raises
    ------
    ExportError
        When they do not fit; it says how many do. For copies without a plate, and for more than
        `MOST_COPIES`.
    """
    settings = plan.settings
    if settings.plate is None:
        if settings.copies != 1:
            raise ExportError("copies", "no plate is given to lay them out on",
                              "give its width and height")
        return plan
    wanted = max(FILL, settings.copies)
    between = usual_between(plan) if settings.between is None else settings.between
    layout = RowLayout(footprint_of(plan, between), settings.plate, between, settings.grain)
    stands = layout.best(wanted or MOST_COPIES + 1) if wanted <= MOST_COPIES else []
    if wanted > MOST_COPIES or len(stands) > MOST_COPIES:
        raise ExportError("copies", f"are more than the {MOST_COPIES} that are planned at once",
                          f"give a number up to {MOST_COPIES}, and cut the file several times")
    width, height = (length(side, plan.unit) for side in settings.plate)
    if len(stands) < max(1, wanted):
        fit = f"{len(stands)} of {wanted} fit" if wanted > 1 else "it does not fit"
        raise ExportError("copies", f"{fit} on a plate of {width} x {height}, "
                          f"{length(between, plan.unit)} apart",
                          "give a larger plate, fewer copies or less between")
    copies = [moved_plan(plan, stand.at) for stand in stands]
    corners = [(0.0, 0.0), (settings.plate[0], 0.0), settings.plate, (0.0, settings.plate[1])]
    edges = tuple(Line(a, b) for a, b in zip(corners, [*corners[1:], corners[0]], strict=True))
    told = (f"{plural(len(copies), 'copy', 'copies')} on a plate of {width} x {height}, "
            f"at least {length(between, plan.unit)} apart and from its edges",)
    return replace(
        plan, plate=edges, told=(*plan.told, *told),
        paths=tuple(replace(path, copy=k) for k, one in enumerate(copies) for path in one.paths),
        marks=tuple(replace(mark, copy=k) for k, one in enumerate(copies) for mark in one.marks),
        finished=tuple(contour for one in copies for contour in one.finished))


def usual_between(plan: CutPlan) -> float:
    """Return how far copies stay apart without being told, in the part's unit.

    The thickness of the plate, twice the kerf and 3 mm, whichever is most (common practice, no
    source).
    """
    return max(plan.thickness, 2.0 * assumed_kerf(plan.settings, plan.unit),
               convert(LEAST_BETWEEN_MM, "mm", plan.unit))
