"""Which curves of different contours may face each other, with no hole between them.

A place c lies in the circle across every neck between two boxes when the angle at it is more than a
right one for all their corners. A pair with such a place of a hole is left out, and a curve with
such places on all sides is not asked about anything further away; so the search ends at the nearest
holes, however many lie behind them. What is left out has a hole between; of what is kept some may.
"""

from __future__ import annotations

import numpy as np

from sketcher.geometry.curve_table import Bools, CurveTable, Floats, Ints, pairs

ROUNDS = 7
"""Search reaches: each is twice the one before, the last is the whole one."""

SIDES = 4
"""Pieces into which each side of the box around a curve is divided to look out of it."""


def facing(
    table: CurveTable, owner: Ints, in_hole: Bools, within: float
) -> tuple[Ints, Ints]:
    """Return pairs of curves i < j of two contours, all that have a neck up to a width among them.

    Parameters
    ----------
    table : CurveTable
        The curves.
    owner : int (n,)
        Number of the contour of each.
    in_hole : bool (n,)
        Whether that contour is a hole.
    within : float
        The greatest width of a neck.

    Returns
    -------
    i, j : int (m,)
        In no particular order.
    """
    boxes, places = table.boxes, _places(table)
    left = np.arange(len(table))
    found: list[tuple[Ints, Ints]] = []
    before = -1.0
    for turn in reversed(range(ROUNDS)):
        reach = within / 2.0**turn
        i, j = (left[k] for k in pairs(boxes[left], reach))
        new = (owner[i] != owner[j]) & (_gap(boxes, i, j) > before)
        found.append((i[new], j[new]))
        if turn and len(left):
            left = left[~_surrounded(boxes, places, in_hole, left, found, reach)]
        before = reach
    i, j = (np.concatenate(column) for column in zip(*found, strict=True))
    return i, j


def _places(table: CurveTable) -> Floats:
    """Four places on each curve; shape (n, 4, 2)."""
    every = np.arange(len(table))
    shares = (0.0, 0.25, 0.5, 0.75)
    return np.stack([table.points(every, np.full(len(every), t)) for t in shares], axis=1)


def _gap(boxes: Floats, i: Ints, j: Ints) -> Floats:
    """The distance of two boxes along x or y, whichever is more."""
    a, b = boxes[i], boxes[j]
    apart = np.maximum(a[:, :2] - b[:, 2:], b[:, :2] - a[:, 2:])
    out: Floats = np.maximum(apart.max(axis=1), 0.0)
    return out


def _surrounded(
    boxes: Floats, places: Floats, in_hole: Bools, left: Ints,
    found: list[tuple[Ints, Ints]], reach: float,
) -> Bools:
    """Tell for which curves a place of a hole lies before everything out of reach."""
    i, j = (np.concatenate(column) for column in zip(*found, strict=True))
    one, other = np.concatenate((i, j)), np.concatenate((j, i))
    asked = np.zeros(len(boxes), bool)
    asked[left] = True
    keep = asked[one] & in_hole[other]
    one, other = one[keep], other[keep]
    closed = np.zeros((len(boxes), 4 * SIDES), bool)
    rim = _rim(reach, boxes)
    middle = 0.5 * (boxes[:, :2] + boxes[:, 2:])
    # Of the four places of the other curve the one nearest to the middle of this.
    apart = np.hypot(*np.moveaxis(places[other] - middle[one][:, None], 2, 0))
    place = places[other, apart.argmin(axis=1)]
    out = rim[one] - middle[one][:, None]
    before = np.ones((len(one), 4 * SIDES), bool)
    for x in (0, 2):
        for y in (1, 3):
            way = boxes[one][:, [x, y]] - place
            at_rim = np.einsum("kj,ksj->ks", way, rim[one] - place[:, None])
            onward = np.einsum("kj,ksj->ks", way, out)
            # Before a piece of the rim, and all beyond it, when before both of its ends.
            hidden = (at_rim < 0.0) & (onward <= 0.0)
            before &= hidden & np.roll(hidden, -1, axis=1)
    np.logical_or.at(closed, one, before)
    return np.asarray(closed[left].all(axis=1), dtype=np.bool_)


def _rim(reach: float, boxes: Floats) -> Floats:
    """Places round each box, grown by `reach`; shape (n, 4 SIDES, 2)."""
    share = np.arange(SIDES) / SIDES
    zero, one = np.zeros(SIDES), np.ones(SIDES)
    u = np.concatenate((share, one, 1.0 - share, zero))
    v = np.concatenate((zero, share, one, 1.0 - share))
    low, size = boxes[:, :2] - reach, boxes[:, 2:] - boxes[:, :2] + 2.0 * reach
    out: Floats = low[:, None] + np.stack((u, v), axis=1) * size[:, None]
    return out
