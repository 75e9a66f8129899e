"""An arc of the outline that leaves in any direction: its end or its center comes first."""

from __future__ import annotations

from dataclasses import replace
from math import dist

from sketcher.board.places.pending_bindings import Typed, typed_tie
from sketcher.board.places.point_place import Around, Spot
from sketcher.board.places.snap_choice import snapped
from sketcher.board.toolkit.drawn_arcs import arc_of_radius, arc_through, turned
from sketcher.board.toolkit.turning import FollowedTurn
from sketcher.errors import EditError
from sketcher.geometry.bounds import RELATIVE
from sketcher.geometry.curves import XY, Arc, Circle
from sketcher.geometry.project import nearest
from sketcher.part.curve_questions import center_of
from sketcher.part.value import Part


class FreeArc:
    """What is taken of a free arc: nothing, its end, or its center."""

    def __init__(self) -> None:
        self.far: Spot | None = None
        self.center: Spot | None = None
        self.turning: FollowedTurn | None = None

    @property
    def is_begun(self) -> bool:
        """True once an end or a center is taken."""
        return self.far is not None or self.center is not None

    def clear(self) -> None:
        """Let end and center go."""
        self.far = self.center = self.turning = None

    def about(self, center: Spot, origin: XY) -> None:
        """Take a center."""
        self.center, self.turning = center, FollowedTurn(center.at, origin)

    def now(self, part: Part, origin: XY) -> None:
        """Look again at what is taken; a center that is gone is let go."""
        if self.far is not None:
            self.far = self.far.now(part)
        if self.center is not None:
            center = self.center.now(part)
            self.clear()
            if center.point is not None:
                self.about(center, origin)

    def aim(self, around: Around) -> Spot:
        """Return the end about the center that the pointer means."""
        assert self.turning is not None
        ring = Circle(self.turning.center, dist(self.turning.start, self.turning.center))
        foot = nearest(ring, around.pointer.at).point
        return snapped(around, Spot(foot, locus=ring))

    def swept(self, typed: Typed) -> Spot:
        """Return the end of a typed sweep."""
        assert self.turning is not None
        return Spot(self.turning.end_of(typed.amount), f"sweep {typed.text}",
                    (typed_tie("sweep", ("@curve",), typed),))

    def arc(self, origin: XY, at: XY, radius: Typed | None, pointer: XY) -> Arc | None:
        """Return the arc that a place would draw once an end or a center is taken."""
        if self.turning is not None:
            return self.turning.arc(at)
        assert self.far is not None
        if radius is not None:
            return arc_of_radius(origin, self.far.at, radius.amount, pointer)
        return arc_through(origin, at, self.far.at)

    def end_about(self, center: Spot, origin: XY) -> tuple[Spot, Arc]:
        """Return the end, brought onto the circle about a center, and the shorter arc to it.

        Raises
        ------
        EditError
            When the end is bound to a place that is not as far from the center as the start.
        """
        far = self.far
        assert far is not None
        radius, away = dist(origin, center.at), dist(far.at, center.at)
        if abs(away - radius) > RELATIVE * radius:
            if far.point is not None or far.ties or not away > 0.0:
                raise EditError(str(center.point), "start and end are not equally far from it",
                                "press a place that the arc runs through")
            share = radius / away
            far = replace(far, at=(center.at[0] + (far.at[0] - center.at[0]) * share,
                                   center.at[1] + (far.at[1] - center.at[1]) * share))
        ccw = turned(center.at, origin, far.at) >= 0.0
        return far, Arc(center.at, origin, far.at, ccw)


def is_center(part: Part, spot: Spot) -> bool:
    """Tell whether a place is the center of an arc or a circle of the part."""
    return spot.point is not None and any(
        center_of(curve) == spot.point for curve in part.curves.values())
