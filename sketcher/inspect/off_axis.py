"""Ends of a mirrored half that have left the axis: one finding in place of all that follows.

A half meets its reflection on the axis alone. An end past it crosses its own image, one short of
it leaves a gap: both are told of curves, and neither says that it is the end that is out of place.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from math import dist

from sketcher.geometry.curves import XY
from sketcher.geometry.evaluate import end_of, midpoint, start_of
from sketcher.inspect.findings import Finding
from sketcher.inspect.joints import REACH
from sketcher.inspect.profile import Profile
from sketcher.inspect.words import length, listed
from sketcher.part.curve_questions import ends_of
from sketcher.part.image_id import read_image_id
from sketcher.part.mirror import Reflector, reflector, taken
from sketcher.part.open_half import MOST
from sketcher.part.value import Part
from sketcher.part.whole import half

ACROSS = frozenset({"gap", "overrun", "crossing", "overlap"})
"""Codes of findings that follow where they are between two images of the half."""

PAST = 0.25
"""Share of the half's own depth that an end lies past the axis at most: what reaches further is on
both sides of it (common practice, no source; 3 in 30 is meant well, 5 in 9 is not)."""


@dataclass(frozen=True, slots=True)
class OffEnd:
    """An open end of the half.

    Parameters
    ----------
    curve, point : str
        The curve that ends there, and its end.
    at : (x, y)
    off : float
        How far it lies past the axis; negative short of it.
    """

    curve: str
    point: str
    at: XY
    off: float


@dataclass(frozen=True, slots=True)
class OffAxis:
    """The ends that belong on one axis and do not lie there.

    Parameters
    ----------
    axis : str
    ends : tuple of OffEnd
    chain : frozenset of str
        Drawn curves that hang together with these ends.
    places : tuple of (x, y)
        The ends and their images.
    tol : float
        Distance below which two places are one.
    """

    axis: str
    ends: tuple[OffEnd, ...]
    chain: frozenset[str]
    places: tuple[XY, ...]
    tol: float

    def finding(self, unit: str) -> Finding:
        """Return what is said of them; lengths are told in `unit`."""
        alike: dict[str, list[str]] = {}
        for end in self.ends:
            way = "past" if end.off > 0.0 else "short of"
            alike.setdefault(f"{length(abs(end.off), unit)} {way}", []).append(end.point)
        said = [f"{listed(points)} {'lies' if len(points) == 1 else 'lie'} {off}"
                for off, points in alike.items()]
        text = f"{said[0]} the axis {self.axis}" + "".join(f", {one} it" for one in said[1:])
        points = tuple(end.point for end in self.ends)
        return Finding("off-axis", f"{listed(points)} at {self.axis}", f"{' and '.join(alike)} it",
                       "on the axis", (*points, self.axis), self.ends[0].at, text)

    def explains(self, finding: Finding) -> bool:
        """Tell whether another finding follows from this one."""
        images = [read_image_id(name) for name in finding.ids]
        if finding.code == "detached":  # in no plate, for there is none as yet
            return True
        if finding.code == "axis-crossing":
            return finding.ids[1] == self.axis and \
                finding.ids[0] in {end.curve for end in self.ends if end.off > 0.0}
        if not images or not all(image.source in self.chain for image in images):
            return False
        if finding.code in ACROSS:
            return not all(image.same_image(images[0]) for image in images)
        if finding.code == "open":
            return finding.at is not None and any(
                dist(finding.at, place) <= self.tol for place in self.places)
        return finding.code == "stray"


def off_axes(part: Part, profile: Profile, tol: float, size: float) -> tuple[OffAxis, ...]:
    """Return the ends of the mirrored half that lie off their axis, one value an axis.

    An open end belongs on the nearest axis, past it up to `PAST` of the half's depth, short of it
    up to `REACH` of the size: what is further away is an outline not drawn to its end.

    Parameters
    ----------
    part : Part
    profile : Profile
        What its outline makes, images included.
    tol, size : float
        Distance below which two places are one, and the size of the outline, in the part's unit.

    Raises
    ------
    GeometryError
        When an axis has no length.
    """
    if not part.mirrors:
        return ()
    about = [reflector(part, mirror) for mirror in part.mirrors]
    found: dict[int, list[OffEnd]] = {}
    chains: dict[int, set[str]] = {}
    for name, point in _open(part, profile, about, tol):
        at = part.points[point]
        heights = [abs(one.height(at)) for one in about]
        nearest = heights.index(min(heights))
        own, reflected = about[nearest], taken(part, part.mirrors[nearest])
        if name not in reflected or own.on_axis(at):
            continue
        chain = _chain(part, name, reflected)
        deep = _depth(part, chain, own)
        off = -own.height(at) if deep > 0.0 else own.height(at)
        if -REACH * size <= off <= PAST * abs(deep):
            found.setdefault(nearest, []).append(OffEnd(name, point, at, off))
            chains.setdefault(nearest, set()).update(chain)
    return tuple(
        OffAxis(part.mirrors[n].axis, tuple(ends), frozenset(chains[n]),
                tuple(_images([end.at for end in ends], about)), tol)
        for n, ends in sorted(found.items()))


def unexplained(findings: Iterable[Finding], causes: Sequence[OffAxis]) -> Iterator[Finding]:
    """Yield the findings that do not follow from ends off the axis."""
    for finding in findings:
        if not any(cause.explains(finding) for cause in causes):
            yield finding


def _open(
    part: Part, profile: Profile, about: Sequence[Reflector], tol: float
) -> Iterator[tuple[str, str]]:
    """Yield the curves in no contour with their ends that no other end meets, of any image."""
    ends = [(name, end) for name, curve in part.curves.items() if curve.role == "outline"
            for end in ends_of(curve)]
    closed = {name for loop in profile.loops for name in loop.ids}
    count = Counter(end for _, end in ends)
    free = [(name, end) for name, end in ends if name not in closed and count[end] == 1]
    for name, end in free if len(free) <= MOST else ():
        own = part.points[end]
        others = _images([part.points[other] for _, other in free if other != end], about)
        if all(dist(own, place) > tol for place in others):
            yield name, end


def _chain(part: Part, name: str, within: frozenset[str]) -> frozenset[str]:
    """Return the outline that hangs together with a curve."""
    at: dict[str, list[str]] = {}
    for each in within:
        if part.curves[each].role == "outline":
            for end in ends_of(part.curves[each]):
                at.setdefault(end, []).append(each)
    found, waiting = {name}, [name]
    while waiting:
        for end in ends_of(part.curves[waiting.pop()]):
            fresh = set(at.get(end, ())) - found
            found |= fresh
            waiting += fresh
    return frozenset(found)


def _depth(part: Part, chain: frozenset[str], about: Reflector) -> float:
    """Return how far the half reaches from its axis, positive to the left of it."""
    shapes = half(part)
    return max((about.height(at) for name in chain for shape in (shapes[name],)
                for at in (start_of(shape), midpoint(shape), end_of(shape))), key=abs)


def _images(places: Sequence[XY], about: Sequence[Reflector]) -> list[XY]:
    """Return places with their reflections about every axis, and about both."""
    found = list(places)
    for one in about:
        found += [one.point(at) for at in found]
    return found
