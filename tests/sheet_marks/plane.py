"""Small questions of plane geometry on polylines; lengths in mm."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence

import numpy as np

from tests.sheet_marks.written_sheet import Inked


def pieces(strokes: Sequence[Inked]) -> tuple[np.ndarray, np.ndarray]:
    """Straight pieces (n, 4) of all strokes and the number of the stroke of each."""
    rows = [np.hstack([s.at[:-1], s.at[1:]]) for s in strokes]
    if not rows:
        return np.zeros((0, 4)), np.zeros(0, int)
    return np.concatenate(rows), np.repeat(np.arange(len(rows)), [len(r) for r in rows])


def distances(rows: np.ndarray, at: np.ndarray) -> np.ndarray:
    """Distance of a place from each straight piece."""
    d = rows[:, 2:] - rows[:, :2]
    t = ((at - rows[:, :2]) * d).sum(axis=1) / np.maximum((d * d).sum(axis=1), 1e-18)
    near = rows[:, :2] + np.clip(t, 0.0, 1.0)[:, None] * d
    return np.hypot(*(near - at).T)


def meet(one: np.ndarray, rows: np.ndarray, drawn_in: float = 0.3) -> np.ndarray:
    """Where a straight piece (4,) properly crosses others, its ends drawn in: (k, 2)."""
    if not len(rows):
        return np.zeros((0, 2))
    a, d = one[:2], one[2:] - one[:2]
    size = float(np.hypot(*d))
    if size < 1e-9:
        return np.zeros((0, 2))
    e, f = rows[:, 2:] - rows[:, :2], rows[:, :2] - a
    turn = d[0] * e[:, 1] - d[1] * e[:, 0]
    with np.errstate(divide="ignore", invalid="ignore"):
        s = (f[:, 0] * e[:, 1] - f[:, 1] * e[:, 0]) / turn
        t = (f[:, 0] * d[1] - f[:, 1] * d[0]) / turn
    margin = min(drawn_in, 0.4 * size) / size
    other = np.minimum(drawn_in, 0.4 * np.hypot(*e.T)) / np.maximum(np.hypot(*e.T), 1e-9)
    hit = (np.abs(turn) > 1e-9) & (s > margin) & (s < 1 - margin) & (t > other) & (t < 1 - other)
    return a + s[hit, None] * d


def shared(one: Inked, other: Inked, across: float = 0.1) -> tuple[float, np.ndarray]:
    """Length over which two straight strokes run on one another, and its middle."""
    a, way = np.array(one.whole.start), one.way
    off = other.at[[0, -1]] - a
    if np.abs(off[:, 0] * way[1] - off[:, 1] * way[0]).max() > across:
        return 0.0, a
    low, high = sorted(off @ way)
    low, high = max(low, 0.0), min(high, one.whole.length)
    return max(0.0, high - low), a + 0.5 * (low + high) * way


def shared_arc(one: Inked, other: Inked, across: float = 0.1) -> tuple[float, np.ndarray]:
    """Length over which two arcs run on one another, and a place on it."""
    a, b = one.whole, other.whole
    if math.dist(a.center, b.center) > across or abs(a.radius - b.radius) > across:
        return 0.0, one.at[0]
    places = a.points(0.2)
    near = np.array([b.distance(tuple(p)) < across for p in places])
    return float(near[:-1].sum()) * a.length / max(len(places) - 1, 1), \
        places[near].mean(axis=0) if near.any() else places[0]


def box_touches(box: np.ndarray, margin: float, rows: np.ndarray) -> np.ndarray:
    """Which straight pieces come into a box (4, 2) that is larger by a margin on all sides."""
    origin, u, v = box[0], box[1] - box[0], box[3] - box[0]
    lu, lv = float(np.hypot(*u)), float(np.hypot(*v))
    u, v = u / max(lu, 1e-9), v / max(lv, 1e-9)
    low, high = np.zeros(len(rows)), np.ones(len(rows))
    start, step = rows[:, :2] - origin, rows[:, 2:] - rows[:, :2]
    hit = np.ones(len(rows), bool)
    for axis, size in ((u, lu), (v, lv)):
        s, d = start @ axis, step @ axis
        still = np.abs(d) < 1e-12
        with np.errstate(divide="ignore", invalid="ignore"):
            t0, t1 = (-margin - s) / d, (size + margin - s) / d
        hit &= ~still | ((s > -margin) & (s < size + margin))
        low = np.maximum(low, np.where(still, 0.0, np.minimum(t0, t1)))
        high = np.minimum(high, np.where(still, 1.0, np.maximum(t0, t1)))
    return hit & (low < high)


def grown(box: np.ndarray, by: float) -> np.ndarray:
    """The box with a margin on all sides."""
    u, v = box[1] - box[0], box[3] - box[0]
    u, v = (w / max(float(np.hypot(*w)), 1e-9) * by for w in (u, v))
    return np.array([box[0] - u - v, box[1] + u - v, box[2] + u + v, box[3] - u + v])


def boxes_overlap(one: np.ndarray, other: np.ndarray) -> bool:
    """Whether two boxes share a place (separating axes)."""
    for box in (one, other):
        for w in (box[1] - box[0], box[3] - box[0]):
            p, q = one @ w, other @ w
            if p.max() <= q.min() or q.max() <= p.min():
                return False
    return True


def inside(loop: np.ndarray, points: np.ndarray) -> np.ndarray:
    """Which places lie inside a closed contour (even-odd rule)."""
    x, y = points[:, 0:1], points[:, 1:2]
    x0, y0 = loop[:, 0], loop[:, 1]
    x1, y1 = np.roll(x0, -1), np.roll(y0, -1)
    with np.errstate(divide="ignore", invalid="ignore"):
        at = x0 + (y - y0) * (x1 - x0) / (y1 - y0)
    return ((((y0 > y) != (y1 > y)) & (x < at)).sum(axis=1) % 2).astype(bool)


def along(at: np.ndarray, step: float = 0.3) -> np.ndarray:
    """Places on a polyline, no further apart than the step."""
    found = []
    for a, b in itertools.pairwise(at):
        count = max(2, math.ceil(float(np.hypot(*(b - a))) / step) + 1)
        found.append(a + np.linspace(0.0, 1.0, count)[:, None] * (b - a))
    return np.concatenate(found)


def loops(strokes: Sequence[Inked], near: float = 2e-3) -> list[np.ndarray]:
    """Closed contours (n, 2) that the strokes make, end to end."""
    left, found = [s.at for s in strokes], []
    while left:
        chain = left.pop()
        while np.hypot(*(chain[0] - chain[-1])) > near:
            k, other = following(chain[-1], left, near)
            if other is None:
                break
            del left[k]
            chain = np.concatenate([chain, other[1:]])
        if np.hypot(*(chain[0] - chain[-1])) <= near:
            found.append(chain)
    return found


def following(
    end: np.ndarray, some: list[np.ndarray], near: float
) -> tuple[int, np.ndarray | None]:
    """The polyline that goes on at a place, from there on, and its number; None for none."""
    for k, other in enumerate(some):
        if np.hypot(*(other[0] - end)) < near:
            return k, other
        if np.hypot(*(other[-1] - end)) < near:
            return k, other[::-1]
    return -1, None


def holes_in(strokes: Sequence[Inked]) -> list[np.ndarray]:
    """Contours within the box of a larger one."""
    every = loops(strokes)
    boxes = [(*loop.min(axis=0), *loop.max(axis=0)) for loop in every]
    return [loop for loop, (a, b, c, d) in zip(every, boxes, strict=True)
            if any(e < a and f < b and g > c and h > d for e, f, g, h in boxes)]
