"""The tangent to a circle from a point outside it."""

from __future__ import annotations

from sketcher.geometry.curves import XY
from sketcher.lesson.constructions.bisect import midpoint
from sketcher.lesson.slate import Slate


def touching_point(slate: Slate, ring: str, point: str, towards: XY, name: str = "") -> str:
    """Return where the tangent from a point touches a circle (Thales; Elements III.17, III.31).

    Parameters
    ----------
    slate : Slate
    ring : str
    point : str
        Outside the circle.
    towards : (float, float)
        Which of the two: the place where it touches.
    name : str
    """
    circle = slate.rings[ring]
    middle = midpoint(slate, circle.center, point)
    thales = slate.swing(middle, slate.span(middle, point), towards)
    found = slate.cross(ring, thales, towards, name)
    slate.say(f"Tangent from {point} to the circle about {circle.center}: about {middle}, the "
              f"midpoint of {circle.center}-{point}, swing the semicircle through {point}; it cuts "
              f"the circle at {found}, where the angle is a right one (Thales).")
    return found


def tangent_from(
    slate: Slate, ring: str, point: str, towards: XY, name: str = "", touch: str = ""
) -> tuple[str, str]:
    """Return the tangent from a point and the point where it touches."""
    found = touching_point(slate, ring, point, towards, touch)
    made = slate.rule(point, found, name)
    slate.say(f"Draw {made} through {point} and {found}.")
    return made, found
