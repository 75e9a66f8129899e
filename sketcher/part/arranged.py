"""The regions of a part's half: its layout and outline curves, closed by the axis.

A mirror's axis closes regions without bounds, without a mirror every axis does as drawn; what lies
on it becomes no outline. One use of the trace tool keeps to the regions as they were when it was
taken in hand.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from functools import cached_property
from math import hypot

from sketcher.geometry.arrangement import OUTSIDE, Arrangement, Boundary
from sketcher.geometry.bounds import Box, bounds_of, box_within
from sketcher.geometry.curves import XY, Curve, Line
from sketcher.geometry.regions import box_of, is_island, place_in, width_of
from sketcher.part.value import Part
from sketcher.part.whole import curve_value

SLIVER = 0.002
"""A region narrower than this share of the whole is a sliver (common practice, no source): a fifth
of a millimetre on a plate of 100, the width of a scribed line."""

BEYOND = 0.05
"""How far a mirror axis counts beyond everything else, as a share of the size."""


@dataclass(frozen=True)
class Arranged:
    """The arrangement of a part's curves and what each curve is in it.

    Parameters
    ----------
    part : Part
        The part.
    axes : frozenset of str
        Lines that close a region and never become outline: the axes of the mirrors; without a
        mirror every line of the role axis. A mirror's axis counts without bounds.
    curves : dict of str to Curve
        What is arranged, by id.
    """

    part: Part
    axes: frozenset[str]
    curves: dict[str, Curve]

    @cached_property
    def arrangement(self) -> Arrangement:
        """The arrangement; ids are those of the curves."""
        return Arrangement(self.curves.items())

    @property
    def tol(self) -> float:
        """Length within which two places are one."""
        return self.arrangement.tol

    def faces_at(self, places: Iterable[XY]) -> list[int]:
        """Return the faces under places; a face that is named twice is taken away again."""
        found: dict[int, None] = {}
        for place in places:
            face = self.arrangement.face_at(place)
            if face in found:
                del found[face]
            else:
                found[face] = None
        return list(found)

    def inside(self, box: Box) -> dict[int, XY]:
        """Return the regions that lie wholly in a box, each with a place in it.

        What lies as an island in another region is left out: it is a hole there. So is what lies
        in an island of outline alone, though layout lines may cut it.
        """
        found = [face for face, own in self._boxes.items() if box_within(own, box)]
        places = {face: place_in(self.arrangement, face) for face in found
                  if not is_island(self.arrangement, face) and not self.is_hole(face)}
        return {face: at for face, at in places.items() if at is not None}

    def is_hole(self, face: int) -> bool:
        """Tell whether a region lies in an island of outline alone: in a hole that is drawn."""
        if face not in self._holes:
            at = None if face == OUTSIDE else place_in(self.arrangement, face)
            drawn = self._drawn
            self._holes[face] = at is not None and is_island(drawn, drawn.face_at(at))
        return self._holes[face]

    @cached_property
    def _holes(self) -> dict[int, bool]:
        return {}

    @cached_property
    def _drawn(self) -> Arrangement:
        """The arrangement of the outline alone."""
        return Arrangement((name, curve) for name, curve in self.curves.items()
                           if name in self.axes or self.part.curves[name].role == "outline")

    @cached_property
    def _boxes(self) -> dict[int, Box]:
        net = self.arrangement
        return {face.number: box_of(net, face.number) for face in net.faces
                if face.number != OUTSIDE}

    def slivers_beside(self, faces: Collection[int]) -> tuple[int, ...]:
        """Return the slivers that lie along regions and are none of them, the widest first.

        A region narrower than `SLIVER` of the whole is one: lines that were meant to meet leave it.
        """
        net = self.arrangement
        beside = set().union(*(net.neighbours(face) for face in faces)) - {OUTSIDE, *faces}
        x0, y0, x1, y1 = bounds_of(self.curves.values())
        least = SLIVER * hypot(x1 - x0, y1 - y0)
        widths = {face: width_of(net, face) for face in beside}
        thin = (face for face in beside if widths[face] < least)
        return tuple(sorted(thin, key=lambda face: -widths[face]))

    def outline(self, faces: Iterable[int]) -> tuple[Boundary, ...]:
        """Return the boundaries of faces taken together."""
        return self.arrangement.outline(list(faces))


_last: Arranged | None = None


def arranged(part: Part) -> Arranged:
    """Return the regions of a part; those of the last part are kept, found by identity."""
    global _last
    last = _last
    if (
        last is None
        or last.part.curves is not part.curves
        or last.part.points is not part.points
        or last.part.mirrors != part.mirrors
    ):
        last = _last = arrange(part)
    return last


def arrange(part: Part) -> Arranged:
    """Return the regions of a part that is looked at once: those that are kept stay kept."""
    mirrors = {mirror.axis for mirror in part.mirrors}
    axes = mirrors or {n for n, c in part.curves.items() if c.role == "axis"}
    curves = {
        name: curve_value(part, curve)
        for name, curve in part.curves.items()
        if curve.role != "axis" or name in axes
    }
    if mirrors and curves:
        box = bounds_of(curves.values())
        for name in mirrors:
            curves[name] = _through(curves[name], box)
    return Arranged(part, frozenset(axes), curves)


def _through(axis: Curve, box: Box) -> Curve:
    """Return an axis that reaches beyond a box on both sides."""
    if not isinstance(axis, Line) or axis.length == 0.0:
        return axis
    x0, y0, x1, y1 = box
    (ax, ay), (ux, uy) = axis.start, axis.direction
    along = [(x - ax) * ux + (y - ay) * uy for x in (x0, x1) for y in (y0, y1)]
    more = BEYOND * hypot(x1 - x0, y1 - y0)
    low, high = min(*along, 0.0) - more, max(*along, axis.length) + more
    return Line((ax + low * ux, ay + low * uy), (ax + high * ux, ay + high * uy))


