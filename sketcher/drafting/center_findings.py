"""What is wrong with center lines that a person changed: covered, doubled, short, or stale.

Lines that nobody changed are by rule and have no findings. The part is as sound as without them,
so that it is cut all the same; its sheet would be marked.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import chain

from sketcher.drafting.center_cover import covered
from sketcher.drafting.center_ends import SIGNS, EndGoals, place_of, rules_of
from sketcher.drafting.center_marks import goals_of, single_tracks, tracks_of
from sketcher.drafting.center_rows import in_line, position
from sketcher.drafting.features import Features, find
from sketcher.drafting.paper_choice import likely_scale
from sketcher.drafting.paper_view import MM_PER, View
from sketcher.drafting.tracks import Straight, Track
from sketcher.geometry.curves import XY, Line
from sketcher.geometry.project import nearest
from sketcher.inspect.findings import Finding
from sketcher.part.center_rules import EndRule, end_rules, line_words
from sketcher.part.value import Part

CODE = "center-line"
CLOSE = 0.4  # mm on paper; lines nearer each other print as one thick line
ALONG = 1.0  # mm on paper that they run beside each other
LESS = 0.1  # mm on paper


def center_findings(part: Part) -> tuple[Finding, ...]:
    """Return a finding for each center line changed by hand that does not stand as it should.

    Parameters
    ----------
    part : Part
        Solved. Judged at the scale that its sheet will most likely have.
    """
    if not part.drawing.centers:
        return ()
    view = View(likely_scale(part) * MM_PER[part.unit])
    features = find(part, view)
    goals = goals_of(part, features)
    rules = {name: end_rules(entry) for name, entry in part.drawing.centers.items()}
    tracks = [t for t in tracks_of(part, features, goals)
              if not part.drawing.centers.get(t.id, {}).get("off", False)]
    touched = [t for t in tracks if any(name in rules for name in _names(t))]
    told: dict[tuple[str, str], XY | None] = {}
    for name, what, at in chain(
            _stale(part, features, goals, rules), _short(touched, rules),
            _covered(touched, goals), _doubled(touched, tracks)):
        told.setdefault((name, what), at)
    return tuple(_finding(name, what, None if at is None else view.back(at))
                 for (name, what), at in told.items())


Fault = tuple[str, str, XY | None]


def _names(track: Track) -> list[str]:
    return [track.id, *(name for name, _, _ in track.members)]


def _stale(
    part: Part, features: Features, goals: EndGoals, rules: Mapping[str, Mapping[str, EndRule]]
) -> Iterator[Fault]:
    singles = {t.id: t for t in single_tracks(part, features)[0]}
    groups = in_line([t for t in singles.values() if isinstance(t.carrier, Straight)])
    beside = {t.id: group for group in groups for t in group}
    for name, ends in rules.items():
        if name not in singles:
            yield name, "what it belongs to is gone", None
            continue
        for side, rule in ends.items():
            track, at = singles[name], singles[name].carrier.at(singles[name].end(SIGNS[side]))
            if rule.goal == "to":
                if position(beside.get(name, ()), rule.of) is None:
                    yield name, f"its end goes past {rule.of}, which is not on it", at
            elif rule.goal != "more" and place_of(track, SIGNS[side], rule, goals) is None:
                yield name, f"its end goes {rule.words}, which it does not meet", at


def _short(tracks: Sequence[Track], rules: Mapping[str, Mapping[str, EndRule]]) -> Iterator[Fault]:
    for track in tracks:
        for side, rule in rules_of(track, rules).items():
            if rule.goal not in ("more", "axis") or not track.nodes:
                continue
            sign = SIGNS[side]
            node, s = track.last(sign), track.end(sign)
            if sign * (s - node.s) < node.reach[1 if sign > 0 else 0] + LESS:
                what = "it ends inside the outline that it should pass"
                yield track.id, what, track.carrier.at(s)


def _covered(tracks: Sequence[Track], goals: EndGoals) -> Iterator[Fault]:
    for track in tracks:
        for low, high in covered(track, goals.bars):
            yield track.id, "an edge of the part lies on it", track.carrier.at(0.5 * (low + high))


def _doubled(touched: Sequence[Track], tracks: Sequence[Track]) -> Iterator[Fault]:
    for track in touched:
        curve = track.curve()
        for other in tracks:
            line = other.curve()
            if other is track or not isinstance(curve, Line) or not isinstance(line, Line):
                continue
            (ux, uy), (vx, vy) = curve.direction, line.direction
            if abs(ux * vy - uy * vx) > 0.02:
                continue
            ends = [nearest(curve, p, bounded=False) for p in (line.start, line.end)]
            a, b = sorted(min(max(e.parameter, 0.0), 1.0) for e in ends)
            if min(e.distance for e in ends) < CLOSE and (b - a) * curve.length > ALONG:
                yield track.id, f"the {line_words(other.id)} lies on it", curve.start


def _finding(name: str, what: str, at: XY | None) -> Finding:
    words = line_words(name)
    return Finding(CODE, words, what, "a center line by rule", (name.partition("/")[0],), at,
                   f"{words}: {what}")
