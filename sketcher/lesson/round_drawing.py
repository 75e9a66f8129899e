"""Rounds of the part swung about their centers, by whatever opens the compass."""

from __future__ import annotations

from math import dist, hypot

from sketcher.lesson.board_facts import BoardFacts
from sketcher.lesson.constructions.set_off import set_off
from sketcher.lesson.constructions.square_at import square_through
from sketcher.lesson.constructions.sum_of_lengths import compass
from sketcher.lesson.slate import NotDrawn, Slate
from sketcher.lesson.strokes import Compass
from sketcher.part.loci import Amount, AnyRadius, Reaching, Touching


def draw_round(facts: BoardFacts, slate: Slate, name: str) -> None:
    """Swing a round of the part about its center, which is there."""
    center = facts.words.center(name)
    opening = _opening(facts, slate, name, center)
    slate.swing(center, opening, name=name)
    slate.say(f"About {center} with {opening.said} swing {name}.")


def _opening(facts: BoardFacts, slate: Slate, name: str, center: str) -> Compass:
    opened = facts.of_round(name)
    match opened:
        case Amount():
            return compass(slate, opened)
        case Reaching(point):
            return slate.span(center, point)
        case Touching(curve, web):
            return slate.span(center, touched(facts, slate, name, center, curve, web))
        case AnyRadius():
            return Compass(facts.words.size(name), "any radius", free=True)
    raise NotDrawn(f"nothing opens the compass for {name}")


def touched(
    facts: BoardFacts, slate: Slate, name: str, center: str, curve: str, web: Amount | None = None
) -> str:
    """Point that a round about a center reaches when it touches a curve."""
    at = slate.points[center]
    if curve in slate.lines:
        upright = square_through(slate, curve, center)
        foot = slate.cross(curve, upright, slate.lines[curve].foot(at))
        slate.say(f"{upright} meets {curve} square at {foot}.")
        return foot
    ring = slate.rings[curve]
    axis = slate.rule(center, ring.center)
    slate.say(f"Draw {axis} through the centers {center} and {ring.center}.")
    x, y = at[0] - ring.at[0], at[1] - ring.at[1]
    apart, size = hypot(x, y), facts.words.size(name)
    sides = [(ring.at[0] + sense * ring.radius * x / apart,
              ring.at[1] + sense * ring.radius * y / apart) for sense in (1.0, -1.0)]
    gap = web.size if web is not None else 0.0
    place = min(sides, key=lambda p: abs(dist(p, at) - gap - size))
    point = slate.cross(axis, curve, place)
    slate.say(f"{axis} cuts the circle of {curve} at {point}.")
    if web is None:
        return point
    return set_off(slate, axis, point, compass(slate, web), at)
