"""Rounded and cut corners between two curves, with the curves trimmed to them.

A fillet continues both curves smoothly: leaving the fillet at its place of contact one runs into
the part that is kept. That, not the order of the ends, tells which part of a curve remains.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import dist, inf
from typing import NamedTuple

from sketcher.errors import GeometryError
from sketcher.geometry.bounds import tolerance
from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.geometry.evaluate import end_of, midpoint, point_at, start_of, tangent_at
from sketcher.geometry.meet import meet
from sketcher.geometry.project import parameter_at
from sketcher.geometry.tangent_circles import circles_of_radius


class Fillet(NamedTuple):
    """An arc from curve `a` to curve `b`, its places of contact, and what is left of both.

    A trimmed curve keeps its direction; a full circle is not trimmed. `corner` is the place where
    the two curves met, None when they only meet when extended beyond reason.
    """

    arc: Arc
    at_a: XY
    at_b: XY
    a: Curve
    b: Curve
    corner: XY | None

    @property
    def center(self) -> XY:
        """Center of the arc."""
        return self.arc.center


class Chamfer(NamedTuple):
    """A line from curve `a` to curve `b`, and what is left of both."""

    line: Line
    a: Curve
    b: Curve
    corner: XY


class _Trim(NamedTuple):
    kept: Curve
    grown: float  # length by which the curve had to be extended
    lost: XY | None  # the end that was cut off


def fillet(a: Curve, b: Curve, radius: float, near: XY | None = None) -> Fillet:
    """Return the fillet of a radius between two curves.

    Parameters
    ----------
    a, b : Curve
        Curves that share a corner, cross, or stop short of each other.
    radius : float
        Radius of the fillet, above zero.
    near : point, optional
        Picks among several fillets the one whose arc is nearest; without it a shared corner
        decides, then the fillet that extends least and keeps most.

    Raises
    ------
    GeometryError
        When no such fillet fits.
    """
    fits = list(_fillets(a, b, radius))
    if not fits:
        raise GeometryError(
            "fillet", f"of radius {radius:g} does not fit between the two curves",
            "give another radius",
        )
    corner = shared_corner(a, b)
    best = min(fits, key=lambda f: _rank(f, near, corner))
    return best[0]


def chamfer(
    a: Curve, b: Curve, leg_a: float, leg_b: float | None = None, near: XY | None = None
) -> Chamfer:
    """Return the straight cut between places at straight distances from the corner.

    Parameters
    ----------
    a, b : Curve
        Curves that meet, as they are or when extended.
    leg_a, leg_b : float
        Distance from the corner on either curve; `leg_b` is `leg_a` when left out.
    near : point, optional
        A place in the corner that is meant, where two curves cross.

    Raises
    ------
    GeometryError
        When the curves do not meet or are shorter than a leg.
    """
    leg_b = leg_a if leg_b is None else leg_b
    for name, leg in (("leg_a", leg_a), ("leg_b", leg_b)):
        if not leg > 0.0:
            raise GeometryError(name, f"{leg:g} is not above zero", "give a positive length")
    corner = corner_of(a, b, near)
    fits = []
    for at_a, sign_a in _at_distance(a, corner, leg_a):
        for at_b, sign_b in _at_distance(b, corner, leg_b):
            trim_a, trim_b = _trim(a, at_a, sign_a), _trim(b, at_b, sign_b)
            if trim_a and trim_b:
                cut = Chamfer(Line(at_a, at_b), trim_a.kept, trim_b.kept, corner)
                apart = _apart(midpoint(cut.line), near) if near else 0.0
                kept = trim_a.kept.length + trim_b.kept.length
                fits.append((round(apart, 12), trim_a.grown + trim_b.grown, -kept, cut))
    if not fits:
        raise GeometryError(
            "chamfer", f"of {leg_a:g} by {leg_b:g} does not fit", "give shorter legs"
        )
    return min(fits, key=lambda f: f[:3])[3]


def shared_corner(a: Curve, b: Curve) -> XY | None:
    """Return the end that two curves share, if they do."""
    if isinstance(a, Circle) or isinstance(b, Circle):
        return None
    tol = tolerance((a, b))
    for p in (a.end, a.start):
        for q in (b.start, b.end):
            if _apart(p, q) <= tol:
                return p
    return None


def corner_of(a: Curve, b: Curve, near: XY | None = None) -> XY:
    """Return the place where two curves meet, extended where needed.

    A shared end comes first, then a place on both, then the one nearest `near` or the curves.

    Parameters
    ----------
    a, b : Curve
        In one unit.
    near : (float, float), optional
        A place near the corner that is meant, in that unit.

    Returns
    -------
    (float, float)
        In that unit.

    Raises
    ------
    GeometryError
        When they do not meet even extended.
    """
    shared = shared_corner(a, b)
    if shared and near is None:
        return shared
    found = meet(a, b) or meet(a, b, bounded=False)
    if not found:
        raise GeometryError("curves", "do not meet, even extended", "take two curves that do")
    if near is not None:
        return min((m.point for m in found), key=lambda p: _apart(p, near))
    ends = [f(c) for c in (a, b) for f in (start_of, end_of)]
    return min((m.point for m in found), key=lambda p: sum(_apart(p, e) for e in ends))


def _fillets(a: Curve, b: Curve, radius: float) -> Iterator[tuple[Fillet, float, frozenset[XY]]]:
    """All fillets with the length they extend by and the ends that they cut off."""
    meetings = [m.point for m in meet(a, b, bounded=False)]
    for circle, (at_a, at_b), _ in circles_of_radius(a, b, radius):
        if _apart(at_a, at_b) <= 1e-12 * radius:
            continue
        turn = (at_a[0] - circle.center[0]) * (at_b[1] - circle.center[1]) - (
            at_a[1] - circle.center[1]
        ) * (at_b[0] - circle.center[0])
        arc = Arc(circle.center, at_a, at_b, turn > 0.0)
        ax, ay = tangent_at(arc, 0.0)
        trim_a = _trim_along(a, at_a, (-ax, -ay))
        trim_b = _trim_along(b, at_b, tangent_at(arc, 1.0))
        if trim_a is None or trim_b is None:
            continue
        corner = min(meetings, key=lambda p: _apart(p, at_a) + _apart(p, at_b), default=None)
        made = Fillet(arc, at_a, at_b, trim_a.kept, trim_b.kept, corner)
        lost = frozenset(p for p in (trim_a.lost, trim_b.lost) if p is not None)
        yield made, trim_a.grown + trim_b.grown, lost


def _rank(
    fit: tuple[Fillet, float, frozenset[XY]], near: XY | None, corner: XY | None
) -> tuple[float, ...]:
    made, grown, lost = fit
    tol = tolerance((made.a, made.b, made.arc))
    grown = 0.0 if grown <= tol else grown
    if near is not None:
        return (grown > 0.0, _apart(midpoint(made.arc), near))
    if corner is not None:
        cuts = sum(_apart(p, corner) <= tol for p in lost)
        return (-cuts, grown > 0.0, _apart(midpoint(made.arc), corner))
    return (0.0, grown, -_kept(fit))


def _kept(fit: tuple[Fillet, float, frozenset[XY]]) -> float:
    return fit[0].a.length + fit[0].b.length


def _trim_along(curve: Curve, at: XY, outward: XY) -> _Trim | None:
    if isinstance(curve, Circle):
        return _Trim(curve, 0.0, None)
    t = parameter_at(curve, at)
    dx, dy = tangent_at(curve, t)
    return _trim(curve, at, 1.0 if dx * outward[0] + dy * outward[1] > 0.0 else -1.0)


def _trim(curve: Curve, at: XY, sign: float) -> _Trim | None:
    """Keep what lies in the sense `sign` of the travel beyond `at`; extend where it falls short."""
    if isinstance(curve, Circle):
        return _Trim(curve, 0.0, None)
    t = parameter_at(curve, at)
    slack = 1e-12
    if sign > 0.0:
        if t >= 1.0 - slack:
            return None
        kept = Line(at, curve.end) if isinstance(curve, Line) else _arc(curve, at, curve.end)
        return _Trim(kept, max(0.0, -t) * curve.length, curve.start)
    if t <= slack:
        return None
    kept = Line(curve.start, at) if isinstance(curve, Line) else _arc(curve, curve.start, at)
    return _Trim(kept, max(0.0, t - 1.0) * curve.length, curve.end)


def _arc(arc: Arc, start: XY, end: XY) -> Arc:
    return Arc(arc.center, start, end, arc.ccw)


def _at_distance(curve: Curve, corner: XY, leg: float) -> Iterator[tuple[XY, float]]:
    """Places of the carrier at a straight distance from the corner, with the sense of travel there.

    The sense leads away from the corner.
    """
    where = parameter_at(curve, corner)
    for m in meet(curve, Circle(corner, leg), bounded=False):
        if isinstance(curve, Circle):
            sign = 1.0
        else:
            sign = 1.0 if m.a > where else -1.0
        yield point_at(curve, m.a), sign


def _apart(p: XY, q: XY | None) -> float:
    return inf if q is None else dist(p, q)
