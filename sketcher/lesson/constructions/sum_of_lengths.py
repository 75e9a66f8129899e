"""A length made of others, where not all of them are numbers of the paper."""

from __future__ import annotations

from math import dist

from sketcher.lesson.board_lines import straight
from sketcher.lesson.constructions.set_off import set_off
from sketcher.lesson.slate import NotDrawn, Slate
from sketcher.lesson.strokes import Compass
from sketcher.part.loci import Amount, Term


def compass(slate: Slate, amount: Amount) -> Compass:
    """Return the opening of the compass for a length.

    By the rule where the paper's numbers give it; else between two points, which are found by
    setting off one term after the other.
    """
    if amount.measured:
        return Compass(amount.size, amount.said)
    if len(amount.terms) == 1:
        return slate.span(*_two(slate, amount.terms[0]))
    terms = sorted(amount.terms, key=lambda term: (bool(term.text), term.sign < 0))
    first = terms[0]
    if first.sign < 0:
        raise NotDrawn(f"nothing to take {amount.said} from")
    start, end = _two(slate, first)
    line = slate.rule(start, end)
    slate.say(f"Draw {line} through {start} and {end}.")
    for term in terms[1:]:
        opening = (Compass(term.size, term.text) if term.text
                   else slate.span(*_two(slate, term)))
        ahead, back = slate.points[end], slate.points[start]
        away = (2.0 * ahead[0] - back[0], 2.0 * ahead[1] - back[1])
        end = set_off(slate, line, end, opening, away if term.sign > 0 else back)
    return slate.span(start, end)


def _two(slate: Slate, term: Term) -> tuple[str, str]:
    """Two points between which a term is taken; on a round without any one is found."""
    if len(term.span) == 2:
        return term.span[0], term.span[1]
    if term.of not in slate.rings:
        raise NotDrawn("no two points to take a length between")
    ring = slate.rings[term.of]
    far = max(slate.points, key=lambda p: dist(slate.points[p], ring.at))
    line = slate.rule(ring.center, far)
    place = straight(ring.at, slate.points[far]).beyond(ring.at, ring.radius)
    found = slate.cross(line, term.of, place)
    slate.say(f"Draw {line} through {ring.center} and {far}: it cuts the circle of {term.of} at "
              f"{found}.")
    return ring.center, found
