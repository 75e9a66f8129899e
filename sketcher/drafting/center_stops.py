"""What the ends of center lines can be pulled to: one stop a thing that an end can belong to."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from sketcher.drafting.center_ends import SIGNS, EndGoals, place_of
from sketcher.drafting.center_marks import goals_of, single_tracks, tracks_of
from sketcher.drafting.center_rows import in_line
from sketcher.drafting.features import Features, find
from sketcher.drafting.paper_view import View
from sketcher.drafting.tracks import Straight, Track
from sketcher.geometry.curves import XY
from sketcher.part.center_rules import EndRule, without_rule
from sketcher.part.value import Part

ONE = 0.3  # mm on paper; stops nearer each other are one


@dataclass(frozen=True, slots=True)
class CenterStop:
    """Where an end of a center line can go.

    Parameters
    ----------
    at : (x, y)
        Where the end then stands, on paper.
    line : str
        Id of the line that the rule is kept with.
    rule : EndRule or None
        None for the end as it is by itself.
    """

    at: XY
    line: str
    rule: EndRule | None

    @property
    def words(self) -> str:
        """Say where the end goes."""
        return "as by itself" if self.rule is None else self.rule.words


def center_stops(part: Part, view: View) -> dict[tuple[str, str], tuple[CenterStop, ...]]:
    """Return the stops of every end, by the id of the line and ``start`` or ``end``.

    Parameters
    ----------
    part : Part
    view : View
        Place and scale on the paper.
    """
    features = find(part, view)
    goals = goals_of(part, features)
    tracks = tracks_of(part, features)
    groups = in_line([t for t in single_tracks(part, features)[0]
                      if isinstance(t.carrier, Straight) and t.nodes])
    beside = {track.id: group for group in groups for track in group}
    found = {}
    for track in tracks:
        if track.closed or not track.nodes:
            continue
        for side, sign in SIGNS.items():
            stops = [*_as_by_itself(part, features, track, side),
                     *_stops(track, sign, goals, beside.get(track.member(sign), ()))]
            found[track.id, side] = _apart(stops)
    return found


def _as_by_itself(
    part: Part, features: Features, track: Track, side: str
) -> Iterator[CenterStop]:
    """Yield where the end is without a rule."""
    sign, key = SIGNS[side], track.member(SIGNS[side])
    names = [track.id, *(name for name, _, _ in track.members)]
    bare = without_rule(part.drawing, names, side)
    if bare is part.drawing:
        yield CenterStop(track.carrier.at(track.end(sign)), key, None)
        return
    for other in tracks_of(part.having(drawing=replace(bare)), features):
        if key in (other.id, *(name for name, _, _ in other.members)):
            yield CenterStop(other.carrier.at(other.end(sign)), key, None)


def _stops(
    track: Track, sign: int, goals: EndGoals, beside: Sequence[Track]
) -> Iterator[CenterStop]:
    key = track.member(sign)
    carrier = track.carrier
    names = {name for name, _, _ in track.members}
    for other in beside:
        node = other.last(sign)
        s, _ = carrier.where(node.hub.at)
        if sign * s < sign * track.last(-sign).s - ONE:
            continue  # behind the line
        # A single line runs past its own center by what it does by itself.
        past = abs(other.end(sign) - node.s)
        kept = other.id if other.id in names else key
        name = min(node.hub.names, key=lambda n: (len(n), n))
        yield CenterStop(carrier.at(s + sign * past), kept, EndRule("to", name))
    for rule in (EndRule("outline"), *(EndRule("axis", name) for name in goals.axes),
                 EndRule("center")):
        place = place_of(track, sign, rule, goals)
        node = track.last(sign)
        if rule.goal == "axis" and place is not None and (
                sign * (place - node.s) < node.reach[1 if sign > 0 else 0] + goals.overhang):
            continue  # it would end inside its own outline
        if place is not None:
            yield CenterStop(carrier.at(place), key, rule)


def _apart(stops: Sequence[CenterStop]) -> tuple[CenterStop, ...]:
    """Leave the first of those that stand at one place."""
    kept: list[CenterStop] = []
    for stop in stops:
        if all(max(abs(a - b) for a, b in zip(stop.at, other.at, strict=True)) > ONE
               for other in kept):
            kept.append(stop)
    return tuple(kept)
