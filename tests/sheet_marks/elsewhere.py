"""Whether a dimension could stand elsewhere, all else as drawn.

For a length its dimension line is tried at every whole millimetre to both sides, for a leader 48
directions and eight lengths. Angles, and lengths whose ends cannot be told, are taken as they are.
"""

from __future__ import annotations

import math

import numpy as np

from tests.sheet_marks.plane import (
    along,
    box_touches,
    boxes_overlap,
    distances,
    grown,
    holes_in,
    inside,
    meet,
    pieces,
)
from tests.sheet_marks.written_sheet import WrittenSheet

CLEAR = 1.0  # mm around lettering


def room_elsewhere(sheet: WrittenSheet, owner: str) -> bool:
    """Whether there is a place without crossing, hole or text in its way."""
    known = sheet.__dict__.setdefault("_rooms", {})
    if owner not in known:
        mine = [s for s in sheet.on_dimensions if s.owner == owner]
        if any(s.kind == "leader" for s in mine):
            known[owner] = leader_room(sheet, owner)
        else:
            known[owner] = length_room(sheet, owner)
    return known[owner]


def free_box(sheet: WrittenSheet) -> tuple[np.ndarray, np.ndarray]:
    """The part of the sheet that frame, title block, notes and tables leave, as a box."""
    frame = sheet.of("frame")
    points = np.concatenate([s.at for s in frame]) if frame else np.array([[0, 0], sheet.size])
    low, high = points.min(axis=0) + 15.0, points.max(axis=0) - 15.0
    every = sheet.everything
    return np.maximum(low, every[:2] - 8.0), np.minimum(high, every[2:] + 8.0)


def length_room(sheet: WrittenSheet, owner: str) -> bool:
    lines = [s for s in sheet.on_dimensions if s.owner == owner and s.kind == "dimension"]
    tips = [a.tip for a in sheet.arrows if a.owner == owner]
    if len(tips) != 2 or not lines or not all(s.straight for s in lines):
        return False
    u = tips[1] - tips[0]
    size = float(np.hypot(*u))
    if size < 1e-6:
        return False
    u = u / size
    n = np.array([-u[1], u[0]])
    starts = [start_point(sheet, owner, tip, n) for tip in tips]
    box = next(t.box for t in sheet.texts if t.owner == owner)
    wide, tall = (float(np.hypot(*(box[k] - box[0]))) for k in (1, 3))
    others = [s for s in sheet.strokes if s.owner != owner]
    rows, _ = pieces([s for s in others if s.kind != "extension"])
    lines_of, _ = pieces([s for s in others if s.kind in ("dimension", "leader")])
    extensions, _ = pieces([s for s in others if s.kind == "extension"])
    holes = holes_in(sheet.outline)
    written = [t.box for t in sheet.texts if t.owner != owner]
    low, high = free_box(sheet)
    base = float(tips[0] @ n)
    for v in np.arange(-250.0, 250.0, 1.0):
        ends = [tip + v * n for tip in tips]
        middle = 0.5 * (ends[0] + ends[1])
        if not all((p > low).all() and (p < high).all() for p in ends) or abs(v) < 2.0:
            continue
        dim = np.hstack(ends)
        if wide + 2.0 > size or len(meet(dim, rows, 0.0)) or len(meet(dim, extensions, 0.0)):
            continue
        text = np.array([middle + a * wide * u + b * tall * n
                         for a, b in ((-0.5, -0.7), (0.5, -0.7), (0.5, 1.3), (-0.5, 1.3))])
        if any(boxes_overlap(text, w) for w in written) or box_touches(text, CLEAR, rows).any():
            continue
        if all(free_path(start, end, lines_of, holes, n)
               for start, end in zip(starts, ends, strict=True)):
            return True
    return base != base


def start_point(sheet: WrittenSheet, owner: str, tip: np.ndarray, n: np.ndarray) -> np.ndarray:
    """Where the measured place lies: the far end of the extension line, or the tip itself."""
    best = tip
    for s in sheet.on_dimensions:
        if s.owner == owner and s.kind == "extension" and s.straight:
            off = s.at - tip
            if np.abs(off @ np.array([n[1], -n[0]])).max() < 0.1:
                far = max(s.at, key=lambda p: math.dist(p, tip))
                best = max(best, far, key=lambda p: math.dist(p, tip))
    return best


def free_path(
    start: np.ndarray, end: np.ndarray, lines: np.ndarray, holes: list[np.ndarray], n: np.ndarray
) -> bool:
    """Whether an extension line may run there: across no dimension line and no other hole."""
    if math.dist(start, end) < 1.0:
        return True
    if len(meet(np.hstack([start, end]), lines, 0.0)):
        return False
    places = along(np.array([start, end]))
    way = (end - start) / math.dist(start, end)
    for hole in holes:
        low, high = hole.min(axis=0), hole.max(axis=0)
        middle = 0.5 * (low + high)
        off = middle - start
        if abs(off[0] * way[1] - off[1] * way[0]) < 0.05:
            continue  # its own center
        some = places[((places > low) & (places < high)).all(axis=1)]
        if len(some) and inside(hole, some).sum() > 3:
            return False
    return True


def leader_room(sheet: WrittenSheet, owner: str) -> bool:
    tips = [a.tip for a in sheet.arrows if a.owner == owner]
    rounds = [s.whole for s in sheet.outline if s.whole.center is not None
              and any(s.whole.distance(tuple(t)) < 0.05 for t in tips)]
    if not rounds:
        return False
    box = next(t.box for t in sheet.texts if t.owner == owner)
    wide, tall = (float(np.hypot(*(box[k] - box[0]))) for k in (1, 3))
    others = [s for s in sheet.strokes if s.owner != owner]
    every, _ = pieces(others)
    own, _ = pieces([s for s in others if s.owner])
    written = [grown(t.box, 0.5) for t in sheet.texts if t.owner != owner]
    holes = holes_in(sheet.outline)
    low, high = free_box(sheet)
    curve = rounds[0]
    for turn in np.arange(48) * math.tau / 48:
        e = np.array([math.cos(turn), math.sin(turn)])
        tip = np.array(curve.center) + curve.radius * e
        if min(abs(e)) < 0.26 or curve.distance(tuple(tip)) > 0.01:
            continue
        side = 1.0 if e[0] >= 0 else -1.0
        for length in (7.0, 10.0, 14.0, 20.0, 28.0, 40.0, 55.0):
            knee = tip + length * e
            end = knee + np.array([3.0 * side, 0.0])
            start = end + np.array([side - (wide if side < 0 else 0.0), -0.5 * tall])
            text = start + np.array([(0, 0), (wide, 0), (wide, tall), (0, tall)])
            if (text.min(axis=0) < low).any() or (text.max(axis=0) > high).any():
                break
            if fits(np.array([tip, knee, end]), text, every, own, written, holes, curve):
                return True
    return False


def fits(way: np.ndarray, text: np.ndarray, every: np.ndarray, own: np.ndarray,
         written: list[np.ndarray], holes: list[np.ndarray], curve: object) -> bool:
    """Whether a leader and its lettering meet nothing that they must not."""
    if box_touches(text, CLEAR, every).any() or any(boxes_overlap(text, w) for w in written):
        return False
    rows = np.hstack([way[:-1], way[1:]])
    if any(len(meet(row, own, 0.0)) for row in rows):
        return False
    if any(box_touches(w, 0.0, rows).any() for w in written):
        return False
    places = along(way)[3:]
    for hole in holes:
        if np.hypot(*(hole.mean(axis=0) - np.array(curve.center))) < curve.radius:
            continue
        some = places[((places > hole.min(axis=0)) & (places < hole.max(axis=0))).all(axis=1)]
        if len(some) and inside(hole, some).any():
            return False
    edges = distances(every, way[1]).min()
    return bool(edges > 0.6)
