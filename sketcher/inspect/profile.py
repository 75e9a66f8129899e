"""The outline of the whole part: closed contours, exact area and moments, and what spoils them.

What follows from a curve drawn twice is not told beside it: a stray that lies over another curve is
an overlap and no stray, and its ends are open only where they stick out.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import accumulate
from typing import NamedTuple

from sketcher.errors import GeometryError
from sketcher.geometry.bounds import Box, bounds_of
from sketcher.geometry.chain import goes_round, nodes
from sketcher.geometry.curves import XY, Arc, Circle, Curve
from sketcher.geometry.evaluate import angle_between, midpoint, start_of
from sketcher.geometry.loops import Loop, Overlap, find_loops
from sketcher.geometry.moments import Moments, section
from sketcher.geometry.project import nearest
from sketcher.inspect.detached import Detached, find_detached
from sketcher.part.value import Part
from sketcher.part.whole import Piece
from sketcher.quantity.units import convert

HALF_TURN = 3.14159
"""An arc that turns further than this is the end of a slot, not a rounded corner."""

BREAK = 1e-6
"""A turn in radians below this is no corner."""


class Corner(NamedTuple):
    """A corner that points into the material: its curves, its place and its radius."""

    ids: tuple[str, ...]
    at: XY
    radius: float


@dataclass(frozen=True)
class Contour:
    """A closed run of curves with the material on the left of its travel.

    So an outside contour runs counter-clockwise and a hole clockwise.
    """

    loop: Loop
    detached: bool = False
    """True where it is neither the plate's outside nor a hole of the plate."""

    @property
    def ids(self) -> tuple[str, ...]:
        """Ids of the pieces, head to tail."""
        return self.loop.ids

    @property
    def shapes(self) -> tuple[Curve, ...]:
        """Their geometry, each in the direction of travel."""
        return self.loop.curves

    @property
    def hole(self) -> bool:
        """True where the contour bounds a hole or a cut-out."""
        return self.loop.hole

    @property
    def lies(self) -> str:
        """What the contour is to the plate, in one word."""
        return "detached" if self.detached else "hole" if self.hole else "outside"

    @property
    def depth(self) -> int:
        """How many contours lie around this one."""
        return self.loop.depth

    @property
    def area(self) -> float:
        """Area inside the contour, positive."""
        return self.loop.area

    @property
    def perimeter(self) -> float:
        """Length of the contour."""
        return self.loop.perimeter

    @cached_property
    def starts(self) -> tuple[float, ...]:
        """Length along the contour at which each curve begins."""
        return tuple(accumulate((curve.length for curve in self.shapes[:-1]), initial=0.0))

    @cached_property
    def circle(self) -> Circle | None:
        """The circle that the contour is, in however many arcs; None for any other shape."""
        first = self.shapes[0]
        if not isinstance(first, Arc | Circle):
            return None
        near = 1e-9 * first.radius
        for curve in self.shapes[1:]:
            if not isinstance(curve, Arc) or abs(curve.radius - first.radius) > near:
                return None
            (x, y), (x0, y0) = curve.center, first.center
            if abs(x - x0) > near or abs(y - y0) > near:
                return None
        return Circle(first.center, first.radius)

    @cached_property
    def inside_corners(self) -> tuple[Corner, ...]:
        """Corners that point into the material: sharp ones with radius 0, and rounded ones."""
        return tuple(self._inside_corners()) if self.circle is None else ()

    def _inside_corners(self) -> Iterator[Corner]:
        for k, curve in enumerate(self.shapes):
            before = self.shapes[k - 1]
            if isinstance(curve, Arc) and -HALF_TURN < curve.sweep < 0.0:
                yield Corner((self.ids[k],), midpoint(curve), curve.radius)
            if angle_between(before, curve) < -BREAK:
                yield Corner((self.ids[k - 1], self.ids[k]), start_of(curve), 0.0)


class OpenEnd(NamedTuple):
    """An end of the outline that meets nothing."""

    id: str
    at: XY


@dataclass(frozen=True)
class Profile:
    """The outline of the whole part.

    Parameters
    ----------
    loops : tuple of Contour
        Closed contours.
    detached : tuple of Detached
        What lies off the plate or inside its holes: neither cut nor counted in area, moments,
        perimeter, bounds and mass.
    strays : tuple of str
        Pieces that belong to no contour and are not drawn over another one.
    specks : tuple of str
        Pieces without length.
    overlaps, crossings : tuple of (ids, place)
        Pairs of pieces that cover the same place, and pairs that meet other than end to end.
    meetings : tuple of (ids, place)
        Places where more than two ends meet, so that contours touch.
    open_ends : tuple of OpenEnd
        Ends that meet nothing and lie on nothing that runs along with them.
    moments : Moments or None
        Of the plate, in the part's unit; None without any.
    bounds : (x0, y0, x1, y1)
        Exact box around the plate and what is no contour yet; zeros without any.
    mass : float or None
        In kg; None where no density is known.
    places : mapping of str to (x, y)
        The middle of every stray.
    copies : mapping of str to str
        For each piece that is drawn over another one from end to end, the first one there.
    more : bool
        There are more overlaps or crossings than are named here.
    """

    loops: tuple[Contour, ...]
    detached: tuple[Detached, ...]
    strays: tuple[str, ...]
    specks: tuple[str, ...]
    overlaps: tuple[tuple[tuple[str, str], XY], ...]
    crossings: tuple[tuple[tuple[str, str], XY], ...]
    meetings: tuple[tuple[tuple[str, ...], XY], ...]
    open_ends: tuple[OpenEnd, ...]
    moments: Moments | None
    bounds: Box
    mass: float | None
    places: dict[str, XY]
    copies: Mapping[str, str]
    more: bool

    @property
    def closed(self) -> bool:
        """True when every outline curve is part of a closed contour, or drawn over one."""
        return bool(self.loops) and not self.strays and not self.open_ends

    @cached_property
    def plate(self) -> tuple[Contour, ...]:
        """The contours of the one part: its outside and its holes."""
        return tuple(loop for loop in self.loops if not loop.detached)

    def drawn_twice(self, pair: tuple[str, str]) -> bool:
        """Tell whether two pieces cover the same place: what else is odd there follows from it."""
        one, other = (self.copies.get(name, name) for name in pair)
        return one == other or frozenset((one, other)) in self._overlapping

    @cached_property
    def _overlapping(self) -> frozenset[frozenset[str]]:
        return frozenset(frozenset(pair) for pair, _ in self.overlaps)

    @property
    def area(self) -> float:
        """Area of the plate in square units."""
        return self.moments.area if self.moments else 0.0

    @property
    def perimeter(self) -> float:
        """Length of all contours of the plate, which is the length of the cut."""
        return sum(loop.perimeter for loop in self.plate)

    def as_dict(self) -> dict[str, object]:
        """Return the entry of the inspection file; second moments are about the centroid."""
        central = self.moments.central if self.moments else (0.0, 0.0, 0.0)
        return {
            "closed": self.closed,
            "loops": [
                {"curves": list(loop.ids), "hole": loop.hole, "detached": loop.detached,
                 "area": loop.area, "perimeter": loop.perimeter}
                for loop in self.loops
            ],
            "area": self.area,
            "perimeter": self.perimeter,
            "centroid": list(self.moments.centroid) if self.moments else None,
            "second_moments": dict(zip(("Ix", "Iy", "Ixy"), central, strict=True)),
            "bounds": list(self.bounds),
            "mass": self.mass,
            "strays": [*self.strays, *self.specks],
            "overlaps": [list(ids) for ids, _ in self.overlaps],
            "crossings": [list(ids) for ids, _ in (*self.crossings, *self.meetings)],
            "more": self.more,
        }


def profile_of(part: Part, pieces: Sequence[Piece], tol: float) -> Profile:
    """Return the profile of the whole part.

    Parameters
    ----------
    part : Part
        For unit and material.
    pieces : sequence of Piece
        The whole part; only its outline counts.
    tol : float
        Distance below which two places are one.
    """
    outline = [piece for piece in pieces if piece.role == "outline"]
    found = find_loops([(piece.id, piece.curve) for piece in outline], tol)
    detached = find_detached(found, outline)
    apart = {number for piece in detached for number in piece.contours}
    loops = tuple(Contour(loop, k in apart) for k, loop in enumerate(found.loops))
    plate = [loop for loop in loops if not loop.detached]
    beside = {name for loop in loops if loop.detached for name in loop.ids}
    counted = [piece.curve for piece in outline if piece.id not in beside]
    moments = _moments(plate)
    strays, specks = set(found.strays), set(found.specks)
    twice = {name for o in found.overlaps for name in (o.a, o.b)}
    return Profile(
        loops=loops,
        detached=detached,
        strays=tuple(name for name in found.strays if name not in twice),
        specks=found.specks,
        overlaps=tuple(((o.a, o.b), midpoint(o.pieces[0])) for o in found.overlaps),
        crossings=tuple(((c.a, c.b), c.point) for c in found.crossings),
        meetings=tuple(
            (branch.ids, branch.point) for branch in found.branches
            if not strays.intersection(branch.ids)
        ),
        open_ends=tuple(_open_ends(outline, found.overlaps, tol)) if strays else (),
        moments=moments,
        bounds=bounds_of(counted) if counted else (0.0, 0.0, 0.0, 0.0),
        mass=_mass(part, moments.area if moments else 0.0),
        places={piece.id: midpoint(piece.curve) for piece in outline
                if piece.id in strays or piece.id in specks},
        copies=found.copies,
        more=found.more,
    )


def _moments(plate: Sequence[Contour]) -> Moments | None:
    try:
        return section((contour.shapes, contour.hole) for contour in plate)
    except GeometryError:
        return None


def _mass(part: Part, area: float) -> float | None:
    if not part.material.density:
        return None
    metre = convert(1.0, part.unit, "m")
    return area * part.material.thickness * metre**3 * part.material.density


def _open_ends(
    outline: Sequence[Piece], overlaps: Sequence[Overlap], tol: float
) -> Iterator[OpenEnd]:
    """Yield the ends at which no other curve ends, less those on a curve that runs along."""
    long = [piece for piece in outline if goes_round(piece.curve) or piece.curve.length > tol]
    net = nodes([piece.curve for piece in long], tol)
    curves = {piece.id: piece.curve for piece in long}
    along: dict[str, list[Curve]] = {}
    for pair in overlaps:
        for one, other in ((pair.a, pair.b), (pair.b, pair.a)):
            along.setdefault(one, []).append(curves[other])
    for point, at in zip(net.points, net.at, strict=True):
        if len(at) == 1:
            name = long[at[0]].id
            if all(nearest(curve, point).distance > tol for curve in along.get(name, ())):
                yield OpenEnd(name, point)
