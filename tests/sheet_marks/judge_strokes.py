"""Strokes of dimensions against everything else that is drawn.

A dimension line is not crossed, an extension line begins at the feature with a visible gap, a
leader slopes and has a short level shoulder (ASME Y14.5M-1994, 1.7 and 1.8; leaders: course notes).
"""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from tests.sheet_marks.chain_lines import chain_lines
from tests.sheet_marks.deductions import Fault, fault
from tests.sheet_marks.elsewhere import room_elsewhere
from tests.sheet_marks.plane import (
    along,
    distances,
    holes_in,
    inside,
    meet,
    pieces,
    shared,
    shared_arc,
)
from tests.sheet_marks.written_sheet import Inked, WrittenSheet

LEAST_SLOPE, MOST_SLOPE = 15.0, 75.0  # degrees from level; 30 to 60 is the custom
TOUCHING = 0.4  # mm between the middles of an edge and of a thin line whose ink touches it
LEAST_ROW = 5.9  # mm between dimension lines
TANGENT = 15.0  # mm before the place where an extension line would touch an arc
STUB = 1.0  # mm below which an extension line is a stray dot
REACH = 3.0  # mm before an extension line within which its feature must lie


def judge(sheet: WrittenSheet) -> Iterator[Fault]:
    """Everything about strokes of dimensions."""
    yield from over_center_lines(sheet)
    yield from covered_pluses(sheet)
    yield from crossings(sheet)
    yield from through_holes(sheet)
    yield from extension_starts(sheet)
    yield from leaders(sheet)
    yield from over_outline(sheet)
    yield from spacing(sheet)
    yield from drawn_twice(sheet)


def over_center_lines(sheet: WrittenSheet) -> Iterator[Fault]:
    lines = chain_lines(sheet.centers)
    for stroke in sheet.on_dimensions:
        worst = (0.0, stroke.at[0], "")
        if stroke.straight:
            for line in lines:
                if not all(line.across(p) < 0.25 for p in stroke.at):
                    continue
                s = sorted((stroke.at[[0, -1]] - line.origin) @ line.way)
                low, high = max(s[0], line.low), min(s[1], line.high)
                worst = max(worst, (high - low, line.at(0.5 * (low + high)),
                                    line.strokes[0].source), key=lambda w: w[0])
        else:
            for other in (c for c in sheet.centers if not c.straight):
                long, at = shared_arc(stroke, other, 0.25)
                worst = max(worst, (long, at, other.source), key=lambda w: w[0])
        if worst[0] > 0.5:
            yield fault("over-center-line", worst[1], f"{stroke.kind} of {told(sheet, stroke)} "
                                                      f"over {worst[2]} for {worst[0]:.1f}")


def told(sheet: WrittenSheet, stroke: Inked) -> str:
    """A dimension by its words and name."""
    return f"'{sheet.said(stroke.owner)}' ({stroke.owner})"


def pluses(sheet: WrittenSheet) -> list[tuple[np.ndarray, float]]:
    """Places where the middles of two short square dashes meet, with half their length."""
    dashes = [d for s in sheet.centers for d in s.dashes if d.center is None]
    if not dashes:
        return []
    ends_ = np.array([[*d.start, *d.end] for d in dashes])
    middles, way = 0.5 * (ends_[:, :2] + ends_[:, 2:]), ends_[:, 2:] - ends_[:, :2]
    found = []
    for n in range(len(dashes)):
        for k in np.flatnonzero(np.hypot(*(middles[:n] - middles[n]).T) < 0.03):
            size = float(np.hypot(*way[n]) * np.hypot(*way[k]))
            if abs(float(way[n] @ way[k])) < 0.1 * size:
                found.append((middles[n], 0.5 * min(dashes[n].length, dashes[k].length)))
    return found


def covered_pluses(sheet: WrittenSheet) -> Iterator[Fault]:
    rounds = [s.whole for s in sheet.outline if s.whole.center is not None]
    for at, half in pluses(sheet):
        # A leader ends on the edge of a tiny hole, well within the arms of its plus.
        edge = min((w.radius for w in rounds if math.dist(w.center, at) < 0.05), default=99.0)
        near = min(0.8 * half, edge - 0.1)
        for stroke in sheet.on_dimensions:
            rows, _ = pieces([stroke])
            if distances(rows, at).min() < near:
                yield fault("plus-covered", at, f"{stroke.kind} of {told(sheet, stroke)} over a "
                                                "plus")


def crossings(sheet: WrittenSheet) -> Iterator[Fault]:
    """Dimension lines and leaders cross nothing of other dimensions, if there is another place."""
    own = sheet.on_dimensions
    rows, number = pieces(own)
    for n, one in enumerate(own):
        if one.kind == "extension":
            continue
        for piece in np.hstack([one.at[:-1], one.at[1:]]):
            for k in range(len(own)):
                other = own[k]
                if other.owner == one.owner or (other.kind != "extension" and k >= n):
                    continue
                hits = meet(piece, rows[number == k])
                if not len(hits) or same_side(sheet, one, other):
                    continue
                if other.kind == "extension" and not room_elsewhere(sheet, one.owner):
                    continue
                yield fault("dimension-crossing", hits[0], f"{one.kind} of {told(sheet, one)} "
                            f"crosses {other.kind} of {told(sheet, other)}")


def same_side(sheet: WrittenSheet, one: Inked, other: Inked) -> bool:
    """Whether the other's extension line is one of the first dimension too: an arrow stands on it.

    Two dimensions from one place share a line, which is drawn once.
    """
    if other.kind != "extension" or not other.straight:
        return False
    across = np.array([-other.way[1], other.way[0]])
    tips = [a.tip for a in sheet.arrows if a.owner == one.owner]
    return any(abs(float((tip - other.at[0]) @ across)) < 0.05 for tip in tips)


def through_holes(sheet: WrittenSheet) -> Iterator[Fault]:
    holes = holes_in(sheet.outline)
    if len(holes) > 200:
        return
    for owner in sheet.owners:
        mine = [s for s in sheet.on_dimensions if s.owner == owner]
        for stroke in mine:
            if stroke.kind == "extension":
                continue
            for hole in holes:
                at = runs_through(sheet, stroke, hole, owner)
                if at is not None and room_elsewhere(sheet, owner):
                    yield fault("through-hole", at, f"{stroke.kind} of {told(sheet, stroke)} runs "
                                                    "through a hole though there is room outside")
                    break


def runs_through(sheet: WrittenSheet, stroke: Inked, hole: np.ndarray, owner: str
                 ) -> np.ndarray | None:
    """A place of a stroke in a hole that its dimension does not measure."""
    low, high = hole.min(axis=0), hole.max(axis=0)
    places = along(stroke.at)
    places = places[((places > low) & (places < high)).all(axis=1)]
    if not len(places):
        return None
    deep = places[inside(hole, places)]
    if len(deep) < 4:
        return None
    rows = np.hstack([hole[:-1], hole[1:]])
    tips = [a.tip for a in sheet.arrows if a.owner == owner]
    if any(distances(rows, tip).min() < 0.05 for tip in tips):
        return None
    return deep[len(deep) // 2]


def extension_starts(sheet: WrittenSheet) -> Iterator[Fault]:
    """Each extension line begins a visible gap from an edge, a center line or a sharp corner."""
    edges, _ = pieces(sheet.outline)
    told_at: list[np.ndarray] = []
    for stroke in (s for s in sheet.on_dimensions if s.kind == "extension" and s.straight):
        if stroke.whole.length < STUB:
            yield fault("in-the-air", stroke.at[0], f"extension line of {told(sheet, stroke)} is a "
                                                    f"stub of {stroke.whole.length:.1f}")
            continue
        starts = starts_of(stroke, [a.tip for a in sheet.arrows if a.owner == stroke.owner])
        for start, _ in starts:
            nearest = float(distances(edges, start).min()) if len(edges) else 99.0
            if nearest < TOUCHING and not any(math.dist(start, at) < 0.3 for at in told_at):
                told_at.append(start)
                yield fault("extension-gap", start, f"extension line of {told(sheet, stroke)} "
                                                    f"begins {nearest:.2f} from the edge")
        if not any(founded(sheet, stroke, start, way) for start, way in starts):
            start = starts[0][0]
            nearest = float(distances(edges, start).min()) if len(edges) else 99.0
            yield fault("in-the-air", start, f"extension line of {told(sheet, stroke)} begins at "
                                             f"nothing, {nearest:.1f} from the next edge")


def starts_of(stroke: Inked, tips: list[np.ndarray]) -> list[tuple[np.ndarray, np.ndarray]]:
    """Ends of an extension line where it may begin, away from its arrow, and the way on.

    Both ends where no arrow stands on it or where one stands in the middle of a short one.
    """
    both = [(stroke.at[0], -stroke.way), (stroke.at[-1], stroke.way)]
    across = np.array([-stroke.way[1], stroke.way[0]])
    on = [t for t in tips if abs(float((t - stroke.at[0]) @ across)) < 0.1]
    if not on:
        return both
    tip = min(on, key=lambda t: min(math.dist(t, end) for end, _ in both))
    away = [math.dist(tip, end) for end, _ in both]
    if min(away) > 3.5 or max(away) < 5.0:
        return both
    return [both[int(away[1] > away[0])]]


def founded(sheet: WrittenSheet, stroke: Inked, start: np.ndarray, way: np.ndarray) -> bool:
    """Whether an edge, a center line, its end or a crossing lies before the start of a line."""
    others = [s for s in sheet.strokes if s is not stroke
              and (s.kind in ("visible", "center", "phantom", "layout")
                   or (s.kind == "extension" and s.owner))]
    rows, _ = pieces(others)
    probe = np.hstack([start - 0.2 * way, start + REACH * way])
    if len(meet(probe, rows, 0.0)):
        return True
    if any(distances(rows, start + s * way).min() < 0.3 for s in np.arange(0.0, REACH, 0.2)):
        return True
    return any(touches_ahead(edge, start, way) for edge in sheet.outline if not edge.straight)


def touches_ahead(edge: Inked, start: np.ndarray, way: np.ndarray) -> bool:
    """Whether a line goes on as a tangent of an arc: it begins where the arc has left its ink."""
    off = np.subtract(edge.whole.center, start)
    apart = abs(float(off[0] * way[1] - off[1] * way[0]))
    foot = start + float(off @ way) * way
    return (abs(apart - edge.whole.radius) < 0.05 and 0.0 < float(off @ way) < TANGENT
            and edge.whole.distance(tuple(foot)) < 0.1)


def leaders(sheet: WrittenSheet) -> Iterator[Fault]:
    edges, _ = pieces(sheet.outline)
    for owner in sheet.owners:
        mine = [s for s in sheet.on_dimensions if s.owner == owner and s.kind == "leader"]
        arrows = [a for a in sheet.arrows if a.owner == owner]
        for stroke in mine:
            for arrow in arrows:
                ends_ = [p for p in (stroke.at[0], stroke.at[-1]) if math.dist(p, arrow.tip) < 0.05]
                if not ends_ or not stroke.straight:
                    continue
                slope = math.degrees(math.asin(min(1.0, abs(stroke.way[1]))))
                if not LEAST_SLOPE <= slope <= MOST_SLOPE:
                    yield fault("leader-angle", arrow.tip, f"leader of {told(sheet, stroke)} "
                                                           f"slopes by {slope:.0f}°")
                yield from aside(sheet, stroke, arrow.tip)
                knee = max((stroke.at[0], stroke.at[-1]), key=lambda p: math.dist(p, arrow.tip))
                near = float(distances(edges, knee).min()) if len(edges) else 99.0
                if near < 0.6:
                    yield fault("elbow-on-outline", knee, f"elbow of {told(sheet, stroke)} stands "
                                                          f"{near:.2f} from an edge")


def aside(sheet: WrittenSheet, stroke: Inked, tip: np.ndarray) -> Iterator[Fault]:
    """A leader to a round runs towards its center."""
    rounds = [s.whole for s in (*sheet.outline, *sheet.centers) if s.whole.center is not None
              and s.whole.distance(tuple(tip)) < 0.05]
    off = [np.subtract(w.center, tip) for w in rounds]
    miss = min((abs(float(d[0] * stroke.way[1] - d[1] * stroke.way[0])) for d in off), default=0.0)
    if miss > 0.3:
        yield fault("leader-angle", tip, f"leader of {told(sheet, stroke)} misses the center by "
                                         f"{miss:.1f}")


def over_outline(sheet: WrittenSheet) -> Iterator[Fault]:
    """A thin stroke on an edge."""
    for stroke in sheet.on_dimensions:
        for edge in sheet.outline:
            if stroke.straight != edge.straight:
                continue
            long, at = (shared if stroke.straight else shared_arc)(stroke, edge, 0.2)
            if long > 0.5:
                yield fault("over-outline", at, f"{stroke.kind} of {told(sheet, stroke)} on "
                                                f"{edge.source} for {long:.1f}")
                break


def spacing(sheet: WrittenSheet) -> Iterator[Fault]:
    """Parallel dimension lines beside one another are 6 mm apart (ASME Y14.5M-1994, 1.7.1)."""
    lines = [s for s in sheet.on_dimensions if s.kind == "dimension" and s.straight]
    for n, one in enumerate(lines):
        for other in lines[:n]:
            if other.owner == one.owner or abs(float(one.way @ other.way)) < 0.9999:
                continue
            off = other.at - one.at[0]
            apart = abs(float(off[0] @ np.array([-one.way[1], one.way[0]])))
            low, high = sorted(off @ one.way)
            if 0.2 < apart < LEAST_ROW and min(high, one.whole.length) - max(low, 0.0) > 1.0:
                yield fault("spacing", one.at.mean(axis=0), f"{told(sheet, one)} and "
                            f"{told(sheet, other)} stand {apart:.1f} apart")


def drawn_twice(sheet: WrittenSheet) -> Iterator[Fault]:
    """Thin strokes or edges on one another: a plotter draws them twice."""
    for kinds in (("visible",), ("dimension", "extension", "leader"), ("frame", "section")):
        some = sheet.of(*kinds)
        boxes = np.array([[*s.at.min(axis=0), *s.at.max(axis=0)] for s in some]).reshape(-1, 4)
        for n, one in enumerate(some):
            close = np.flatnonzero((boxes[:n, :2] <= boxes[n, 2:] + 0.1).all(axis=1)
                                   & (boxes[:n, 2:] >= boxes[n, :2] - 0.1).all(axis=1))
            for k in close:
                other = some[k]
                if one.straight != other.straight:
                    continue
                long, at = (shared if one.straight else shared_arc)(one, other, 0.03)
                if long > 0.5:
                    yield fault("stroke-doubled", at, f"{one.kind} of {one.source} and "
                                f"{other.kind} of {other.source} on one another for {long:.1f}")
