"""Arrows that show how loose points can move."""

from __future__ import annotations

from dataclasses import dataclass

from sketcher.geometry.curves import XY
from sketcher.part.value import CircleCurve, Part
from sketcher.solve.solve_report import SolveReport


@dataclass(frozen=True, slots=True)
class Motion:
    """A place that can move.

    Parameters
    ----------
    name : str
        The point, or the circle whose radius is free.
    at : tuple of float
        Where the arrows start.
    ways : tuple of tuple of float
        Unit vectors: one for a motion along a line (it goes both ways), two for any motion.
    """

    name: str
    at: XY
    ways: tuple[XY, ...]


def motions(part: Part, report: SolveReport) -> tuple[Motion, ...]:
    """Return the arrows for every loose point and every free radius."""
    found = []
    for loose in report.loose:
        curve = part.curves.get(loose.point)
        if loose.point in part.points:
            found.append(Motion(loose.point, part.points[loose.point], loose.directions))
        elif isinstance(curve, CircleCurve):
            x, y = part.points[curve.center]
            found.append(Motion(loose.point, (x + curve.radius, y), ((1.0, 0.0),)))
    return tuple(found)
