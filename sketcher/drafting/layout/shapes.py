"""What dimensions would draw at many places at once: pieces of lines and a box of lettering each.

The same shapes as `draw_length`, `draw_leader` and `draw_angle`, which draw the chosen place.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import cos, radians, sin

import numpy as np

from sketcher.drafting.draw_length import BETWEEN, Frame, room
from sketcher.drafting.drawn_dimension import Drawn
from sketcher.drafting.layout.ink import (
    DIMENSION,
    ELBOW,
    EXTENSION,
    LEADER,
    MARGIN,
    SHRINK,
    Array,
    Batch,
    Bools,
    chords,
    cut,
    drawn_in,
)
from sketcher.drafting.layout.runouts import Runouts
from sketcher.drafting.measured import MeasuredLength, MeasuredRound
from sketcher.drafting.primitives import Stroke, Text
from sketcher.drafting.sizes import Sizes
from sketcher.geometry.curves import XY, Line

LEAST = 0.3  # an extension line shorter than this is not drawn
MOST_CHORDS = 60
"""Of one arc: enough for half a turn of 140 mm; those of an arc of 2 m leave it by 0.7 mm."""
ELBOW_ROOM = 1.5
"""mm that a shoulder is judged longer than it is drawn, at its elbow: one that stands on a line, or
just beside it, is read as part of it."""
OF_LINE = {"dimension": DIMENSION, "extension": EXTENSION, "leader": LEADER}


def lengths(
    one: MeasuredLength, v: Array, s: Array, sizes: Sizes, runouts: Runouts
) -> tuple[Batch, Array]:
    """Return a length at places (dimension line at `v`, lettering's middle at `s`).

    Returns
    -------
    batch : Batch
    reach : float (n,)
        How much extension line each has, in mm.
    """
    frame, count = Frame(one.direction), len(v)
    space = room(one, sizes, frame)
    # Two extension lines, then the dimension line in two halves with two tails, in (s, v).
    flat, there = np.empty((6, count, 4)), np.ones((6, count), bool)
    reach = np.zeros(count)
    for k, side in enumerate((one.first, one.second)):
        along, at, away = _starts(side, v, frame, runouts, sizes.gap)
        sign = np.where(v > at, 1.0, -1.0)
        begin = at + sign * away
        reach += np.maximum(0.0, np.abs(v - at) - np.maximum(away, 0.0))
        there[k] = sign * (v - begin) >= LEAST
        flat[k, :, 0] = flat[k, :, 2] = along
        flat[k, :, 1], flat[k, :, 3] = begin, v + sign * sizes.past
    arrow = sizes.arrow[0]
    inside = (space.low + space.half - 1e-6 <= s) & (s <= space.high - space.half + 1e-6)
    apart = space.high - space.low
    asme = sizes.practice == "ASME"
    within = space.arrows_inside | (asme & (apart >= BETWEEN * arrow) & ~inside)
    tail = np.where(within, 0.0, sizes.tail)
    left, right = space.low - tail, space.high + tail
    over, under = ~inside & (s > space.high), ~inside & (s < space.low)
    breaks = inside & (sizes.practice == "ASME")
    if sizes.practice == "ISO":
        right = np.where(over, s + space.half, right)
        left = np.where(under, s - space.half, left)
    else:
        right = np.where(over, np.maximum(right, s - space.half), right)
        left = np.where(under, np.minimum(left, s + space.half), left)
    end = np.where(breaks, np.where(within, s - space.half, space.low), right)
    again = np.where(within, s + space.half, space.high)
    # Cut where it meets its own extension lines: others' may lie on those, from one corner.
    flat[2:, :, 1] = flat[2:, :, 3] = v
    flat[2, :, 0], flat[2, :, 2] = left, space.low
    flat[3, :, 0], flat[3, :, 2] = space.low, np.minimum(end, space.high)
    flat[4, :, 0], flat[4, :, 2] = again, space.high
    flat[5, :, 0], flat[5, :, 2] = space.high, right
    there[4] = breaks
    there[2:] &= flat[2:, :, 2] - flat[2:, :, 0] > 0.05
    wide, tall = sizes.lettering(one.wording)
    up = sizes.clear + 0.5 * tall if sizes.practice == "ISO" else 0.0
    turn = frame.u if sizes.practice == "ISO" else (1.0, 0.0)
    boxes = np.empty((count, 6))
    boxes[:, :2] = _turned(np.stack((s, v + up), axis=1), frame)
    boxes[:, 2:] = (*turn, 0.5 * wide, 0.5 * tall)
    kind, place = there.nonzero()
    pieces = _turned(flat[there].reshape(-1, 2), frame).reshape(-1, 4)
    return Batch(pieces, np.where(kind < 2, EXTENSION, DIMENSION), place, boxes), reach


def _starts(
    side: Sequence[XY], v: Array, frame: Frame, runouts: Runouts, gap: float
) -> tuple[Array, Array, Array]:
    """Return for each place what its extension line starts from, and how far from there."""
    at = np.array([frame.of(p) for p in side])
    nearest = np.abs(at[:, 1] - v[:, None]).argmin(axis=1)
    along, start = at[nearest].T
    away = np.zeros(len(v))
    for k, point in enumerate(side):
        for sign in (1.0, -1.0):
            some = ((nearest == k) & ((v > start) == (sign > 0.0))).nonzero()[0]
            if len(some):
                way = (sign * frame.n[0], sign * frame.n[1])
                away[some] = runouts.all_begin(point, way, np.abs(v[some] - at[k, 1]), gap)
    return along, start, away


def _turned(at: Array, frame: Frame) -> Array:
    """Return places (s, v) as places on paper."""
    (ux, uy), s, v = frame.u, at[:, 0], at[:, 1]
    return np.stack((s * ux - v * uy, s * uy + v * ux), axis=1)


def leaders(
    one: MeasuredRound, curves: Array, angle: Array, length: Array, inward: Bools, sizes: Sizes
) -> Batch:
    """Return a radius or diameter at places.

    Parameters
    ----------
    one : MeasuredRound
    curves : float (n, 3)
        Center and radius of what each leader points at.
    angle, length : float (n,)
        Where on it, in radians, and how long the sloped part is.
    inward : bool (n,)
    sizes : Sizes
    """
    count = len(angle)
    e = np.stack((np.cos(angle), np.sin(angle)), axis=1)
    sign = np.where(inward, -1.0, 1.0)
    tip = curves[:, :2] + curves[:, 2:] * e
    knee = tip + (sign * length)[:, None] * e
    side = np.where(sign * e[:, 0] >= -1e-9, 1.0, -1.0)
    end = knee.copy()
    end[:, 0] += side * sizes.shoulder
    wide, tall = sizes.lettering(one.wording)
    boxes = np.empty((count, 6))
    boxes[:, 0] = end[:, 0] + side * (sizes.clear + 0.5 * wide)
    boxes[:, 1] = end[:, 1]
    boxes[:, 2:] = (1.0, 0.0, 0.5 * wide, 0.5 * tall)
    # Only the tip may touch another line: a shoulder that ends on one is read as part of it.
    tip += (sign * np.minimum(SHRINK, 0.4 * length))[:, None] * e
    elbow = knee.copy()
    elbow[:, 0] -= side * ELBOW_ROOM
    pieces = np.concatenate((np.hstack((tip, knee)), np.hstack((elbow, end))))
    numbers = np.arange(count)
    return Batch(pieces, np.repeat((LEADER, ELBOW), count), np.concatenate((numbers, numbers)),
                 boxes, True)


def ink_of(drawn: Sequence[Drawn], sizes: Sequence[tuple[float, float]]) -> Batch:
    """Return dimensions that are drawn as places of a batch.

    Parameters
    ----------
    drawn : sequence of Drawn
    sizes : sequence of (float, float)
        Width and height of the lettering of each.
    """
    rows, kinds, place, whole = [], [], [], []
    boxes = np.empty((len(drawn), 6))
    for k, (one, (wide, tall)) in enumerate(zip(drawn, sizes, strict=True)):
        strokes = [item for item in one.items if isinstance(item, Stroke)]
        for number, item in enumerate(strokes):
            kind = OF_LINE.get(item.line, EXTENSION)
            if kind == LEADER and number > 0:
                kind = ELBOW
            found = chords(item.curve, MOST_CHORDS)
            if kind == ELBOW:
                found = [_from_elbow(*found[0])]
            rows += found
            kinds += [kind] * len(found)
            place += [k] * len(found)
            whole += [not isinstance(item.curve, Line)] * len(found)
        turn = radians(next((i.angle for i in one.items if isinstance(i, Text)), 0.0))
        boxes[k] = (*one.place, cos(turn), sin(turn), 0.5 * wide, 0.5 * tall)
    # Chords are not drawn in: between them nothing may slip through.
    pieces, inner = np.array(rows, float).reshape(-1, 4), np.array(whole, bool)
    return Batch(np.where(inner[:, None], pieces, drawn_in(pieces)), np.array(kinds, np.intp),
                 np.array(place, np.intp), boxes, True)


def _from_elbow(x0: float, y0: float, x1: float, y1: float) -> tuple[float, float, float, float]:
    """Return a shoulder as it is judged; the 0.3 mm that are drawn in are its tip's."""
    side = 1.0 if x1 > x0 else -1.0
    return (x0 - side * (ELBOW_ROOM + SHRINK), y0, x1 + side * SHRINK, y1)


def on_itself(batch: Batch) -> Bools:
    """Tell of each place whether its lettering stands on its own extension lines."""
    reaching = np.flatnonzero(batch.kinds == EXTENSION)
    own = batch.place[reaching]
    hit = cut(batch.boxes[own], batch.pieces[reaching], MARGIN)
    found = np.zeros(batch.count, bool)
    found[own[hit]] = True
    return found


def boxes_of(texts: Iterable[Text]) -> Array:
    """Return the boxes of lettering as rows (middle, direction, half width, half height)."""
    rows = []
    for text in texts:
        corners = np.array(text.box())
        x, y = corners.mean(axis=0)
        turn = radians(text.angle)
        wide, tall = (float(np.hypot(*(corners[k] - corners[0]))) for k in (1, 3))
        rows.append((x, y, cos(turn), sin(turn), 0.5 * wide, 0.5 * tall))
    return np.array(rows, float).reshape(-1, 6)
