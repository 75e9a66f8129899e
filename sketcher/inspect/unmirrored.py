"""A half without its mirror: one finding in place of one for every end and curve of it."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from math import dist

from sketcher.geometry.bounds import bounds_of
from sketcher.geometry.curves import XY, Curve, Line
from sketcher.geometry.evaluate import end_of, midpoint, start_of
from sketcher.inspect.findings import Finding
from sketcher.inspect.profile import Profile
from sketcher.inspect.symmetry import crosses
from sketcher.part.curve_questions import ends_of
from sketcher.part.mirror import Reflector
from sketcher.part.open_half import IN_LINE, MOST, furthest_in_line
from sketcher.part.value import LineCurve, Part
from sketcher.part.whole import half as shapes_of

LEAVES = 2
"""Curves that end in one place of a half, but for its open ends."""


@dataclass(frozen=True, slots=True)
class OpenHalf:
    """Outline on one side of a line that only its reflection about that line closes.

    Parameters
    ----------
    ends : tuple of str
        The two open ends that are furthest apart.
    at : (x, y)
        The middle between them.
    curves : tuple of str
        Ids of the outline that is open.
    axis : str
        The axis that is drawn on the line; empty without one.
    """

    ends: tuple[str, ...]
    at: XY
    curves: tuple[str, ...]
    axis: str = ""

    def finding(self) -> Finding:
        """Return what is said of it."""
        one, other = self.ends
        about = self.axis or "the line through them"
        return Finding(
            "half", f"the half from {one} to {other}", "open along a line",
            "a mirror, or an edge along it", self.ends, self.at,
            f"the half is open from {one} to {other}: mirror it about {about} (M)",
        )


def open_half(part: Part, profile: Profile) -> OpenHalf | None:
    """Return the half that a part without a mirror consists of; None where it is none.

    All that is open ends on one line, lies on one side of it and nowhere along it, and closed
    contours lie within its box as its holes do. Where the part has an axis, that is the line.

    Parameters
    ----------
    part : Part
        Lengths in its own unit.
    profile : Profile
        What its outline makes: the open ends and the curves in no loop are looked at.

    Returns
    -------
    OpenHalf or None
        With ids of the part, and `at`, shape (2,), in the part's unit. Nothing is raised: a part
        whose open curves are odd in any other way is no half.
    """
    ends = _ends(part, profile)
    span = furthest_in_line(part, ends)
    if part.mirrors or not span:
        return None
    line = Line(part.points[span[0]], part.points[span[1]])
    about = Reflector(line, IN_LINE * line.length)
    every = shapes_of(part)
    shapes = [every[name] for name in profile.strays]
    if not _beside(shapes, about) or not _holds(shapes, profile):
        return None
    axis = _drawn(part, about)
    if not axis and any(curve.role == "axis" for curve in part.curves.values()):
        return None  # which is not yet a half of what the axis is for
    return OpenHalf(span, midpoint(line), profile.strays, axis)


def _ends(part: Part, profile: Profile) -> tuple[str, ...]:
    """Return the open ends as points; nothing where anything else is odd about what is open."""
    strays = profile.strays
    if not 2 <= len(profile.open_ends) <= MOST or not part.curves.keys() >= set(strays):
        return ()
    met = Counter(point for name in strays for point in ends_of(part.curves[name]))
    if max(met.values(), default=0) > LEAVES:
        return ()
    found = []
    for opening in profile.open_ends:
        if opening.id not in strays:
            return ()
        one, other = ends_of(part.curves[opening.id])
        nearer = dist(part.points[one], opening.at) <= dist(part.points[other], opening.at)
        found.append(one if nearer else other)
    return tuple(found) if len(set(found)) == len(found) else ()


def _beside(shapes: list[Curve], about: Reflector) -> bool:
    """Tell whether curves lie on one side of the axis, and none of them along it."""
    heights = []
    for curve in shapes:
        own = [about.height(at) for at in (start_of(curve), midpoint(curve), end_of(curve))]
        if max(map(abs, own)) <= about.tolerance or crosses(curve, about, about.tolerance):
            return False
        heights += own
    return min(heights) >= -about.tolerance or max(heights) <= about.tolerance


def _holds(shapes: list[Curve], profile: Profile) -> bool:
    """Tell whether every closed contour has its middle within the box of what is open."""
    x0, y0, x1, y1 = bounds_of(shapes)
    for loop in profile.loops:
        a0, b0, a1, b1 = bounds_of(loop.shapes)
        if not (x0 <= 0.5 * (a0 + a1) <= x1 and y0 <= 0.5 * (b0 + b1) <= y1):
            return False
    return True


def _drawn(part: Part, about: Reflector) -> str:
    """Return the axis that is drawn on the line."""
    return next((name for name, curve in part.curves.items()
                 if curve.role == "axis" and isinstance(curve, LineCurve)
                 and all(about.on_axis(part.points[end]) for end in curve.ends)), "")
