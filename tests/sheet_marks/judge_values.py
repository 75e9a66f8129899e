"""Numbers, counts and figures: what is said against what the arrows span on paper.

Figures: a millimetre value below one has a zero before the point and none at the end, an inch value
has none before it (ASME Y14.5M-1994, 1.6.1 and 1.6.2). A count is the number of places of a size
(1.9.5, from memory).
"""

from __future__ import annotations

import math
import re
from collections import defaultdict
from collections.abc import Iterator, Sequence

import numpy as np

from tests.sheet_marks.chain_lines import MOST_GAP, chain_lines
from tests.sheet_marks.deductions import Fault, fault
from tests.sheet_marks.plane import distances, pieces
from tests.sheet_marks.said_values import Said, said
from tests.sheet_marks.sheet_views import SheetView
from tests.sheet_marks.written_sheet import Arrow, Inked, Written, WrittenSheet
from tests.sheet_reader import Dash

HALF_TURN = math.pi - 0.01
PAPER = 0.02  # mm: coordinates are written to 1e-5 mm, a tip stands on its line within this
TURN = 0.05  # degrees for an angle whose sides are short on paper


def judge(views: Sequence[SheetView], unit: str, rounds: Sequence[Dash]) -> Iterator[Fault]:
    """Everything about figures; `views` are those of one page, the part's own first.

    `rounds` are all arcs and circles of the part at the scale of its view, wherever they lie.
    """
    mm = {"mm": 1.0, "in": 25.4}[unit]
    for view in views:
        yield from values(view, view.factor * mm)
        yield from signs(view.sheet)
        yield from located_twice(view.sheet)
        yield from figures(view.sheet, unit)
        yield from sharp_corners(view.sheet)
    yield from counts(views, mm, rounds)
    yield from bevels(views, mm)


def main_text(sheet: WrittenSheet, owner: str) -> Written | None:
    """The lettering of a dimension that holds its value: the tallest with a figure."""
    some = [t for t in sheet.texts if t.owner == owner and re.search(r"\d", t.text)]
    return max(some, key=lambda t: t.height, default=None)


def spoken(sheet: WrittenSheet) -> Iterator[tuple[str, Written, Said, list[Arrow]]]:
    for owner in sheet.owners:
        text = main_text(sheet, owner)
        read = said(text.text) if text else None
        if text and read:
            yield owner, text, read, arrows_of_value(sheet, owner)


def arrows_of_value(sheet: WrittenSheet, owner: str) -> list[Arrow]:
    """Arrowheads of what the value says: a slot's width has a leader to its ends besides."""
    arrows = [a for a in sheet.arrows if a.owner == owner]
    lines = [s for s in sheet.on_dimensions if s.owner == owner and s.kind == "dimension"]
    if len(arrows) == 3 and lines:
        on = [a for a in arrows if any(line_distance(s, a.tip) < PAPER for s in lines
                                       if s.straight)]
        return on if len(on) == 2 else arrows
    return arrows


def values(view: SheetView, factor: float) -> Iterator[Fault]:
    for owner, text, read, arrows in spoken(view.sheet):
        spans = spanned(view.sheet, owner, read, arrows, factor)
        if spans and view.missing and len(arrows) == 2 and not read.degrees:
            lacks = view.missing.between(arrows[0].tip, arrows[1].tip)
            spans = [span + lacks / factor for span in spans]
        if spans is None:
            yield fault("dimension-value", text.middle, f"'{text.text}' ({owner}) has "
                                                        f"{len(arrows)} arrows that span nothing")
            continue
        limit = read.last + (TURN if read.degrees else PAPER / factor) + 1e-6
        wanted = [read.value] if read.whole is None else [read.value, read.whole,
                                                          read.count * read.value]
        if not any(abs(span - value) <= limit for span in spans for value in wanted):
            told = ", ".join(f"{span:.4f}" for span in spans)
            yield fault("dimension-value", text.middle, f"'{text.text}' ({owner}) spans {told} on "
                                                        "paper")


def spanned(
    sheet: WrittenSheet, owner: str, read: Said, arrows: list[Arrow], factor: float
) -> list[float] | None:
    """What the arrows of a dimension span, in the part's unit or in degrees; None for nothing."""
    lines = [s for s in sheet.on_dimensions if s.owner == owner and s.kind == "dimension"]
    if read.bevel is not None and len(arrows) == 1:
        edges = [s for s in sheet.outline if s.straight
                 and s.whole.distance(tuple(arrows[0].tip)) < PAPER]
        return [leg / factor for s in edges for leg in legs(s)] or None
    if read.degrees:
        arcs = [s.whole for s in lines if s.whole.center is not None]
        if not arcs or len(arrows) != 2:
            return None
        hub = np.array(arcs[0].center)
        a, b = (math.atan2(*(arrow.tip - hub)[::-1]) for arrow in arrows)
        turn = math.degrees(abs(a - b)) % 360.0
        return [turn, 360.0 - turn]
    if read.sign in ("R", "SR", "Ø", "⌀") and not (len(arrows) == 2 and lines):
        rounds = [s.whole for s in (*sheet.outline, *sheet.centers) if s.whole.center is not None]
        ways = 2.0 if read.sign in ("Ø", "⌀") else 1.0
        found = sorted({round(ways * w.radius / factor, 6) for w in rounds for a in arrows
                        if w.distance(tuple(a.tip)) < PAPER or in_gap(sheet, w, a.tip)})
        return found or None
    if len(arrows) == 2 and lines:
        way = lines[0].way if lines[0].straight else None
        d = arrows[1].tip - arrows[0].tip
        long = abs(float(d @ way)) if way is not None else lines[0].whole.length
        return [long / factor]
    return None


def in_gap(sheet: WrittenSheet, whole: Dash, tip: np.ndarray) -> bool:
    """Whether an arrow points at a center line between two of its strokes."""
    on = abs(math.dist(whole.center, tip) - whole.radius) < PAPER
    return on and whole.distance(tuple(tip)) < MOST_GAP and any(
        s.whole is whole for s in sheet.centers)


def counts(views: Sequence[SheetView], mm: float, rounds: Sequence[Dash]) -> Iterator[Fault]:
    """For each size that is called out, the printed counts make up the number of its places."""
    printed: dict[tuple[str, float, bool], list[tuple[Written, Said]]] = defaultdict(list)
    for view in views:
        for _, text, read, arrows in spoken(view.sheet):
            curve = round_at(view.sheet, arrows[0].tip) if len(arrows) == 1 else None
            if read.sign and not read.reference and curve is not None:
                sign = "R" if "R" in read.sign else "Ø"
                half = 6.28 > curve.high - curve.low > HALF_TURN
                printed[sign, round(curve.radius / view.factor, 3), half].append((text, read))
    for (sign, size, half), calls in printed.items():
        low, high = places(rounds, views[0].factor * size, sign, half)
        total = sum(read.count for _, read in calls)
        text, said_ = calls[-1][0], " and ".join(t.text for t, _ in calls)
        if not high:
            continue  # the radius of a center line
        value = f"{sign}{size / mm * (1 if sign == 'R' else 2):.4g}"
        if len(calls) > 1 and len({c.text for c, _ in calls}) == 1:
            yield fault("dimension-twice", text.middle, f"'{text.text}' is called out "
                                                        f"{len(calls)} times")
        if total < low:
            yield fault("count-missing", text.middle, f"{said_}: {low} places have {value}")
        elif total > high:
            yield fault("dimension-value", text.middle, f"{said_}: only {high} places have "
                                                        f"{value}")


def bevels(views: Sequence[SheetView], mm: float) -> Iterator[Fault]:
    """As many chamfers of a leg and angle are counted as there are."""
    printed: dict[tuple[float, float], list[tuple[Written, Said]]] = defaultdict(list)
    for view in views:
        for _, text, read, _ in spoken(view.sheet):
            if read.bevel is not None:
                printed[read.value, read.bevel].append((text, read))
    for (leg, angle), calls in printed.items():
        size, turn = leg * mm * views[0].factor, math.tan(math.radians(angle))
        there = sum(1 for s in views[0].sheet.outline if s.straight and min(
            abs(legs(s)[k] - size) + abs(legs(s)[1 - k] - size * turn) for k in (0, 1)) < 0.05)
        total = sum(read.count for _, read in calls)
        if total != there:
            rule = "count-missing" if total < there else "dimension-value"
            yield fault(rule, calls[-1][0].middle,
                        f"{' and '.join(t.text for t, _ in calls)}: {there} places are so")


def legs(edge: Inked) -> tuple[float, float]:
    """Run and rise of an edge on paper."""
    return abs(edge.whole.end[0] - edge.whole.start[0]), abs(edge.whole.end[1]
                                                             - edge.whole.start[1])


def signs(sheet: WrittenSheet) -> Iterator[Fault]:
    """A full circle has a diameter, an arc of half a turn or less a radius (1.8.1, 1.8.2)."""
    rounds = [s.whole for s in sheet.outline if s.whole.center is not None]
    for owner, text, read, arrows in spoken(sheet):
        if not read.sign or len(arrows) != 1:
            continue
        near = [w for w in rounds if w.distance(tuple(arrows[0].tip)) < PAPER]
        for whole in near[:1]:
            sweep = math.degrees(whole.high - whole.low)
            if "R" in read.sign and sweep > 359.0:
                yield fault("radius-for-diameter", text.middle, f"'{text.text}' ({owner}) on a "
                                                                "full circle")
            elif "R" not in read.sign and sweep < 181.0:
                yield fault("radius-for-diameter", text.middle, f"'{text.text}' ({owner}) on an "
                                                                f"arc of {sweep:.0f}°")


def located_twice(sheet: WrittenSheet) -> Iterator[Fault]:
    """Two lengths between the same two lines of the drawing: one of them says nothing new."""
    lengths = []
    for owner, text, read, arrows in spoken(sheet):
        lines = [s for s in sheet.on_dimensions if s.owner == owner and s.kind == "dimension"]
        if len(arrows) == 2 and lines and all(s.straight for s in lines) and not read.degrees:
            way = lines[0].way if tuple(lines[0].way) > (-1e-9, 0.0) else -lines[0].way
            ends = sorted((tuple(a.tip) for a in arrows), key=lambda p: np.dot(p, way))
            lengths.append((owner, text, way, np.array(ends)))
    for n, (owner, text, way, ends) in enumerate(lengths):
        for other, written, its_way, its_ends in lengths[:n]:
            if abs(way[0] * its_way[1] - way[1] * its_way[0]) > 1e-4:
                continue
            if np.abs((ends - its_ends) @ way).max() < PAPER and all(
                    one_line(sheet, a, b, owner, other, way)
                    for a, b in zip(ends, its_ends, strict=True)):
                yield fault("dimension-twice", text.middle, f"'{text.text}' ({owner}) and "
                            f"'{written.text}' ({other}) measure between the same lines")


def one_line(
    sheet: WrittenSheet, tip: np.ndarray, other: np.ndarray, owner: str, its: str, way: np.ndarray
) -> bool:
    """Whether two extension lines belong to one edge, one center line or one place."""
    across = np.array([-way[1], way[0]])
    places = [foot(sheet, tip, owner, across), foot(sheet, other, its, across)]
    low, high = sorted(float(p @ across) for p in places)
    if high - low < 4.0:
        return True
    level = float(tip @ way)
    for line in chain_lines(sheet.centers):
        if abs(float(line.way @ across)) > 0.9999 and abs(float(line.origin @ way) - level) < 0.05:
            span = sorted(float(line.at(s) @ across) for s in (line.low, line.high))
            if span[0] < low + 4.0 and span[1] > high - 4.0:
                return True
    for edge in sheet.outline:
        if edge.straight and np.abs(edge.at @ way - level).max() < 0.05:
            span = sorted(float(p @ across) for p in edge.at)
            if span[0] < low + 4.0 and span[1] > high - 4.0:
                return True
    return False


def foot(sheet: WrittenSheet, tip: np.ndarray, owner: str, across: np.ndarray) -> np.ndarray:
    """Where an extension line begins, or the tip where none is drawn."""
    best = tip
    for s in sheet.on_dimensions:
        if s.owner == owner and s.kind == "extension" and s.straight \
                and abs(float(s.way @ across)) > 0.9999 \
                and abs(float((s.at[0] - tip) @ np.array([across[1], -across[0]]))) < 0.05:
            best = max([best, *s.at], key=lambda p: math.dist(p, tip))
    return best


def round_at(sheet: WrittenSheet, tip: np.ndarray) -> Dash | None:
    """The arc or circle that a leader points at."""
    some = [s.whole for s in (*sheet.outline, *sheet.centers) if s.whole.center is not None]
    near = [w for w in some if w.distance(tuple(tip)) < PAPER]
    return min(near, key=lambda w: w.distance(tuple(tip))) if near else None


def places(every: Sequence[Dash], size: float, sign: str, half: bool) -> tuple[int, int]:
    """Least and most number of places of a size: arcs of one circle may count once or singly.

    Fillets (`half` false) and ends of slots may be called out apart, for a slot's width tells its
    ends: the least leaves the others out.
    """
    rounds = [w for w in every if abs(w.radius - size) < 5e-3]
    full = [w for w in rounds if w.high - w.low > 6.28]
    some = full if sign == "Ø" and full else [w for w in rounds if w not in full] or full
    own = some if full else [w for w in some if (w.high - w.low > HALF_TURN) == half]
    hubs: list[tuple[float, float]] = []
    for w in own:
        if not any(math.dist(w.center, hub) < 0.02 for hub in hubs):
            hubs.append(w.center)
    return len(hubs), len(some)


def figures(sheet: WrittenSheet, unit: str) -> Iterator[Fault]:
    """Zeros before and behind the point, and decimals of angles."""
    for owner, text, read, _ in spoken(sheet):
        number = read.number
        toleranced = "±" in sheet.said(owner) or len(
            [t for t in sheet.texts if t.owner == owner and re.search(r"\d", t.text)]) > 1
        wrong = ""
        if read.degrees:
            if len(number.partition(".")[2]) > 2:
                wrong = "an angle with more than two decimals"
        elif "/" in number:
            continue
        elif unit == "mm" and number.startswith("."):
            wrong = "no zero before the point"
        elif unit == "mm" and "." in number and number.endswith("0") and not toleranced:
            wrong = "a zero at the end"
        elif unit == "in" and number.startswith("0."):
            wrong = "a zero before the point"
        if wrong:
            yield fault("decimals", text.middle, f"'{text.text}' ({owner}): {wrong}")


def sharp_corners(sheet: WrittenSheet) -> Iterator[Fault]:
    """A corner that a fillet or chamfer took is drawn where a dimension goes to it."""
    corners = lost_corners(sheet)
    if not corners:
        return
    edges, _ = pieces(sheet.outline)
    seen: set[tuple[str, int]] = set()
    thin = [s for s in sheet.strokes if s.straight and s.kind in ("extension", "layout", "leader")]
    for stroke in (s for s in sheet.on_dimensions if s.kind == "extension" and s.straight):
        for n, (corner, ways) in enumerate(corners):
            if any(abs(float(way @ stroke.way)) > 0.9999 for way in ways):
                continue  # the line goes on an edge: that is what it measures
            off = stroke.at - corner
            across = np.abs(off @ np.array([-stroke.way[1], stroke.way[0]])).max()
            start = min(math.dist(p, corner) for p in stroke.at)
            if across > 0.05 or start > 3.0 or distances(edges, corner).min() < 0.6:
                continue
            through = [s for s in thin if line_distance(s, corner) < 0.1 and s is not stroke
                       and min(math.dist(p, corner) for p in s.at) < 4.0
                       and abs(float(s.way @ stroke.way)) < 0.999]
            if len(through) < 2 and not crossing_shown(through, corner) \
                    and (stroke.owner, n) not in seen:
                seen.add((stroke.owner, n))
                yield fault("sharp-not-shown", corner, f"'{sheet.said(stroke.owner)}' "
                                                       f"({stroke.owner}) goes to a corner that is "
                                                       "not drawn")


def crossing_shown(through: list[Inked], corner: np.ndarray) -> bool:
    """Whether one stroke runs past the corner and so shows it together with the line from it."""
    return any(min(math.dist(p, corner) for p in s.at) > 0.3 and distances(
        np.array([[*s.at[0], *s.at[-1]]]), corner).min() < 0.1 for s in through)


def line_distance(stroke: Inked, at: np.ndarray) -> float:
    d = at - stroke.at[0]
    return abs(float(d[0] * stroke.way[1] - d[1] * stroke.way[0]))


def lost_corners(sheet: WrittenSheet) -> list[tuple[np.ndarray, tuple[np.ndarray, np.ndarray]]]:
    """Crossings of two edges that an arc or edge joins in their place, with the ways of both."""
    found = []
    lines = [s for s in sheet.outline if s.straight]
    if len(sheet.outline) > 400:
        return []
    for link in sheet.outline:
        ends = link.at[0], link.at[-1]
        sides = [[s for s in lines if s is not link and min(math.dist(s.at[0], e),
                                                            math.dist(s.at[-1], e)) < 2e-3]
                 for e in ends]
        if len(sides[0]) != 1 or len(sides[1]) != 1:
            continue
        a, b = sides[0][0], sides[1][0]
        turn = a.way[0] * b.way[1] - a.way[1] * b.way[0]
        if abs(turn) < 0.05:
            continue
        off = b.at[0] - a.at[0]
        corner = a.at[0] + (off[0] * b.way[1] - off[1] * b.way[0]) / turn * a.way
        if math.dist(corner, ends[0]) < 60.0 and not on_edge(a, corner) and not on_edge(b, corner):
            found.append((corner, (a.way, b.way)))
    return found


def on_edge(edge: Inked, at: np.ndarray) -> bool:
    return bool(distances(np.array([[*edge.at[0], *edge.at[-1]]]), at).min() < 0.05)
