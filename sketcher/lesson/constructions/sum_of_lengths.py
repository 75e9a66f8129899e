"""A length made of others, where not all of them are numbers of the paper."""

from __future__ import annotations

from sketcher.lesson.constructions.set_off import set_off
from sketcher.lesson.slate import NotDrawn, Slate
from sketcher.lesson.strokes import Compass
from sketcher.part.loci import Amount, Term


def compass(slate: Slate, amount: Amount) -> Compass:
    """Return the opening of the compass for a length.

    By the rule where the paper's numbers give it; else between two points, which are found by
    setting off one term after the other.
    """
    said = f"{amount.text} = {amount.made}" if amount.made else amount.text
    if amount.measured:
        return Compass(amount.size, said)
    if len(amount.terms) == 1:
        return slate.span(*_two(amount.terms[0]))
    terms = sorted(amount.terms, key=lambda term: (not term.span, term.sign < 0))
    first = terms[0]
    if first.sign < 0:
        raise NotDrawn(f"nothing to take {said} from")
    start, end = _two(first)
    line = slate.rule(start, end)
    for term in terms[1:]:
        opening = slate.span(*_two(term)) if term.span else Compass(
            term.size, "the paper's number")
        ahead, back = slate.points[end], slate.points[start]
        away = (2.0 * ahead[0] - back[0], 2.0 * ahead[1] - back[1])
        end = set_off(slate, line, end, opening, away if term.sign > 0 else back)
    return slate.span(start, end)


def _two(term: Term) -> tuple[str, str]:
    if len(term.span) != 2:
        raise NotDrawn("no two points to take a length between")
    return term.span[0], term.span[1]
