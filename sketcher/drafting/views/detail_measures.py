"""Which dimensions a detail takes over, and from where in it they are drawn."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import dist

from sketcher.drafting.measured import Measured, MeasuredAngle, MeasuredLength, MeasuredRound, Wedge
from sketcher.drafting.paper_view import View
from sketcher.drafting.views.detail_rings import JOINS, DetailRing
from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.geometry.evaluate import end_of, midpoint, start_of
from sketcher.part.value import Part

AS_ONE = 1e-6  # share of a ring by which a place on it is inside
LEVEL = 0.01  # mm on paper by which places may leave a level


class Inside:
    """A detail's circle and what is drawn in it, in mm on paper.

    Parameters
    ----------
    circle : Circle
    outline : sequence of Curve
        As it is drawn: cut off at the circle.
    grown : float
        Its scale by that of the whole view.
    """

    def __init__(self, circle: Circle, outline: Sequence[Curve], grown: float) -> None:
        self.circle, self.outline, self.grown = circle, outline, grown

    def holds(self, at: XY) -> bool:
        """Tell whether a place lies within the circle and not on it."""
        return dist(at, self.circle.center) < self.circle.radius - LEVEL

    def fitted(self, one: Measured) -> Measured | None:
        """Return a dimension as the detail shows it; None where it belongs to the whole view."""
        if isinstance(one, MeasuredLength):
            return self._length(one)
        if isinstance(one, MeasuredRound):
            return self._round(one)
        return self._angle(one)

    def _round(self, one: MeasuredRound) -> MeasuredRound | None:
        every = (one.curve, *one.images)
        some = tuple(c for c in every if self._whole(c))
        if len(some) < len(every) and 2.0 * one.curve.radius >= JOINS * self.grown:
            return None  # others of the size are seen as well on the whole view
        return replace(one, curve=some[0], images=some[1:]) if some else None

    def _whole(self, curve: Arc | Circle) -> bool:
        if isinstance(curve, Circle):
            return dist(curve.center, self.circle.center) + curve.radius < self.circle.radius
        return all(self.holds(at) for at in (curve.start, curve.end, midpoint(curve)))

    def _length(self, one: MeasuredLength) -> MeasuredLength | None:
        if one.inline:
            some = tuple(pair for pair in one.inline if all(map(self.holds, pair)))
            return replace(one, first=(some[0][0],), second=(some[0][1],), inline=some
                           ) if some else None
        own = [tuple(at for at in side if self.holds(at)) for side in (one.first, one.second)]
        if not any(own) or not (all(own) or self._stands_inside(own)):
            return None
        first, second = (kept or self._on_level(side[0], one.direction)
                         for kept, side in zip(own, (one.first, one.second), strict=True))
        return replace(one, first=first, second=second) if first and second else None

    def _stands_inside(self, own: Sequence[tuple[XY, ...]]) -> bool:
        """Tell whether a side belongs to something wholly inside, not to an edge that leaves it."""
        places = [at for side in own for at in side]
        return any(self._belongs(curve, at) for curve in self.outline for at in places)

    def _belongs(self, curve: Curve, at: XY) -> bool:
        if not isinstance(curve, Line) and self._whole(curve) and dist(curve.center, at) < LEVEL:
            return True
        if isinstance(curve, Circle):
            return False
        ends = (start_of(curve), end_of(curve))
        return all(map(self.holds, ends)) and any(dist(end, at) < LEVEL for end in ends)

    def _on_level(self, at: XY, direction: XY) -> tuple[XY, ...]:
        """Return places of the outline from which the same level can be measured."""
        ux, uy = direction
        level = at[0] * ux + at[1] * uy
        found = []
        for curve in self.outline:
            if not isinstance(curve, Line):
                continue
            ends = [at[0] * ux + at[1] * uy for at in (curve.start, curve.end)]
            if all(abs(end - level) < LEVEL for end in ends):
                found += [curve.start, curve.end]
        # The boundary cuts it off at one end: measured from the corner, if it has one.
        return tuple(p for p in found if self.holds(p)) or tuple(found)

    def _angle(self, one: MeasuredAngle) -> MeasuredAngle | None:
        some = tuple(w for w in one.options if self.holds(w.vertex) and self._is_short(w))
        return replace(one, options=some) if some else None

    def _is_short(self, wedge: Wedge) -> bool:
        """Tell whether one of its lines lies wholly inside."""
        return any(
            far > LEVEL and self.holds((wedge.vertex[0] + far * x, wedge.vertex[1] + far * y))
            for (x, y), (_, far) in zip(wedge.rays, wedge.spans, strict=True))


def names_of(one: Measured) -> tuple[str, ...]:
    """Return the bindings that a dimension stands for."""
    return one.stands_for or (one.id,)


def said_inside(part: Part, ring: DetailRing, one: Measured) -> tuple[str, ...]:
    """Return which of the bindings that a dimension stands for measure something in a ring.

    One that names nothing inside measures a feature elsewhere that is as large, or as high.
    """
    names = names_of(one)
    if not isinstance(one, MeasuredLength) or len(names) == 1:
        return names
    return tuple(name for name in names if _is_inside(part, ring, name)) or names


def _is_inside(part: Part, ring: DetailRing, name: str) -> bool:
    if name not in part.bindings:
        return True
    points = [p for of in part.bindings[name].of
              for p in (part.curves[of].points if of in part.curves else (of,))]
    return any(dist(part.points[p], ring.center) < ring.radius * (1.0 - AS_ONE)
               for p in points if p in part.points)


def for_some(one: Measured, names: Sequence[str]) -> Measured:
    """Return a dimension as it stands for some of its bindings."""
    gone = one.id in one.stands_for and one.id not in names
    return replace(one, id=names[0] if gone else one.id,
                   stands_for=tuple(names) if one.stands_for else ())


def left_over(
    wanted: Sequence[Measured], gone: frozenset[str], rings: Sequence[DetailRing], view: View
) -> list[Measured]:
    """Return what the whole view still says when details say some of the bindings.

    Parameters
    ----------
    wanted : sequence of Measured
        Everything, on the whole view.
    gone : frozenset of str
        Bindings that details say.
    rings : sequence of DetailRing
    view : View
        The whole view.
    """
    found = []
    circles = [ring.circle(view) for ring in rings]
    for one in wanted:
        names = [name for name in names_of(one) if name not in gone]
        if not names:
            continue
        if len(names) < len(names_of(one)) and isinstance(one, MeasuredLength):
            one = replace(one, first=_outside(one.first, circles),
                          second=_outside(one.second, circles))
        found.append(for_some(one, names))
    return found


def _outside(places: tuple[XY, ...], circles: Sequence[Circle]) -> tuple[XY, ...]:
    return tuple(at for at in places
                 if all(dist(at, c.center) >= c.radius for c in circles)) or places
