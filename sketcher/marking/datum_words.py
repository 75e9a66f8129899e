"""The datum of a part in words that a drawing without names of points can be read by."""

from __future__ import annotations

from itertools import combinations
from math import radians, sin

from sketcher.geometry.curves import XY, Line
from sketcher.geometry.evaluate import angle_between, joint_angle
from sketcher.geometry.project import nearest
from sketcher.inspect.inspection import Inspection
from sketcher.part.curve_questions import center_of, ends_of
from sketcher.part.kinds import bind
from sketcher.part.operand_forms import radius_of
from sketcher.part.part_size import part_size
from sketcher.part.printed import printed
from sketcher.part.value import Part
from sketcher.part.whole import curve_value

THIRD = 0.35
"""Share of the part at either side within which something lies at that side, not in the middle."""
SHARP = 1.0
"""Least angle in degrees between two edges at a corner: less runs smoothly to the eye (a guess)."""
NEAR = 1e-7
"""Share of the part's size within which an edge points to a place."""


def datum_words(inspection: Inspection) -> str:
    """Return what the fixed point of a solved part is on paper; empty for what nobody can see.

    Parameters
    ----------
    inspection : Inspection
        Of the solved part.

    Returns
    -------
    str
        Such as ``the center of the hole Ø25 at the left`` or ``the corner at the lower left``.
    """
    part = inspection.part
    point = next((b.of[0] for b in part.bindings.values() if b.kind == "fixed"), None)
    if point is None:
        return ""
    what = (_round_about(inspection, point) or _corner(part, point) or _on_axes(part, point)
            or _lost_corner(part, point))
    return f"{what} {_where(part.points[point], inspection.profile.bounds)}" if what else ""


def _round_about(inspection: Inspection, point: str) -> str:
    """Return the smallest round of the outline about a point, with its size."""
    part = inspection.part
    rounds = [name for name, curve in part.curves.items()
              if curve.role == "outline" and center_of(curve) == point]
    if not rounds:
        return ""
    name = min(rounds, key=lambda name: radius_of(part, name))
    if part.curves[name].kind == "arc":
        return f"the center of the arc R{_size(part, 'radius', name)}"
    is_hole = any(loop.hole and name in loop.ids for loop in inspection.profile.loops)
    return (f"the center of the {'hole' if is_hole else 'circle'} "
            f"Ø{_size(part, 'diameter', name)}")


def _size(part: Part, kind: str, name: str) -> str:
    """Return the size of a round as the paper prints it: as typed where it is a dimension."""
    said = next((b for b in part.bindings.values()
                 if b.kind == kind and b.of == (name,) and b.drives), bind(part, kind, (name,)))
    return printed(part, said).text


def _corner(part: Part, point: str) -> str:
    """Return what edges make of a point at which they end."""
    edges = [curve_value(part, curve) for curve in part.curves.values()
             if curve.role == "outline" and point in ends_of(curve)]
    if len(edges) != 2:
        on_axis = any(curve.role == "axis" and point in ends_of(curve)
                      for curve in part.curves.values())
        return (("the place where center line and edge cross" if on_axis else "the end of the edge")
                if edges else "")
    if joint_angle(edges[0], edges[1], part.points[point]) >= radians(SHARP):
        return "the corner"
    straight = any(isinstance(edge, Line) for edge in edges)
    return f"the place where {'edge and arc' if straight else 'two arcs'} touch"


def _on_axes(part: Part, point: str) -> str:
    """Return what center lines make of a point."""
    axes = sum(curve.role == "axis" and point in ends_of(curve) for curve in part.curves.values())
    return ("", "the end of the center line")[axes] if axes < 2 else \
        "the place where the center lines cross"


def _lost_corner(part: Part, point: str) -> str:
    """Return what a corner that was rounded or cut away is: two edges point to it."""
    near, at = NEAR * part_size(part), part.points[point]
    edges = [curve_value(part, curve) for curve in part.curves.values() if curve.role == "outline"]
    pointing = [edge for edge in edges if isinstance(edge, Line)
                and nearest(edge, at, bounded=False).distance <= near]
    meet = any(abs(sin(angle_between(one, other))) >= sin(radians(SHARP))
               for one, other in combinations(pointing, 2))
    return "the sharp corner of the two edges" if meet else ""


def _where(at: XY, box: tuple[float, float, float, float]) -> str:
    """Return in which part of a box a place lies."""
    x0, y0, x1, y1 = box
    across = _third(at[0], x0, x1, ("left", "right"))
    up = _third(at[1], y0, y1, ("lower", "upper"))
    if across:
        return f"at the {up} {across}" if up else f"at the {across}"
    return {"": "in the middle", "lower": "at the bottom", "upper": "at the top"}[up]


def _third(value: float, low: float, high: float, sides: tuple[str, str]) -> str:
    share = (value - low) / (high - low) if high > low else 0.5
    return sides[0] if share < THIRD else sides[1] if share > 1.0 - THIRD else ""
