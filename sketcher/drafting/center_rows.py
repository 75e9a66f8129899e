"""Rows: which center lines on one straight line are one line, and which stay apart.

Lines that overlap are always one, so that no two lie on top of each other. Across free material
neighbors are joined where they are a row: features of one size, features that a binding ties
together, or features that lie near each other. A joining line does not leave the part, does not
come into another feature and does not run along an outline. Rows and rectangles of features of one
size are joined on all sides or not at all. What a person said comes first (`part.center_rules`).
Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence, Set
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Literal, TypeAlias

import numpy as np

from sketcher.drafting.tracks import SAME, Hub, Node, Round, Straight, Track
from sketcher.geometry.bounds import bounds
from sketcher.geometry.curve_table import Floats
from sketcher.geometry.curves import Arc, Circle, Curve, Line
from sketcher.geometry.evaluate import end_of, start_of
from sketcher.geometry.meet import meet
from sketcher.geometry.project import nearest
from sketcher.part.center_rules import EndRule

CLEAR = 1.5  # mm on paper between a joining line and a feature that is not its own, or an outline
ALONG = 2.0  # mm on paper that a line may run along an outline
NEAR_TIMES = 8.0
"""Features of different size are joined over at most so many times the larger one's extent.

Tried on the demo parts: a bracket's slot and hole stand 3 of its lengths apart and belong together,
a hole and a slot at the two ends of a 900 mm feeler 176 and do not.
"""

State: TypeAlias = Literal["one", "joined", "barred", "apart"]
Rules: TypeAlias = Mapping[str, Mapping[str, EndRule]]


@dataclass(slots=True)
class Link:
    """Two neighbors on one straight line: one anyhow, joined, barred by something, or apart."""

    before: Track
    after: Track
    state: State
    boxed: bool = False  # a side of a rectangle

    @property
    def hubs(self) -> tuple[Hub, Hub] | None:
        """The two centers that it lies between, where both have one."""
        if not (self.before.nodes and self.after.nodes):
            return None
        return self.before.nodes[-1].hub, self.after.nodes[0].hub

    @property
    def alike(self) -> bool:
        """Whether both centers are of features of one size."""
        ends = self.hubs
        return ends is not None and abs(ends[0].size - ends[1].size) < SAME


@dataclass
class Bars:
    """Outlines on paper that a joining line must not meet.

    Parameters
    ----------
    curves : sequence of (str, Curve)
        All outlines with their ids.
    outer, small : frozenset of str
        Ids of the outermost contour, and of holes and slots.
    ties : sequence of frozenset of str
        Points that a binding without a value holds together.
    """

    curves: Sequence[tuple[str, Curve]]
    outer: frozenset[str]
    small: frozenset[str]
    ties: Sequence[frozenset[str]] = ()
    _boxes: Floats = field(init=False)

    def __post_init__(self) -> None:
        self._boxes = np.array([bounds(c) for _, c in self.curves], float).reshape(-1, 4)

    def near(self, piece: Curve, margin: float = CLEAR) -> Iterator[tuple[str, Curve]]:
        """Yield the outlines whose boxes come near that of a piece of a center line."""
        x0, y0, x1, y1 = bounds(piece)
        a, b, c, d = self._boxes.T
        hit = ((a <= x1 + margin) & (c >= x0 - margin) & (b <= y1 + margin) & (d >= y0 - margin))
        for k in np.flatnonzero(hit).tolist():
            yield self.curves[k]

    def bar(self, piece: Line, own: Set[str]) -> bool:
        """Tell whether a joining line would leave the part, meet a feature or run along an edge."""
        for name, curve in self.near(piece):
            if name in own:
                continue
            if name in self.outer and meet(piece, curve):
                return True
            if name in self.small and apart(piece, curve) < CLEAR:
                return True
            if runs_along(piece, curve):
                return True
        return False

    def tie(self, one: Hub, other: Hub) -> bool:
        """Tell whether a binding holds two centers together."""
        return any(one.points & tie and other.points & tie for tie in self.ties)


def runs_along(piece: Line, curve: Curve, within: float = 0.8, least: float = ALONG) -> bool:
    """Tell whether a straight outline lies beside a straight piece for some length, on paper."""
    if not isinstance(curve, Line):
        return False
    (ux, uy), (vx, vy) = piece.direction, curve.direction
    if abs(ux * vy - uy * vx) > 0.05:
        return False
    near = [nearest(piece, p, bounded=False) for p in (curve.start, curve.end)]
    if min(n.distance for n in near) > within:
        return False
    a, b = sorted(min(max(n.parameter, 0.0), 1.0) for n in near)
    return (b - a) * piece.length > least


def apart(piece: Line, curve: Curve) -> float:
    """Return the distance of a straight piece and an outline."""
    if meet(piece, curve):
        return 0.0
    found = [nearest(curve, p).distance for p in (piece.start, piece.end)]
    if isinstance(curve, Arc | Circle):
        found.append(nearest(curve, nearest(piece, curve.center).point).distance)
    if not isinstance(curve, Circle):
        found += [nearest(piece, p).distance for p in (start_of(curve), end_of(curve))]
    return min(found)


def merged(tracks: Sequence[Track], bars: Bars, rules: Rules) -> list[Track]:
    """Make one track of all that lie on one line and overlap, or are a row.

    Parameters
    ----------
    tracks : sequence of Track
    bars : Bars
        What lies in the way.
    rules : mapping
        By the id of a line what its ends belong to.
    """
    done = _rounds_merged([t for t in tracks if isinstance(t.carrier, Round)])
    groups = [_on_one(group) for group in
              in_line([t for t in tracks if isinstance(t.carrier, Straight)])]
    chains = [_links(group, bars) for group in groups]
    _all_or_none(chains)
    for group, links in zip(groups, chains, strict=True):
        _by_hand(group, links, rules)
        done += _joined(group, links)
    return _in_order(done, tracks)


def overlapping_merged(tracks: Sequence[Track]) -> list[Track]:
    """Make one track of straight ones that overlap by now, and of round ones."""
    done = _rounds_merged([t for t in tracks if isinstance(t.carrier, Round)])
    for group in in_line([t for t in tracks if isinstance(t.carrier, Straight)]):
        moved = _on_one(group)
        done += _joined(moved, [Link(a, b, "apart") for a, b in pairwise(moved)])
    return _in_order(done, tracks)


def _in_order(done: list[Track], tracks: Sequence[Track]) -> list[Track]:
    order = {id(t): n for n, t in enumerate(tracks)}
    return sorted(done, key=lambda t: order.get(id(t), len(order)))


def in_line(tracks: Sequence[Track]) -> list[list[Track]]:
    """Put together straight tracks that lie on one line with the first of their group."""
    groups: list[list[Track]] = []
    firsts = np.zeros((len(tracks), 4))  # origin and direction of the first of each group
    for track in tracks:
        assert isinstance(track.carrier, Straight)
        (x, y), (bx, by) = track.carrier.origin, track.carrier.direction
        x0, y0, ax, ay = firsts[:len(groups)].T
        cross = np.abs(ax * by - ay * bx)
        off = np.abs(ax * (y - y0) - ay * (x - x0))
        far = max(abs(track.low), abs(track.high))
        homes = np.flatnonzero((cross <= 1e-4) & (off <= SAME) & (cross * far < SAME))
        if len(homes):
            groups[homes[0]].append(track)
        else:
            firsts[len(groups)] = (x, y, bx, by)
            groups.append([track])
    return groups


def _on_one(group: Sequence[Track]) -> list[Track]:
    """Put all tracks of a group on the carrier of the strongest, in order."""
    home = max(group, key=lambda t: t.rank)
    return sorted((_moved(t, home) for t in group), key=lambda t: t.low)


def _moved(track: Track, home: Track) -> Track:
    """Return the track on the carrier of another one that lies on the same line."""
    if track is home or not isinstance(home.carrier, Straight):
        return track
    carrier = home.carrier
    ends = [carrier.where(track.carrier.at(s))[0] for s in (track.low, track.high)]
    flipped = ends[0] > ends[1]
    nodes = [Node(carrier.where(n.hub.at)[0], n.hub, n.reach[::-1] if flipped else n.reach)
             for n in track.nodes]
    if flipped:
        track.fixed = {-sign for sign in track.fixed}
        nodes.reverse()
    track.members = [_member(name, *(carrier.where(track.carrier.at(s))[0] for s in (low, high)))
                     for name, low, high in track.members]
    track.carrier, track.low, track.high, track.nodes = carrier, min(ends), max(ends), nodes
    return track


def _member(name: str, one: float, other: float) -> tuple[str, float, float]:
    return name, min(one, other), max(one, other)


def _links(group: Sequence[Track], bars: Bars) -> list[Link]:
    found: list[Link] = []
    far = -np.inf
    for a, b in pairwise(group):
        far = max(far, a.high)
        found.append(Link(a, b, "one" if b.low < far + 2.0 else _state(a, b, bars)))
    return found


def _state(a: Track, b: Track, bars: Bars) -> State:
    if not (a.nodes and b.nodes):
        return "apart"
    before, after = a.nodes[-1], b.nodes[0]
    between = a.carrier.curve(before.s, after.s)
    assert isinstance(between, Line)
    if before.hub.size and _is_one_slot(before.hub, after.hub):
        return "one"
    if not (a.joins and b.joins):
        return "apart"
    alike = abs(before.hub.size - after.hub.size) < SAME
    if not (alike or bars.tie(before.hub, after.hub) or b.low - a.high <= NEAR_TIMES * max(
            a.high - a.low, b.high - b.low)):
        return "apart"
    own = a.own | b.own | before.hub.loop | after.hub.loop
    return "barred" if bars.bar(between, own) else "joined"


def _is_one_slot(one: Hub, other: Hub) -> bool:
    return bool(one.loop) and one.loop == other.loop


def _all_or_none(chains: Sequence[Sequence[Link]]) -> None:
    """Leave rows and rectangles of features of one size apart where one side cannot be joined."""
    rows = [run for chain in chains for run in _runs(chain)]
    sides: dict[int, list[Link]] = {}
    for link in (link for chain in chains for link in chain):
        for hub in link.hubs or ():
            sides.setdefault(id(hub), []).append(link)
    again = True
    while again:
        again = False
        for run in rows:
            states = {link.state for link in run}
            if "barred" in states and "joined" in states:
                _bar(run)
                again = True
        for barred in [link for run in rows for link in run if link.state == "barred"]:
            for rectangle in _rectangles(barred, sides):
                again |= _bar(rectangle)
    for link in (link for run in rows for link in run if link.state == "joined"):
        link.boxed = any(all(s.state == "joined" for s in three)
                         for three in _rectangles(link, sides))


def _runs(chain: Sequence[Link]) -> Iterator[list[Link]]:
    run: list[Link] = []
    for link in chain:
        if link.alike and link.state in ("joined", "barred"):
            run.append(link)
        elif link.state != "one":
            yield run
            run = []
    yield run


def _bar(links: Iterable[Link]) -> bool:
    """Bar what is joined; tell whether there was any."""
    found = [link for link in links if link.state == "joined"]
    for link in found:
        link.state = "barred"
    return bool(found)


def _rectangles(side: Link, sides: Mapping[int, Sequence[Link]]) -> Iterator[list[Link]]:
    """Yield the other three sides of rectangles of one size that have a link as a side."""
    ends = side.hubs
    if ends is None:
        return
    one, other = ends
    for left in sides[id(one)]:
        for right in sides[id(other)]:
            if left is side or right is side or not (left.alike and right.alike):
                continue
            corners = _far_end(left, one), _far_end(right, other)
            for across in sides.get(id(corners[0]), ()):
                if across is not left and across.hubs is not None and (
                        {id(h) for h in across.hubs} == {id(c) for c in corners}):
                    yield [left, right, across]


def _far_end(link: Link, hub: Hub) -> Hub:
    assert link.hubs is not None
    return link.hubs[1] if link.hubs[0] is hub else link.hubs[0]


def _by_hand(group: Sequence[Track], links: Sequence[Link], rules: Rules) -> None:
    """Join and part what a person said."""
    for k, track in enumerate(group):
        for side, rule in rules.get(track.id, {}).items():
            if rule.goal != "to":
                continue
            goal = position(group, rule.of)
            if goal is None:
                continue
            for link in links[min(k, goal):max(k, goal)]:
                link.state = "one"
            up = goal > k or (goal == k and side == "end")
            cut = goal if up else goal - 1
            if 0 <= cut < len(links) and links[cut].state != "one":
                links[cut].state = "apart"


def position(group: Sequence[Track], name: str) -> int | None:
    """Return which track of a group has the center with an id, None for none."""
    return next((k for k, t in enumerate(group)
                 if any(name in node.hub.names for node in t.nodes)), None)


def _joined(group: Sequence[Track], links: Sequence[Link]) -> list[Track]:
    found: list[Track] = []
    for track, link in zip(group, (None, *links), strict=True):
        last = found[-1] if found else None
        if last is not None and link is not None and (
                link.state in ("one", "joined") or track.low < last.high + SAME):
            boxed = last.boxed or track.boxed or link.boxed
            row = last.row or track.row or link.state == "joined"
            _take(last, track)
            last.boxed, last.row = boxed, row and not boxed
        else:
            found.append(track)
    return found


def _rounds_merged(tracks: Sequence[Track]) -> list[Track]:
    """Leave one track of those that lie on one circle and overlap: the closed or longest one."""
    found: list[Track] = []
    for track in sorted(tracks, key=lambda t: (not t.closed, t.low - t.high)):
        same = next((t for t in found if _on_one_circle(t, track)), None)
        if same is None:
            found.append(track)
            continue
        for node in track.nodes:
            if all(node.hub is not n.hub for n in same.nodes):
                same.nodes.append(Node(same.place(node.hub.at)[0], node.hub, node.reach))
        same.nodes.sort(key=lambda n: n.s)
        same.members += track.members
    return found


def _on_one_circle(a: Track, b: Track) -> bool:
    one, other = a.carrier, b.carrier
    assert isinstance(one, Round)
    assert isinstance(other, Round)
    if abs(one.radius - other.radius) > SAME or max(
            abs(p - q) for p, q in zip(one.center, other.center, strict=True)) > SAME:
        return False
    middle = a.place(b.carrier.at(0.5 * (b.low + b.high)))[0]
    half = 0.5 * (b.high - b.low)
    return a.closed or (middle - half < a.high and middle + half > a.low)


def _take(track: Track, other: Track) -> None:
    """Let a track take another one in; the stronger one's name and line stay."""
    if (-other.rank, other.away) < (-track.rank, track.away):
        track.id, track.line, track.rank = other.id, other.line, other.rank
        track.away = other.away
    for sign in (1, -1):
        farther = sign * other.end(sign) > sign * track.end(sign)
        if track.full != other.full:  # one that runs through the whole part ends by itself
            farther = sign in other.fixed or other.full
        if farther:
            track.set_end(sign, other.end(sign))
            track.fixed.discard(sign)
        if sign in other.fixed and abs(other.end(sign) - track.end(sign)) < 1e-9:
            track.fixed.add(sign)
    track.own |= other.own
    track.joins, track.full = track.joins and other.joins, track.full or other.full
    track.members += other.members
    for node in other.nodes:
        same = next((n for n in track.nodes if abs(n.s - node.s) < SAME), None)
        if same is None:
            track.nodes.append(node)
        else:
            same.reach = (max(same.reach[0], node.reach[0]), max(same.reach[1], node.reach[1]))
    track.nodes.sort(key=lambda n: n.s)
