"""Marks, ends and doubling of center lines.

At a hole's center two lines cross on short dashes with a gap around them; a line starts and ends
with a dash past the outline (US Navy Draftsman training; overhang 3 mm or 1/8 in: common practice,
no source). A line that has to stop for a neighbour may be shorter.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from tests.sheet_marks.chain_lines import ChainLine, chain_lines
from tests.sheet_marks.deductions import Fault, fault
from tests.sheet_marks.plane import distances, pieces, shared, shared_arc
from tests.sheet_marks.sheet_views import SheetView
from tests.sheet_marks.written_sheet import Inked, WrittenSheet
from tests.sheet_reader import Dash

ON = 0.05  # mm: a dash goes through a center
SOLID = 6.5  # radius on paper up to which a plus may be one unbroken cross (common practice)
GAP = 0.3  # mm that are clear around a plus at the least
EVEN = 0.1  # mm by which overhangs may differ
HALF_TURN = math.pi - 0.01


def judge(view: SheetView) -> Iterator[Fault]:
    """Everything about the center lines of one view."""
    sheet = view.sheet
    lines = chain_lines(sheet.centers)
    yield from missing_marks(view)
    yield from doubled(sheet)
    yield from ends(view, lines)
    yield from astray(sheet, lines)
    yield from rectangles(sheet, lines)
    yield from rows_and_rings(sheet, lines)


def marked_rounds(view: SheetView) -> list[tuple[np.ndarray, float, str]]:
    """Center, radius on paper and source of each hole and arc of 180 degrees or more, once."""
    found: list[tuple[np.ndarray, float, str]] = []
    for stroke in view.sheet.outline:
        whole = stroke.whole
        if whole.center is None or whole.high - whole.low < HALF_TURN:
            continue
        at = np.array(whole.center)
        if view.shown_larger(at, stroke.source) or view.clipped(at, whole.radius):
            continue
        for n, (other, radius, _) in enumerate(found):
            if math.dist(at, other) < ON:
                found[n] = (other, min(radius, whole.radius), stroke.source)
                break
        else:
            found.append((at, whole.radius, stroke.source))
    return found


def missing_marks(view: SheetView) -> Iterator[Fault]:
    dashes = [d for s in view.sheet.centers for d in s.dashes]
    if not dashes:
        for at, radius, source in marked_rounds(view):
            yield fault("center-mark-missing", at, f"no plus in {source}, R{radius:.2f} on paper")
        return
    flat, number = pieces_of(dashes)
    for at, radius, source in marked_rounds(view):
        near = np.unique(number[distances(flat, at) < ON])
        through = [dashes[n] for n in near if reach(dashes[n], at) > 0.25]
        square = [(a, b) for k, a in enumerate(through) for b in through[:k]
                  if abs(np.dot(heading(a, at), heading(b, at))) < 0.1]
        if not square:
            yield fault("center-mark-missing", at, f"{len(through)} dashes cross in {source}, "
                                                   f"R{radius:.2f} on paper")
            continue
        yield from spoiled_plus(at, radius, source, dashes, through)


def spoiled_plus(
    at: np.ndarray, radius: float, source: str, dashes: list[Dash], through: list[Dash]
) -> Iterator[Fault]:
    half = max(max(math.dist(at, d.start), math.dist(at, d.end)) for d in through)
    if radius > SOLID and half > radius:
        yield fault("plus-covered", at, f"no gap around the plus in {source}: its dash is "
                                        f"{half:.1f} long to one side")
    if len(through) > 2:
        yield fault("plus-covered", at, f"{len(through)} dashes run through the plus in {source}")
    for other in dashes:
        if other in through or other.distance(tuple(at)) > half + GAP:
            continue
        apart = min(d.distance(end) for d in through for end in (other.start, other.end))
        if apart < GAP:
            yield fault("plus-covered", at, f"a dash stands {apart:.2f} from the plus in {source}")
            return


def pieces_of(dashes: list[Dash]) -> tuple[np.ndarray, np.ndarray]:
    """Straight pieces of dashes, and whose they are."""
    paths = [np.array([d.start, d.end]) if d.center is None else d.points(0.3) for d in dashes]
    if not paths:
        return np.zeros((0, 4)), np.zeros(0, int)
    rows = [np.hstack([p[:-1], p[1:]]) for p in paths]
    return np.concatenate(rows), np.repeat(np.arange(len(rows)), [len(r) for r in rows])


def reach(dash: Dash, at: np.ndarray) -> float:
    """How far a dash reaches out from a place on its shorter side."""
    return min(math.dist(at, dash.start), math.dist(at, dash.end))


def heading(dash: Dash, at: np.ndarray) -> np.ndarray:
    if dash.center is None:
        d = np.subtract(dash.end, dash.start)
        return d / max(float(np.hypot(*d)), 1e-12)
    x, y = np.subtract(at, dash.center)
    return np.array([-y, x]) / max(math.hypot(x, y), 1e-12)


def doubled(sheet: WrittenSheet) -> Iterator[Fault]:
    """Two center lines on one another, or one on an edge of the part."""
    centers = sheet.centers
    for n, one in enumerate(centers):
        for other in centers[:n]:
            if one.straight != other.straight:
                continue
            long, at = (shared if one.straight else shared_arc)(one, other)
            if long > 0.3:
                yield fault("center-line-doubled", at, f"{one.source} and {other.source} run on "
                                                       f"one another for {long:.1f}")
    for one in centers:
        for edge in sheet.outline:
            if one.straight == edge.straight:
                long, at = (shared if one.straight else shared_arc)(one, edge)
                if long > 1.0:
                    yield fault("center-line-doubled", at, f"{one.source} runs on {edge.source} "
                                                           f"for {long:.1f}")


def ends(view: SheetView, lines: list[ChainLine]) -> Iterator[Fault]:
    """How far each line runs past the outline at both ends."""
    measured, sheet = [], view.sheet
    for line in lines:
        for tip, way in ((line.at(line.low), -line.way), (line.at(line.high), line.way)):
            if view.clipped(tip, 3.0):
                continue  # it ends at the boundary of the detail
            measured.append((tip, way, behind(tip, way, line, sheet.outline), line))
    known = [past for _, _, past, _ in measured if past is not None]
    if not known:
        return
    # Lines of tiny holes that had to stop say nothing of what is usual.
    usual = float(np.median([past for past in known if past > 1.5] or known))
    for tip, way, past, line in measured:
        if past is not None and abs(past - usual) <= EVEN:
            continue
        source = line.strokes[0].source
        if stopped(tip, way, usual, line, sheet):
            continue
        if past is None:
            yield fault("center-line-short", tip, f"{source} ends before any edge")
        elif within_part(tip, sheet) and past > usual + EVEN and past > 6.0:
            yield fault("center-line-short", tip, f"{source} ends in the part, {past:.1f} from the "
                                                  "edge behind it")
        else:
            yield fault("overhang", tip, f"{source} runs {past:.2f} past the edge, others "
                                         f"{usual:.2f}")


def behind(
    tip: np.ndarray, way: np.ndarray, line: ChainLine, outline: list[Inked]
) -> float | None:
    """Distance from the tip of a line back to the last edge that it crosses."""
    far = line.high - line.low + 1e-6
    hits = [s for edge in outline for s in crossings(tip, -way, edge.whole) if 0.0 <= s <= far]
    return min(hits, default=None)


def crossings(at: np.ndarray, way: np.ndarray, edge: Dash) -> list[float]:
    """Distances along a ray to where it meets an edge."""
    if edge.center is None:
        a, d = np.array(edge.start), np.subtract(edge.end, edge.start)
        turn = way[0] * d[1] - way[1] * d[0]
        if abs(turn) < 1e-9 * max(float(np.hypot(*d)), 1e-9):
            return []
        off = a - at
        s, t = (off[0] * d[1] - off[1] * d[0]) / turn, (off[0] * way[1] - off[1] * way[0]) / turn
        return [float(s)] if -1e-6 <= t <= 1 + 1e-6 else []
    off = np.subtract(at, edge.center)
    b, c = float(off @ way), float(off @ off) - edge.radius**2
    if b * b < c:
        return []
    root = math.sqrt(b * b - c)
    return [s for s in (-b - root, -b + root) if edge.distance(tuple(at + s * way)) < 0.02]


def stopped(
    tip: np.ndarray, way: np.ndarray, usual: float, line: ChainLine, sheet: WrittenSheet
) -> bool:
    """Whether an end had to stop: an edge or another center line lies just ahead of it."""
    others = [s for s in sheet.centers if s not in line.strokes] + sheet.outline
    flat, _ = pieces(others)
    return any(distances(flat, tip + s * way).min() < 0.8
               for s in np.arange(0.0, usual + 1.6, 0.2))


def within_part(at: np.ndarray, sheet: WrittenSheet) -> bool:
    """Whether a place lies in the box of the outline."""
    every = np.concatenate([s.at for s in sheet.outline])
    return bool((at > every.min(axis=0)).all() and (at < every.max(axis=0)).all())


def astray(sheet: WrittenSheet, lines: list[ChainLine]) -> Iterator[Fault]:
    """A center line that runs through a round hole beside its center; an axis or a disc's may."""
    every = np.concatenate([s.at for s in sheet.outline])
    most = 0.5 * float(np.ptp(every, axis=0).max()) - 0.1  # a disc's own rim is no hole
    rounds = [s.whole for s in sheet.outline if s.whole.center is not None
              and s.whole.high - s.whole.low > 6.28 and s.whole.radius < most]
    rims = [s.whole for s in sheet.outline if s.whole.center is not None and s.whole.radius >= most]
    if len(rounds) > 300:
        return
    for line in lines:
        if any(s.source.endswith("/axis") for s in line.strokes) or any(
                line.holds(np.array(w.center)) for w in rims):
            continue
        for whole in rounds:
            at, apart = np.array(whole.center), line.across(np.array(whole.center))
            s = float((at - line.origin) @ line.way)
            if 0.1 < apart < whole.radius - 0.3 and line.low < s < line.high:
                yield fault("center-line-astray", at, f"{line.strokes[0].source} runs through a "
                            f"hole {apart:.2f} beside its center")


def rectangles(sheet: WrittenSheet, lines: list[ChainLine]) -> Iterator[Fault]:
    """Four equal holes at the corners of a rectangle are joined on all sides or in rows."""
    spots = [(np.array(s.whole.center), s.whole.radius) for s in sheet.outline
             if s.whole.center is not None and s.whole.high - s.whole.low > 6.28]
    if len(spots) > 60:
        return
    for n, (a, r) in enumerate(spots):
        level = [b for b, q in spots if abs(q - r) < 0.01 and abs(b[1] - a[1]) < 0.01
                 and b[0] > a[0] + 0.1]
        plumb = [b for b, q in spots if abs(q - r) < 0.01 and abs(b[0] - a[0]) < 0.01
                 and b[1] > a[1] + 0.1]
        for b in level[:1]:
            for d in plumb[:1]:
                c = np.array([b[0], d[1]])
                if not any(math.dist(c, at) < 0.02 and abs(q - r) < 0.01 for at, q in spots):
                    continue
                sides = [any(line.holds(p) and line.holds(q) for line in lines)
                         for p, q in ((a, b), (b, c), (c, d), (d, a))]
                if sum(sides) in (1, 3) or (sum(sides) == 2 and sides[0] != sides[2]):
                    yield fault("pattern-not-joined", 0.25 * (a + b + c + d),
                                f"four holes of R{r:.2f} are joined on {sum(sides)} sides (number "
                                f"{n + 1})")


def rows_and_rings(sheet: WrittenSheet, lines: list[ChainLine]) -> Iterator[Fault]:
    """Three or more equal holes around one center share a pitch circle."""
    spots = [(np.array(s.whole.center), s.whole.radius) for s in sheet.outline
             if s.whole.center is not None and s.whole.high - s.whole.low > 6.28]
    if len(spots) > 60:
        return
    rings = [s.whole for s in sheet.centers if s.whole.center is not None]
    told: set[tuple[int, int, int]] = set()
    for hub, _ in spots:
        for radius in {round(r, 3) for _, r in spots}:
            around = [p for p, r in spots if abs(r - radius) < 0.01 and math.dist(p, hub) > 0.1]
            for away in {round(math.dist(p, hub), 2) for p in around}:
                ring = [p for p in around if abs(math.dist(p, hub) - away) < 0.02]
                turns = sorted(math.atan2(*(p - hub)[::-1]) for p in ring)
                if len(ring) < 3 or not even_steps(turns):
                    continue
                if len(ring) == 4 and all(any(line.holds(p) for line in lines) for p in ring) \
                        and not any(abs(w.radius - away) < 0.05 for w in rings):
                    continue  # a rectangle seen from its middle
                key = (round(hub[0]), round(hub[1]), round(away))
                drawn = any(math.dist(w.center, hub) < 0.05 and abs(w.radius - away) < 0.05
                            for w in rings)
                if not drawn and key not in told:
                    told.add(key)
                    yield fault("pattern-not-joined", hub, f"{len(ring)} holes of R{radius:.2f} "
                                f"around one center at {away:.2f} have no pitch circle")


def even_steps(turns: list[float]) -> bool:
    """Whether angles are spread evenly over a full turn."""
    steps = np.diff([*turns, turns[0] + math.tau])
    return bool(np.abs(steps - math.tau / len(turns)).max() < 0.002)
