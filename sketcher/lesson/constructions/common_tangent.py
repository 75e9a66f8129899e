"""The line that touches two circles, on one side of both or crossing between them."""

from __future__ import annotations

from sketcher.geometry.curves import XY
from sketcher.lesson.constructions.square_at import square_through
from sketcher.lesson.constructions.tangent_from import touching_point
from sketcher.lesson.slate import NotDrawn, Slate
from sketcher.lesson.strokes import Compass


def common_tangent(
    slate: Slate, rings: tuple[str, str], touches: tuple[XY, XY], texts: tuple[str, str],
    name: str = "", names: tuple[str, str] = ("", ""),
) -> tuple[str, str, str]:
    """Return the common tangent of two circles and where it touches each.

    By the difference of the radii where both lie on one side of it, by their sum where it runs
    between them; circles of one size by two squares to the line of centers.

    Parameters
    ----------
    slate : Slate
    rings : pair of str
    touches : pair of (float, float)
        Where it touches: which of the four is meant.
    texts : pair of str
        The radii, as they are said.
    name : str
    names : pair of str
        Of the points where it touches.
    """
    one, other = (slate.rings[ring] for ring in rings)
    (ax, ay), (bx, by) = one.at, other.at
    (ux, uy), (vx, vy) = touches
    outer = (ux - ax) * (vx - bx) + (uy - ay) * (vy - by) > 0.0
    if outer and abs(one.radius - other.radius) <= slate.near:
        return _alike(slate, rings, touches, name, names)
    if one.radius < other.radius:
        made, second, first = common_tangent(slate, rings[::-1], touches[::-1], texts[::-1], name,
                                             names[::-1])
        return made, first, second
    amount = one.radius - other.radius if outer else one.radius + other.radius
    sign = "-" if outer else "+"
    share = amount / one.radius
    aside = (ax + share * (ux - ax), ay + share * (uy - ay))
    helper = slate.swing(one.center, Compass(amount, f"{texts[0]} {sign} {texts[1]}"), aside)
    slate.say(f"About {one.center} swing a circle with {texts[0]} {sign} {texts[1]}, the "
              f"{'difference' if outer else 'sum'} of the radii.")
    foot = touching_point(slate, helper, other.center, aside)
    spoke = slate.rule(one.center, foot)
    first = slate.cross(spoke, rings[0], touches[0], names[0])
    slate.say(f"Draw {spoke} through {one.center} and {foot}: it cuts {rings[0]} at {first}.")
    arc = slate.swing(first, slate.span(other.center, foot), touches[1])
    second = slate.cross(arc, rings[1], touches[1], names[1])
    made = slate.rule(first, second, name)
    slate.say(f"About {first} with the opening {other.center}-{foot} cut {rings[1]} at {second}. "
              f"Draw {made} through {first} and {second}: it touches both there.")
    return made, first, second


def _alike(
    slate: Slate, rings: tuple[str, str], touches: tuple[XY, XY], name: str, names: tuple[str, str]
) -> tuple[str, str, str]:
    """Tangent along two circles of one size: square to the line of centers at both."""
    centers = slate.rings[rings[0]].center, slate.rings[rings[1]].center
    if slate.points[centers[0]] == slate.points[centers[1]]:
        raise NotDrawn(f"{rings[0]} and {rings[1]} are one circle")
    axis = slate.rule(*centers)
    slate.say(f"Draw {axis} through the centers {centers[0]} and {centers[1]}.")
    upright = square_through(slate, axis, centers[0])
    first = slate.cross(upright, rings[0], touches[0], names[0])
    arc = slate.swing(first, slate.span(*centers), touches[1])
    second = slate.cross(arc, rings[1], touches[1], names[1])
    made = slate.rule(first, second, name)
    slate.say(f"{upright} cuts {rings[0]} at {first}; about {first} with the opening {centers[0]}-"
              f"{centers[1]} cut {rings[1]} at {second}. Draw {made} through {first} and {second}: "
              f"the circles are of one size, so it runs along their line of centers and touches "
              f"both.")
    return made, first, second
