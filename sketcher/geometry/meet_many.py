"""All meetings among many curves at once: the questions of `meet`, asked in columns."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

import numpy as np

from sketcher.geometry.curve_table import (
    Bools,
    CurveTable,
    Floats,
    Ints,
    pair_portions,
    pairs_between,
)
from sketcher.interrupt import check

PORTION = 200_000
"""Pairs of curves that are asked in one go; each takes about a kilobyte meanwhile."""


class Meetings(NamedTuple):
    """m meetings in columns.

    `a` and `b` are indices of curves, a < b; `ta` and `tb` the parameters, exactly 0 or 1 at an
    end; `touch` tells tangent carriers; `shared` tells that both curves run along one carrier, so
    that the place is the end of a common piece or of a joint in line.
    """

    a: Ints
    b: Ints
    point: Floats
    ta: Floats
    tb: Floats
    touch: Bools
    shared: Bools


class _CarrierPlaces(NamedTuple):
    """Common places of carriers: index of the pair, point, tangency and blur along the curves."""

    pair: Ints
    point: Floats
    touch: Bools
    blur: Floats


def meet_all(table: CurveTable, tol: float) -> Meetings:
    """Return every meeting among the curves of a table, within `tol`."""
    parts = list(meetings(table, tol))
    if not parts:
        none = np.zeros(0, np.intp)
        return meet_pairs(table, none, none, tol)
    return Meetings(*(np.concatenate(column) for column in zip(*parts, strict=True)))


def meetings(table: CurveTable, tol: float) -> Iterator[Meetings]:
    """Yield the meetings of `meet_all` in portions.

    So memory stays bounded however many curves cross, and who needs only some can stop early.
    """
    yield from _in_portions(table, pair_portions(table.boxes, tol), tol)


def meetings_between(table: CurveTable, first: int, tol: float) -> Iterator[Meetings]:
    """Yield, in portions, the meetings of the first curves of a table with the ones behind them.

    `a` is an index below `first`, `b` one from there on.

    Parameters
    ----------
    table : CurveTable
    first : int
        How many curves of the table come first.
    tol : float
        Length in the table's unit below which two places are one.

    Returns
    -------
    iterator of Meetings
        A portion each; who waits may be stopped between two of them.
    """
    near = pairs_between(table.boxes[:first], table.boxes[first:], tol)
    yield from _in_portions(table, ((i, j + first) for i, j in near), tol)


def _in_portions(
    table: CurveTable, near: Iterable[tuple[Ints, Ints]], tol: float
) -> Iterator[Meetings]:
    for i, j in near:
        for first in range(0, len(i), PORTION):
            check()
            last = first + PORTION
            yield meet_pairs(table, i[first:last], j[first:last], tol)


def meet_pairs(table: CurveTable, i: Ints, j: Ints, tol: float) -> Meetings:
    """Return the meetings of the curves ``i[k]`` and ``j[k]``, all bounded.

    Parameters
    ----------
    table : CurveTable
    i, j : int array, shape (k,)
        Rows of the table.
    tol : float
        Length in the table's unit below which two places are one.

    Returns
    -------
    Meetings
        Any number for each pair.
    """
    shared = same_carrier(table, i, j, tol)
    places = _places(table, i, j, np.flatnonzero(~shared), tol)
    ends = _ends(table, i, j, tol)
    touch_of = np.zeros(len(i), bool)
    touch_of[places.pair[places.touch]] = True
    places = _without_blurred(places, ends)
    pair = places.pair
    ta = _snap(table, i[pair], table.parameters(i[pair], places.point), tol)
    tb = _snap(table, j[pair], table.parameters(j[pair], places.point), tol)
    keep = _inside(table, i[pair], ta) & _inside(table, j[pair], tb)
    columns = [(pair[keep], places.point[keep], ta[keep], tb[keep])]
    for column, (near, point) in enumerate(ends):
        k = np.flatnonzero(near)
        other = j if column < 2 else i
        if column >= 2:  # an end of j that is an end of i has been taken with i
            for earlier, where in ends[:2]:
                k = k[~(earlier[k] & (np.hypot(*(where[k] - point[k]).T) <= tol))]
        t = _snap(table, other[k], table.parameters(other[k], point[k]), tol)
        exact = np.full(len(k), float(column % 2))
        columns.append((k, point[k], *((exact, t) if column < 2 else (t, exact))))
    pair, point, ta, tb = (np.concatenate(c) for c in zip(*columns, strict=True))
    return Meetings(
        i[pair], j[pair], point, ta, tb, touch_of[pair] | shared[pair], shared[pair]
    )


def same_carrier(table: CurveTable, i: Ints, j: Ints, tol: float) -> Bools:
    """Return which pairs run along one line or round one circle (see `meet.same_carrier`).

    Parameters
    ----------
    table : CurveTable
    i, j : int array, shape (k,)
        Rows of the table.
    tol : float
        Length in the table's unit.

    Returns
    -------
    bool array, shape (k,)
    """
    flip = table.length[i] < table.length[j]
    long, short = np.where(flip, j, i), np.where(flip, i, j)
    ux, uy = table.direction[long].T
    off = np.zeros(len(i))
    for end in (table.start, table.end):
        dx, dy = (end[short] - table.start[long]).T
        off = np.maximum(off, np.abs(dy * ux - dx * uy))
    apart = np.hypot(*(table.center[i] - table.center[j]).T)
    apart += np.abs(table.radius[i] - table.radius[j])
    both = table.round[i] & table.round[j]
    straight = ~(table.round[i] | table.round[j])
    same: Bools = (straight & (off <= tol)) | (both & (apart <= tol))
    return same


def _snap(table: CurveTable, which: Ints, t: Floats, tol: float) -> Floats:
    slack = tol / np.maximum(table.length[which], np.finfo(float).tiny)
    open_ended = ~table.full[which]
    t = np.where(open_ended & (np.abs(t) <= slack), 0.0, t)
    return np.where(open_ended & (np.abs(t - 1.0) <= slack), 1.0, t)


def _inside(table: CurveTable, which: Ints, t: Floats) -> Bools:
    return table.full[which] | ((t >= 0.0) & (t <= 1.0))


def _places(table: CurveTable, i: Ints, j: Ints, k: Ints, tol: float) -> _CarrierPlaces:
    """Places of the carriers of the pairs `k`."""
    ri, rj = table.round[i[k]], table.round[j[k]]
    parts = [
        _line_line(table, i, j, k[~ri & ~rj], tol),
        _line_round(table, i, j, k[~ri & rj], tol),
        _line_round(table, j, i, k[ri & ~rj], tol),
        _round_round(table, i, j, k[ri & rj], tol),
    ]
    return _CarrierPlaces(*(np.concatenate(column) for column in zip(*parts, strict=True)))


def _line_line(table: CurveTable, i: Ints, j: Ints, k: Ints, tol: float) -> _CarrierPlaces:
    a, b = i[k], j[k]
    (ax, ay), (bx, by) = table.direction[a].T, table.direction[b].T
    cross = ax * by - ay * bx
    ok = np.abs(cross) >= 1e-14
    k, a, b, cross, bx, by = k[ok], a[ok], b[ok], cross[ok], bx[ok], by[ok]
    dx, dy = (table.start[b] - table.start[a]).T
    along = (dx * by - dy * bx) / cross
    point = table.start[a] + along[:, None] * table.direction[a]
    return _CarrierPlaces(k, point, np.zeros(len(k), bool), tol / np.abs(cross))


def _line_round(table: CurveTable, i: Ints, j: Ints, k: Ints, tol: float) -> _CarrierPlaces:
    line, ring = i[k], j[k]
    u, center, r = table.direction[line], table.center[ring], table.radius[ring]
    dx, dy = (table.start[line] - center).T
    d = dy * u[:, 0] - dx * u[:, 1]
    normal = np.stack((-u[:, 1], u[:, 0]), axis=1)
    touch = np.abs(np.abs(d) - r) <= tol
    cut = ~touch & (np.abs(d) < r)
    middle = 0.5 * (d + np.copysign(r, d))
    contact = center[touch] + middle[touch, None] * normal[touch]
    h = np.sqrt((r[cut] - np.abs(d[cut])) * (r[cut] + np.abs(d[cut])))
    foot, step = center[cut] + d[cut, None] * normal[cut], h[:, None] * u[cut]
    blur = tol * r[cut] / h
    return _CarrierPlaces(
        np.concatenate((k[touch], k[cut], k[cut])),
        np.concatenate((contact, foot - step, foot + step)),
        np.repeat([True, False], [touch.sum(), 2 * cut.sum()]),
        np.concatenate((2.0 * np.sqrt(2.0 * r[touch] * tol), blur, blur)),
    )


def _round_round(table: CurveTable, i: Ints, j: Ints, k: Ints, tol: float) -> _CarrierPlaces:
    a, b = i[k], j[k]
    ra, rb = table.radius[a], table.radius[b]
    span = table.center[b] - table.center[a]
    apart = np.hypot(*span.T)
    ok = apart > tol
    k, a, ra, rb, span, apart = k[ok], a[ok], ra[ok], rb[ok], span[ok], apart[ok]
    u = span / apart[:, None]
    outside, inside = apart - (ra + rb), np.abs(ra - rb) - apart
    external = np.abs(outside) <= tol
    touch = external | (np.abs(inside) <= tol)
    cut = ~touch & (outside < 0.0) & (inside < 0.0)
    sign_a = np.where(external | (ra > rb), 1.0, -1.0)
    sign_b = np.where(external, -1.0, sign_a)
    where = 0.5 * (sign_a * ra + apart + sign_b * rb)
    bend = ra * rb / np.where(external, ra + rb, np.maximum(np.abs(ra - rb), tol))
    contact = table.center[a[touch]] + where[touch, None] * u[touch]
    ra, rb, apart, outside = ra[cut], rb[cut], apart[cut], outside[cut]
    along = 0.5 * (apart + (ra - rb) * (ra + rb) / apart)
    flat = (apart - np.abs(ra - rb)) * (apart + np.abs(ra - rb))
    h = np.sqrt((apart + ra + rb) * -outside * flat) / (2.0 * apart)
    middle = table.center[a[cut]] + along[:, None] * u[cut]
    step = h[:, None] * np.stack((u[cut, 1], -u[cut, 0]), axis=1)
    blur = tol * ra * rb / (apart * h)
    return _CarrierPlaces(
        np.concatenate((k[touch], k[cut], k[cut])),
        np.concatenate((contact, middle + step, middle - step)),
        np.repeat([True, False], [touch.sum(), 2 * cut.sum()]),
        np.concatenate((2.0 * np.sqrt(2.0 * bend[touch] * tol), blur, blur)),
    )


def _ends(table: CurveTable, i: Ints, j: Ints, tol: float) -> list[tuple[Bools, Floats]]:
    """For start and end of i, then of j: whether it lies on the other curve, and where it is."""
    out = []
    for own, other in ((i, j), (j, i)):
        for end in (table.start, table.end):
            point = end[own]
            box = table.boxes[other]
            near = ~table.full[own]
            near &= np.all((point >= box[:, :2] - tol) & (point <= box[:, 2:] + tol), axis=1)
            k = np.flatnonzero(near)
            near[k] = table.distances(other[k], point[k]) <= tol
            out.append((near, point))
    return out


def _without_blurred(places: _CarrierPlaces, ends: list[tuple[Bools, Floats]]) -> _CarrierPlaces:
    """Drop places that are an end's own, seen through the tolerance."""
    keep = np.ones(len(places.pair), bool)
    for near, point in ends:
        k = np.flatnonzero(near[places.pair])
        gap = np.hypot(*(places.point[k] - point[places.pair[k]]).T)
        keep[k[gap <= places.blur[k]]] = False
    return _CarrierPlaces(places.pair[keep], places.point[keep], places.touch[keep],
                          places.blur[keep])
