"""Judges the center lines and the lettering of a sheet that was read back.

The rules are those of the drawing board (ISO 128 and ASME Y14.2 for the lines, US Navy Draftsman
training for crossing and ending; overhang 3 mm or 1/8 in: common practice, no source).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from tests.sheet_reader import Dash, Ink, Lettering

GAP = {"ISO": 0.75, "ASME": 1.5}
SMALL_HOLE, LEAST_GAP = 2.2, 0.75  # radius on paper below which the gap is smaller; ISO's 3 d
SHORT = {"ISO": 0.125, "ASME": 3.0}
TOLERANCE = 0.02  # coordinates are written to 1e-5 mm; joints of dashes add up


@dataclass
class Line:
    """A straight center line put together again from its dashes, in order along it."""

    dashes: list[Dash]
    direction: np.ndarray
    origin: np.ndarray

    def ends(self) -> list[tuple[np.ndarray, np.ndarray, Dash]]:
        """Tip, direction outwards and last dash of both ends."""
        first, last = self.dashes[0], self.dashes[-1]
        low, high = along(self, first), along(self, last)
        return [(self.origin + low[0] * self.direction, -self.direction, first),
                (self.origin + high[1] * self.direction, self.direction, last)]


def along(line: Line, dash: Dash) -> tuple[float, float]:
    s = [float((np.array(p) - line.origin) @ line.direction) for p in (dash.start, dash.end)]
    return min(s), max(s)


def straight_lines(dashes: list[Dash], most_gap: float) -> list[Line]:
    """Put straight dashes together that lie in one line with gaps of at most `most_gap` mm."""
    found: list[Line] = []
    groups: list[tuple[np.ndarray, np.ndarray, list[Dash]]] = []
    for dash in sorted((d for d in dashes if d.center is None), key=lambda d: -d.length):
        start, end = np.array(dash.start), np.array(dash.end)
        for direction, origin, members in groups:
            normal = np.array([-direction[1], direction[0]])
            # Between short dashes the direction is uncertain, their places are not.
            if all(abs((p - origin) @ normal) < 0.03 for p in (start, end)):
                members.append(dash)
                break
        else:
            unit = (end - start) / max(np.linalg.norm(end - start), 1e-12)
            groups.append((unit, start, [dash]))
    for direction, origin, members in groups:
        line = Line([], direction, origin)
        for dash in sorted(members, key=lambda d: along(line, d)[0]):
            if line.dashes and along(line, dash)[0] - along(line, line.dashes[-1])[1] > most_gap:
                found.append(line)
                line = Line([], direction, origin)
            line.dashes.append(dash)
        found.append(line)
    return found


def check_no_overlap(dashes: list[Dash]) -> None:
    """No two center lines on top of each other: dashes share no more than a crossing."""
    for number, one in enumerate(dashes):
        for other in dashes[number + 1:]:
            if box_gap(one, other) > 0.2:
                continue
            points = one.points(0.1)
            near = [p for p in points[1:-1] if other.distance(tuple(p)) < 0.05]
            slim = 0.4 if one.center is None and other.center is None else 1.0
            assert len(near) * 0.1 <= slim, f"{one} lies on {other}"


def box_gap(a: Dash, b: Dash) -> float:
    pa, pb = a.points(1.0), b.points(1.0)
    low = np.maximum(pa.min(axis=0), pb.min(axis=0))
    high = np.minimum(pa.max(axis=0), pb.max(axis=0))
    return float((low - high).max())


def check_marks(dashes: list[Dash], centers: list[tuple[float, float, float]], full: float) -> None:
    """Every center has a plus of two crossing dashes, clear by the gap on all four sides."""
    for x, y, radius in centers:
        at, gap = (x, y), full if radius > SMALL_HOLE else LEAST_GAP
        through = [d for d in dashes if d.distance(at) < TOLERANCE]
        assert len(through) == 2, f"{len(through)} center dashes cross at {at}"
        headings = [heading(d, at) for d in through]
        cross = abs(headings[0][0] * headings[1][1] - headings[0][1] * headings[1][0])
        assert cross > 0.99, f"the dashes at {at} do not cross square"
        for dash in through:
            reach = [math.dist(at, p) for p in (dash.start, dash.end)]
            assert abs(reach[0] - reach[1]) < TOLERANCE, f"the plus at {at} is lopsided"
        plus = max(0.5 * d.length for d in through)
        for dash in dashes:
            if dash not in through:
                clear = dash.distance(at)
                assert clear > plus + gap - TOLERANCE, f"{dash} is {clear:.3f} from the center {at}"


def heading(dash: Dash, at: tuple[float, float]) -> tuple[float, float]:
    if dash.center is None:
        length = max(dash.length, 1e-12)
        return ((dash.end[0] - dash.start[0]) / length, (dash.end[1] - dash.start[1]) / length)
    x, y = at[0] - dash.center[0], at[1] - dash.center[1]
    return (-y / dash.radius, x / dash.radius)


def check_ends(ink_dashes: list[Dash], outline: list[Dash], practice: str, overhang: float) -> int:
    """Each end runs past the last outline by the overhang, or stops for something; counts them.

    Ends are long dashes: never shorter than the short dash of the pattern, except where the line
    had to stop for a neighbour.
    """
    gap = GAP[practice]
    even = 0
    for line in straight_lines(ink_dashes, gap + 3.0):
        for tip, way, last in line.ends():
            behind = min((d for d in (back_to(tip, -way, piece) for piece in outline)
                          if d is not None), default=None)
            shortest = min(d.length for d in line.dashes)
            is_long = last.length > max(1.0, shortest + 1e-6, SHORT[practice] if len(line.dashes)
                                        > 7 else 0.0)
            if behind is not None and abs(behind - overhang) <= 0.1 and is_long:
                even += 1
                continue
            # A line that had to stop may end with its plus, well inside its own outline.
            near = max(1.3, gap + 0.1)  # a crossing needs a visible tail of 1.2 mm
            short_of = behind is not None and behind < overhang and is_long
            missing = overhang - behind if short_of else overhang + 9.0
            ahead = stopped_by(tip, way, ink_dashes, outline, line, missing + 2.0 * near, near)
            assert ahead, f"an end at {tip} runs {behind} past the outline for no reason"
    return even


def back_to(tip: np.ndarray, way: np.ndarray, piece: Dash) -> float | None:
    """Distance from a tip backwards to where an outline is crossed."""
    if piece.center is None:
        a, d = np.array(piece.start), np.array(piece.end) - np.array(piece.start)
        system = np.column_stack([way, -d])
        if abs(np.linalg.det(system)) < 1e-9 * np.linalg.norm(d):
            return None
        s, t = np.linalg.solve(system, a - tip)
        return float(s) if s > 0 and -1e-9 <= t <= 1 + 1e-9 else None
    offset = tip - np.array(piece.center)
    b, c = float(offset @ way), float(offset @ offset) - piece.radius**2
    if b * b < c:
        return None
    hits = [-b - math.sqrt(b * b - c), -b + math.sqrt(b * b - c)]
    places = [(s, tip + s * way) for s in hits if s > 0]
    return min((s for s, p in places if piece.distance(tuple(p)) < 0.01), default=None)


def stopped_by(
    tip: np.ndarray, way: np.ndarray, dashes: list[Dash], outline: list[Dash], own: Line,
    reach: float, near: float,
) -> bool:
    """Tell whether another center line or a neighbour's outline lies just ahead of a tip."""
    others = [d for d in dashes if d not in own.dashes] + outline
    for s in np.arange(0.0, reach, 0.1):
        at = tuple(tip + s * way)
        if any(1e-6 < d.distance(at) < near for d in others):
            return True
    return False


def check_lettering(lettering: list[Lettering], dashes: list[Dash], heads: list) -> None:
    """Nothing runs through lettering, and no two texts share a place."""
    boxes = [(text, np.array(text.corners)) for text in lettering if text.text.strip()]
    lows = np.array([b.min(axis=0) for _, b in boxes])
    highs = np.array([b.max(axis=0) for _, b in boxes])
    for dash in dashes:
        points = dash.points(0.2)
        low, high = points.min(axis=0), points.max(axis=0)
        for k in meeting(lows, highs, low, high):
            text, corners = boxes[k]
            assert not inside(corners, points).any(), f"{dash} runs through {text}"
    for head in heads:
        points = np.array(head)
        for k in meeting(lows, highs, points.min(axis=0), points.max(axis=0)):
            text, corners = boxes[k]
            assert not inside(corners, points).any(), f"an arrowhead stands on {text}"
    for number, (text, corners) in enumerate(boxes):
        for k in meeting(lows, highs, lows[number], highs[number]):
            if k > number:
                other, its = boxes[k]
                assert not inside(corners, lattice(its)).any(), f"{text} stands on {other}"


def meeting(
    lows: np.ndarray, highs: np.ndarray, low: np.ndarray, high: np.ndarray
) -> np.ndarray:
    """Numbers of the level boxes that meet another; those apart hold no point of it."""
    return np.flatnonzero((lows <= high).all(axis=1) & (highs >= low).all(axis=1))


def lattice(corners: np.ndarray) -> np.ndarray:
    s, t = np.meshgrid(np.linspace(0, 1, 15), np.linspace(0, 1, 5))
    origin, u, v = corners[0], corners[1] - corners[0], corners[3] - corners[0]
    return origin + s.reshape(-1, 1) * u + t.reshape(-1, 1) * v


def inside(corners: np.ndarray, points: np.ndarray) -> np.ndarray:
    origin, u, v = corners[0], corners[1] - corners[0], corners[3] - corners[0]
    offset = points - origin
    s, t = offset @ u / max(u @ u, 1e-12), offset @ v / max(v @ v, 1e-12)
    return (s > 0.01) & (s < 0.99) & (t > 0.03) & (t < 0.97)


def centers_of(ink: Ink, kinds: tuple[str, ...] = ("center", "phantom")) -> list[Dash]:
    return ink.of(*kinds)
