"""What the leads of a part go by: length, room to keep, width of the cut.

All values are common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import isfinite

from sketcher.errors import ExportError
from sketcher.quantity.units import convert
from sketcher.shop.assumed_kerf import assumed_kerf
from sketcher.shop.cut_plan import CutSettings

LEAST_MM = 3.0
"""Length of a lead-in on thin plate (common practice, no source)."""

KERFS_LONG = 2.0
"""A lead-in is so many kerfs long at least (common practice, no source), and half a kerf longer
onto a contour that is not offset, so that the pierce still stands two kerfs off the edge."""

FROM_CENTER = 1.5
"""Round holes with a radius up to so many lengths of a lead are led into from their center: any
other place in them has less room. With a length that is given, up to that length."""

SMALL_HOLE = 4.0
"""A plasma hole narrower than so many thicknesses has no lead-out (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Standard:
    """How much room a lead must have, in kerfs.

    Parameters
    ----------
    pierce : float
        Between the pierce and every edge.
    beside : float
        Between its straight and the edges, beside half of the kerf.
    amid : float
        The pierce's room is at least this share of its distance from its own edge: in a narrow
        place it stands about in the middle.
    """

    pierce: float
    beside: float
    amid: float


STANDARDS = (Standard(2.0, 0.5, 0.8), Standard(2.0, 0.5, 0.0), Standard(1.5, 0.25, 0.0),
             Standard(1.0, 0.0, 0.0))
"""From what is wanted, two kerfs off every edge, to the least: what is pierced is about two kerfs
wide, slag and all (common practice, no source), so that its rim is one kerf from its middle."""


@dataclass(frozen=True, slots=True)
class LeadRule:
    """What the leads of one part go by, in its unit.

    Parameters
    ----------
    kerf : float
        By which the contours are offset.
    width : float
        Of the cut, as far as anything is known of it.
    length : float
        Of a lead-in.
    given : bool
        By a person, and so no other is tried.
    small : float
        Round holes narrower than this have no lead-out.
    """

    kerf: float
    width: float
    length: float
    given: bool
    small: float

    def beside(self, standard: Standard) -> float:
        """Return the least distance of a lead's straight from edges other than its own.

        A controller that offsets the contour offsets the lead with it, by half of the kerf.
        """
        return (standard.beside + (0.5 if self.kerf > 0.0 else 1.0)) * self.width

    @property
    def least_radius(self) -> float:
        """Least radius of a lead's arc: offset by half of the kerf it must not vanish."""
        return 0.0 if self.kerf > 0.0 else 0.5 * self.width


def lead_rule(settings: CutSettings, thickness: float, unit: str) -> LeadRule:
    """Return what the leads go by.

    Raises
    ------
    ExportError
        For a length that is none.
    """
    width = assumed_kerf(settings, unit)
    given = settings.lead not in (None, "auto")
    kerfs = KERFS_LONG if settings.kerf > 0.0 else KERFS_LONG + 0.5
    length = max(thickness, convert(LEAST_MM, "mm", unit), kerfs * width)
    if isinstance(settings.lead, int | float):
        length = settings.lead
        if not (isfinite(length) and length > 0.0):
            raise ExportError("lead", f"{length:g} is no length of a lead-in",
                              "give a length above zero, or auto")
    small = SMALL_HOLE * thickness if settings.process == "plasma" else 0.0
    return LeadRule(settings.kerf, width, length, given, small)
