"""Ends of center lines by rule: past the outline, past an axis, no farther than the center.

A row that takes up most of its way across the part runs on to the outline at both ends, where the
way there is free; else it ends past its outermost features, again at both ends. Common practice, no
source.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from sketcher.drafting.center_rows import CLEAR, Bars, Rules, apart, runs_along
from sketcher.drafting.tracks import Hub, Round, Straight, Track
from sketcher.geometry.curves import Curve, Line
from sketcher.geometry.evaluate import direction_at
from sketcher.geometry.meet import meet
from sketcher.geometry.project import nearest
from sketcher.part.center_rules import EndRule

SHARE = 0.5  # a row runs on where what is missing at each end is no more of its own length
LEAST_SINE = 0.26  # sine of the least angle, 15 degrees, at which a line may leave the part
BESIDE = 1.5  # mm on paper that a line that runs on keeps from the ends of others
FAR = 1e5  # mm on paper
SIGNS = {"start": -1, "end": 1}


@dataclass(frozen=True, slots=True)
class EndGoals:
    """What the ends of center lines can go to: outlines, axes by id, and the overhang in mm."""

    bars: Bars
    axes: Mapping[str, Line]
    overhang: float


def rules_of(track: Track, rules: Rules) -> dict[str, EndRule]:
    """Return the rules of a line's ends, those of its own name before those of its members."""
    found: dict[str, EndRule] = {}
    names = [track.id, *(name for name, _, _ in track.members)]
    for name in dict.fromkeys(names):
        for side, rule in rules.get(name, {}).items():
            found.setdefault(side, rule)
    return found


def settle_by_rule(track: Track, rules: Rules, goals: EndGoals) -> None:
    """Put the ends of a line where its rules say; one that cannot be kept changes nothing."""
    for side, rule in rules_of(track, rules).items():
        sign = SIGNS[side]
        s = place_of(track, sign, rule, goals)
        if s is not None:
            track.set_end(sign, s)
            track.fixed.add(sign)


def place_of(track: Track, sign: int, rule: EndRule, goals: EndGoals) -> float | None:
    """Return where on a track a rule puts an end; None where it says nothing, or cannot."""
    if not track.nodes or track.closed:
        return None
    node = track.last(sign)
    if rule.goal == "center":
        return node.s + sign * node.hub.plus
    if not isinstance(track.carrier, Straight):
        return None
    if rule.goal == "outline":
        met = outline_beyond(track, sign, goals.bars)
        return None if met is None else met[0] + sign * goals.overhang
    if rule.goal == "axis" and rule.of in goals.axes:
        axis = goals.axes[rule.of]
        ray = _ray(track, sign, 0.0)
        crossed = [track.carrier.where(m.point)[0]
                   for m in meet(ray, axis, bounded=(True, False))]
        return crossed[0] + sign * goals.overhang if crossed else None
    return None


def outline_beyond(track: Track, sign: int, bars: Bars) -> tuple[float, str, Curve] | None:
    """Return where a line first leaves the part behind its last center, with the outline there."""
    if not (isinstance(track.carrier, Straight) and track.nodes):
        return None
    node = track.last(sign)
    ray = _ray(track, sign, max(0.0, node.hub.size - 0.05))
    found = [(sign * track.carrier.where(m.point)[0], name, curve)
             for name, curve in bars.curves if name in bars.outer for m in meet(ray, curve)]
    if not found:
        return None
    away, name, curve = min(found, key=lambda f: f[0])
    return sign * away, name, curve


def _ray(track: Track, sign: int, beyond: float) -> Line:
    s = track.last(sign).s
    return Line(track.carrier.at(s + sign * beyond), track.carrier.at(s + sign * FAR))


def run_on(
    tracks: Sequence[Track], hubs: Sequence[Hub], rules: Rules, goals: EndGoals
) -> None:
    """Let rows run on to the outline: at both ends, or not at all, but for ends with a rule."""
    for track in tracks:
        if not track.row or track.full:
            continue
        ends = {sign: _end_outside(track, sign, tracks, hubs, goals) for sign in (-1, 1)}
        said = {SIGNS[side] for side in rules_of(track, rules)}
        for sign, s in ends.items():
            if None not in ends.values() and sign not in said and s is not None:
                track.set_end(sign, s)
                track.fixed.add(sign)


def _end_outside(
    track: Track, sign: int, tracks: Sequence[Track], hubs: Sequence[Hub], goals: EndGoals
) -> float | None:
    met = outline_beyond(track, sign, goals.bars)
    if met is None:
        return None
    s, name, curve = met
    node = track.last(sign)
    reach = node.reach[1 if sign > 0 else 0]
    length = track.nodes[-1].s - track.nodes[0].s
    if abs(s - node.s) - reach > SHARE * length:
        return None
    end = s + sign * goals.overhang
    (ux, uy), (vx, vy) = track.carrier.heading(s), direction_at(curve, track.carrier.at(s))
    if abs(ux * vy - uy * vx) < LEAST_SINE:
        return None
    piece = track.carrier.curve(*sorted((node.s + sign * (reach + 0.05), end)))
    assert isinstance(piece, Line)
    return end if _is_free(track, piece, name, tracks, hubs, goals.bars) else None


def _is_free(
    track: Track, piece: Line, left: str, tracks: Sequence[Track], hubs: Sequence[Hub], bars: Bars
) -> bool:
    own = {id(node.hub) for node in track.nodes}
    for name, curve in bars.near(piece, BESIDE):
        if name == left or name in track.own:
            continue
        if runs_along(piece, curve) or apart(piece, curve) < (
                CLEAR if name in bars.small else 1e-6):
            return False
    if any(id(hub) not in own and nearest(piece, hub.at).distance < hub.zone + 0.5
           for hub in hubs):
        return False
    return not any(_in_the_way(piece, other) for other in tracks if other is not track)


def _in_the_way(piece: Line, other: Track) -> bool:
    """Tell whether another line ends close by a piece, or runs beside it."""
    if other.closed:
        return False
    if any(nearest(piece, other.carrier.at(s)).distance < BESIDE for s in (other.low, other.high)):
        return True
    if isinstance(other.carrier, Round):
        return False
    (ux, uy), (vx, vy) = piece.direction, other.carrier.direction
    return abs(ux * vy - uy * vx) < LEAST_SINE and nearest_ends(piece, other) < BESIDE


def nearest_ends(piece: Line, other: Track) -> float:
    """Return how near the ends of a piece come to another track."""
    curve = other.curve()
    return min(nearest(curve, p).distance for p in (piece.start, piece.end))


def lengthen(track: Track, rules: Rules) -> None:
    """Make ends longer by the mm that older files hold; an end stays at least at its plus."""
    for side, rule in rules_of(track, rules).items():
        if rule.goal != "more" or track.closed:
            continue
        sign = SIGNS[side]
        s = track.end(sign) + sign * rule.more
        if track.nodes:
            node = track.last(sign)
            s = sign * max(sign * s, sign * node.s + node.hub.plus)
        if sign * s > sign * track.end(-sign):
            track.set_end(sign, s)

