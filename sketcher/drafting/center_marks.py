"""Center lines by themselves, from the geometry of the whole part, as they stand on the paper.

Practice: the two lines of a hole cross on short dashes with a gap on each side; a line begins and
ends with a long dash and runs past the outline by an even overhang; lines of one row are one line;
holes on a circle sit on a pitch circle and have a radial tick (ISO 128, line 04.1; ASME Y14.2-2014;
US Navy Draftsman training for the rules of crossing and ending). The overhang of 3 mm, 1/8 in, is
common practice, no source.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import asin, atan2, cos, dist, pi, sin, tau

import numpy as np

from sketcher.drafting.center_cover import covered
from sketcher.drafting.center_ends import EndGoals, lengthen, run_on, settle_by_rule
from sketcher.drafting.center_places import Center, Path, Pitch
from sketcher.drafting.center_rows import Bars, merged, overlapping_merged
from sketcher.drafting.clearing import (
    LEAST_PLUS,
    Outlines,
    blocked,
    crossings,
    give_way,
    near_by,
    run_past,
    shrink,
)
from sketcher.drafting.dashing import strokes
from sketcher.drafting.detail_tracks import ended_at
from sketcher.drafting.features import Features, find
from sketcher.drafting.line_classes import LineClass, line_class
from sketcher.drafting.paper_view import View
from sketcher.drafting.primitives import Stroke, line
from sketcher.drafting.tracks import Hub, Node, Round, Straight, Track, hubs_of, straight
from sketcher.geometry.bounds import bounds
from sketcher.geometry.curves import XY, Circle, Line
from sketcher.geometry.meet import meet
from sketcher.part.center_rules import end_rules
from sketcher.part.value import Part
from sketcher.part.whole import Piece

OVERHANG = {"mm": 3.0, "in": 3.175}
PLUS = 1.5  # half of a short dash of 3 mm
SOLID = 1.5
"""Radius of a hole on paper, in mm, below which its two lines are unbroken: common practice, no
source, as is where small begins. With the shortest plus and its gap a hole just larger is still
crossed by an arm on each side."""
LEAST_ARM = 3.1  # just above the short dash of the pattern
NEAR_EDGE = 6.0  # mm on paper: an axis drawn nearly to the edge is meant to run through
BARE_ARM = 3.0  # arm of a center that has no outline in that direction
GAP = {"ISO": 0.75, "ASME": 1.5}
END_GAP = 0.8  # mm between an end and another line that it gives way to, by either practice
AXIS, PITCH, PATH, MARK = 3, 2, 1, 0
SIGN_LENGTH, SIGN_APART = {"ISO": 4.0, "ASME": 6.0}, {"ISO": 1.0, "ASME": 1.5}


@dataclass(frozen=True, slots=True)
class CenterMark:
    """One center line on paper.

    `id` names it in `Drawing.centers`; `start` and `end` are its ends, where a person can pull it;
    `closed` is a pitch circle, which has none; `names` are the ids of all lines that it is made of.
    """

    id: str
    strokes: tuple[Stroke, ...]
    start: XY
    end: XY
    closed: bool = False
    names: tuple[str, ...] = ()


def center_marks(
    part: Part, view: View | None = None, pieces: Iterable[Piece] | None = None,
    within: Circle | None = None,
) -> tuple[CenterMark, ...]:
    """Return the center lines of the part as drawn, in mm on paper.

    Parameters
    ----------
    part : Part
        `part.drawing` gives practice, overhang, style of the axis and the changes by hand
        (`part.center_rules`).
    view : View, optional
        Place and scale on the paper; 1:1 at the origin by default.
    pieces : iterable of Piece, optional
        The pieces to draw, where the caller has them.
    within : Circle, optional
        Boundary of a detail on paper; center lines end at it.
    """
    view = view or View()
    features = find(part, view, pieces)
    goals = goals_of(part, features)
    settings = part.drawing.centers
    drawn = [t for t in tracks_of(part, features, goals)
             if not settings.get(t.id, {}).get("off", False)]
    if within is not None:
        drawn = ended_at(drawn, within)
    hubs = hubs_of(drawn)
    boxes = np.array([bounds(t.curve()) for t in drawn], float).reshape(len(drawn), 4)
    spots = np.array([hub.at for hub in hubs], float).reshape(len(hubs), 2)
    widest = max((hub.zone for hub in hubs), default=0.0)
    entered = near_by(boxes, np.concatenate((spots, spots), axis=1), 2.0 * widest)
    marks = (
        _mark(part, track, sorted((*blocked(track, [hubs[k] for k in near]),
                                   *covered(track, goals.bars))), crossed)
        for track, near, crossed in zip(drawn, entered, crossings(drawn), strict=True)
    )
    return tuple(mark for mark in marks if mark.strokes)


def tracks_of(part: Part, features: Features, goals: EndGoals | None = None) -> list[Track]:
    """Return the settled extents of all center lines, those that are switched off among them."""
    overhang = overhang_of(part)
    rules = {name: end_rules(entry) for name, entry in part.drawing.centers.items()}
    goals = goals or goals_of(part, features)
    tracks, hubs = single_tracks(part, features)
    joined = merged(tracks, goals.bars, rules)
    for track in joined:
        settle_by_rule(track, rules, goals)
    run_on(joined, hubs, rules, goals)
    joined = overlapping_merged(joined)
    run_past(joined, Outlines(goals.bars.curves, features.small), overhang)
    give_way(joined, END_GAP)
    for track in joined:
        lengthen(track, rules)
    return overlapping_merged(joined)


def single_tracks(part: Part, features: Features) -> tuple[list[Track], list[Hub]]:
    """Return the tracks of all features, each by itself, and the centers on them."""
    overhang, gap = overhang_of(part), GAP[part.drawing.practice]
    hubs = [_hub(center, gap, overhang) for center in features.centers]
    shrink(hubs, gap)
    tracks = _axis_tracks(part, features, overhang)
    for pitch in features.pitches:
        tracks.append(_pitch_track(pitch, features.centers, hubs, overhang))
    for path in features.paths:
        tracks.append(_path_track(path, features.centers, hubs, overhang))
    for center, hub in zip(features.centers, hubs, strict=True):
        tracks += _cross(center, hub, overhang)
    _strike(tracks, hubs)
    return tracks, hubs


def overhang_of(part: Part) -> float:
    """Return by how much a center line runs past an outline, in mm on paper."""
    return part.drawing.overhang or OVERHANG[part.unit]


def goals_of(part: Part, features: Features) -> EndGoals:
    """Return what the ends of center lines can go to."""
    ties = [frozenset(b.of) for b in part.bindings.values()
            if b.value is None and len(b.of) > 1 and all(n in part.points for n in b.of)]
    bars = Bars([(p.id, p.curve) for p in features.outline], features.outer, features.small, ties)
    return EndGoals(bars, dict(features.axes), overhang_of(part))


def symmetry_signs(part: Part, marks: Iterable[CenterMark]) -> list[Stroke]:
    """Return the two short strokes across each end of the axes of a half view (ISO 128-3)."""
    if not (part.drawing.show_half and part.mirrors):
        return []
    practice = part.drawing.practice
    half, step = 0.5 * SIGN_LENGTH[practice], SIGN_APART[practice]
    axes = {f"{mirror.axis}/axis" for mirror in part.mirrors}
    found: list[Stroke] = []
    for mark in marks:
        if mark.id not in axes:
            continue
        for end, other in ((mark.start, mark.end), (mark.end, mark.start)):
            ux, uy = Line(other, end).direction
            for away in (-1.0 - step, -1.0):
                x, y = end[0] + away * ux, end[1] + away * uy
                found.append(line((x - half * uy, y + half * ux), (x + half * uy, y - half * ux),
                                  "symmetry", f"center:{mark.id}"))
    return found


def _hub(center: Center, gap: float, overhang: float) -> Hub:
    """Return plus and gap of a center; at a small hole both shrink, so that its arms stay long."""
    radius = center.least_radius
    names = frozenset((center.id, *(name for name, _ in center.rounds)))
    hub = Hub(center.at, PLUS, gap, radius, names, frozenset(center.points), center.loop)
    if radius:
        hub.arm = radius + overhang if radius < SOLID else 0.0
        hub.plus = min(PLUS, max(LEAST_PLUS, 0.8 * radius - gap))
        room = radius + overhang - hub.plus - LEAST_ARM
        hub.gap = min(gap, max(GAP["ISO"], room))
    return hub


def _cross(center: Center, hub: Hub, overhang: float) -> list[Track]:
    """Return the two straight tracks of a mark, or the one tick of a center on a round track."""
    about = center.polar or center.path
    if about is not None:
        angle = atan2(center.at[1] - about[1], center.at[0] - about[0])
        return [_arm_pair(f"{center.id}/radial", center, hub, angle, overhang, joins=False)]
    words = ("level", "plumb") if center.turn == 0.0 else ("along", "across")
    return [_arm_pair(f"{center.id}/{word}", center, hub, center.turn + turn, overhang,
                      joins=center.slot is None or abs(sin(center.turn + turn - center.slot)) < 0.5)
            for word, turn in zip(words, (0.0, 0.5 * pi), strict=True)]


def _arm_pair(
    name: str, center: Center, hub: Hub, angle: float, overhang: float, joins: bool = True
) -> Track:
    carrier = straight(center.at, angle)
    heading = atan2(carrier.direction[1], carrier.direction[0])
    ahead, behind = center.reach(heading), center.reach(heading + pi)
    bare = hub.zone + BARE_ARM
    high = ahead + overhang if ahead else bare
    low = behind + overhang if behind else bare
    node = Node(0.0, hub, (behind or bare, ahead or bare))
    return Track(name, carrier, -low, high, [node], MARK, joins,
                 own={name for name, _ in center.rounds}, away=center.away)


def _axis_tracks(part: Part, features: Features, overhang: float) -> list[Track]:
    found = []
    mirrors = {mirror.axis for mirror in part.mirrors}
    for name, axis in features.axes:
        carrier = straight(axis.start, atan2(axis.direction[1], axis.direction[0]))
        ends = sorted(carrier.where(p)[0] for p in (axis.start, axis.end))
        crossed = [carrier.where(m.point)[0] for piece in features.outline
                   for m in meet(axis, piece.curve, bounded=(False, True))]
        if crossed:
            low, high = min(crossed), max(crossed)
            if name in mirrors or ends[0] < low or abs(ends[0] - low) < NEAR_EDGE:
                ends[0] = low
            if name in mirrors or ends[1] > high or abs(ends[1] - high) < NEAR_EDGE:
                ends[1] = high
        track = Track(f"{name}/axis", carrier, ends[0] - overhang, ends[1] + overhang,
                      rank=AXIS, full=name in mirrors)
        track.line = part.drawing.axis_style
        found.append(track)
    return found


def _lies_on(at: XY, track: Track) -> bool:
    s, off = track.place(at)
    return abs(off) < 0.02 and track.low <= s <= track.high


def _pitch_track(
    pitch: Pitch, centers: Sequence[Center], hubs: Sequence[Hub], overhang: float
) -> Track:
    carrier = Round(pitch.center, pitch.radius)
    nodes = sorted(_nodes_on(pitch.holes, carrier, centers, hubs), key=lambda n: n.s)
    if pitch.closed:
        return Track(pitch.id, carrier, 0.0, tau * pitch.radius, nodes, PITCH, closed=True,
                     away=pitch.away)
    # The open side is the widest way between two neighbours.
    turn = tau * pitch.radius
    gaps = [((nodes[(k + 1) % len(nodes)].s - n.s) % turn or turn, k)
            for k, n in enumerate(nodes)]
    _, last = max(gaps)
    ordered = nodes[last + 1:] + nodes[:last + 1]
    for before, node in itertools.pairwise(ordered):
        while node.s < before.s:
            node.s += turn
    over = 2.0 * pitch.radius * asin(min(1.0, pitch.reach / (2.0 * pitch.radius))) + overhang
    return Track(pitch.id, carrier, ordered[0].s - over, ordered[-1].s + over, ordered, PITCH,
                 away=pitch.away)


def _path_track(
    path: Path, centers: Sequence[Center], hubs: Sequence[Hub], overhang: float
) -> Track:
    carrier = Round(path.center, path.radius)
    ends = [(path.center[0] + path.radius * cos(a), path.center[1] + path.radius * sin(a))
            for a in (path.start, path.end)]
    nodes = _nodes_on(ends, carrier, centers, hubs)
    for node, angle in zip(nodes, (path.start, path.end), strict=False):
        node.s = angle * path.radius
    over = 2.0 * path.radius * asin(min(1.0, path.reach / (2.0 * path.radius))) + overhang
    return Track(f"{path.id}/path", carrier, path.start * path.radius - over,
                 path.end * path.radius + over, nodes, PATH, away=path.away)


def _nodes_on(
    places: Iterable[XY], carrier: Round, centers: Sequence[Center], hubs: Sequence[Hub]
) -> list[Node]:
    found = []
    for at in places:
        for center, hub in zip(centers, hubs, strict=True):
            if dist(center.at, at) < 0.02:
                reach = center.least_radius
                found.append(Node(carrier.where(at)[0], hub, (reach, reach)))
                break
    return found


def _strike(tracks: Iterable[Track], hubs: Sequence[Hub]) -> None:
    """Put hubs that lie on an axis onto it."""
    for track in tracks:
        if track.rank != AXIS or not isinstance(track.carrier, Straight):
            continue
        for hub in hubs:
            if _lies_on(hub.at, track):
                track.nodes.append(Node(track.carrier.where(hub.at)[0], hub))
        track.nodes.sort(key=lambda n: n.s)


def _mark(
    part: Part, track: Track, taken: Sequence[tuple[float, float]], crossed: Sequence[float]
) -> CenterMark:
    kind: LineClass = line_class(part.drawing.practice, track.line)
    source = f"center:{track.id}"
    drawn = strokes(track, kind, taken, crossed, source)
    return CenterMark(track.id, tuple(drawn), track.carrier.at(track.low),
                      track.carrier.at(track.high), track.closed,
                      tuple(dict.fromkeys((track.id, *(name for name, _, _ in track.members)))))

