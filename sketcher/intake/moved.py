"""How far an outline was moved since the file: measured, and never told too small."""

from __future__ import annotations

from collections.abc import Sequence
from math import pi, tau

import numpy as np

from sketcher.geometry.bounds import bounds_of, size_of
from sketcher.geometry.curve_table import CurveTable, Floats, Ints
from sketcher.geometry.curves import Curve
from sketcher.geometry.evaluate import carried
from sketcher.geometry.loops import find_loops
from sketcher.geometry.moments import signed_area
from sketcher.geometry.vicinity import Vicinity
from sketcher.intake.linework import Fault, PlaceInFile, Shape, TakenCurve
from sketcher.intake.taken import BoundHalf
from sketcher.interrupt import check

CLOSE = 1e-3
"""The largest distance is found to this part of itself, and that is added."""

FINE = 1e-9
"""... or to this part of the drawing's size."""

STEPS = 64
"""Halvings of a curve; each is by half, so that no length is left after as many."""


def in_file(curve: Curve, place: PlaceInFile) -> Curve:
    """Return a curve of the part where the file has it."""
    return carried(curve, place.in_file)


def as_promised(
    drawn: Sequence[TakenCurve], shape: Shape, bound: BoundHalf
) -> tuple[float, Fault | None]:
    """Return how far a part lies from what the file has of it, and whether its area is kept.

    Parameters
    ----------
    drawn : sequence of TakenCurve
        The file's own curves, in the part's unit.
    shape : Shape
        The part's contours with no chords replaced yet, where the file has them.
    bound : BoundHalf
        The part as it was made.

    Returns
    -------
    move : float
        In the part's unit.
    fault : Fault or None
        When the area differs by more than the perimeter times the move, which no move of the
        outline alone can do.
    """
    from sketcher.part.whole import whole

    own = _entities(shape)
    before = [each.curve for each in drawn if own.intersection(each.entities)]
    after = [in_file(piece.curve, bound.frame) for piece in whole(bound.part)
             if piece.role == "outline"]
    move = largest_move(before, after)
    loops = [[each.curve for each in loop] for loop in shape.loops]
    made = find_loops((str(n), curve) for n, curve in enumerate(after)).loops
    if not loops or not made:
        return move, None
    was = abs(signed_area(loops[0])) - sum(abs(signed_area(loop)) for loop in loops[1:])
    area = sum(-loop.area if loop.hole else loop.area for loop in made)
    around = sum(curve.length for loop in loops for curve in loop)
    if abs(area - was) <= around * move:
        return move, None
    at = bounds_of(before)[:2]
    return move, Fault("area", at, abs(area - was), tuple(sorted(own)),
                       f"the area was {was:.9g} and is {area:.9g}, which is more than its outline "
                       f"moved")


def same_shape(shape: Shape, among: Sequence[Shape]) -> Shape:
    """Return the shape of another step with the same entities, or itself where none has them."""
    own = _entities(shape)
    return next((other for other in among if _entities(other) == own), shape)


def _entities(shape: Shape) -> set[int]:
    return {entity for each in (*shape.strays, *(c for loop in shape.loops for c in loop))
            for entity in each.entities}


def largest_move(before: Sequence[Curve], after: Sequence[Curve]) -> float:
    """Return how far two drawings of one outline lie apart at most (Hausdorff's distance).

    Parameters
    ----------
    before, after : sequence of Curve
        In one unit and place.

    Returns
    -------
    float
        At least the distance, and above it by at most a thousandth, or a billionth of the size;
        0 where one of them is empty.
    """
    if not before or not after:
        return 0.0
    fine = FINE * size_of([*before, *after])
    found = 0.0
    for ones, others in ((before, after), (after, before)):
        found = _furthest(CurveTable(ones), CurveTable(others), found, fine)
    return found + max(fine, CLOSE * found)


def _furthest(table: CurveTable, others: CurveTable, found: float, fine: float) -> float:
    """Return a distance that no place of the curves has by more than what is added above.

    Branch and bound: a piece is done with when all of it is within the distance that was found,
    else it is halved.
    """
    around = Vicinity(others)
    # Quarter turns at most, so that a piece does not go round what it is measured from.
    count = np.ceil(np.abs(table.sweep) / (0.5 * pi)).astype(int).clip(1)
    owner: Ints = np.repeat(np.arange(len(table)), count)
    place = np.arange(len(owner)) - np.repeat(np.cumsum(count) - count, count)
    low: Floats = place / count[owner]
    high: Floats = (place + 1) / count[owner]
    for _ in range(STEPS):
        check()
        middle = 0.5 * (low + high)
        nearest, distance = around.nearest(table.points(owner, middle))
        found = max(found, float(distance.max()))
        enough = found + max(fine, CLOSE * found)
        half = 0.5 * (high - low) * table.length[owner]
        bound = distance + half
        open_ = np.flatnonzero(bound > enough)
        if len(open_):
            bound[open_] = np.minimum(bound[open_], _bound(
                table, owner[open_], low[open_], high[open_], others, nearest[open_]))
        rest = bound > enough
        if not rest.any():
            return found
        owner = np.tile(owner[rest], 2)
        low, high = (np.concatenate((low[rest], middle[rest])),
                     np.concatenate((middle[rest], high[rest])))
    return max(found, float(bound.max()))


def _bound(
    table: CurveTable, owner: Ints, low: Floats, high: Floats, others: CurveTable, nearest: Ints
) -> Floats:
    """Return how far pieces are from one curve each at most; endless where that is not easily said.

    From a line or a circle the distance along a line or an arc has its extremes at the ends and at
    the feet of the center and of the normal. It is the distance from the curve itself where the
    piece lies beside it all along.
    """
    places = [table.points(owner, t) for t in (low, 0.5 * (low + high), high)]
    beside = np.ones(len(owner), bool)
    for at in places:
        t = others.parameters(nearest, at)
        beside &= others.full[nearest] | ((t >= 0.0) & (t <= 1.0))
    half = 0.5 * (high - low) * table.length[owner]
    beside &= ~others.round[nearest] | (half < 0.25 * others.radius[nearest])
    out = np.zeros(len(owner))
    for at in (places[0], places[2], *_feet(table, owner, low, high, others, nearest)):
        out = np.maximum(out, _off(others, nearest, at))
    return np.where(beside, out, np.inf)


def _off(table: CurveTable, which: Ints, points: Floats) -> Floats:
    """Distance of each point from the line or circle of the curve beside it."""
    rim = np.abs(np.hypot(*(points - table.center[which]).T) - table.radius[which])
    ux, uy = table.direction[which].T
    dx, dy = (points - table.start[which]).T
    out: Floats = np.where(table.round[which], rim, np.abs(dy * ux - dx * uy))
    return out


def _feet(
    table: CurveTable, owner: Ints, low: Floats, high: Floats, others: CurveTable, nearest: Ints
) -> list[Floats]:
    """Places of pieces where the distance from a line or circle may be largest between the ends."""
    round_, center = table.round[owner], others.center[nearest]
    ux, uy = others.direction[nearest].T
    away = np.where(others.round[nearest][:, None], table.center[owner] - center,
                    np.stack((-uy, ux), axis=1))
    angle = np.arctan2(away[:, 1], away[:, 0])
    found = []
    for turned in (0.0, pi):
        turn = (angle + turned - table.angle[owner]) % tau
        turn = np.where(table.sweep[owner] < 0.0, (turn - tau), turn)
        along = np.divide(turn, table.sweep[owner], out=np.zeros(len(owner)), where=round_)
        along = np.where(round_, along, table.parameters(owner, center))
        found.append(table.points(owner, np.clip(along, low, high)))
    return found
