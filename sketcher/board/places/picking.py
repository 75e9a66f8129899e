"""Which point or curve is near a place: arrays over the whole part, no search by hand."""

from __future__ import annotations

from dataclasses import dataclass
from math import tau
from typing import TYPE_CHECKING, Literal, TypeAlias

import numpy as np

from sketcher.board.places.moving_pieces import Pieces
from sketcher.geometry.bounds import bounds, box_within, boxes_meet
from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.part.value import Part
from sketcher.part.whole import Piece

if TYPE_CHECKING:
    from numpy.typing import NDArray

Floats: TypeAlias = "NDArray[np.float64]"
OUTLINE_FIRST = {"outline": 0, "axis": 1, "layout": 2}
NEARER = 0.3
"""Share of the reach by which a layout curve must be nearer than another curve to be meant: by
about as much as a hand is off the place that it aims at. With the usual reach of 9 pixels, 2.7 of
them; layout that is drawn 3 pixels beside an edge can still be pressed by itself."""


@dataclass(frozen=True, slots=True)
class Pick:
    """Something near the pointer.

    Parameters
    ----------
    id : str
        Its id; that of an image for a curve of the reflection or of a pattern.
    source : str
        Id of the drawn point or curve that it belongs to.
    what : str
        ``"point"`` or ``"curve"``.
    at : tuple of float
        Nearest place on it.
    distance : float
        From the pointer to that place, in the part's unit.
    t : float
        Parameter of that place on the curve, 0 to 1; 0 for a point.
    reflected : bool
        Whether it is a curve of the reflection.
    """

    id: str
    source: str
    what: Literal["point", "curve"]
    at: XY
    distance: float
    t: float = 0.0
    reflected: bool = False

    @property
    def drawn(self) -> bool:
        """True for what is drawn, False for an image of it."""
        return self.id == self.source


class Picker:
    """Points and curves of one part, ready for many questions.

    Parameters
    ----------
    part : Part
        The part; the picker never changes, a new part needs a new one.
    layout : bool
        Whether layout curves, and points that only they have, are found.
    pieces : tuple of Piece, optional
        The curves of the part, where they are known.
    """

    def __init__(
        self, part: Part, layout: bool = True, pieces: tuple[Piece, ...] | None = None
    ) -> None:
        self.part = part
        self.pieces = Pieces.of(part).all if pieces is None else pieces
        self.by_id = {piece.id: piece for piece in self.pieces}
        found = self._found = [p for p in self.pieces if layout or p.role != "layout"]
        self.point_ids = tuple(part.points) if layout else _points_beside_layout(part)
        places = [part.points[name] for name in self.point_ids]
        self._points = np.array(places, dtype=float).reshape(-1, 2)
        self._lines = [p for p in found if isinstance(p.curve, Line)]
        self._rounds = [p for p in found if not isinstance(p.curve, Line)]
        self._segments = np.array(
            [(*p.curve.start, *p.curve.end) for p in self._lines if isinstance(p.curve, Line)]
        ).reshape(-1, 4)
        self._circles = np.array([_round_row(p.curve) for p in self._rounds]).reshape(-1, 5)

    def points_near(self, at: XY, reach: float) -> list[Pick]:
        """Return the drawn points within reach, nearest first."""
        if not self.point_ids:
            return []
        gaps = np.hypot(self._points[:, 0] - at[0], self._points[:, 1] - at[1])
        near = np.flatnonzero(gaps <= reach)
        near = near[np.argsort(gaps[near], kind="stable")]
        return [
            Pick(name, name, "point", self.part.points[name], float(gaps[i]))
            for i in near.tolist() for name in (self.point_ids[i],)
        ]

    def nearest_point(self, at: XY, reach: float) -> Pick | None:
        """Return the nearest drawn point within reach, or None."""
        found = self.points_near(at, reach)
        return found[0] if found else None

    def curves_near(self, at: XY, reach: float, drawn_only: bool = False) -> list[Pick]:
        """Return the curves within reach: drawn before images, then the nearest first.

        Layout counts as a little further away than it is: where it crosses an edge, the edge is
        meant.
        """
        found = [*self._lines_near(at, reach), *self._rounds_near(at, reach)]
        if drawn_only:
            found = [pick for pick in found if pick.drawn]
        late = NEARER * reach

        def order(pick: Pick) -> tuple[bool, float, int]:
            rank = self._rank(pick)
            away = pick.distance + (late if rank == OUTLINE_FIRST["layout"] else 0.0)
            return (not pick.drawn, round(away, 12), rank)

        found.sort(key=order)
        return found

    def nearest_curve(self, at: XY, reach: float, drawn_only: bool = False) -> Pick | None:
        """Return the nearest curve within reach, or None."""
        found = self.curves_near(at, reach, drawn_only)
        return found[0] if found else None

    def nearest(self, at: XY, reach: float) -> Pick | None:
        """Return what a press means: a point before a curve, what is drawn before an image."""
        return self.nearest_point(at, reach) or self.nearest_curve(at, reach)

    def in_box(self, a: XY, b: XY, touching: bool) -> tuple[str, ...]:
        """Return the drawn curves inside the box, or also those that it touches.

        Points that belong to no curve count when they lie inside.
        """
        x0, x1 = sorted((a[0], b[0]))
        y0, y1 = sorted((a[1], b[1]))
        box = (x0, y0, x1, y1)
        names = [p.id for p in self._found if p.drawn and _box_takes(p.curve, box, touching)]
        used = {point for curve in self.part.curves.values() for point in curve.points}
        names += [name for name, (x, y) in self.part.points.items()
                  if name not in used and x0 <= x <= x1 and y0 <= y <= y1]
        return tuple(names)

    def _rank(self, pick: Pick) -> int:
        return OUTLINE_FIRST.get(self.by_id[pick.id].role, 3)

    def _lines_near(self, at: XY, reach: float) -> list[Pick]:
        if not self._lines:
            return []
        a, d = self._segments[:, :2], self._segments[:, 2:] - self._segments[:, :2]
        away = np.asarray(at) - a
        squared = np.einsum("ij,ij->i", d, d)
        t = np.clip(np.einsum("ij,ij->i", away, d) / np.where(squared, squared, 1.0), 0.0, 1.0)
        foot = a + t[:, None] * d
        return _picks(self._lines, foot, np.hypot(*(np.asarray(at) - foot).T), t, reach)

    def _rounds_near(self, at: XY, reach: float) -> list[Pick]:
        if not self._rounds:
            return []
        cx, cy, radius, start, sweep = self._circles.T
        angle = np.arctan2(at[1] - cy, at[0] - cx)
        turned = np.where(sweep >= 0.0, angle - start, start - angle) % tau
        span = np.abs(sweep)
        # Outside the arc the nearer end counts: past the end less than half of what is left over.
        beyond = turned > span
        turned = np.where(beyond, np.where(turned - span < 0.5 * (tau - span), span, 0.0), turned)
        t = turned / np.where(span, span, 1.0)
        place = start + np.sign(sweep) * turned
        foot = np.stack((cx + radius * np.cos(place), cy + radius * np.sin(place)), axis=1)
        gaps = np.hypot(at[0] - foot[:, 0], at[1] - foot[:, 1])
        return _picks(self._rounds, foot, gaps, t, reach)


def _points_beside_layout(part: Part) -> tuple[str, ...]:
    """Return the points that some curve has which is no layout, or that no curve has."""
    shown = {p for c in part.curves.values() if c.role != "layout" for p in c.points}
    hidden = {p for c in part.curves.values() if c.role == "layout" for p in c.points}
    return tuple(name for name in part.points if name in shown or name not in hidden)


def _round_row(curve: Curve) -> tuple[float, float, float, float, float]:
    if isinstance(curve, Arc):
        return (*curve.center, curve.radius, curve.start_angle, curve.sweep)
    assert isinstance(curve, Circle)
    return (*curve.center, curve.radius, 0.0, tau)


def _picks(pieces: list[Piece], foot: Floats, gaps: Floats, t: Floats, reach: float) -> list[Pick]:
    return [
        Pick(pieces[i].id, pieces[i].source, "curve", (float(foot[i, 0]), float(foot[i, 1])),
             float(gaps[i]), float(t[i]), pieces[i].image.mirrors > 0)
        for i in np.flatnonzero(gaps <= reach).tolist()
    ]


def _box_takes(curve: Curve, box: tuple[float, float, float, float], touching: bool) -> bool:
    own = bounds(curve)
    return box_within(own, box) or (
        touching and boxes_meet(own, box) and touches_box(curve, box))


def touches_box(curve: Curve, box: tuple[float, float, float, float]) -> bool:
    """Tell whether any place of a curve lies in the box."""
    x0, y0, x1, y1 = box
    if isinstance(curve, Line):
        return _clips(curve, box)
    sides = (Line((x0, y0), (x1, y0)), Line((x1, y0), (x1, y1)), Line((x1, y1), (x0, y1)),
             Line((x0, y1), (x0, y0)))
    from sketcher.geometry.meet import meet

    return any(meet(curve, side) for side in sides)


def _clips(line: Line, box: tuple[float, float, float, float]) -> bool:
    """Tell whether a segment has a place in the box (Liang and Barsky 1984, from memory)."""
    (ax, ay), (bx, by) = line.start, line.end
    x0, y0, x1, y1 = box
    first, last = 0.0, 1.0
    for step, low, high in ((bx - ax, x0 - ax, x1 - ax), (by - ay, y0 - ay, y1 - ay)):
        if step == 0.0:
            if low > 0.0 or high < 0.0:
                return False
            continue
        enter, leave = sorted((low / step, high / step))
        first, last = max(first, enter), min(last, leave)
        if first > last:
            return False
    return True
